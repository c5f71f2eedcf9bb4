"""Where a sheet need be cut at all: at sums of the blanks' own sizes, and at fewer places still.

Sources: the canonical dissections of Herz (1972), "A recursive computing procedure for two-dimensional stock
cutting", IBM Journal of Research and Development 16; reduced raster points as Scheithauer and Terno (1996)
describe them for loading pallets.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from itertools import islice
from typing import NamedTuple

import numpy as np

# So many places to a side, and some of them only where there are more: then nothing is proved but by area.
# Recipes have some 20 to 200; 12 in by steps of 1/64 has 768.
MOST_POINTS = 1_000
# In steps; a sum is a bit of a number as long as the side. A hundred inches in steps of 1/64 are 6,400.
MOST_LENGTH = 1_000_000


class Points(NamedTuple):
    """Places along one side, ascending. `is_whole`: some best layout has all its cuts there."""

    at: list[int]
    is_whole: bool


def sums(sizes: Iterable[int], length: int, most: int) -> Points:
    """Give the sums up to `length`, 0 included, of sizes taken as often as one likes.

    Where there are more than `most`, none are given, nor where there may be and the length is beyond measure.
    """
    if length > MOST_LENGTH:
        return Points([], False)
    reached, room = 1, (1 << length + 1) - 1  # a bit for each length
    for step in sorted({each for each in sizes if each <= length}):
        if reached >> step & 1:
            continue  # a sum of smaller ones
        while step <= length:
            reached |= reached << step & room
            step *= 2
        if reached.bit_count() > most:
            return Points([], False)
    return Points(_lengths(reached), True)


def _lengths(bits: int) -> list[int]:
    octets = np.frombuffer(bits.to_bytes(bits.bit_length() // 8 + 1, "little"), dtype=np.uint8)
    return [int(each) for each in np.flatnonzero(np.unpackbits(octets, bitorder="little"))]


def cut_points(sizes: Sequence[int], length: int, most: int = MOST_POINTS) -> Points:
    """Give the reduced raster points: every layout has one of the same blanks whose parts end at them.

    A part may be moved until what is left of it is full, and that may be moved back: so of the sums
    only those count that another sum leaves room for. A part that ends at such points has its own among
    them: for sums r and s and t = floor(length - r), floor(t - s) is floor(length - r - s).
    """
    whole = sums(sizes, length, 4 * most)
    if whole.is_whole:
        points = sorted({0, length, *(floor_of(whole.at, length - at) for at in whole.at)})
        if len(points) <= most:
            return Points(points, True)
    return Points(some_points(sizes, length, most), False)


def some_points(sizes: Sequence[int], length: int, most: int) -> list[int]:
    """Give some of the places: blanks' own sizes, rows of one size, and places spread over the whole side."""
    own = _spread(sorted({each for each in sizes if each <= length}), max(1, most // 2))
    rows = (size * many for many in range(2, most) for size in own if size * many < length)
    found = {0, length, *own, *islice(rows, most // 4)}
    between = -(-length // max(1, most - len(found)))
    return sorted({*found, *range(between, length, between)})


def _spread(values: Sequence[int], most: int) -> list[int]:
    """Give so many of some values, evenly, the first among them."""
    return [values[at * len(values) // most] for at in range(most)] if len(values) > most else list(values)


def floor_of(points: Sequence[int], length: int) -> int:
    """Give the largest point that is no more than a length."""
    return points[bisect_right(points, length) - 1]
