"""Cutting, growing and joining of convex polygons, against shapely."""

import random
from collections.abc import Sequence
from fractions import Fraction

import pytest
import shapely
from shapely.geometry import Polygon

from cardrecipe.fold.clip import common, grown, is_within, joined_rings, side, split, total_area, without
from cardrecipe.fold.geometry import Ring, turn

F = Fraction


def ring(*points: tuple[object, object]) -> Ring:
    return [(F(str(x)), F(str(y))) for x, y in points]


def square(left: int, top: int, wide: int = 1, high: int = 1) -> Ring:
    """Whole numbers, as in a pile."""
    return [(left, top), (left + wide, top), (left + wide, top + high), (left, top + high)]


def of(part: Ring) -> Polygon:
    return Polygon([(float(x), float(y)) for x, y in part])


def all_of(parts: Sequence[Ring]) -> Polygon:
    return shapely.union_all([of(part) for part in parts])


def random_convex(dice: random.Random) -> Ring:
    points = [(dice.randint(0, 60), dice.randint(0, 60)) for _ in range(dice.randint(3, 8))]
    hull = shapely.MultiPoint(points).convex_hull
    if hull.geom_type != "Polygon":
        return square(0, 0, 7, 5)
    corners = [(int(x), int(y)) for x, y in shapely.geometry.polygon.orient(hull).exterior.coords[:-1]]
    return [(F(x, 3), F(y, 3)) for x, y in corners] if dice.random() < 0.5 else corners


@pytest.mark.parametrize("seed", range(60))
def test_what_is_split_off_and_what_is_left_are_the_whole(seed: int) -> None:
    dice = random.Random(seed)
    part, cover = random_convex(dice), random_convex(dice)
    inner, beside = split(part, cover)
    assert total_area([*([inner] if inner else []), *beside]) == total_area([part])
    assert (of(inner).area if inner else 0) == pytest.approx(of(part).intersection(of(cover)).area, abs=1e-9)
    assert all_of(beside).area == pytest.approx(sum(of(each).area for each in beside))
    assert without([part], [cover]) == beside
    assert is_within(part, cover) is (total_area([inner] if inner else []) == total_area([part]))
    assert common(part, cover, []) == inner or total_area([common(part, cover, [])]) == total_area([inner])


@pytest.mark.parametrize("seed", range(30))
def test_what_is_grown_holds_all_within_the_margin_and_not_much_more(seed: int) -> None:
    part = random_convex(random.Random(seed))
    larger = of(grown(part, 2))
    assert larger.buffer(1e-9).contains(of(part).buffer(2, quad_segs=64))
    assert of(part).buffer(2.01, join_style="mitre", mitre_limit=100).buffer(1e-9).contains(larger)


def test_growing_skips_the_edges_of_the_whole() -> None:
    """A triangle cut off a square at a slant: only its own slanted edge keeps it narrow."""
    whole = ring((0, 0), (12, 3), (15, 15), (3, 12))
    part, _ = split(whole, square(-5, -5, 10, 30))
    kept = list(grown(part, 1, [whole]))
    assert max(x for x, _ in kept) == 6
    assert total_area([kept]) > total_area([grown(part, 1)])


@pytest.mark.parametrize("seed", range(40))
def test_parts_are_joined_to_rings_of_the_same_area(seed: int) -> None:
    dice = random.Random(seed)
    parts = without([random_convex(dice)], [random_convex(dice), random_convex(dice)])
    rings = joined_rings(parts)
    assert total_area(rings) == total_area(parts)
    assert all(of(each).is_valid for each in rings)
    assert all_of(rings).symmetric_difference(all_of(parts)).area < 1e-9
    assert len(rings) <= max(1, len(parts))


def test_joining_leaves_out_corners_on_straight_edges() -> None:
    (whole,) = joined_rings([square(0, 0), square(1, 0), square(0, 1, 2, 1)])
    assert sorted(whole) == sorted(square(0, 0, 2, 2))


def test_parts_round_a_hole_stay_apart() -> None:
    parts = without([square(0, 0, 3, 3)], [square(1, 1)])
    assert joined_rings(parts) == tuple(parts)
    assert len(parts) == 4


def test_parts_that_touch_in_a_corner_stay_two_rings() -> None:
    rings = joined_rings([square(0, 0), square(1, 1), square(1, 2)])
    assert sorted(map(len, rings)) == [4, 4]


def test_floats_never_decide_a_side_wrongly() -> None:
    tiny = F(1, 10**18)
    line = (F(0), F(1, 3)), (F(10**6), F(10**6) + F(1, 3))
    on = (F(7), F(7) + F(1, 3))
    assert side(*line, on) == 0
    for lift in (tiny, -tiny):
        point = (on[0], on[1] + lift)
        assert (side(*line, point) > 0) is (turn(*line, point) > 0)
    huge = (10**400, 10**400)
    assert side((F(1, 3), F(0)), (F(1, 3), F(1)), huge) < 0


def test_a_corner_that_is_told_twice_is_one_corner() -> None:
    """Rounded frames and clipped corners may end in an edge without length."""
    part, cover = square(0, 0, 4, 4), square(1, 1, 2, 2)
    for doubled in ([cover[0], *cover], [*cover[:3], *cover[2:]]):
        assert total_area([split(part, doubled)[0]]) == 4
        assert total_area(split(part, doubled)[1]) == 12
        assert is_within(square(1, 1), doubled)
        assert common(part, doubled, []) == common(part, cover, [])


def test_the_smallest_parts_are_joined_like_large_ones() -> None:
    """A grid's own squares, and parts of them: an area is small or large only beside others."""
    assert len(joined_rings([square(0, 0), square(1, 0)])) == 1
    (left, right), small = (square(0, 0), square(1, 0)), F(1, 1000)
    (whole,) = joined_rings([[(x * small, y * small) for x, y in each] for each in (left, right)])
    assert total_area([whole]) == 2 * small**2


@pytest.mark.parametrize("scale", [F(1, 3), F(1), F(10**400), F(1, 10**400)])
def test_parts_are_joined_at_any_scale(scale: Fraction) -> None:
    """A wide part above two narrow ones: its edge is cut where they meet, beyond all floats too."""
    parts = [
        [(x * scale, y * scale) for x, y in part]
        for part in (square(0, 0, 3, 1), square(0, 1, 1, 1), square(1, 1, 2, 1))
    ]
    (joined,) = joined_rings(parts)
    assert sorted(joined) == sorted((x * scale, y * scale) for x, y in square(0, 0, 3, 2))


def test_a_corner_beside_an_edge_by_less_than_a_float_tells_cuts_it_not() -> None:
    tiny = F(1, 10**30)
    above = [(F(0), F(0)), (F(2), F(0)), (F(2), F(1)), (F(0), F(1))]
    below = [(F(0), F(1) + tiny), (F(1), F(1) + tiny), (F(1), F(2)), (F(0), F(2))]
    assert len(joined_rings([above, below])) == 2
    below = [(x, y - tiny) if y < F(3, 2) else (x, y) for x, y in below]
    assert len(joined_rings([above, below])) == 1
