"""Where a sheet need be cut at all: at sums of the blanks' own sizes, and at fewer places still.

Sources: the canonical dissections of Herz (1972), "A recursive computing procedure for two-dimensional stock
cutting", IBM Journal of Research and Development 16; reduced raster points as Scheithauer and Terno (1996)
describe them for loading pallets.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from typing import NamedTuple

# So many places to a side, and sums of as few sizes as that makes where there are more: then nothing is
# proved but by area. Recipes have some 20 to 200; 12 in by steps of 1/64 has 768.
MOST_POINTS = 1_000


class Points(NamedTuple):
    """Places along one side, ascending. `is_whole`: some best layout has all its cuts there."""

    at: list[int]
    is_whole: bool


def sums(sizes: Iterable[int], length: int, most: int) -> Points:
    """Give the sums up to `length`, 0 included, of sizes taken as often as one likes.

    Sums of few sizes come first; where that makes more than `most`, those of more sizes are left out.
    """
    steps = sorted(set(sizes))
    known, last = {0}, {0}
    while last:
        last = {at + step for at in last for step in steps if at + step <= length} - known
        if len(known) + len(last) > most:
            known.update(sorted(last, reverse=True)[: most - len(known)])
            return Points(sorted(known), False)
        known |= last
    return Points(sorted(known), True)


def cut_points(sizes: Sequence[int], length: int, most: int = MOST_POINTS) -> Points:
    """Give the reduced raster points: every layout has one of the same blanks whose parts end at them.

    A part may be moved until what is left of it is full, and that may be moved back: so of the sums
    only those count that another sum leaves room for. A part that ends at such points has its own among
    them: for sums r and s and t = floor(length - r), floor(t - s) is floor(length - r - s).
    """
    whole = sums(sizes, length, 4 * most)
    points = sorted({0, length, *(floor_of(whole.at, length - at) for at in whole.at)})
    if whole.is_whole and len(points) <= most:
        return Points(points, True)
    return Points(sorted({length, *sums(sizes, length, most - 1).at}), False)


def floor_of(points: Sequence[int], length: int) -> int:
    """Give the largest point that is no more than a length."""
    return points[bisect_right(points, length) - 1]
