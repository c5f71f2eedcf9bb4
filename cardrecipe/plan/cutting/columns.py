"""Layouts to choose from, made where the covering program asks for them.

Source: column generation for cutting stock, Gilmore and Gomory (1961, 1965), Operations Research 9 and 13.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from cardrecipe.plan.cutting.budget import ENDLESS, Budget, Spent
from cardrecipe.plan.cutting.certificate import FINEST, whole
from cardrecipe.plan.cutting.first_plan import alone
from cardrecipe.plan.cutting.grid import Grid
from cardrecipe.plan.cutting.job import Blank, Job, Part, Stock, blanks_in
from cardrecipe.plan.cutting.parts import Effort, cuts_of, in_order, in_reason
from cardrecipe.plan.cutting.programs import INFINITE, Row, solve
from cardrecipe.plan.cutting.worth import PIECE, Worth, worth

# Rounds of a column generation; kits take some twenty.
MOST_ROUNDS = 300
# The stages that a maker can follow without turning the parts for ever: taken wherever they reach the least.
PLAIN_STAGES = 3
# What a missing blank costs in sheets of the dearest kind, where sheets may run out.
MISSING = 1_000


class Column(NamedTuple):
    """A layout of one sheet, what it holds and what it costs to cut."""

    stock: Stock
    counts: Mapping[str, int]
    part: Part
    effort: Effort
    is_plain: bool


def column(stock: Stock, part: Part) -> Column:
    """Give a layout as a column, its cuts in the order that takes the fewest settings."""
    part = in_order(in_reason(part))
    cuts = cuts_of(part)
    return Column(stock, blanks_in(part), part, cuts.effort, cuts.stages <= PLAIN_STAGES)


class Pool:
    """Columns, no two of the same sheet with the same blanks: of such the one that is easiest to cut.

    `filled` says which plans made sheet by sheet are in it: rounds by limit of stages and share of demand.
    """

    def __init__(self) -> None:
        self.filled: dict[tuple[int | None, int], int] = {}
        self._seen: set[tuple[str, Part]] = set()  # the same plans come up over and over
        self._columns: dict[tuple[str, tuple[tuple[str, int], ...]], Column] = {}

    @property
    def columns(self) -> list[Column]:
        return list(self._columns.values())

    def add(self, stock: Stock, part: Part) -> bool:
        """Take a layout in; True where none has held these blanks before."""
        if (stock.name, part) in self._seen:
            return False
        self._seen.add((stock.name, part))
        new = column(stock, part)
        if not new.counts:
            return False
        key = stock.name, tuple(sorted(new.counts.items()))
        known = self._columns.get(key)
        if known is None or (not new.is_plain, new.effort) < (not known.is_plain, known.effort):
            self._columns[key] = new
        return known is None


class Relaxed(NamedTuple):
    """The covering program in fractions: how often each column is used, and the price of each blank."""

    columns: list[Column]
    values: list[float]
    duals: list[float]
    cost: float


def begin(job: Job, grid: Grid, pool: Pool, budget: Budget = ENDLESS) -> None:
    """Put a layout for each blank alone into the pool: the best there is, or one in plain rows where the
    budget has no table for it; Spent where it has not even room for that."""
    for blank in job.blanks:
        try:
            value = worth(grid, [blank], [1], job.stages, job.first_cut, budget)
            parts = _layouts(job, value)
        except Spent:
            parts = [(stock, alone(job, stock, blank)) for stock in job.stocks]
            budget.spend(PIECE * sum(sum(blanks_in(part).values()) for _, part in parts))
        for stock, part in parts:
            pool.add(stock, part)


def relaxed(
    job: Job, grid: Grid, pool: Pool, demand: Mapping[str, int], budget: Budget = ENDLESS
) -> Relaxed | None:
    """Solve the covering program in fractions, with layouts made until none is worth more than its sheet, or
    until the budget is spent.

    None where a blank fits no sheet, or the sheets at hand do not suffice. Spent where not even the layouts
    that are there could be weighed.
    """
    blanks = [blank for blank in job.blanks if demand[blank.name] > 0]
    wanted = {blank.name: demand[blank.name] for blank in blanks}
    found: tuple[list[Column], list[float], list[float]] | None = None
    for _ in range(MOST_ROUNDS):
        columns = pool.columns
        try:
            answer = _in_fractions(job, columns, wanted, budget)
            if answer is None:
                return None
            found = (columns, *answer)
            if not _priced(job, grid, pool, blanks, answer[1], budget):
                break
        except Spent:
            if found is None:
                raise
            break
    assert found is not None
    columns, values, prices = found
    if any(at > 1e-6 for at in values[len(columns) :]):
        return None
    by_name = dict(zip(wanted, prices, strict=True))
    duals = [max(0.0, by_name.get(blank.name, 0.0)) for blank in job.blanks]
    cost = sum(at * each.stock.cost for at, each in zip(values, columns, strict=False))
    return Relaxed(columns, values[: len(columns)], duals, cost)


def _priced(
    job: Job, grid: Grid, pool: Pool, blanks: Sequence[Blank], prices: Sequence[float], budget: Budget
) -> bool:
    """Add the layouts that are worth most at some prices; True where one is new."""
    value = worth(grid, blanks, whole(prices, FINEST), job.stages, job.first_cut, budget)
    is_new = [pool.add(stock, part) for stock, part in _layouts(job, value)]
    return any(is_new)


def _layouts(job: Job, value: Worth) -> list[tuple[Stock, Part]]:
    return [(stock, part) for stock in job.stocks for part in value.layouts(stock.width, stock.height)]


def _in_fractions(
    job: Job, columns: Sequence[Column], wanted: Mapping[str, int], budget: Budget
) -> tuple[list[float], list[float]] | None:
    """Give the values of the columns and the prices of the blanks.

    Where sheets may run out, each blank has a column of its own behind the others, for what is missing.
    """
    rows = [*covering(columns, wanted), *at_hand(job, columns)]
    costs = [float(each.stock.cost) for each in columns]
    if any(stock.available is not None for stock in job.stocks):
        missing = float(MISSING * max(1, *(stock.cost for stock in job.stocks)))
        rows = [
            each._replace(terms={**each.terms, len(columns) + at: 1}) if at < len(wanted) else each
            for at, each in enumerate(rows)
        ]
        costs += [missing] * len(wanted)
    answer = solve(costs, [INFINITE] * len(costs), rows, whole=False, budget=budget)
    return None if answer is None else (answer.values, answer.prices[: len(wanted)])


def covering(columns: Sequence[Column], demand: Mapping[str, int]) -> list[Row]:
    """Give the rows that say: at least so many of each blank."""
    holding: dict[str, dict[int, float]] = {name: {} for name in demand}
    for at, each in enumerate(columns):
        for name, count in each.counts.items():
            if name in holding:
                holding[name][at] = count
    return [Row(least, INFINITE, holding[name]) for name, least in demand.items()]


def at_hand(job: Job, columns: Sequence[Column]) -> list[Row]:
    """Give the rows that say: no more sheets than are there."""
    return [
        Row(0, stock.available, {at: 1 for at, each in enumerate(columns) if each.stock.name == stock.name})
        for stock in job.stocks
        if stock.available is not None
    ]
