"""The fewest sheets (or the least cost) for a job, with a proof where there is one.

Attempts stand in a list, each dearer than the one before; the first whose cost is no more than the bound
ends the search. So does its budget: then the best plan so far stands, a plan in rows at the least.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from cardrecipe.plan.cutting.attempts import (
    ATTEMPTS,
    PROVING,
    Attempt,
    Begun,
    Tried,
    in_all_sets,
    with_few_stages,
)
from cardrecipe.plan.cutting.budget import PAPER, Budget, Spent
from cardrecipe.plan.cutting.certificate import Certificate, by_area, simplest
from cardrecipe.plan.cutting.columns import Pool, Relaxed, begin, column, relaxed
from cardrecipe.plan.cutting.first_plan import first_plan
from cardrecipe.plan.cutting.grid import Grid, searchable_grid
from cardrecipe.plan.cutting.job import Job
from cardrecipe.plan.cutting.sets import is_small
from cardrecipe.plan.cutting.uses import Uses, chosen, cost_of
from cardrecipe.plan.cutting.worth import TooDear

# A search makes some tables over and over: a grid is made coarser where not so many are within the budget.
TABLES = 24
# An attempt may do half of the work that is left, the last one all; that for layouts of few stages, which are
# seldom the fewest, a quarter.
FEW_STAGES = 4


class Fewest(NamedTuple):
    """Columns and how often each is used; what they cost, and the least that any plan can cost.

    `is_exhausted`: the least is proved by an exact search instead of by the certificate's prices.
    """

    uses: Uses
    grid: Grid
    pool: Pool
    cost: int
    least: int
    certificate: Certificate
    is_exhausted: bool


def fewest(job: Job, budget: Budget | None = None) -> Fewest | None:
    """Give a plan of the least cost that is found; None where some blank cannot be cut at all."""
    budget = budget or Budget(PAPER)
    in_rows = _in_rows(job, budget)
    grid, pool = searchable_grid(job.stocks, job.blanks, budget.left // TABLES), Pool()
    best, least, certificate = in_rows, 0, by_area(job)
    if in_rows is None or grid.is_whole or cost_of(in_rows) > certificate.least:
        if not grid.is_whole:
            for _, each in in_rows or ():
                pool.add(each.stock, each.part)
        try:
            program = _program(job, grid, pool, budget)
        except (Spent, TooDear):
            program = None
        if program is not None:
            certificate = simplest(job, grid, program.duals, budget.share(4))
            found, least = _attempted(Begun(job, grid, pool, program), certificate.least, budget)
            best = min((each for each in (found, in_rows) if each is not None), key=cost_of, default=None)
    if best is None:
        return None
    cost, least = cost_of(best), max(least, certificate.least)
    assert cost >= least, "a plan costs less than was proved to be the least"
    return Fewest(best, grid, pool, cost, least, certificate, least > certificate.least)


def _in_rows(job: Job, budget: Budget) -> Uses | None:
    """Give the plan that is there at once."""
    sheets = first_plan(job, budget.share(8))
    return None if sheets is None else tuple((count, column(stock, part)) for count, stock, part in sheets)


def _program(job: Job, grid: Grid, pool: Pool, budget: Budget) -> Relaxed | None:
    begin(job, grid, pool, budget.share(8))
    return relaxed(job, grid, pool, {blank.name: blank.demand for blank in job.blanks}, budget.share(2))


def _attempted(begun: Begun, least: int, budget: Budget) -> tuple[Uses | None, int]:
    """Give the cheapest plan of all attempts, and the least that any of them proved."""
    best: Uses | None = None
    attempts = [each for each in ATTEMPTS if _is_of_use(each, begun)]
    for attempt in attempts:
        parts = FEW_STAGES if attempt is with_few_stages else 1 if attempt is attempts[-1] else 2
        share = budget.share(parts)
        for tried in _until_spent(attempt, begun._replace(budget=share), budget):
            least = max(least, tried.least)
            if tried.uses is not None and (best is None or cost_of(tried.uses) < cost_of(best)):
                best = tried.uses
            if best is not None and cost_of(best) <= least:
                return best, least
    return best, least


def _is_of_use(attempt: Attempt, begun: Begun) -> bool:
    if attempt is in_all_sets:
        return begun.grid.is_whole and is_small(begun.job)
    return begun.grid.is_whole or attempt not in PROVING


def _until_spent(attempt: Attempt, begun: Begun, budget: Budget) -> Iterator[Tried]:
    """Give what an attempt finds, and where it ends with its budget the best choice of what it has added."""
    try:
        yield from attempt(begun)
    except (Spent, TooDear):
        try:
            yield Tried(chosen(begun.job, begun.pool.columns, budget.share(4)))
        except Spent:
            return
