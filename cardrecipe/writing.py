"""Sheets → files in the folder that was named: written beside their places, then renamed into them.

A reader sees the old file or the new one, whatever becomes of the run or of the machine; a link is replaced
and not written through. All files of one sheet are written before the first of them takes its place.
"""

import contextlib
import errno
import os
import re
import stat
import time
from collections.abc import Iterator, Mapping

from cardrecipe.model.used_names import MAX_NAME
from cardrecipe.report import show

# What a run leaves that is killed outright is taken away by a later one; no run writes for as long as that,
# and clocks of network drives differ by less.
LEFT_AFTER = 3600.0
_BESIDE = re.compile(r"\.cardrecipe-[0-9a-f]{16}\.part")


def write_whole(path: str, content: bytes, mode: int | None = None) -> None:
    """Write one file; its mode is `mode`, or what a new file gets.

    OSError about `path` where it cannot be written; the old file is whole then and nothing else is left.
    """
    for _ in _put({path: content}, mode):
        pass


def write_files(files: Mapping[str, bytes], stem: str, earlier: set[str]) -> None:
    """Write each file at `stem` and its ending, say so, and add it to `earlier`.

    OSError, and none is written, where one of them cannot be, is that of an earlier sheet, or would take the
    place of a file that is no sheet's.
    """
    missing = _missing_folders(os.path.dirname(stem))
    try:
        _make_folder(os.path.dirname(stem))
        for ending in files:
            if stem + ending in earlier:
                words = "another sheet was written there just now; build this one to another folder with -o"
                raise FileExistsError(errno.EEXIST, words, stem + ending)
            _refuse_to_lose(stem + ending)
        for path in _put({stem + ending: content for ending, content in files.items()}):
            earlier.add(path)
            show(path)
    except BaseException:
        for folder in missing:
            with contextlib.suppress(OSError):  # what is not empty stays
                os.rmdir(folder)
        raise


def _put(files: Mapping[str, bytes], mode: int | None = None) -> Iterator[str]:
    """Write every file beside its place, then rename one after the other; each path as it is there."""
    beside: dict[str, str] = {}
    path = ""
    try:
        for path in files:
            _check_place(path)
        for folder in {os.path.dirname(path) for path in files}:
            _take_away_left(folder)
        for path, content in files.items():
            beside[path] = os.path.join(os.path.dirname(path), f".cardrecipe-{os.urandom(8).hex()}.part")
            _write_beside(beside[path], path, content, mode)
        for path in files:
            os.replace(beside[path], path)
            del beside[path]
            yield path
    except BaseException as problem:
        for each in beside.values():
            with contextlib.suppress(OSError):
                os.unlink(each)
        if isinstance(problem, OSError):
            raise OSError(problem.errno, problem.strerror or str(problem), path) from problem
        raise


def _write_beside(beside: str, path: str, content: bytes, mode: int | None) -> None:
    """What takes the place of a file is on the disk before, so that a power cut leaves the one or the other.

    A file that takes no other's place is not waited for: its recipe gives it again.
    """
    with open(beside, "xb") as file:
        if mode is not None:
            os.chmod(beside, mode)
        file.write(content)
        if os.path.lexists(path):
            file.flush()
            os.fsync(file.fileno())


def _take_away_left(folder: str) -> None:
    """Remove what a run that was killed left here long ago: files of our own names, kind and user alone."""
    with contextlib.suppress(OSError), os.scandir(folder or os.curdir) as entries:
        for each in entries:
            if _BESIDE.fullmatch(each.name) and _is_left(each.stat(follow_symlinks=False)):
                with contextlib.suppress(OSError):
                    os.unlink(each.path)


def _is_left(found: os.stat_result) -> bool:
    is_ours = not hasattr(os, "geteuid") or found.st_uid == os.geteuid()
    is_old = time.time() - found.st_mtime > LEFT_AFTER
    return is_ours and is_old and stat.S_ISREG(found.st_mode) and found.st_nlink == 1


def _missing_folders(folder: str) -> list[str]:
    """The folders that have to be made for `folder` to be there, the innermost first."""
    missing = list[str]()
    while folder and not os.path.lexists(folder):
        missing.append(folder)
        folder = os.path.dirname(folder)
    return missing


def _make_folder(folder: str) -> None:
    try:
        if folder:
            os.makedirs(folder, exist_ok=True)
    except FileExistsError as problem:
        words = "this is a file; name a folder to write to"
        raise NotADirectoryError(errno.ENOTDIR, words, folder) from problem


def _refuse_to_lose(path: str) -> None:
    """FileExistsError where a file is at `path` that no `build` has written: it is somebody's own."""
    from cardrecipe.own_files import may_be_replaced  # for sheets alone: `format` writes what it has read

    _check_place(path)
    if not may_be_replaced(path):
        words = "this file is not one that a build wrote; move it, or name another folder with -o"
        raise FileExistsError(errno.EEXIST, words, path)


def _check_place(path: str) -> None:
    """OSError in plain words where no file can be written at `path`."""
    folder, name = os.path.split(path)
    if folder and not os.path.isdir(folder):
        raise FileNotFoundError(errno.ENOENT, f"there is no folder {folder}", path)
    if not name or os.path.isdir(path):
        raise IsADirectoryError(errno.EISDIR, "this is a folder; name a file in it", path)
    is_other = os.path.exists(path) and not os.path.isfile(path)
    if is_other or os.path.realpath(folder) == "/dev":
        raise OSError(errno.EINVAL, "this is a pipe or a device, not a file", path)
    if len(os.fsencode(name)) > MAX_NAME:
        raise OSError(errno.ENAMETOOLONG, f"this name has more than {MAX_NAME} bytes; shorten it", path)
