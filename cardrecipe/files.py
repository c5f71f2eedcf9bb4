"""The world outside the core: recipes read from a folder, sheets written beside and renamed into place."""

import contextlib
import errno
import os
import stat

from cardrecipe.syntax.lines import MAX_FILE
from cardrecipe.syntax.source import Source

MAX_BYTES = 4 * MAX_FILE + 4  # UTF-8 needs at most four for a character
MAX_NAME = 255  # bytes of a file's name, of the common file systems


class CannotRead(Exception):
    """A file that is not there, or is no text; the message is for the maker."""


def read_source(path: str) -> Source:
    """The recipe at `path`; CannotRead where it cannot be read as UTF-8 text."""
    return source_of(path, read_content(path))


def read_content(path: str) -> bytes:
    """The bytes of a file, or a few more than a recipe may have; CannotRead where it cannot be read.

    A pipe or a device is not read: it may never end, or never begin.
    """
    try:
        kind = os.stat(path).st_mode
        if not stat.S_ISREG(kind) and not stat.S_ISDIR(kind):
            raise OSError(errno.EINVAL, "this is a pipe or a device, not a file", path)
        with open(path, "rb") as file:
            return file.read(MAX_BYTES)
    except OSError as problem:
        raise CannotRead(sentence(problem, path)) from problem


def sentence(problem: OSError, path: str | None = None) -> str:
    """What the system says of a file, under the name that its user knows: `path`, else its own."""
    name = path if path is not None else problem.filename
    return f"{os.fsdecode(name)}: {problem.strerror or problem}" if name else problem.strerror or str(problem)


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
    OSError about `path` where it cannot be written; the old file is whole then and nothing else is left.
    """
    folder, name = os.path.split(path)
    beside = os.path.join(folder, f".{name[:40]}.{os.urandom(6).hex()}")
    try:
        _check_place(path)
        with open(beside, "xb") as file:
            if mode is not None:
                os.chmod(beside, mode)
            file.write(content)
        os.replace(beside, path)
    except BaseException as problem:
        with contextlib.suppress(OSError):
            os.unlink(beside)
        if isinstance(problem, OSError):
            raise OSError(problem.errno, problem.strerror or str(problem), path) from problem
        raise


def write_files(files: dict[str, bytes], stem: str, earlier: set[str]) -> None:
    """Write each file at `stem` and its ending, say so, and add it to `earlier`.

    OSError, and none is written, where one of the names is impossible or is that of an earlier file.
    """
    folder = os.path.dirname(stem)
    if folder:
        _make_folder(folder)
    for ending in files:
        _check_place(stem + ending)
        if stem + ending in earlier:
            words = "another sheet was written there just now; build this one to another folder with -o"
            raise FileExistsError(errno.EEXIST, words, stem + ending)
    for ending, content in files.items():
        write_whole(stem + ending, content)
        earlier.add(stem + ending)
        print(stem + ending)


def _make_folder(folder: str) -> None:
    try:
        os.makedirs(folder, exist_ok=True)
    except FileExistsError as problem:
        words = "this is a file; name a folder to write to"
        raise NotADirectoryError(errno.ENOTDIR, words, folder) from problem


def _check_place(path: str) -> None:
    """OSError in plain words where no file can be written at `path`."""
    folder, name = os.path.split(path)
    if folder and not os.path.isdir(folder):
        raise FileNotFoundError(errno.ENOENT, f"there is no folder {folder}", path)
    if not name or os.path.isdir(path):
        raise IsADirectoryError(errno.EISDIR, "this is a folder; name a file in it", path)
    if os.path.exists(path) and not os.path.isfile(path):
        raise OSError(errno.EINVAL, "this is a pipe or a device, not a file", path)
    if len(os.fsencode(name)) > MAX_NAME:
        raise OSError(errno.ENAMETOOLONG, f"this name has more than {MAX_NAME} bytes; shorten it", path)
