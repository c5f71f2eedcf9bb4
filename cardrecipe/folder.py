"""A recipe's folder: which file in it a name means, opened so that nothing outside is read.

A name is followed one part at a time. A link that leads out is refused before anything outside is looked at,
and a file that becomes a link, a pipe or a device after the look is not followed and not waited for. A hard
link, and a folder that the system itself hangs in, count as what is in the folder.
"""

import errno
import os
import stat
import time
from typing import NamedTuple

from cardrecipe.model.used_names import Refused

MAX_LINKS = 40  # as many as Linux follows; a circle of links ends here

# A folder's time tells of a new name in it only as finely as its clock ticks.
_CLOCK_TICK_NS = 2_000_000_000

# Opening a pipe or a device may wait for ever, and a terminal may become ours.
TO_READ = os.O_RDONLY | sum(getattr(os, name, 0) for name in ("O_NONBLOCK", "O_NOCTTY", "O_BINARY"))
_AS_IT_IS = getattr(os, "O_NOFOLLOW", 0)
_FOLDER = getattr(os, "O_PATH", os.O_RDONLY) | _AS_IT_IS | getattr(os, "O_DIRECTORY", 0)

OUTSIDE = Refused(
    "is a link to a place that is not in this folder or below it",
    "put a copy of that file into the folder instead of the link",
    is_outside=True,
)
_CIRCLE = Refused("is a link that leads back to itself", "put the file there instead of the link")


class _Listing(NamedTuple):
    """The names in a folder when it was last changed at `stamp`, and each by what it is alike in."""

    stamp: int
    names: frozenset[str]
    alike: dict[str, str]


class Folder:
    """What is in the folder `root` and below; names have `/` between their parts."""

    def __init__(self, root: str) -> None:
        self.root = os.path.realpath(root)
        self._listings: dict[tuple[str, ...], _Listing] = {}  # an editor may try hundreds of names in a row

    def real(self, name: str) -> tuple[str, ...] | Refused:
        """The parts of the path below the folder that `name` means, with links in it followed.

        What is not there stands for itself; so does a part in another letter case than on the disk.
        """
        waiting, real, links = name.split("/")[::-1], list[str](), 0
        while waiting:
            part = waiting.pop()
            if part == "..":  # of a link: the core asks for no such name
                if not real:
                    return OUTSIDE
                real.pop()
            elif part not in ("", "."):
                try:
                    target = os.readlink(os.path.join(self.root, *real, part))
                except OSError as problem:
                    real.append(part)
                    if problem.errno == errno.EINVAL:  # it is there, and no link
                        continue
                    rest = [each for each in waiting[::-1] if each not in ("", ".")]
                    return (*real, *rest) if ".." not in rest else OUTSIDE  # it may be made a moment later
                links += 1
                if links > MAX_LINKS:
                    return _CIRCLE
                below = self._below(target)
                if below is None:
                    return OUTSIDE
                real = real if below == target else []
                waiting += below.split("/")[::-1]
        return tuple(real)

    def open(self, real: tuple[str, ...]) -> int:
        """A descriptor of the file at a path that `real` gave; OSError where a part is a link by now."""
        if os.open not in os.supports_dir_fd:
            path = os.path.join(self.root, *real)
            refuse_unless_regular(os.lstat(path).st_mode, path)
            return os.open(path, TO_READ | _AS_IT_IS)
        folder = os.open(self.root, _FOLDER)
        try:
            for part in real[:-1]:
                above, folder = folder, os.open(part, _FOLDER, dir_fd=folder)
                os.close(above)
            last = real[-1] if real else "."
            refuse_unless_regular(os.stat(last, dir_fd=folder, follow_symlinks=False).st_mode, last)
            return os.open(last, TO_READ | _AS_IT_IS, dir_fd=folder)
        finally:
            os.close(folder)

    def as_on_disk(self, name: str) -> str | None:
        """The path that differs from `name` in letter case, or in how accents are stored, and is there; None
        where `name` is written as it is on the disk, or nothing is like it.

        Some systems open a file by any of these names and others do not.
        """
        found, parts = list[str](), [part for part in name.split("/") if part not in ("", ".")]
        for part in parts:
            real = self.real("/".join(found))
            listing = self._listing(real) if not isinstance(real, Refused) else None
            own = listing and (part if part in listing.names else listing.alike.get(_folded(part)))
            if not own:
                return None
            found.append(own)
        return "/".join(found) if found != parts else None

    def _listing(self, real: tuple[str, ...]) -> _Listing | None:
        """What is in a folder; None where it is no folder or may not be listed."""
        place = os.path.join(self.root, *real)
        try:
            stamp, now = os.stat(place).st_mtime_ns, time.time_ns()
            if real not in self._listings or self._listings[real].stamp != stamp:
                names = os.listdir(place)
                alike = {_folded(each): each for each in names}
                self._listings[real] = _Listing(stamp, frozenset(names), alike)
        except OSError:
            return None
        listing = self._listings[real]
        if now - stamp < _CLOCK_TICK_NS:
            del self._listings[real]
        return listing

    def _below(self, target: str) -> str | None:
        """Where a link leads: a path below this folder for one that names it whole, None for one outside."""
        target = target.replace(os.sep, "/")
        root = self.root.replace(os.sep, "/").rstrip("/") + "/"
        if target.startswith(root):
            return target.removeprefix(root)
        return None if os.path.isabs(target) or os.path.splitdrive(target)[0] else target


def refuse_unless_regular(mode: int, path: str) -> None:
    """OSError where `mode` is that of something that is no file with a beginning and an end."""
    if stat.S_ISLNK(mode):
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP), path)
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), path)
    if not stat.S_ISREG(mode):
        raise OSError(errno.EINVAL, "this is a pipe or a device, not a file", path)


def _folded(name: str) -> str:
    """What names have in common that a system may take for one."""
    if name.isascii():
        return name.lower()
    from unicodedata import normalize  # few need it

    return normalize("NFC", normalize("NFC", name).casefold())
