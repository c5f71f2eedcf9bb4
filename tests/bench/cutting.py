"""`python -m tests.bench.cutting`: the class kits, ours beside general packing libraries, and how we grow.

Nothing here asserts. Seconds are of this machine and of one run; the libraries' sheets stand beside them,
and what ten times the copies take as a ratio to once.
"""

import time
from collections.abc import Callable

from cardrecipe.plan.cutting.job import Job
from cardrecipe.plan.cutting.planner import Plan, plan, planned
from tests.plan.cutting.jobs import class_kits
from tests.plan.cutting.packing_libraries import by_hyperpack, by_rectpack

HEADINGS = ("kit", "sheets", "least", "rectpack", "hyperpack", "settings", "strokes", "s", "10 x")


def timed(job: Job) -> tuple[Plan, float]:
    planned.cache_clear()
    start = time.process_time()
    found = plan(job)
    assert found is not None
    return found, time.process_time() - start


def tenfold(job: Job) -> Job:
    return job._replace(blanks=tuple(each._replace(demand=10 * each.demand) for each in job.blanks))


def sheets_by(library: Callable[[Job], int], job: Job) -> str:
    """Give the sheets of a library; "-" where there are two sizes, of which it would not know the cost."""
    return str(library(job)) if len(job.stocks) == 1 else "-"


def main() -> None:
    kits = class_kits()
    timed(kits[3][1])  # loads what is loaded once
    print("{:<26} {:>6} {:>6} {:>8} {:>9} {:>12} {:>12} {:>6} {:>6}".format(*HEADINGS))
    ours, best = [0, 0], [0, 0]
    for name, job, known in kits:
        found, seconds = timed(job)
        fewest = known["fewest_settings_found"]
        ours = [ours[0] + found.settings, ours[1] + found.strokes]
        best = [best[0] + fewest["settings"], best[1] + fewest["strokes"]]
        growth = timed(tenfold(job))[1] / seconds
        print(
            f"{name:<26} {found.cost:>6} {found.least:>6} {sheets_by(by_rectpack, job):>8} "
            f"{sheets_by(by_hyperpack, job):>9} {found.settings:>6} of {fewest['settings']:>2} "
            f"{found.strokes:>6} of {fewest['strokes']:>3} {seconds:>6.2f} {growth:>6.2f}"
        )
    settings, strokes = ours[0] / best[0], ours[1] / best[1]
    print(f"\nsettings {settings:.3f} x, strokes {strokes:.3f} x the fewest that were ever found")


if __name__ == "__main__":
    main()
