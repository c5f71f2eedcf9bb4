"""Work that is done thousands of times, and what the process holds at stations on the way."""

import tracemalloc
from collections.abc import Iterator
from contextlib import contextmanager
from typing import NamedTuple, Protocol

from tests.long_use.caches import forget
from tests.long_use.held import Held, held

HEADINGS = ("after", "objects", "items", "traced KiB", "resident MiB", "threads", "files", "children")


class Worker(Protocol):
    """Something with a piece of work for each number.

    `close` does the same work each time, so that what is left of the last work is the same.
    """

    def work(self, number: int) -> None: ...

    def close(self) -> None: ...


class Station(NamedTuple):
    """What is held after so many pieces of work."""

    after: int
    held: Held


def stations(worker: Worker, warm: int, every: int, times: int) -> Iterator[Station]:
    """What is held when the first `warm` pieces of work are done, and after each `every` of `times` more."""
    _work(worker, range(warm))
    _at_rest(worker)  # what counting itself needs is there from now on
    yield Station(0, _at_rest(worker))
    for start in range(0, times, every):
        end = min(times, start + every)
        _work(worker, range(warm + start, warm + end))
        yield Station(end, _at_rest(worker))


def row(station: Station) -> str:
    """A station as a line of a table."""
    held = station.held
    return (
        f"{station.after:>6,} {held.count:>9,} {held.items:>9,} {held.traced / 1024:>10,.0f} "
        f"{held.resident / 2**20:>12.1f} {held.threads:>7} {held.files:>6} {held.children:>8}"
    )


def heading() -> str:
    return "{:>6} {:>9} {:>9} {:>10} {:>12} {:>7} {:>6} {:>8}".format(*HEADINGS)


@contextmanager
def traced(is_wanted: bool) -> Iterator[None]:
    """Python counts the bytes that it hands out, where that is wanted: it takes twice as long then."""
    if is_wanted:
        tracemalloc.start()
    try:
        yield
    finally:
        tracemalloc.stop()


def _work(worker: Worker, numbers: range) -> None:
    for number in numbers:
        worker.work(number)


def _at_rest(worker: Worker) -> Held:
    worker.close()
    forget()
    return held()
