"""The places where the sheets of a job may be cut, and how each length is made of two of them."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from cardrecipe.plan.cutting.cut_points import MOST_POINTS, cut_points
from cardrecipe.plan.cutting.job import Blank, Stock, orientations

Table = npt.NDArray[np.int64]


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

    def _pairs_up_to(self, axis: str, last: int) -> tuple[Table, Table]:
        one, two = self.pairs[axis]
        most = max(1, self.place(axis, self.points(axis)[last] // 2))
        return one[: last + 1, :most], two[: last + 1, :most]


def grid_for(stocks: Sequence[Stock], blanks: Sequence[Blank], most: int = MOST_POINTS) -> Grid:
    """Give one grid for sheets of several sizes."""
    sizes = [each for blank in blanks for each in orientations(blank)]
    across = [cut_points([wide for wide, _, _ in sizes], each.width, most) for each in stocks]
    down = [cut_points([tall for _, tall, _ in sizes], each.height, most) for each in stocks]
    widths = sorted({at for each in across for at in each.at})
    heights = sorted({at for each in down for at in each.at})
    is_whole = all(each.is_whole for each in (*across, *down))
    return Grid(widths, heights, {"x": _pairs(widths), "y": _pairs(heights)}, is_whole)


def _pairs(points: Sequence[int]) -> tuple[Table, Table]:
    """The shorter part of a cut comes first; the longer one ends at the largest place that fits."""
    rows: list[list[tuple[int, int]]] = []
    for place, length in enumerate(points):
        near = range(1, bisect_right(points, length // 2))
        rows.append([(at, bisect_right(points, length - points[at]) - 1) for at in near] or [(0, place)])
    most = max(map(len, rows))
    filled = [each + [(0, place)] * (most - len(each)) for place, each in enumerate(rows)]
    both = np.array(filled, dtype=np.int64)
    return both[:, :, 0].copy(), both[:, :, 1].copy()
