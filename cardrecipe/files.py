"""The world outside the core: recipes read from a folder, sheets written beside and renamed into place."""

import contextlib
import os

from cardrecipe.syntax.lines import MAX_FILE
from cardrecipe.syntax.source import Source

MAX_BYTES = 4 * MAX_FILE + 4  # UTF-8 needs at most four for a character


class CannotRead(Exception):
    """A file that is not there, or is no text; the message is for the maker."""


def read_source(path: str) -> Source:
    """The recipe at `path`; CannotRead where it cannot be read as UTF-8 text."""
    return source_of(path, read_content(path))


def read_content(path: str) -> bytes:
    """The bytes of a file, or a few more than a recipe may have; CannotRead where it cannot be read."""
    try:
        with open(path, "rb") as file:
            return file.read(MAX_BYTES)
    except OSError as problem:
        raise CannotRead(f"{path}: {problem.strerror or problem}") from problem


def source_of(path: str, content: bytes) -> Source:
    """The text of a file called `path`, with line feeds alone; CannotRead where it is not UTF-8."""
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

    def place(self, name: str) -> str | None:
        """Where the file called `name` is or would be; None outside the folder."""
        path = os.path.realpath(name)
        return path if os.path.commonpath([path, self._root]) == self._root else None

    def read(self, name: str) -> str | None:
        path = self.place(name)
        if path is None or not os.path.isfile(path):
            return None
        try:
            return read_source(path).text
        except CannotRead:
            return None


def write_whole(path: str, content: bytes, mode: int | None = None) -> None:
    """Write `content` beside `path` and rename it into place: a reader sees the old file or the new one.

    Its mode is `mode`, or what a new file gets.
    OSError where the folder cannot be written; the old file is whole then and nothing else is left.
    """
    import tempfile  # only a command that writes pays for it

    folder = os.path.dirname(path) or "."
    handle, beside = tempfile.mkstemp(prefix=f".{os.path.basename(path)}.", dir=folder)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        os.chmod(beside, 0o666 & ~_umask() if mode is None else mode)
        os.replace(beside, path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(beside)
        raise


def write_files(files: dict[str, bytes], stem: str) -> None:
    """Write each file at `stem` and its ending, and say so."""
    folder = os.path.dirname(stem)
    if folder:
        os.makedirs(folder, exist_ok=True)
    for ending, content in files.items():
        write_whole(stem + ending, content)
        print(stem + ending)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
