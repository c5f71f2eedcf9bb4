"""`python -m tests.long_use`: 2,000 builds and 2,000 edits, and what the process holds on the way.

The exit status is 1 where there is more of something at the end than when everything was warm. `--traced`
counts bytes too and takes twice as long; `--short` is what the tests do.
"""

import argparse
import sys
from collections.abc import Callable
from contextlib import AbstractContextManager
from functools import partial
from typing import NamedTuple

from tests.long_use.builds import Builds
from tests.long_use.course import Worker, heading, row, stations, traced
from tests.long_use.edits import Edits
from tests.long_use.held import grown


class Course(NamedTuple):
    """So many pieces of work until everything is warm, and so many more with a look after `every` so many.

    `most` objects of a type may come meanwhile. Which of the last cards an editor remembers hangs on which
    check ended first, so a few come and go; whatever each edit left behind would be more.
    """

    worker: Callable[[], AbstractContextManager[Worker]]
    warm: int
    times: int
    every: int
    most: int


COURSES = {"builds": Course(Builds, 200, 2_000, 200, 100), "edits": Course(Edits, 250, 2_000, 200, 100)}
SHORT = {
    "builds": Course(partial(Builds, "md,json", 2), 40, 80, 80, 4),
    "edits": Course(Edits, 120, 100, 100, 75),
}


def main() -> int:
    options = _options()
    courses = SHORT if options.short else COURSES
    grew = list[str]()
    for name in options.what or courses:
        course = courses[name]
        print(f"{course.times:,} {name} after {course.warm:,} to warm up\n{heading()}", flush=True)
        with traced(options.traced):
            grew += [f"{name}: {each}" for each in _growth(course)]
        print()
    print("\n".join(["more than before:", *grew] if grew else ["nothing has grown"]))
    return 1 if grew else 0


def _growth(course: Course) -> list[str]:
    """What there is more of at the end, with a line for each station on the way."""
    with course.worker() as running:
        first = last = None
        for station in stations(running, course.warm, course.every, course.times):
            print(row(station), flush=True)
            first, last = first or station, station
        assert first is not None and last is not None
        return grown(first.held, last.held, course.most)


def _options() -> argparse.Namespace:
    reader = argparse.ArgumentParser(prog="python -m tests.long_use", description=__doc__)
    reader.add_argument("what", nargs="*", help="builds or edits (default: both)")
    reader.add_argument("--short", action="store_true")
    reader.add_argument("--traced", action="store_true")
    return reader.parse_args()


if __name__ == "__main__":
    sys.exit(main())
