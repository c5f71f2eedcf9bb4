"""A plan that is there at once, however much is to be cut: blanks in rows, the deepest first.

It goes by counts and not by pieces, so that ten thousand copies take no longer than ten. Source: first fit by
decreasing height on levels, as in `one_sheet`, of which the next few blanks alone are tried for each place.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product
from typing import NamedTuple

from cardrecipe.plan.cutting.budget import ENDLESS, Budget, Spent
from cardrecipe.plan.cutting.job import Blank, Job, Part, Stock, blanks_in, orientations
from cardrecipe.plan.cutting.parts import MOST_BEHIND, MOST_BLANKS, is_allowed, row, trimmed

# So many of the blanks that come next are tried for what is left of a row or of a sheet.
NEXT = 24
# So many rows, columns in a row and blanks in a column: no more cuts behind each other than there may be.
MOST_ROWS, MOST_COLUMNS, MOST_STACKED = MOST_BEHIND // 2 - 20, MOST_BEHIND // 2 - 20, 40
# What a sheet takes to be filled, in steps.
SHEET = 100_000
# Rows of columns of stacked blanks change their direction so often.
STACKED = 3

Sheets = tuple[tuple[int, Stock, Part], ...]


class _Lying(NamedTuple):
    """A blank as it lies: `across` along its row, `deep` the other way."""

    across: int
    deep: int
    part: Part
    name: str


class _Way(NamedTuple):
    """How sheets are filled: the axis along which rows follow each other, and whether blanks lie or stand."""

    axis: str
    is_lying: bool


def first_plan(job: Job, budget: Budget = ENDLESS) -> Sheets | None:
    """Give how many sheets are cut so, each with its layout; None where none is found in rows.

    The first way is always gone, the others as long as the budget lasts; the cheapest counts.
    """
    found: list[Sheets] = []
    for way in (_Way(axis, is_lying) for axis, is_lying in product(("y", "x"), (True, False))):
        if job.first_cut not in (None, way.axis):
            continue
        try:
            sheets = _sheets(job, way, budget if found else ENDLESS)
        except Spent:
            break
        found += [sheets] if sheets is not None else []
    return min(found, key=_cost, default=None)


def _cost(sheets: Sheets) -> tuple[int, int]:
    return sum(count * stock.cost for count, stock, _ in sheets), len(sheets)


def alone(job: Job, stock: Stock, blank: Blank) -> Part:
    """Give as many of one blank as plain rows of it hold; an offcut where it may not be so."""
    found = [Part(stock.width, stock.height)]
    for axis, is_lying in product(("y", "x"), (True, False)):
        order = _order([blank], stock, _Way(axis, is_lying))
        part, _ = _sheet(job, order, {blank.name: MOST_BLANKS}, stock, axis)
        found += [part] if is_allowed(job, part) else []
    return max(found, key=lambda each: blanks_in(each).get(blank.name, 0))


def _sheets(job: Job, way: _Way, budget: Budget) -> Sheets | None:
    left = {blank.name: blank.demand for blank in job.blanks}
    room = {stock.name: stock.available for stock in job.stocks}
    orders = {stock.name: _order(job.blanks, stock, way) for stock in job.stocks}
    found: list[tuple[int, Stock, Part]] = []
    for stock in _by_cost(job.stocks):
        while room[stock.name] != 0 and orders[stock.name]:
            budget.spend(SHEET)
            part, held = _sheet(job, orders[stock.name], left, stock, way.axis)
            if not held or not is_allowed(job, part):
                break
            count = min(left[name] // number for name, number in held.items())
            is_there = room[stock.name]
            if is_there is not None:
                count = min(count, is_there)
                room[stock.name] = is_there - count
            for name, number in held.items():
                left[name] -= count * number
            found.append((count, stock, part))
            if not left[orders[stock.name][0].name]:
                orders[stock.name] = [each for each in orders[stock.name] if left[each.name]]
    return None if any(left.values()) else tuple(found)


def _by_cost(stocks: Sequence[Stock]) -> list[Stock]:
    """The sheets that cost least for their area first."""
    return sorted(stocks, key=lambda each: each.cost / (each.width * each.height))


def _order(blanks: Sequence[Blank], stock: Stock, way: _Way) -> list[_Lying]:
    """Give the blanks that fit a sheet as they lie on it, the deepest first."""
    width, depth = (stock.width, stock.height) if way.axis == "y" else (stock.height, stock.width)
    found = []
    for blank in blanks:
        lying = [
            _Lying(*((wide, tall) if way.axis == "y" else (tall, wide)),
                   Part(wide, tall, blank.name, is_turned), blank.name)
            for wide, tall, is_turned in orientations(blank)
        ]  # fmt: skip
        fitting = [each for each in lying if each.across <= width and each.deep <= depth]
        if fitting:
            found.append(min(fitting, key=lambda each: each.deep if way.is_lying else -each.deep))
    return sorted(found, key=lambda each: (-each.deep, -each.across))


def _sheet(
    job: Job, order: Sequence[_Lying], left: Mapping[str, int], stock: Stock, axis: str
) -> tuple[Part, dict[str, int]]:
    """Fill a sheet with what is left, row after row; give its layout and what it holds."""
    width, depth = (stock.width, stock.height) if axis == "y" else (stock.height, stock.width)
    held: dict[str, int] = {}
    rows: list[Part] = []
    free, at, passed = MOST_BLANKS, 0, 0
    while at < len(order) and passed < NEXT and len(rows) < MOST_ROWS:
        first = order[at]
        wanted = left[first.name] - held.get(first.name, 0)
        if not wanted or first.deep > depth:
            passed += bool(wanted)
            at += 1
            continue
        rest = {each.name: left[each.name] - held.get(each.name, 0) for each in order[at : at + NEXT]}
        columns = list(_columns(job, order[at : at + NEXT], rest, width, free))
        counts = {each.name: number * stacked for each, number, stacked in columns}
        if not counts:
            break
        # The same row again, as often as there is room and enough is left of all that is in it.
        times = min(depth // first.deep, MOST_ROWS - len(rows), free // sum(counts.values()),
                    *(rest[name] // number for name, number in counts.items()))  # fmt: skip
        rows += [_row(columns, first.deep, stock, axis)] * times
        depth -= times * first.deep
        free -= times * sum(counts.values())
        for name, number in counts.items():
            held[name] = held.get(name, 0) + times * number
    return row(axis, stock.width, stock.height, rows), held


def _columns(
    job: Job, order: Sequence[_Lying], rest: Mapping[str, int], width: int, free: int
) -> Iterator[tuple[_Lying, int, int]]:
    """Give what stands in a row as deep as the first of some blanks: which, in how many columns, how many in
    each."""
    deep, columns = order[0].deep, MOST_COLUMNS
    may_stack = job.stages is None or job.stages >= STACKED
    for each in order:
        stacked = min(deep // each.deep if may_stack else 1, MOST_STACKED, rest[each.name], free)
        if not stacked or each.across > width:
            continue
        number = min(width // each.across, rest[each.name] // stacked, free // stacked, columns)
        if number:
            yield each, number, stacked
        width -= number * each.across
        free -= number * stacked
        columns -= number


def _row(columns: Sequence[tuple[_Lying, int, int]], deep: int, stock: Stock, axis: str) -> Part:
    parts: list[Part] = []
    for each, number, stacked in columns:
        parts += [_column(each, stacked, deep, axis)] * number
    if axis == "y":
        return row("x", stock.width, deep, parts)
    return row("y", deep, stock.height, parts)


def _column(each: _Lying, stacked: int, deep: int, axis: str) -> Part:
    """Give a blank, or some in a stack, at the end of its row's depth."""
    wide, tall = (each.across, deep) if axis == "y" else (deep, each.across)
    if stacked == 1:
        return trimmed(each.part, wide, tall, axis)
    return row(axis, wide, tall, [each.part] * stacked)
