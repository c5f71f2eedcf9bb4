"""The fewest sheets (or the least cost) for a job, with a proof where there is one.

Attempts stand in a list, each dearer than the one before; the first whose cost is no more than the bound
ends the search. Budgets are numbers of rounds and nodes, never seconds.
"""

from __future__ import annotations

from typing import NamedTuple

from cardrecipe.plan.cutting.attempts import ATTEMPTS, PROVING, Begun
from cardrecipe.plan.cutting.certificate import Certificate, simplest
from cardrecipe.plan.cutting.columns import Pool, begin, relaxed
from cardrecipe.plan.cutting.grid import grid_for
from cardrecipe.plan.cutting.job import Job
from cardrecipe.plan.cutting.uses import Uses, cost_of


class Fewest(NamedTuple):
    """Columns and how often each is used; what they cost, and the least that any plan can cost.

    `is_exhausted`: the least is proved by an exact search instead of by the certificate's prices.
    """

    uses: Uses
    pool: Pool
    cost: int
    least: int
    certificate: Certificate
    is_exhausted: bool

    @property
    def is_proved(self) -> bool:
        return self.cost == self.least


def fewest(job: Job) -> Fewest | None:
    """Give a plan of the least cost that is found; None where some blank cannot be cut at all."""
    grid, pool = grid_for(job.stocks, job.blanks), Pool()
    begin(job, grid, pool)
    program = relaxed(job, grid, pool, {blank.name: blank.demand for blank in job.blanks})
    if program is None:
        return None
    certificate = simplest(job, grid, program.duals)
    best, least = _attempted(Begun(job, grid, pool, program), certificate.least)
    if best is None:
        return None
    cost = cost_of(best)
    assert cost >= least, "a plan costs less than was proved to be the least"
    return Fewest(best, pool, cost, least, certificate, least > certificate.least)


def _attempted(begun: Begun, least: int) -> tuple[Uses | None, int]:
    """Give the cheapest plan of all attempts, and the least that any of them proved."""
    best: Uses | None = None
    for attempt in ATTEMPTS if begun.grid.is_whole else [each for each in ATTEMPTS if each not in PROVING]:
        for tried in attempt(begun):
            least = max(least, tried.least)
            if tried.uses is not None and (best is None or cost_of(tried.uses) < cost_of(best)):
                best = tried.uses
        if best is not None and cost_of(best) <= least:
            break
    return best, least
