"""How long something takes: the least of several runs, since all else that a machine does only adds to it.

Time of the processor is what other programs disturb least, so it is measured wherever one process works
alone. Where two work at once, as for a preview, the clock on the wall is what the maker waits for.
"""

import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from resource import RUSAGE_CHILDREN, getrusage

PROGRAM = (sys.executable, "-m", "cardrecipe")
Work = Callable[[], object]


def processor_seconds(work: Work, runs: int) -> float:
    """Of this process."""
    return min(_spent(work, time.process_time) for _ in range(runs))


def process_seconds(command: Sequence[str], runs: int) -> float:
    """Of the processor, for a whole process; one more run before warms the caches."""
    times = [_spent(lambda: _run(command), _children_seconds) for _ in range(runs + 1)]
    return min(times[1:])


def wall_seconds(command: Sequence[str], runs: int) -> float:
    """On the wall, for a whole process that does some of its work at once; one more run before warms it."""
    times = [_spent(lambda: _run(command), time.perf_counter) for _ in range(runs + 1)]
    return min(times[1:])


def _spent(work: Work, clock: Callable[[], float]) -> float:
    start = clock()
    work()
    return clock() - start


def _run(command: Sequence[str]) -> None:
    subprocess.run(command, check=True, capture_output=True)


def _children_seconds() -> float:
    """What the processes that have ended took of the processor."""
    used = getrusage(RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime
