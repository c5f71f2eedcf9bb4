"""The world outside the core: recipes read from a folder, sheets written beside and renamed into place."""

import contextlib
import os

from cardrecipe.syntax.lines import MAX_FILE
from cardrecipe.syntax.source import Source


class CannotRead(Exception):
    """A file that is not there, or is no text; the message is for the maker."""


def read_source(path: str) -> Source:
    """The recipe at `path`; CannotRead where it cannot be read as UTF-8 text."""
    try:
        with open(path, "rb") as file:
            content = file.read(4 * MAX_FILE + 4)
    except OSError as problem:
        raise CannotRead(f"{path}: {problem.strerror or problem}") from problem
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        message = f"{path}: byte {problem.start} is not UTF-8 text; save the recipe as UTF-8"
        raise CannotRead(message) from problem
    return Source(path.replace(os.sep, "/"), text.replace("\r\n", "\n"))


class FolderTexts:
    """Gives the core the files in a recipe's folder and below, and no others."""

    def __init__(self, recipe_path: str) -> None:
        self._root = os.path.realpath(os.path.dirname(os.path.abspath(recipe_path)))

    def read(self, name: str) -> str | None:
        path = os.path.realpath(name)
        inside = os.path.commonpath([path, self._root]) == self._root
        if not inside or not os.path.isfile(path):
            return None
        try:
            return read_source(path).text
        except CannotRead:
            return None


def write_whole(path: str, content: bytes) -> None:
    """Write `content` beside `path` and rename it into place: a reader sees the old file or the new one.

    OSError where the folder cannot be written; the old file is whole then and nothing else is left.
    """
    import tempfile  # only a command that writes pays for it

    folder = os.path.dirname(path) or "."
    handle, beside = tempfile.mkstemp(prefix=f".{os.path.basename(path)}.", dir=folder)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        os.chmod(beside, 0o666 & ~_umask())
        os.replace(beside, path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(beside)
        raise


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
