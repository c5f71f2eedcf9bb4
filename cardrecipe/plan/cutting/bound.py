"""The most that a sheet of each stock can hold → the least cost of whole sheets that can hold a total."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import ceil

from cardrecipe.plan.cutting.job import Stock

# So many choices of sheets of several sizes are looked at for the cheapest that hold enough.
CHOICES = 100_000


def least_cost(stocks: Sequence[Stock], limits: Mapping[str, int], total: int, choices: int = CHOICES) -> int:
    """Give the least cost of whole sheets that together can hold what is worth a total.

    Every number of sheets of each stock is tried, those that hold most for their cost first, as long as
    fractions of sheets would cost less than the best so far (branch and bound). Where more than so many
    `choices` would have to be looked at, the cost in fractions is given, which is no more.
    """
    useful = [each for each in stocks if limits[each.name] > 0 and each.available != 0]
    useful.sort(key=lambda each: Fraction(each.cost, limits[each.name]))
    in_fractions = _in_fractions(useful, limits, total)
    best: int | None = None
    waiting = [(0, 0, total)]
    while waiting:
        at, cost, left = waiting.pop()
        choices -= 1
        if choices < 0:
            return in_fractions
        if best is not None and cost + _in_fractions(useful[at:], limits, left) >= best:
            continue
        if left <= 0:
            best = cost
            continue
        if at == len(useful):
            continue
        limit, stock = limits[useful[at].name], useful[at]
        most = -(-left // limit) if stock.available is None else min(stock.available, -(-left // limit))
        least = most if at == len(useful) - 1 else 0
        if most - least > choices:
            return in_fractions
        waiting += [(at + 1, cost + n * stock.cost, left - n * limit) for n in range(least, most + 1)]
    return in_fractions if best is None else best


def _in_fractions(stocks: Sequence[Stock], limits: Mapping[str, int], total: int) -> int:
    """Give the least cost of parts of sheets that hold a total, rounded up; those that hold most first."""
    cost = Fraction(0)
    for stock in stocks:
        if total <= 0:
            break
        used = Fraction(total, limits[stock.name])
        if stock.available is not None:
            used = min(used, Fraction(stock.available))
        cost += used * stock.cost
        total -= int(used * limits[stock.name])
    return ceil(cost)
