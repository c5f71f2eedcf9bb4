"""An end to what would never end: an exception after so much processor time, however busy the machine is."""

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType


class NeverEnds(Exception):
    """A run took so long that it may as well take for ever."""


@contextmanager
def watched(seconds: float = 60) -> Iterator[None]:
    """NeverEnds in the block after `seconds` of this process's own time; never where there is no timer."""
    if not hasattr(signal, "setitimer"):  # Windows
        yield
        return

    def stop(_number: int, _frame: FrameType | None) -> None:
        raise NeverEnds(f"more than {seconds} s of processor time")

    before = signal.signal(signal.SIGVTALRM, stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)
