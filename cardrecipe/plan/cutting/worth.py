"""The most that rectangles are worth when every blank has a price and may be cut as often as it fits.

Source: two-dimensional guillotine dynamic programming, Gilmore and Gomory (1965), "Multistage cutting stock
problems of two and more dimensions", Operations Research 13, over reduced cut points (Herz 1972). All
values are whole numbers; nothing is rounded.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from cardrecipe.plan.cutting.budget import ENDLESS, Budget
from cardrecipe.plan.cutting.grid import AT_ONCE, Grid, Side, Table
from cardrecipe.plan.cutting.job import Blank, Part, blanks_in, orientations
from cardrecipe.plan.cutting.parts import in_reason, row, trimmed

OTHER = {"x": "y", "y": "x"}
# Values are added in 64 bits; with a bit to spare for the sum of two.
MOST_WORTH = 2**62
# Parts that hold each other; a layout that goes deeper nobody follows.
MOST_DEEP = 60
# What a blank adds to a table's work, and a part to that of a layout, in steps.
BLANK = 1_000
SPLIT = 8_000
# What taking a layout in takes for each of its blanks, in steps.
PIECE = 1_500


class TooDear(ValueError):
    """Prices whose sums on one sheet would not fit into 64 bits."""


class Stage(NamedTuple):
    """Values of the rectangles of a grid, a table of the shape (widths, heights), after the cuts of one
    direction (`axis` None: of both, without a limit) of parts that have those of `inner`; `inner` None: of
    single blanks. Of the last of several stages the table has at first the values of `inner`."""

    table: Table
    axis: str | None
    inner: Stage | None


class Worth:
    """The best value of each rectangle, for one or two choices of the first direction."""

    def __init__(
        self,
        grid: Grid,
        blanks: Sequence[Blank],
        prices: Sequence[int],
        ends: Sequence[Stage],
        budget: Budget = ENDLESS,
    ) -> None:
        self.grid, self.ends, self._budget = grid, tuple(ends), budget
        self.blanks, self.prices = tuple(blanks), tuple(prices)
        self._closed: set[tuple[int, int]] = set()
        self._made: dict[tuple[int, int, int], Part] = {}
        self._priced: dict[int, list[tuple[Blank, int, int, bool]]] = {}
        for blank, price in zip(blanks, prices, strict=True):
            lying = [(blank, *lie) for lie in orientations(blank)]
            self._priced.setdefault(price, []).extend(lying)

    def of(self, width: int, height: int) -> int:
        """Give the most that a rectangle is worth."""
        at = self.grid.at(width, height)
        return max(self._value(stage, at) for stage in self.ends)

    def layouts(self, width: int, height: int) -> list[Part]:
        """Give a layout of that worth for each first direction that reaches it, or of less where a layout in
        reason cannot hold as much."""
        return [self._layout(width, height, stage) for stage in self._reaching(width, height)]

    def layout(self, width: int, height: int, number: int) -> Part:
        """Give one of these layouts, counted round."""
        reaching = self._reaching(width, height)
        return self._layout(width, height, reaching[number % len(reaching)])

    def _reaching(self, width: int, height: int) -> list[Stage]:
        at = self.grid.at(width, height)
        values = [self._value(stage, at) for stage in self.ends]
        return [stage for stage, value in zip(self.ends, values, strict=True) if value == max(values)]

    def _value(self, stage: Stage, at: tuple[int, int]) -> int:
        """Of the last of several stages only the lines are worked out that are asked for: those of whole
        sheets, since all parts of a row are as high, or as wide, as it is."""
        if stage.axis is not None and stage.inner is not None:
            is_x = stage.axis == "x"
            key = id(stage), at[1] if is_x else at[0]
            if key not in self._closed:
                self._closed.add(key)
                line = stage.table[:, at[1]] if is_x else stage.table[at[0]]
                _close_line(self.grid.side(stage.axis), line)
        return int(stage.table[at])

    def _layout(self, width: int, height: int, stage: Stage) -> Part:
        found = in_reason(self._part(width, height, stage, 0))
        self._budget.spend(PIECE * sum(blanks_in(found).values()))
        return found

    def _part(self, width: int, height: int, stage: Stage, depth: int) -> Part:
        """A part that is made already is taken again; `depth` parts hold this one."""
        key = width, height, id(stage)
        if key not in self._made:
            if depth > MOST_DEEP:
                return Part(width, height)
            self._made[key] = self._new_part(width, height, stage, depth + 1)
        return self._made[key]

    def _new_part(self, width: int, height: int, stage: Stage, depth: int) -> Part:
        at = self.grid.at(width, height)
        value = int(stage.table[at])
        if value == 0:
            return Part(width, height)
        if stage.inner is not None and int(stage.inner.table[at]) == value:
            # What is inside is cut along the other axis first, and what is left over along this one.
            return self._part(width, height, stage.inner, depth)
        axis, rest, near = None, (width, height), []
        # A long row is taken apart here and not part in part: thousands of pieces may stand in one.
        while value and (split := self._split(stage, at, value)):
            self._budget.spend(SPLIT)
            if axis not in (None, split[0]):
                break
            axis = split[0]
            first, rest = _halves(axis, split[1], *rest)
            near.append(self._part(*first, stage, depth))
            at = self.grid.at(*rest)
            value = int(stage.table[at])
            if stage.inner is not None and int(stage.inner.table[at]) == value:
                break
        if axis is None:
            return self._single(width, height, value, stage.axis)
        return row(axis, width, height, [*near, self._part(*rest, stage, depth)])

    def _split(self, stage: Stage, at: tuple[int, int], value: int) -> tuple[str, int] | None:
        """Give the first cut that leaves parts of a value: the axis, and the length of the first part."""
        if stage.inner is None and stage.axis is not None:
            return None
        for axis in ("x", "y") if stage.axis is None else (stage.axis,):
            side, is_x = self.grid.side(axis), axis == "x"
            rest = side.rest[at[0] if is_x else at[1]]
            line = stage.table[:, at[1]] if is_x else stage.table[at[0]]
            is_such = line[1 : len(rest) + 1] + line[rest] == value
            if len(rest) and is_such[found := int(is_such.argmax())]:
                return axis, side.at[found + 1]
        return None

    def _single(self, width: int, height: int, value: int, axis: str | None) -> Part:
        for blank, wide, tall, turned in self._priced[value]:
            if wide <= width and tall <= height:
                return trimmed(Part(wide, tall, blank.name, turned), width, height, axis)
        raise AssertionError("no blank has this value")


def _halves(axis: str, length: int, width: int, height: int) -> tuple[tuple[int, int], tuple[int, int]]:
    if axis == "x":
        return (length, height), (width - length, height)
    return (width, length), (width, height - length)


def worth(
    grid: Grid,
    blanks: Sequence[Blank],
    prices: Sequence[int],
    stages: int | None = None,
    first_cut: str | None = None,
    budget: Budget = ENDLESS,
) -> Worth:
    """Work out the worth of all rectangles of a grid; prices are whole and not below 0."""
    firsts = [axis for axis in ("x", "y") if first_cut in (None, axis)] if stages is not None else ["x"]
    budget.spend(len(firsts) * grid.work(stages) + BLANK * len(blanks))
    _refuse_too_dear(grid, blanks, prices)
    single = _singles(grid, blanks, prices)
    if stages is None:
        return Worth(grid, blanks, prices, [_unlimited(grid, single)], budget)
    return Worth(grid, blanks, prices, [_staged(grid, single, stages, axis) for axis in firsts], budget)


def _refuse_too_dear(grid: Grid, blanks: Sequence[Blank], prices: Sequence[int]) -> None:
    """No rectangle holds more blanks than its area has room for."""
    area = grid.widths[-1] * grid.heights[-1]
    for blank, price in zip(blanks, prices, strict=True):
        if price < 0 or price * max(1, area // (blank.width * blank.height)) > MOST_WORTH // len(blanks):
            raise TooDear(f"{blank.name}: {price}")


def _singles(grid: Grid, blanks: Sequence[Blank], prices: Sequence[int]) -> Table:
    table = np.zeros((len(grid.widths), len(grid.heights)), dtype=np.int64)
    for blank, price in zip(blanks, prices, strict=True):
        for wide, tall, _ in orientations(blank):
            at = bisect_right(grid.widths, wide - 1), bisect_right(grid.heights, tall - 1)
            if at[0] < table.shape[0] and at[1] < table.shape[1]:
                table[at] = max(int(table[at]), price)
    # What a rectangle holds a larger one holds as well.
    np.maximum.accumulate(table, axis=0, out=table)
    return np.maximum.accumulate(table, axis=1)


def _staged(grid: Grid, single: Table, stages: int, first: str) -> Stage:
    """Close the values along one axis after the other, the first cut last."""
    axes = [first if (stages - at) % 2 == 1 else OTHER[first] for at in range(stages)]
    stage = Stage(single, axes[0], None)
    for axis in axes[:-1]:
        stage = Stage(_closed(grid, stage.table, axis), axis, stage)
    return Stage(stage.table.copy(), axes[-1], stage)


def _closed(grid: Grid, table: Table, axis: str) -> Table:
    """Give the best sums of values side by side, the shorter rows first."""
    table = table.copy() if axis == "x" else np.ascontiguousarray(table.T)
    for place, rest in enumerate(grid.side(axis).rest):
        _take_best_sums(table, place, rest)
    return table if axis == "x" else np.ascontiguousarray(table.T)


def _take_best_sums(table: Table, place: int, rest: Table) -> None:
    """Raise the values of a line to the best sums of two lines before it."""
    line = table[place]
    lines = max(1, AT_ONCE // len(line))
    for start in range(0, len(rest), lines):
        some = rest[start : start + lines]
        sums = table.take(some, axis=0)
        sums += table[start + 1 : start + len(some) + 1]
        np.maximum(line, np.maximum.reduce(sums), out=line)


def _unlimited(grid: Grid, single: Table) -> Stage:
    """Go through the rectangles by height: cuts across are sums of lower ones, cuts down of narrower ones.

    Where there are fewer places across, the other way round: a line takes a while to begin with.
    """
    is_turned = len(grid.widths) < len(grid.heights)
    along, by = (grid.down, grid.across) if is_turned else (grid.across, grid.down)
    table = single.copy() if is_turned else np.ascontiguousarray(single.T)
    for place, rest in enumerate(by.rest):
        _take_best_sums(table, place, rest)
        _close_line(along, table[place])
    return Stage(table if is_turned else np.ascontiguousarray(table.T), None, None)


def _close_line(side: Side, line: Table) -> None:
    """Raise the values along a side to the best sums of two of them: block by block, each until nothing in it
    changes, since all before it stay as they are."""
    for first, end, near, far, starts in side.blocks:
        values = line[first:end]
        while True:
            best = np.maximum.reduceat(line[near] + line[far], starts)
            if (best <= values).all():
                break
            np.maximum(values, best, out=values)
