"""What a growing heap of upright rectangles covers: tells fast whether all of another lies under it."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence

from cardrecipe.fold.geometry import Number

Rectangle = tuple[Number, Number, Number, Number]  # left, top, right, bottom


class Covered:
    """The area that rectangles cover together, of those that are told of beforehand.

    Their edges cut the plane into columns and rows. A tree of halves stands over the columns: each node has
    the rows that are covered all over its stretch, as the bits of one number. So a rectangle is added, or
    asked about, at a few nodes, however many there are and however they lie over each other.
    """

    def __init__(self, every: Iterable[Rectangle]) -> None:
        boxes = list(every)
        self._across = sorted({edge for box in boxes for edge in (box[0], box[2])})
        self._down = sorted({edge for box in boxes for edge in (box[1], box[3])})
        self._columns = len(self._across)
        self._own, self._all = [0] * 2 * self._columns, [0] * 2 * self._columns

    def add(self, box: Rectangle) -> None:
        """Cover one of the rectangles."""
        first, end, rows = self._place(box)
        for node in self._nodes(first, end):
            self._own[node] |= rows
            self._all[node] |= rows
        for end_column in (first, end - 1):
            node = end_column + self._columns
            while node := node >> 1:
                self._all[node] = self._own[node] | (self._all[2 * node] & self._all[2 * node + 1])

    def holds(self, box: Rectangle) -> bool:
        """Tell whether all of a rectangle, which need not be one of those told of, is covered."""
        if not self._across or not _lies_between(self._across, box[0], box[2]):
            return False
        if not _lies_between(self._down, box[1], box[3]):
            return False
        first, end, rows = self._place(box)
        return all(not self._open(node, rows) for node in self._nodes(first, end))

    def _place(self, box: Rectangle) -> tuple[int, int, int]:
        """Give the columns that a rectangle meets, the first and the one after the last, and its rows."""
        first, end = _meets(self._across, box[0], box[2])
        top, bottom = _meets(self._down, box[1], box[3])
        return first, end, (1 << bottom) - (1 << top)

    def _nodes(self, first: int, end: int) -> list[int]:
        """Give the nodes whose stretches make up some columns, each column once."""
        found: list[int] = []
        low, high = first + self._columns, end + self._columns
        while low < high:
            if low & 1:
                found.append(low)
                low += 1
            if high & 1:
                high -= 1
                found.append(high)
            low, high = low >> 1, high >> 1
        return found

    def _open(self, node: int, rows: int) -> int:
        """Give those of some rows that are not covered all over a node's stretch."""
        rows &= ~self._all[node]
        while rows and (node := node >> 1):
            rows &= ~self._own[node]
        return rows


def _lies_between(edges: Sequence[Number], low: Number, high: Number) -> bool:
    return edges[0] <= low and high <= edges[-1]


def _meets(edges: Sequence[Number], low: Number, high: Number) -> tuple[int, int]:
    """Give the first of the strips between edges that a stretch meets, and the one after the last."""
    return bisect_right(edges, low) - 1, bisect_left(edges, high)
