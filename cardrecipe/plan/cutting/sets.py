"""The fewest sheets for a few pieces by trying every way to share them out: exact, and a proof by itself."""

from __future__ import annotations

from functools import cache
from itertools import product
from math import prod

from cardrecipe.plan.cutting.budget import ENDLESS, Budget
from cardrecipe.plan.cutting.exhausted import best_rectangle, sheet_for
from cardrecipe.plan.cutting.grid import Grid
from cardrecipe.plan.cutting.job import Job, Part, Stock
from cardrecipe.plan.cutting.worth import worth

# So many different sets of pieces are tried one by one: 2 to the power of 9 for nine single pieces.
MOST_SETS = 600
# The search goes down by one call a sheet.
MOST_PIECES = 100

# What looking at a set takes, in steps.
SET = 500

Counts = tuple[int, ...]
Plan = tuple[int, tuple[tuple[Stock, Part], ...]]


class GaveUp(Exception):
    """A search ended at its budget: nothing is proved."""


def is_small(job: Job) -> bool:
    """Tell whether every set of the pieces can be tried, on as many sheets as it takes."""
    is_limited = job.stages is not None or any(stock.available is not None for stock in job.stocks)
    demands = [blank.demand for blank in job.blanks]
    return not is_limited and sum(demands) <= MOST_PIECES and prod(each + 1 for each in demands) <= MOST_SETS


def by_all_sets(job: Job, grid: Grid, rounds: int, budget: Budget = ENDLESS) -> Plan | None:
    """Give the least cost of a small job and its sheets; None where a blank fits no sheet.

    A set fits a sheet or not; the plan for a set is its first piece with some others on one sheet, and the
    plan for the rest. GaveUp where some set could not be decided in so many `rounds`.
    """
    assert is_small(job)
    prices = [blank.width * blank.height for blank in job.blanks]
    value = worth(grid, job.blanks, prices, budget=budget)
    stocks = sorted(job.stocks, key=lambda each: each.cost)
    empty = {stock.name: sheet_for(value, stock.width, stock.height, budget) for stock in stocks}

    @cache
    def sheet(counts: Counts) -> tuple[Stock, Part] | None:
        """Give the cheapest sheet that holds a set."""
        total = sum(price * count for price, count in zip(prices, counts, strict=True))
        most = {blank.name: count for blank, count in zip(job.blanks, counts, strict=True)}
        for stock in stocks:
            if total > stock.width * stock.height:
                continue
            found = best_rectangle(empty[stock.name], most, total, rounds, budget)
            if found.value == total:
                return stock, found.part
            if not found.is_settled:
                raise GaveUp
        return None

    @cache
    def plan(counts: Counts) -> Plan | None:
        first = next((at for at, count in enumerate(counts) if count), None)
        if first is None:
            return 0, ()
        best: Plan | None = None
        for some in product(*(range(count, -1, -1) for count in counts)):
            budget.spend(SET)
            held = sheet(some) if some[first] else None
            if held is None or (best is not None and held[0].cost >= best[0]):
                continue
            rest = plan(tuple(count - taken for count, taken in zip(counts, some, strict=True)))
            if rest is not None and (best is None or held[0].cost + rest[0] < best[0]):
                best = (held[0].cost + rest[0], (held, *rest[1]))
        return best

    return plan(tuple(blank.demand for blank in job.blanks))
