"""All pieces of a small job on one sheet, in rows of columns: quick, and enough for most single cards.

Where it finds a plan nothing heavier has to be loaded. Source: first fit by decreasing height on levels,
Coffman, Garey, Johnson and Tarjan (1980), SIAM Journal on Computing 9, here with pieces stacked in a column.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice, product
from typing import NamedTuple

from cardrecipe.plan.cutting.budget import ENDLESS, Budget, Spent
from cardrecipe.plan.cutting.job import Blank, Job, Part, Stock, orientations
from cardrecipe.plan.cutting.parts import effort, in_order, is_allowed, row, trimmed

# So many ways to turn the pieces are tried, and no more pieces are taken than a few cards have.
MOST_WAYS = 128
MOST_PIECES = 30
# What a way takes for each piece, in steps.
WAY = 12_000
# So many settings are worth one stroke more on every sheet: setting a trimmer takes as long as cutting twice.
STROKE = 1.5


class _Lying(NamedTuple):
    """A piece as it lies: `across` along its row, `deep` the other way."""

    across: int
    deep: int
    part: Part


class _Column:
    """Pieces stacked in a row; the first is the widest."""

    def __init__(self, first: _Lying) -> None:
        self.across = first.across
        self.used = first.deep
        self.stacked = [first]


class _Row:
    def __init__(self, first: _Lying) -> None:
        self.deep = first.deep
        self.used = first.across
        self.columns = [_Column(first)]


def on_one_sheet(job: Job, budget: Budget = ENDLESS) -> tuple[Stock, Part] | None:
    """Give the cheapest sheet that holds all pieces and its easiest layout; None where none is found.

    Where the budget ends before all ways are tried, the easiest so far counts.
    """
    total = sum(blank.demand * blank.width * blank.height for blank in job.blanks)
    if sum(blank.demand for blank in job.blanks) > MOST_PIECES:
        return None
    for stock in sorted(job.stocks, key=lambda each: each.cost):
        if stock.available == 0 or total > stock.width * stock.height:
            continue
        found = [part for part in _layouts(job, stock, budget) if is_allowed(job, part)]
        if found:
            return stock, min(found, key=toil)
    return None


def toil(part: Part) -> tuple[float, int, int]:
    """What a layout takes to cut, to compare it with others; of equal ones the larger offcut is less."""
    cost = effort(part)
    return cost.settings + STROKE * cost.strokes, cost.offcut, cost.settings


def _layouts(job: Job, stock: Stock, budget: Budget) -> Iterator[Part]:
    pieces = sum(blank.demand for blank in job.blanks)
    ways = product(*(orientations(blank) for blank in job.blanks))
    for way in islice(ways, MOST_WAYS):
        try:
            budget.spend(WAY * pieces)
        except Spent:
            return
        for axis in ("x", "y"):
            if job.first_cut not in (None, axis):
                continue
            room = (stock.width, stock.height) if axis == "y" else (stock.height, stock.width)
            turned = zip(job.blanks, way, strict=True)
            lying = [each for blank, lie in turned for each in _pieces(blank, lie, axis)]
            for key in (lambda each: (-each.deep, -each.across), lambda each: (-each.across, -each.deep)):
                rows = _packed(sorted(lying, key=key), *room)
                if rows is not None:
                    yield in_order(_part(rows, stock, axis))


def _pieces(blank: Blank, lie: tuple[int, int, bool], axis: str) -> list[_Lying]:
    wide, tall, is_turned = lie
    size = (wide, tall) if axis == "y" else (tall, wide)
    return [_Lying(*size, Part(wide, tall, blank.name, is_turned))] * blank.demand


def _packed(pieces: Sequence[_Lying], width: int, depth: int) -> list[_Row] | None:
    """Put each piece on a column that it fits, else at the end of a row, else into a new row."""
    rows: list[_Row] = []
    for piece in pieces:
        if piece.across > width:
            return None
        if _stacked(rows, piece) or _beside(rows, piece, width):
            continue
        if sum(each.deep for each in rows) + piece.deep > depth:
            return None
        rows.append(_Row(piece))
    return rows


def _stacked(rows: Sequence[_Row], piece: _Lying) -> bool:
    for each in rows:
        for column in each.columns:
            if piece.across <= column.across and column.used + piece.deep <= each.deep:
                column.stacked.append(piece)
                column.used += piece.deep
                return True
    return False


def _beside(rows: Sequence[_Row], piece: _Lying, width: int) -> bool:
    for each in rows:
        if piece.deep <= each.deep and each.used + piece.across <= width:
            each.columns.append(_Column(piece))
            each.used += piece.across
            return True
    return False


def _part(rows: Sequence[_Row], stock: Stock, axis: str) -> Part:
    """Give rows as parts; `axis` is the one that the rows follow each other along."""
    inner = "x" if axis == "y" else "y"
    made = []
    for each in rows:
        columns = []
        for column in each.columns:
            size = (column.across, each.deep) if axis == "y" else (each.deep, column.across)
            stacked = [_level(piece, column.across, axis) for piece in column.stacked]
            columns.append(row(axis, *size, stacked))
        size = (stock.width, each.deep) if axis == "y" else (each.deep, stock.height)
        made.append(row(inner, *size, columns))
    return row(axis, stock.width, stock.height, made)


def _level(piece: _Lying, across: int, axis: str) -> Part:
    size = (across, piece.deep) if axis == "y" else (piece.deep, across)
    return trimmed(piece.part, *size)
