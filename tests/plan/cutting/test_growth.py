"""Ten times the copies take about as much work: counted in tables and programs, not in seconds."""

import pytest

from cardrecipe.plan.cutting import columns, easiest, uses, worth
from cardrecipe.plan.cutting.job import Job
from tests.plan.cutting.jobs import class_kits, planned

KITS = {name: job for name, job, _ in class_kits()}


class Work:
    """Counts how often tables are made and programs solved, and how large they are together."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.cells = self.programs = 0
        for name in ("_unlimited", "_closed"):
            self._count(monkeypatch, name)
        for module in (uses, columns, easiest):
            solve = module.solve
            monkeypatch.setattr(module, "solve", lambda *a, solve=solve, **k: self._solved(solve(*a, **k)))

    def _count(self, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
        made = getattr(worth, name)

        def counted(grid: object, table: worth.Table, *rest: object) -> object:
            self.cells += table.size
            return made(grid, table, *rest)

        monkeypatch.setattr(worth, name, counted)

    def _solved(self, answer: object) -> object:
        self.programs += 1
        return answer


def work_for(job: Job) -> Work:
    with pytest.MonkeyPatch.context() as patch:
        work = Work(patch)
        planned(job, prove=False)
    return work


@pytest.mark.parametrize("name", ["kit-02 cardstock-colour", "kit-03 pattern-one-way", "kit-05 card-colour"])
def test_ten_times_the_copies_take_at_most_twice_the_work(name: str) -> None:
    job = KITS[name]
    once = work_for(job)
    tenfold = work_for(
        job._replace(blanks=tuple(each._replace(demand=10 * each.demand) for each in job.blanks))
    )
    assert once.cells and once.programs
    assert tenfold.cells <= 2 * once.cells
    assert tenfold.programs <= 2 * once.programs
