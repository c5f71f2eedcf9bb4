"""The most that one rectangle is worth when no blank may be cut more often than it is wanted: exact search.

Source: best-first search with bounds from the unrestricted problem, Viswanathan and Bagchi (1993), "Best-
first search methods for constrained two-dimensional cutting stock problems", Operations Research 41;
rectangles are built up from smaller ones as Wang (1983) does, Operations Research 31. From memory.
"""

from __future__ import annotations

import heapq
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np

from cardrecipe.plan.cutting.budget import ENDLESS, Budget, Spent
from cardrecipe.plan.cutting.cut_points import sums
from cardrecipe.plan.cutting.grid import Table
from cardrecipe.plan.cutting.job import Part, orientations
from cardrecipe.plan.cutting.parts import row
from cardrecipe.plan.cutting.worth import Worth

Counts = tuple[int, ...]

# A sheet with more places along a side is not searched.
MOST_PLACES = 4_000
# What looking at a place, joining two rectangles, and each blank in them take, in steps.
LOOK, JOIN, JOIN_BLANK = 1_500, 600, 30


class Found(NamedTuple):
    """The best layout that was found. `is_settled`: no layout is worth more; where `enough` was asked for,
    this one is worth it or none is. Not settled: the rounds were used up, and nobody knows."""

    part: Part
    value: int
    is_settled: bool


class Sheet(NamedTuple):
    """A sheet to search, with the most that is left outside a smaller rectangle in its left top corner.

    The rest is added strip by strip, to the right or below, each with its unrestricted worth; `outside` has
    the shape (widths, heights), all sums of the blanks' sizes. The strips' sizes are read at reduced cut
    points: each sum has one of those that is no smaller and leaves as much room (see `cut_points`), and
    through these leads a way round the corner that is worth as much as any other.
    """

    worth: Worth
    widths: list[int]
    heights: list[int]
    outside: Table

    def bound(self, width: int, height: int) -> int:
        at = bisect_right(self.widths, width) - 1, bisect_right(self.heights, height) - 1
        return int(self.outside[at])


def sheet_for(worth: Worth, width: int, height: int, budget: Budget = ENDLESS) -> Sheet:
    """Prepare a sheet. `worth` has the prices, without a limit of stages; its grid must be whole and made for
    a sheet of this size, others besides."""
    grid = worth.grid
    assert grid.is_whole and worth.ends[0].axis is None, "the bounds would be too low"
    assert width in grid.widths and height in grid.heights, "the grid is for other sheets"
    sizes = [each for blank in worth.blanks for each in orientations(blank)]
    widths = _with_end([wide for wide, _, _ in sizes], width)
    heights = _with_end([tall for _, tall, _ in sizes], height)
    # Each place is compared with all further ones, across and down.
    budget.spend(len(widths) * len(heights) * (LOOK + (len(widths) + len(heights)) // 2))
    inside = worth.ends[0].table
    across, down = _places(grid.widths, widths), _places(grid.heights, heights)
    below = [_gaps(grid.heights, heights, at) for at in range(len(heights))]
    outside = np.zeros((len(widths), len(heights)), dtype=np.int64)
    for i in reversed(range(len(widths))):
        right = _gaps(grid.widths, widths, i)
        if len(right):
            outside[i] = (outside[i + 1 :] + inside[np.ix_(right, down)]).max(axis=0)
        lower = inside[across[i]]
        for j in reversed(range(len(heights) - 1)):
            outside[i, j] = max(outside[i, j], (outside[i, j + 1 :] + lower[below[j]]).max())
    return Sheet(worth, widths, heights, outside)


def best_rectangle(
    sheet: Sheet,
    most: Mapping[str, int],
    enough: int | None = None,
    rounds: int = 20_000,
    budget: Budget = ENDLESS,
) -> Found:
    """Search a sheet for the best layout with no more of a blank than `most` says.

    The search ends when a layout is worth `enough`, when nothing better can be left, or after so many
    `rounds`.
    """
    return _Search(sheet, most, enough).run(rounds, budget)


class _Build(NamedTuple):
    """A rectangle that is full of parts, as small as they lie."""

    width: int
    height: int
    value: int
    counts: Counts
    part: Part


class _Search:
    def __init__(self, sheet: Sheet, most: Mapping[str, int], enough: int | None) -> None:
        worth, self.sheet, self.enough = sheet.worth, sheet, enough
        self.width, self.height = sheet.widths[-1], sheet.heights[-1]
        self.most = tuple(most.get(blank.name, 0) for blank in worth.blanks)
        self.closed: list[_Build] = []
        self.open: list[tuple[int, int, int, _Build]] = []
        self.sizes: dict[Counts, list[tuple[int, int]]] = {}
        self.best = _Build(0, 0, 0, (0,) * len(self.most), Part(self.width, self.height))
        for at, (blank, price) in enumerate(zip(worth.blanks, worth.prices, strict=True)):
            counts = tuple(int(at == other) for other in range(len(self.most)))
            for wide, tall, turned in orientations(blank):
                self._add(wide, tall, counts, price, Part(wide, tall, blank.name, turned))

    def run(self, rounds: int, budget: Budget) -> Found:
        while not self._is_settled() and rounds > 0:
            budget.spend((len(self.closed) + 1) * (JOIN + JOIN_BLANK * len(self.most)))
            build = heapq.heappop(self.open)[3]
            self.closed.append(build)
            rounds -= len(self.closed)
            for other in self.closed:
                self._join(build, other)
        best = self.best
        part = row("x", self.width, self.height, [row("y", best.width, self.height, [best.part])])
        return Found(part, best.value, self._is_settled())

    def _is_settled(self) -> bool:
        """Tell whether what is open can be of no use: its bounds say so, the best of them first."""
        if self.enough is not None and self.best.value >= self.enough:
            return True
        return not self.open or -self.open[0][0] <= self.best.value

    def _join(self, one: _Build, other: _Build) -> None:
        counts = tuple(map(int.__add__, one.counts, other.counts))
        if any(map(int.__gt__, counts, self.most)):
            return
        value = one.value + other.value
        across = one.width + other.width, max(one.height, other.height)
        self._add(*across, counts, value, ("x", one, other))
        down = max(one.width, other.width), one.height + other.height
        self._add(*down, counts, value, ("y", one, other))

    def _add(
        self, wide: int, tall: int, counts: Counts, value: int, made: Part | tuple[str, _Build, _Build]
    ) -> None:
        """Open a rectangle unless it is too large, its bound too low, or a smaller one holds the same."""
        if wide > self.width or tall > self.height or any(map(int.__gt__, counts, self.most)):
            return
        bound = value + self.sheet.bound(wide, tall)
        if bound <= self.best.value or (self.enough is not None and bound < self.enough):
            return
        known = self.sizes.setdefault(counts, [])
        if any(w <= wide and h <= tall for w, h in known):
            return
        known[:] = [each for each in known if not (wide <= each[0] and tall <= each[1])]
        known.append((wide, tall))
        part = made if isinstance(made, Part) else _joined(wide, tall, *made)
        build = _Build(wide, tall, value, counts, part)
        if value > self.best.value:
            self.best = build
        # Of equal bounds the one that holds more comes first; the number keeps the order of building.
        heapq.heappush(self.open, (-bound, -value, len(self.open) + len(self.closed), build))


def _joined(width: int, height: int, axis: str, one: _Build, two: _Build) -> Part:
    if axis == "x":
        parts = [row("y", each.width, height, [each.part]) for each in (one, two)]
    else:
        parts = [row("x", width, each.height, [each.part]) for each in (one, two)]
    return row(axis, width, height, parts)


def _with_end(sizes: Sequence[int], length: int) -> list[int]:
    points = sums(sizes, length, MOST_PLACES)
    if not points.is_whole:
        raise Spent
    return points.at if points.at[-1] == length else [*points.at, length]


def _gaps(points: Sequence[int], lengths: Sequence[int], at: int) -> Table:
    """Give the places of what lies between a length and each longer one."""
    return _places(points, [each - lengths[at] for each in lengths[at + 1 :]])


def _places(points: Sequence[int], lengths: Sequence[int]) -> Table:
    return np.array([bisect_right(points, length) - 1 for length in lengths], dtype=np.int64)
