"""The world outside the core: recipes and the files that they use, read as text from a folder."""

import errno
import os
import posixpath
from io import BufferedReader

from cardrecipe.folder import OUTSIDE, TO_READ, Folder, refuse_unless_regular
from cardrecipe.model.used_names import Refused
from cardrecipe.syntax.lines import MAX_FILE
from cardrecipe.syntax.source import Source

MAX_BYTES = 4 * MAX_FILE + 4  # UTF-8 needs at most four for a character


class CannotRead(Exception):
    """A file that is not there, or is no text; the message is for the maker."""


def read_source(path: str) -> Source:
    """The recipe at `path`; CannotRead where it cannot be read as UTF-8 text."""
    return source_of(path, read_content(path))


def read_content(path: str) -> bytes:
    """The bytes of a file, or a few more than a recipe may have; CannotRead where it cannot be read.

    A pipe or a device is not read: it may never end, or never begin. A link that was typed is followed: the
    maker may name any file.
    """
    with open_file(path) as file:
        try:
            return file.read(MAX_BYTES)
        except OSError as problem:
            raise CannotRead(sentence(problem, path)) from problem


def open_file(path: str) -> BufferedReader:
    """The file at `path`, open for reading; CannotRead where there is none, or another kind of thing."""
    try:
        refuse_unless_regular(os.stat(path).st_mode, path)
        return _opened(os.open(path, TO_READ), path)
    except OSError as problem:
        raise CannotRead(sentence(problem, path)) from problem


def _opened(descriptor: int, path: str) -> BufferedReader:
    """An open file; OSError where it is another kind of thing by now than when it was looked at."""
    try:
        refuse_unless_regular(os.fstat(descriptor).st_mode, path)
    except OSError:
        os.close(descriptor)
        raise
    return open(descriptor, "rb")


def sentence(problem: OSError, path: str | None = None) -> str:
    """What the system says of a file, under the name that its user knows: `path`, else its own."""
    name = path if path is not None else problem.filename
    return f"{os.fsdecode(name)}: {problem.strerror or problem}" if name else problem.strerror or str(problem)


def source_of(path: str, content: bytes) -> Source:
    """The text of a file called `path`, with line feeds alone; CannotRead where it is not UTF-8."""
    text = _decoded(content)
    if isinstance(text, int):
        raise CannotRead(f"{path}: byte {text} is not UTF-8 text; save the recipe as UTF-8")
    return Source(path.replace(os.sep, "/"), text)


def _decoded(content: bytes) -> str | int:
    """The text with line feeds alone, or the number of the first byte that is not UTF-8.

    What is too long for a recipe is told by the parser, wherever the reading stopped.
    """
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as problem:
        if problem.end < MAX_BYTES or len(content) < MAX_BYTES:
            return problem.start
        text = content[: problem.start].decode("utf-8")
    return text.removeprefix("\ufeff").replace("\r\n", "\n")


class FolderTexts:
    """Gives the core the files in a recipe's folder and below, and no others."""

    def __init__(self, recipe_path: str) -> None:
        written = os.path.dirname(recipe_path)
        self._folder = Folder(written or os.curdir)
        self._written = posixpath.normpath(written.replace(os.sep, "/"))

    def place(self, name: str) -> str | None:
        """Where the file called `name` is or would be; None outside the folder."""
        below = self._below(name)
        real = self._folder.real(below) if below is not None else OUTSIDE
        return os.path.join(self._folder.root, *real) if not isinstance(real, Refused) else None

    def read(self, name: str) -> str | Refused | None:
        """The text called `name`; None where there is no such file."""
        below = self._below(name)
        if below is None:
            return OUTSIDE
        real = self._folder.real(below)
        if isinstance(real, Refused):
            return real
        other = self._folder.as_on_disk(below)
        if other is not None:
            return _called_otherwise(other)
        try:
            with _opened(self._folder.open(real), name) as file:
                content = file.read(MAX_BYTES)
        except (FileNotFoundError, NotADirectoryError):
            return None
        except OSError as problem:
            return _unreadable(problem)
        text = _decoded(content)
        if isinstance(text, int):
            return Refused(f"is not UTF-8 text, as its byte {text} shows", "save it as UTF-8")
        return text

    def _below(self, name: str) -> str | None:
        """`name` as it is called in the folder; the core writes the recipe's folder before each name."""
        if self._written == ".":
            return None if name.startswith(("/", "../")) else name
        before = self._written.rstrip("/") + "/"
        return name.removeprefix(before) if name.startswith(before) else None


def _called_otherwise(other: str) -> Refused:
    reason = f'is called "{other}" on the disk, and some systems tell the two apart'
    return Refused(reason, f'write "{other}"')


def _unreadable(problem: OSError) -> Refused:
    """Why a file that is there gives no text."""
    if problem.errno == errno.ELOOP:  # it was none a moment ago
        return OUTSIDE
    if isinstance(problem, IsADirectoryError):
        return Refused("is a folder", "name a file in it")
    if problem.errno == errno.EINVAL:
        return Refused("is a pipe or a device, not a file", "put a file with the text there")
    return Refused(f"cannot be read: {problem.strerror}", "see that you may read it, or use another file")
