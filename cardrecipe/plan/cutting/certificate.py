"""Proof that less cannot do: whole-number prices, checked in whole numbers.

With these prices no sheet can hold more than its limit, and all that has to be cut is worth so much: so at
least so many sheets are needed. It is the dual of the covering program (Gilmore and Gomory 1961, 1965); where
the prices come from does not matter, because the limits are worked out anew and exactly.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import floor, gcd
from typing import NamedTuple

from cardrecipe.plan.cutting.bound import least_cost
from cardrecipe.plan.cutting.budget import ENDLESS, Budget, Spent
from cardrecipe.plan.cutting.grid import Grid
from cardrecipe.plan.cutting.job import Job
from cardrecipe.plan.cutting.worth import TooDear, worth

# Prices that people can add up: the first of these that proves as much as the finest does is taken.
SCALES = (1, 2, 3, 4, 6, 12, 24, 60, 120, 360, 2520)
# Parts of a sheet's cost that prices are counted in at the finest: HiGHS itself is no more exact.
FINEST = 1_000_000


class Certificate(NamedTuple):
    """Prices by blank, what a sheet of each stock can hold at most, and the least cost that follows."""

    prices: Mapping[str, int]
    limits: Mapping[str, int]
    least: int


def certified(job: Job, grid: Grid, prices: Sequence[int], budget: Budget = ENDLESS) -> Certificate:
    """Give what whole-number prices prove; `grid` must be whole."""
    assert grid.is_whole, "a limit that was read from some of the cuts is none"
    value = worth(grid, job.blanks, prices, job.stages, job.first_cut, budget)
    limits = {each.name: value.of(each.width, each.height) for each in job.stocks}
    return _certificate(job, prices, limits)


def by_area(job: Job) -> Certificate:
    """Give what the areas prove."""
    areas = [blank.width * blank.height for blank in job.blanks]
    unit = gcd(*areas)
    limits = {each.name: each.width * each.height // unit for each in job.stocks}
    return _certificate(job, [area // unit for area in areas], limits)


def simplest(job: Job, grid: Grid, duals: Sequence[float], budget: Budget = ENDLESS) -> Certificate:
    """Give the smallest prices that prove as much as the duals of the covering program can, or that are found
    with the budget."""
    best = by_area(job)
    if not grid.is_whole:
        return best
    try:
        best = finest = certified(job, grid, whole(duals, FINEST), budget)
        simpler = (
            certified(job, grid, [floor(dual * scale + 1e-6) for dual in duals], budget) for scale in SCALES
        )
        return next((found for found in simpler if found.least >= finest.least), finest)
    except (Spent, TooDear):
        return best


def whole(duals: Sequence[float], scale: int) -> list[int]:
    """Give prices in so many parts of a sheet's cost, rounded down."""
    return [max(0, floor(dual * scale)) for dual in duals]


def _certificate(job: Job, prices: Sequence[int], limits: Mapping[str, int]) -> Certificate:
    names = {blank.name: price for blank, price in zip(job.blanks, prices, strict=True)}
    total = sum(price * blank.demand for price, blank in zip(prices, job.blanks, strict=True))
    return Certificate(names, limits, least_cost(job.stocks, limits, total))
