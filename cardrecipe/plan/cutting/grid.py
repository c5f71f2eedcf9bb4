"""The places where the sheets of a job may be cut, and how each length is made of two of them."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
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


# Cuts that a line of a table is gone over with at once: they stay in the processor's own memory, and nothing
# large is asked for and given back over and over.
AT_ONCE = 16_384


class Block(NamedTuple):
    """Some places of a side, from `first` up to `end`, and the cuts of them all one after the other: the
    shorter and the longer parts, and where those of each place begin."""

    first: int
    end: int
    near: Table
    far: Table
    starts: Table


class Side(NamedTuple):
    """The places along one side, ascending from 0, and the cuts that make two of each.

    `rest[place]` holds, for a shorter part that ends at place 1, 2, and so on, the place of the longer part
    beside it: the largest that fits. `blocks` hold the same for all places that can be cut at all.
    """

    at: list[int]
    rest: tuple[Table, ...]
    blocks: tuple[Block, ...]

    def place(self, length: int) -> int:
        """Give the place of the largest point that is no more than a length."""
        return bisect_right(self.at, length) - 1

    def up_to(self, last: int) -> Side:
        """Give the side of a smaller rectangle, that ends at a place."""
        blocks = tuple(_up_to(each, last) for each in self.blocks if each.first <= last)
        return Side(self.at[: last + 1], self.rest[: last + 1], blocks)

    @property
    def size(self) -> tuple[int, int]:
        """How many places there are, and the most pairs of one; 1 at the least."""
        return len(self.at), max(1, len(self.rest[-1]))


class Grid(NamedTuple):
    """The places where sheets may be cut, in steps from the left and from the top.

    `is_whole`: some best layout of each stock has all its cuts there; where not, what the grid says is no
    proof.
    """

    across: Side
    down: Side
    is_whole: bool = True

    @property
    def widths(self) -> list[int]:
        return self.across.at

    @property
    def heights(self) -> list[int]:
        return self.down.at

    def side(self, axis: str) -> Side:
        return self.across if axis == "x" else self.down

    def at(self, width: int, height: int) -> tuple[int, int]:
        """Give the places of a rectangle."""
        return self.across.place(width), self.down.place(height)

    def within(self, width: int, height: int) -> Grid:
        """Give the part of the grid that lies in a smaller rectangle; its own cuts may not all be there."""
        across, down = self.at(width, height)
        return Grid(self.across.up_to(across), self.down.up_to(down), False)

    def work(self, stages: int | None) -> int:
        """Give the steps that a table of it takes, for one choice of the first cut."""
        return table_work(self.across.size, self.down.size, stages)


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
    return Grid(_side(across.at), _side(down.at), across.is_whole and down.is_whole)


def _places(stocks: Sequence[Stock], blanks: Sequence[Blank], most: int) -> tuple[Points, Points]:
    """Give the places along the widths and along the heights of all sheets."""
    sizes = [each for blank in blanks for each in orientations(blank)]
    across = [cut_points([wide for wide, _, _ in sizes], each, most) for each in {s.width for s in stocks}]
    down = [cut_points([tall for _, tall, _ in sizes], each, most) for each in {s.height for s in stocks}]
    return _together(across), _together(down)


def _together(points: Sequence[Points]) -> Points:
    return Points(sorted({at for each in points for at in each.at}), all(each.is_whole for each in points))


def _side(points: list[int]) -> Side:
    at = np.array(points, dtype=np.int64)
    numbers = (np.searchsorted(at, at // 2, side="right") - 1).tolist()  # the shorter part is half at most
    rest = tuple(np.searchsorted(at, whole - at[1 : number + 1], side="right") - 1
                 for whole, number in zip(points, numbers, strict=True))  # fmt: skip
    first = numbers.count(0)  # a longer side has no fewer cuts
    near = np.concatenate([np.arange(1, number + 1, dtype=np.int64) for number in numbers])
    starts = np.cumsum([0, *numbers[first:]], dtype=np.int64)[:-1]
    far = np.concatenate(rest)
    return Side(points, rest, tuple(_blocks(first, near, far, starts)))


def _blocks(first: int, near: Table, far: Table, starts: Table) -> Iterator[Block]:
    """Give the cuts of a side in blocks of so many, a place at the least."""
    ends = np.append(starts[1:], len(near))
    at = 0
    while at < len(starts):
        begin = int(starts[at])
        after = max(at + 1, int(np.searchsorted(ends, begin + AT_ONCE, side="right")))
        end = int(ends[after - 1])
        yield Block(first + at, first + after, near[begin:end], far[begin:end], starts[at:after] - begin)
        at = after


def _up_to(block: Block, last: int) -> Block:
    """Give a block without the places after one of its own."""
    if last + 1 >= block.end:
        return block
    kept = last + 1 - block.first
    end = int(block.starts[kept])
    return Block(block.first, last + 1, block.near[:end], block.far[:end], block.starts[:kept])
