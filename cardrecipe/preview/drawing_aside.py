"""The sheet in the other unit system, planned and drawn in a second process while the first makes its own.

A page holds the sheet in both systems, and drawing is the longest part of making it; the two know nothing of
each other but their sizes, and threads of one interpreter would take turns. The second process lives as long
as the watch: it ends with its input, however the first one ended. Where it cannot be had, or breaks, the
work is done here.
"""

import contextlib
import gc
import os
import pickle
import subprocess
import sys
from collections.abc import Callable
from typing import NamedTuple

from cardrecipe.fold.card import glued
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.card import plan_alone
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.pages import Pictures, pictures_of


class Task(NamedTuple):
    """What the second process makes: the sheet of `folded`; `beside` is the card in the first unit system."""

    folded: FoldedCard
    beside: FoldedCard
    copies: int | None


class Twin(NamedTuple):
    """A sheet, which knows nothing of its sums yet, and its pictures."""

    sheet: Sheet | None
    pictures: Pictures


NO_TWIN = Twin(None, {})


def twin_of(task: Task) -> Twin:
    """Plan and draw one sheet."""
    sheet = plan_alone(glued(task.folded)[0], task.copies, task.beside)
    return Twin(sheet, dict(pictures_of(sheet, "other-")))


_BROKEN = (OSError, EOFError, ValueError, pickle.UnpicklingError)


class Aside:
    """A second drawer, on its way as soon as it is made."""

    def __init__(self, python: str = sys.executable) -> None:
        self._number = 0
        self._process: subprocess.Popen[bytes] | None = None
        with contextlib.suppress(OSError):
            self._process = subprocess.Popen(
                # -P: no module is taken from the folder that the maker works in, whatever lies there.
                [python, "-P", "-m", "cardrecipe.preview.drawing_aside"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                start_new_session=True,  # Ctrl-C is for the watch
                env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
            )

    def begin(self, task: Task) -> Callable[[], Twin]:
        """Begin with a task; call what is given when it is wanted."""
        self._number += 1
        number = self._number
        self._send(number, task)
        return lambda: self._answer(number) or twin_of(task)

    def close(self) -> None:
        """End the second process."""
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        for pipe in (process.stdin, process.stdout):
            assert pipe is not None
            with contextlib.suppress(OSError):  # what was still to be written goes nowhere
                pipe.close()
        process.wait()

    def __enter__(self) -> "Aside":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _send(self, number: int, task: Task) -> None:
        if self._process is None or self._process.stdin is None:
            return
        try:
            pickle.dump((number, *task), self._process.stdin, pickle.HIGHEST_PROTOCOL)
            self._process.stdin.flush()
        except _BROKEN:
            self.close()

    def _answer(self, number: int) -> Twin | None:
        """The twin of that number; those that nobody waited for come before it."""
        while self._process is not None and self._process.stdout is not None:
            try:
                found, *twin = pickle.load(self._process.stdout)
            except _BROKEN:
                self.close()
                break
            if found == number:
                return Twin(*twin)
        return None


def main() -> None:
    """The second process: cards come in, sheets and pictures go out."""
    outward = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())  # nothing else gets in between
    gc.disable()
    while True:
        try:
            number, *task = pickle.load(sys.stdin.buffer)
        except EOFError:
            return
        # As plain tuples: what is a class of this module here is one of another name there.
        pickle.dump((number, *twin_of(Task(*task))), outward, pickle.HIGHEST_PROTOCOL)
        outward.flush()
        gc.collect()


if __name__ == "__main__":
    main()
