"""The places where the sheets of a job may be cut, and how each length is made of two of them."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from cardrecipe.plan.cutting.cut_points import MOST_POINTS, Points, cut_points
from cardrecipe.plan.cutting.job import Blank, Stock, orientations

Table = npt.NDArray[np.int64]

# A grid of so few places a side is never too fine.
FEWEST_POINTS = 32
# What going over to the next line of a table takes besides its sums, in steps.
LINE = 4_000


class Grid(NamedTuple):
    """The places where sheets may be cut, in steps from the left and from the top.

    `pairs[axis]` holds, for each place, all pairs of places that a cut leaves: two arrays of the shape
    (places, most pairs), filled up with (0, the place itself), which is no cut at all. `is_whole`: some best
    layout of each stock has all its cuts there; where not, what the grid says is no proof.
    """

    widths: list[int]
    heights: list[int]
    pairs: dict[str, tuple[Table, Table]]
    is_whole: bool = True

    def points(self, axis: str) -> list[int]:
        return self.widths if axis == "x" else self.heights

    def place(self, axis: str, length: int) -> int:
        """Give the place of the largest point that is no more than a length."""
        return bisect_right(self.points(axis), length) - 1

    def at(self, width: int, height: int) -> tuple[int, int]:
        """Give the places of a rectangle."""
        return self.place("x", width), self.place("y", height)

    def within(self, width: int, height: int) -> Grid:
        """Give the part of the grid that lies in a smaller rectangle; its own cuts may not all be there."""
        across, down = self.at(width, height)
        pairs = {"x": self._pairs_up_to("x", across), "y": self._pairs_up_to("y", down)}
        return Grid(self.widths[: across + 1], self.heights[: down + 1], pairs, False)

    def work(self, stages: int | None) -> int:
        """Give the steps that a table of it takes, for one choice of the first cut."""
        (wide, wide_pairs), (tall, tall_pairs) = self.pairs["x"][0].shape, self.pairs["y"][0].shape
        return table_work((wide, wide_pairs), (tall, tall_pairs), stages)

    def _pairs_up_to(self, axis: str, last: int) -> tuple[Table, Table]:
        one, two = self.pairs[axis]
        most = max(1, self.place(axis, self.points(axis)[last] // 2))
        return one[: last + 1, :most], two[: last + 1, :most]


def table_work(across: tuple[int, int], down: tuple[int, int], stages: int | None) -> int:
    """Give the steps that a table takes; of either side, how many places there are and the most pairs of one.

    Without a limit of stages each line is gone over some three times, until nothing changes.
    """
    (wide, wide_pairs), (tall, tall_pairs) = across, down
    if stages is None:
        return wide * tall * (tall_pairs // 2 + 3 * wide_pairs) + LINE * tall
    one, two = wide * tall * wide_pairs // 4 + LINE * wide, wide * tall * tall_pairs // 4 + LINE * tall
    return (stages + 1) // 2 * max(one, two) + stages // 2 * min(one, two)


def grid_for(stocks: Sequence[Stock], blanks: Sequence[Blank], most: int = MOST_POINTS) -> Grid:
    """Give one grid for sheets of several sizes."""
    return _grid(*_places(stocks, blanks, most))


def searchable_grid(stocks: Sequence[Stock], blanks: Sequence[Blank], most_table: int) -> Grid:
    """Give the whole grid, or a coarser one where one of its tables takes more than so many steps."""
    across, down = _places(stocks, blanks, MOST_POINTS)
    wide, tall = len(across.at), len(down.at)
    while max(wide, tall) > FEWEST_POINTS and _work(wide, tall) > most_table:
        wide, tall = min(wide, max(wide, tall) * 3 // 4), min(tall, max(wide, tall) * 3 // 4)
    if (wide, tall) == (len(across.at), len(down.at)):
        return _grid(across, down)
    lengths = max(len({each.width for each in stocks}), len({each.height for each in stocks}))
    return grid_for(stocks, blanks, max(4, max(wide, tall) // lengths))


def _work(wide: int, tall: int) -> int:
    return table_work((wide, wide // 2), (tall, tall // 2), None)


def _grid(across: Points, down: Points) -> Grid:
    pairs = {"x": _pairs(across.at), "y": _pairs(down.at)}
    return Grid(across.at, down.at, pairs, across.is_whole and down.is_whole)


def _places(stocks: Sequence[Stock], blanks: Sequence[Blank], most: int) -> tuple[Points, Points]:
    """Give the places along the widths and along the heights of all sheets."""
    sizes = [each for blank in blanks for each in orientations(blank)]
    across = [cut_points([wide for wide, _, _ in sizes], each, most) for each in {s.width for s in stocks}]
    down = [cut_points([tall for _, tall, _ in sizes], each, most) for each in {s.height for s in stocks}]
    return _together(across), _together(down)


def _together(points: Sequence[Points]) -> Points:
    return Points(sorted({at for each in points for at in each.at}), all(each.is_whole for each in points))


def _most_pairs(points: Sequence[int]) -> int:
    return max(1, bisect_right(points, points[-1] // 2) - 1)


def _pairs(points: Sequence[int]) -> tuple[Table, Table]:
    """The shorter part of a cut comes first; the longer one ends at the largest place that fits."""
    at = np.array(points, dtype=np.int64)
    near = np.arange(1, _most_pairs(points) + 1)
    is_cut = 2 * at[near] <= at[:, None]
    far = np.searchsorted(at, at[:, None] - at[near], side="right") - 1
    whole = np.arange(len(at), dtype=np.int64)[:, None]
    return np.where(is_cut, near, 0), np.where(is_cut, far, whole)
