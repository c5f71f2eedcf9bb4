"""Polygons that meet in one corner alone, and polygons with an edge that no eye sees."""

from fractions import Fraction
from itertools import permutations

import pytest
from shapely.geometry import Polygon

from cardrecipe.fold.clip import grown, joined_rings, total_area
from cardrecipe.fold.geometry import Ring

F = Fraction

# Round (0, 0), with gaps between them; the inside of each is on the left.
SAIL = [(0, 0), (6, 0), (6, 2)]
KITE = [(0, 0), (5, 4), (4, 5)]
WING = [(0, 0), (1, 6), (-1, 6)]
TAIL = [(0, 0), (-3, -6), (0, -6)]


def of(part: Ring) -> Polygon:
    return Polygon([(float(x), float(y)) for x, y in part])


@pytest.mark.parametrize("parts", [*permutations((SAIL, KITE, WING, TAIL))])
def test_what_meets_in_a_corner_alone_stays_apart(parts: tuple[Ring, ...]) -> None:
    """In whichever order they come: a ring that ran on from one into the next would cross itself there."""
    found = joined_rings(parts)
    assert sorted(total_area([ring]) for ring in found) == sorted(total_area([part]) for part in parts)
    assert all(len(ring) == 3 and of(ring).is_valid for ring in found)


@pytest.mark.parametrize("order", [*permutations(range(3))])
def test_what_is_joined_runs_round_a_corner_that_another_part_touches(order: tuple[int, ...]) -> None:
    parts = [[(x, y), (x + 2, y), (x + 2, y + 2), (x, y + 2)] for x, y in ((0, 0), (2, 0), (4, 2))]
    rings = joined_rings([parts[at] for at in order])
    assert sorted(total_area([ring]) for ring in rings) == [4, 8]
    assert all(len(ring) == 4 for ring in rings)


@pytest.mark.parametrize("short", [F(1, 1000), F(1, 5000), F(1, 10**7)])
def test_a_corner_that_is_cut_off_by_a_hair_is_grown_round_like_any_other(short: Fraction) -> None:
    nil = F(0)
    part = [(nil, nil), (F(4), nil), (F(4), F(3) - short), (F(4) - short, F(3)), (nil, F(3))]
    larger = of(grown(part, 2))
    assert larger.buffer(1e-9).contains(of(part).buffer(2, quad_segs=64))
    assert larger.area < of(part).buffer(2.2, join_style="mitre").area
