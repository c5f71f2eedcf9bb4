"""The most that rectangles are worth when every blank has a price and may be cut as often as it fits.

Source: two-dimensional guillotine dynamic programming, Gilmore and Gomory (1965), "Multistage cutting stock
problems of two and more dimensions", Operations Research 13, over reduced cut points (Herz 1972). All
values are whole numbers; nothing is rounded.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

from cardrecipe.plan.cutting.grid import Grid, Table
from cardrecipe.plan.cutting.job import Blank, Part, orientations
from cardrecipe.plan.cutting.parts import row, trimmed

OTHER = {"x": "y", "y": "x"}
# Values are added in 64 bits; with a bit to spare for the sum of two.
MOST_WORTH = 2**62


class TooDear(ValueError):
    """Prices whose sums on one sheet would not fit into 64 bits."""


class Stage(NamedTuple):
    """Values of the rectangles of a grid, a table of the shape (widths, heights), after the cuts of one
    direction (`axis` None: of both, without a limit) of parts that have those of `inner`; `inner` None: of
    single blanks."""

    table: Table
    axis: str | None
    inner: Stage | None


class Worth(NamedTuple):
    """The best value of each rectangle, for one or two choices of the first direction."""

    grid: Grid
    blanks: tuple[Blank, ...]
    prices: tuple[int, ...]
    ends: tuple[Stage, ...]

    def of(self, width: int, height: int) -> int:
        """Give the most that a rectangle is worth."""
        at = self.grid.at(width, height)
        return max(int(stage.table[at]) for stage in self.ends)

    def layouts(self, width: int, height: int) -> list[Part]:
        """Give a layout of that worth for each first direction that reaches it."""
        at = self.grid.at(width, height)
        best = self.of(width, height)
        return [self._part(width, height, stage) for stage in self.ends if int(stage.table[at]) == best]

    def _part(self, width: int, height: int, stage: Stage) -> Part:
        at = self.grid.at(width, height)
        value = int(stage.table[at])
        if value == 0:
            return Part(width, height)
        if stage.inner is not None and int(stage.inner.table[at]) == value:
            # What is inside is cut along the other axis first, and what is left over along this one.
            return self._part(width, height, stage.inner)
        axis, rest, near = None, (width, height), []
        # A long row is taken apart here and not part in part: thousands of pieces may stand in one.
        while value and (split := next(self._splits(stage, at, value), None)):
            if axis not in (None, split[0]):
                break
            axis = split[0]
            first, rest = _halves(axis, split[1], *rest)
            near.append(self._part(*first, stage))
            at = self.grid.at(*rest)
            value = int(stage.table[at])
            if stage.inner is not None and int(stage.inner.table[at]) == value:
                break
        if axis is None:
            return self._single(width, height, value, stage.axis)
        return row(axis, width, height, [*near, self._part(*rest, stage)])

    def _splits(self, stage: Stage, at: tuple[int, int], value: int) -> Iterator[tuple[str, int]]:
        """Give the cuts that leave parts of a value: the axis, and the length of the first part."""
        if stage.inner is None and stage.axis is not None:
            return
        table = stage.table
        for axis in ("x", "y") if stage.axis is None else (stage.axis,):
            one, two = (each[at[0] if axis == "x" else at[1]] for each in self.grid.pairs[axis])
            is_x = axis == "x"
            sums = table[one, at[1]] + table[two, at[1]] if is_x else table[at[0], one] + table[at[0], two]
            for found in np.nonzero((sums == value) & (one > 0))[0]:
                yield axis, self.grid.points(axis)[int(one[found])]

    def _single(self, width: int, height: int, value: int, axis: str | None) -> Part:
        for blank, price in zip(self.blanks, self.prices, strict=True):
            for wide, tall, turned in orientations(blank):
                if price == value and wide <= width and tall <= height:
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
) -> Worth:
    """Work out the worth of all rectangles of a grid; prices are whole and not below 0."""
    _refuse_too_dear(grid, blanks, prices)
    single = _singles(grid, blanks, prices)
    if stages is None:
        ends = [_unlimited(grid, single)]
    else:
        ends = [_staged(grid, single, stages, axis) for axis in ("x", "y") if first_cut in (None, axis)]
    return Worth(grid, tuple(blanks), tuple(prices), tuple(ends))


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
            np.maximum(table[at[0] :, at[1] :], price, out=table[at[0] :, at[1] :])
    return table


def _staged(grid: Grid, single: Table, stages: int, first: str) -> Stage:
    """Close the values along one axis after the other, the first cut last."""
    axes = [first if (stages - at) % 2 == 1 else OTHER[first] for at in range(stages)]
    stage = Stage(single, axes[0], None)
    for axis in axes:
        stage = Stage(_closed(grid, stage.table, axis), axis, stage)
    return stage


def _closed(grid: Grid, table: Table, axis: str) -> Table:
    """Give the best sums of values side by side, the shorter rows first."""
    one, two = grid.pairs[axis]
    table = table.copy() if axis == "x" else np.ascontiguousarray(table.T)
    for place, number in enumerate(np.count_nonzero(one, axis=1).tolist()):
        if number:
            sums = table[one[place, :number]] + table[two[place, :number]]
            np.maximum(table[place], np.maximum.reduce(sums), out=table[place])
    return table if axis == "x" else np.ascontiguousarray(table.T)


def _unlimited(grid: Grid, single: Table) -> Stage:
    """Go through the rectangles by height: cuts across are sums of lower ones, cuts down of narrower ones."""
    (left, right), (above, below) = grid.pairs["x"], grid.pairs["y"]
    table = np.ascontiguousarray(single.T)
    for tall, number in enumerate(np.count_nonzero(above, axis=1).tolist()):
        line = table[tall]
        if number:
            sums = table[above[tall, :number]] + table[below[tall, :number]]
            np.maximum(line, np.maximum.reduce(sums), out=line)
        while True:
            better = np.maximum(line, np.maximum.reduce(line[left] + line[right], axis=1))
            if (better == line).all():
                break
            line = better
        table[tall] = line
    return Stage(np.ascontiguousarray(table.T), None, None)
