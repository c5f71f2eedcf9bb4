"""The cutting plans of the class kits, and of one of them for many copies."""

from tests.bench.clock import processor_seconds
from tests.bench.cutting import tenfold, timed
from tests.plan.cutting.jobs import class_kits

COPIES = (1, 10, 100)


def seconds_to_cut(runs: int) -> float:
    """All kits, one after the other, in a fifth of the runs; one run is of the smallest kit alone."""
    jobs = [job for _, job, _ in class_kits()]
    if runs == 1:
        jobs = [min(jobs, key=lambda job: sum(blank.demand for blank in job.blanks))]
    return processor_seconds(lambda: [timed(job) for job in jobs], max(1, runs // 5))


def seconds_to_cut_copies(copies: int, runs: int) -> float:
    """The first kit for so many times its copies."""
    _, job, _ = class_kits()[0]
    while copies > 1:
        job, copies = tenfold(job), copies // 10
    return processor_seconds(lambda: timed(job), runs)
