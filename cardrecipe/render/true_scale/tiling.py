"""A piece that no page holds → parts, one to a page, that overlap and are joined along marked lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import NamedTuple

from cardrecipe.render.drawings.marks import Box
from cardrecipe.render.drawings.svg import XY

OVERLAP = 10.0  # mm of the next part that is drawn beyond a join, to lay the pages by
APART = 5.0  # mm between a join and a line of the piece beside it, which it would hide
SHIFTS = tuple(sign * step for step in range(26) for sign in (1, -1))  # mm a join is moved to be clear
MOST_PARTS = 12  # more pages than that nobody joins: such a piece is drawn by hand
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


class Tile(NamedTuple):
    """A part of a piece: what of it the page shows, and where it is joined to the parts beside it."""

    name: str  # "A1": rows are letters from the top, columns numbers from the left
    row: int
    column: int
    window: Box
    across: tuple[float, ...]  # the joins in this window that run from top to bottom, by their x
    down: tuple[float, ...]  # those that run from left to right, by their y


class Tiling(NamedTuple):
    rows: int
    columns: int
    tiles: tuple[Tile, ...]


def tiling(size: XY, room: XY, lines: Sequence[tuple[XY, XY]]) -> Tiling | None:
    """The fewest parts, of one size or nearly; None where they are too many. `lines` are the piece's own."""
    across = _stretches(size[0], room[0], [a[0] for a, b in lines if abs(a[0] - b[0]) < APART])
    down = _stretches(size[1], room[1], [a[1] for a, b in lines if abs(a[1] - b[1]) < APART])
    if len(across) * len(down) > MOST_PARTS:
        return None
    return Tiling(len(down), len(across), tuple(_tiles(across, down)))


def _tiles(across: Sequence[XY], down: Sequence[XY]) -> Iterator[Tile]:
    joins_x, joins_y = [start for start, _ in across[1:]], [start for start, _ in down[1:]]
    for row, (top, bottom) in enumerate(down):
        for column, (left, right) in enumerate(across):
            yield Tile(
                f"{LETTERS[row]}{column + 1}",
                row,
                column,
                Box(left, top, right, bottom),
                tuple(each for each in joins_x if left <= each <= right),
                tuple(each for each in joins_y if top <= each <= bottom),
            )


def _stretches(length: float, room: float, taken: Sequence[float]) -> list[XY]:
    """Where each part begins and ends; each but the last goes on beyond the beginning of the next."""
    if length <= room:
        return [(0.0, length)]
    count = ceil((length - OVERLAP) / (room - OVERLAP))
    starts = [0.0]
    for index in range(1, count):
        least = max(starts[-1] + 1, length - (count - index) * (room - OVERLAP) - OVERLAP)
        most = starts[-1] + room - OVERLAP
        even = min(max(length * index / count, least), most)
        starts.append(_clear_of(taken, even, least, most))
    ends = [min(start + OVERLAP, length) for start in starts[1:]]
    return list(zip(starts, [*ends, length], strict=True))


def _clear_of(taken: Sequence[float], wished: float, least: float, most: float) -> float:
    """The place nearest to the wished one that no line of the piece is close to, if there is any."""
    for shift in SHIFTS:
        place = wished + shift
        if least <= place <= most and all(abs(place - each) >= APART for each in taken):
            return place
    return wished
