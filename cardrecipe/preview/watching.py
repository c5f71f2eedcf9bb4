"""The files of a recipe as they were read, and whether any of them is different now."""

import os
import time
from collections.abc import Callable
from typing import NamedTuple

from cardrecipe.files import CannotRead, FolderTexts, read_source
from cardrecipe.model.used_names import Refused
from cardrecipe.syntax.source import Source

# A recipe is a handful of small files in one folder, so asking the disk for their stamps five times a
# second costs nothing that can be measured. It sees every kind of save (in place, beside and renamed,
# on a shared drive) alike on every system, which the notices of the systems do not, and needs no package.
LOOK_EVERY = 0.2

# The clocks of file systems tick as coarsely as every two seconds: a file that was written so shortly
# before it was read may be written again with the same stamp, and is compared by its text.
CLOCK_TICK_NS = 2_000_000_000

STILL_FOR = 0.02  # two looks that far apart that see the same: the editor has finished writing
PATIENCE = 0.5  # how long a file may be away or empty in the middle of a save

Stamp = tuple[int, ...] | None  # None: no such file


class _Read(NamedTuple):
    """What reading a file gave: its stamp and the time before that, and the text or the refusal."""

    stamp: Stamp
    at_ns: int
    text: str | Refused | None
    problem: str = ""

    @property
    def is_fresh(self) -> bool:
        return self.stamp is not None and self.at_ns - self.stamp[0] < CLOCK_TICK_NS


class RecipeFiles:
    """Gives the core the texts of a recipe and remembers each file that it was asked for.

    Files that were asked for and are not there count too: they may come.
    """

    def __init__(self, path: str) -> None:
        self._path = path
        self._folder = FolderTexts(path)
        self._seen: dict[str, _Read] = {}

    def source(self) -> Source:
        """The recipe itself; CannotRead where it cannot be read."""
        self._seen[self._path] = found = self._look(self._path)
        if not isinstance(found.text, str):
            raise CannotRead(found.problem)
        return Source(self._path.replace(os.sep, "/"), found.text)

    def read(self, name: str) -> str | Refused | None:
        """A used file's text, as the recipe's folder gives it."""
        self._seen[name] = found = self._look(name)
        return found.text

    def have_changed(self) -> bool:
        """True where reading them again would give something else."""
        return any(map(self._has_changed, self._seen))

    def wait_until_written(self, sleep: Callable[[float], None] = time.sleep) -> None:
        """Return when nothing moves any more: no file is half written, or away between two renames."""
        last = time.monotonic() + PATIENCE
        before: list[Stamp] = []
        while time.monotonic() < last:
            now = list(map(self._stamp, self._seen))
            if now == before and all(map(self._is_there, self._seen, now)):
                return
            before = now
            sleep(STILL_FOR)

    def _has_changed(self, name: str) -> bool:
        seen = self._seen[name]
        if self._stamp(name) == seen.stamp and not seen.is_fresh:
            return False
        now = self._look(name)
        if (now.text, now.problem) != (seen.text, seen.problem):
            return True
        self._seen[name] = now
        return False

    def _look(self, name: str) -> _Read:
        """The stamp is taken first: what is written while we read is seen at the next look."""
        at_ns, stamp = time.time_ns(), self._stamp(name)
        if name != self._path:
            return _Read(stamp, at_ns, self._folder.read(name))
        try:
            return _Read(stamp, at_ns, read_source(name).text)
        except CannotRead as problem:
            return _Read(stamp, at_ns, None, str(problem))

    def _stamp(self, name: str) -> Stamp:
        """That of a file that may be read; a link that leads out of the folder is not followed for it."""
        place = name if name == self._path else self._folder.place(name)
        return stamp_of(place) if place is not None else None

    def _is_there(self, name: str, stamp: Stamp) -> bool:
        """False for a file that was there, or had something in it, and is empty or gone now."""
        was = self._seen[name].stamp
        return was is None or was[1] == 0 or (stamp is not None and stamp[1] > 0)


def stamp_of(path: str) -> Stamp:
    """What changes with a file: the time of its writing first, then size, time of change, identity, mode."""
    try:
        found = os.stat(path)
    except (OSError, ValueError):
        return None
    return (found.st_mtime_ns, found.st_size, found.st_ctime_ns, found.st_ino, found.st_dev, found.st_mode)
