"""Columns and how often each is used: what they cost, whether they suffice, the cheapest choice of them."""

from __future__ import annotations

from collections.abc import Sequence

from cardrecipe.plan.cutting.budget import ENDLESS, Budget
from cardrecipe.plan.cutting.columns import Column, at_hand, covering
from cardrecipe.plan.cutting.job import Job
from cardrecipe.plan.cutting.programs import INFINITE, solve

NODES = 1_000

Use = tuple[int, Column]
Uses = tuple[Use, ...]


def cost_of(uses: Sequence[Use]) -> int:
    """Give what the sheets of some columns cost."""
    return sum(count * each.stock.cost for count, each in uses)


def covers(job: Job, uses: Sequence[Use]) -> bool:
    """Tell whether columns hold all that is to be cut, on sheets that are there."""
    held: dict[str, int] = {}
    used: dict[str, int] = {}
    for count, each in uses:
        used[each.stock.name] = used.get(each.stock.name, 0) + count
        for name, number in each.counts.items():
            held[name] = held.get(name, 0) + count * number
    is_there = all(each.available is None or used.get(each.name, 0) <= each.available for each in job.stocks)
    return is_there and all(held.get(blank.name, 0) >= blank.demand for blank in job.blanks)


def chosen(job: Job, columns: Sequence[Column], budget: Budget = ENDLESS) -> Uses | None:
    """Give the cheapest plan of some columns that is found by a program in whole numbers, and holds."""
    rows = covering(columns, {blank.name: blank.demand for blank in job.blanks})
    if any(not each.terms for each in rows):
        return None
    costs = [float(each.stock.cost) for each in columns]
    most = [INFINITE] * len(columns)
    answer = solve(costs, most, [*rows, *at_hand(job, columns)], whole=True, nodes=NODES, budget=budget)
    if answer is None:
        return None
    uses = [(round(at), each) for at, each in zip(answer.values, columns, strict=True) if round(at) > 0]
    return tuple(uses) if covers(job, uses) else None
