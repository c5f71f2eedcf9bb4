"""The pictures of the other unit system, drawn in a second process while the first draws its own.

A page holds the sheet in both systems, and drawing is the longest part of making it; the two sets of drawings
know nothing of each other, and threads of one interpreter would take turns. The second process lives as long
as the watch: it ends with its input, however the first one ended. Where it cannot be had, or breaks, the
pictures are drawn here.
"""

import contextlib
import gc
import os
import pickle
import subprocess
import sys
from collections.abc import Callable

from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.pages import Pictures, pictures_of

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

    def begin(self, sheet: Sheet, id_prefix: str) -> Callable[[], Pictures]:
        """Begin to draw the pictures of `sheet`; call what is given when they are wanted."""
        self._number += 1
        number = self._number
        self._send(number, sheet, id_prefix)
        return lambda: self._answer(number) or pictures_of(sheet, id_prefix)

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

    def _send(self, number: int, sheet: Sheet, id_prefix: str) -> None:
        if self._process is None or self._process.stdin is None:
            return
        try:
            pickle.dump((number, sheet, id_prefix), self._process.stdin, pickle.HIGHEST_PROTOCOL)
            self._process.stdin.flush()
        except _BROKEN:
            self.close()

    def _answer(self, number: int) -> Pictures | None:
        """The pictures of that number; those that nobody waited for come before them."""
        while self._process is not None and self._process.stdout is not None:
            try:
                found, pictures = pickle.load(self._process.stdout)
            except _BROKEN:
                self.close()
                break
            if found == number:
                made: Pictures = pictures
                return made
        return None


def main() -> None:
    """The second process: sheets come in, pictures go out."""
    outward = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())  # nothing else gets in between
    gc.disable()
    while True:
        try:
            number, sheet, id_prefix = pickle.load(sys.stdin.buffer)
        except EOFError:
            return
        pickle.dump((number, dict(pictures_of(sheet, id_prefix))), outward, pickle.HIGHEST_PROTOCOL)
        outward.flush()
        gc.collect()


if __name__ == "__main__":
    main()
