"""How far long work has come, as a bar on standard error: only on a terminal, and only where the work lasts.

Nothing is printed where standard error is a file or a pipe, so that scripts read diagnostics alone.
"""

import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from typing import TYPE_CHECKING, Any, TextIO, cast

from cardrecipe.render.prose import shown

if TYPE_CHECKING:
    from tqdm import tqdm

WAITS = 1.0  # seconds of work before a bar appears
BEATS = 0.5  # seconds from one look at the clock to the next
LOOK = "{desc} |{bar:24}| {n_fmt} of {total_fmt}, {elapsed}"
MOST_LETTERS = 36  # of the name of a part, so that the bar keeps to one line


class Progress:
    """Parts of a work that begin one after the other; without a bar nobody is told."""

    def __init__(self, bar: "tqdm[None] | None" = None) -> None:
        self._bar = bar
        self._is_shown = False
        self._lock = threading.Lock()

    def begins(self, what: str, number: int, of: int) -> None:
        """Part `number`, from 1, of so many begins; it is called `what`."""
        if self._bar is None:
            return
        with self._lock:
            self._bar.total, self._bar.n = of, number - 1
            self._bar.set_description_str(shown(what)[:MOST_LETTERS], refresh=False)

    @contextmanager
    def aside(self) -> Iterator[None]:
        """Takes the bar away while something else is printed."""
        with self._lock:
            if self._bar is not None and self._is_shown:
                self._bar.clear()
                self._is_shown = False
            yield

    def show(self) -> None:
        """Draws the bar as it is now."""
        with self._lock:
            if self._bar is not None:
                self._is_shown = True
                self._bar.refresh()


@contextmanager
def progress() -> Iterator[Progress]:
    """A bar for the work within, gone when that is done. Lines that are printed meanwhile stand above it."""
    if not sys.stderr.isatty():
        yield Progress()
        return
    from tqdm import tqdm  # only on a terminal

    tqdm.set_lock(threading.RLock())  # its own one is shared with other processes, which we do not have
    bar = tqdm(total=1, delay=float("inf"), file=sys.stderr, bar_format=LOOK)  # drawn by `show` alone
    told, done = Progress(bar), threading.Event()
    beat = threading.Thread(target=_beat, args=(told, done), daemon=True)
    out, err = _LinesAbove(sys.stdout, told), _LinesAbove(sys.stderr, told)
    beat.start()
    try:
        with redirect_stdout(cast(TextIO, out)), redirect_stderr(cast(TextIO, err)):
            yield told
    finally:
        out.finish()
        err.finish()
        done.set()
        beat.join()
        with told.aside():
            bar.close()


class _LinesAbove:
    """A stream whose lines take the bar away; a line that is not whole yet waits."""

    def __init__(self, stream: TextIO, told: Progress) -> None:
        self._stream, self._told, self._begun = stream, told, ""

    def write(self, text: str) -> int:
        whole, end, self._begun = (self._begun + text).rpartition("\n")
        if end:
            self._put(whole + end)
        return len(text)

    def finish(self) -> None:
        """Writes what has no end of its line."""
        if self._begun:
            self._put(self._begun)

    def _put(self, text: str) -> None:
        with self._told.aside():
            self._stream.write(text)
            self._stream.flush()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)


def _beat(told: Progress, done: threading.Event) -> None:
    """Draws the bar again and again, so that a long part is seen to go on."""
    waits = WAITS
    while not done.wait(waits):
        told.show()
        waits = BEATS
