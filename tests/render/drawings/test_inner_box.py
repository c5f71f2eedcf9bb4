"""The box for a name in a piece with an outline of its own, held against shapely."""

from fractions import Fraction
from itertools import product
from random import Random

import pytest
from shapely import Polygon, affinity, box

from cardrecipe.render.drawings.inner_box import PLACES, inner_box
from cardrecipe.render.drawings.marks import Box
from cardrecipe.solve.sized import Point
from tests.hand_made import F, strip_base

NEAR = 1e-6  # mm


def star(corners: int, chance: Random) -> tuple[Point, ...]:
    """A ring that goes once round the middle of a sheet of 4 x 6, near and far from it by chance."""
    ways = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1)][:: 8 // corners]
    return tuple(
        (2 + x * Fraction(chance.randint(4, 40), 20), 3 + y * Fraction(chance.randint(4, 60), 20))
        for x, y in ways
    )


def largest_half(outline: Polygon, frame: Box, ratio: float) -> float:
    """Half the width of the largest box at any of the places, found by halving an interval."""
    best = 0.0
    for column, row in product(range(1, PLACES), repeat=2):
        x, y = frame.left + frame.width * column / PLACES, frame.top + frame.height * row / PLACES
        low, high = best, frame.width
        if not outline.covers(box(x - low, y - low * ratio, x + low, y + low * ratio)):
            continue
        while high - low > NEAR / 4:
            half = (low + high) / 2
            is_in = outline.covers(box(x - half, y - half * ratio, x + half, y + half * ratio))
            low, high = (half, high) if is_in else (low, half)
        best = max(best, low)
    return best


@pytest.mark.parametrize("seed", range(6))
def test_it_lies_in_the_outline_and_no_other_place_has_a_larger_one(seed: int) -> None:
    chance = Random(seed)
    ring = star(chance.choice([4, 8]), chance)
    ratio = chance.choice([0.15, 0.4, 1.0, 2.5])
    piece = strip_base([F(4)], "", (), 6)._replace(outline=ring)
    frame = Box(10.0, 20.0, 50.0, 20.0 + 60.0)  # ten millimetres of the page to each unit
    flat = Polygon([(float(x), float(y)) for x, y in ring])
    drawn = affinity.affine_transform(flat, [10, 0, 0, 10, 10, 20])
    found = inner_box(piece, frame, ratio)
    assert found.width > 0
    assert found.height == pytest.approx(found.width * ratio)
    assert drawn.buffer(NEAR).covers(box(found.left, found.top, found.right, found.bottom))
    assert found.width / 2 == pytest.approx(largest_half(drawn, frame, ratio), abs=2 * NEAR)


def test_without_an_outline_of_its_own_it_is_the_frame() -> None:
    frame = Box(0.0, 0.0, 4.0, 6.0)
    assert inner_box(strip_base([F(4)], "", (), 6), frame, 0.3) == frame
