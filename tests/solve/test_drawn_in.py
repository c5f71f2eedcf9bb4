"""Rings drawn in by a border against shapely's buffer with mitred corners (an independent library)."""

import math
import random
from fractions import Fraction

import pytest
from shapely import Polygon

from cardrecipe.solve.drawn_in import drawn_in
from cardrecipe.solve.moved_edges import edges, moved, share
from cardrecipe.solve.sized import Point

F = Fraction
STEP = F(1, 16)
Ring = tuple[Point, ...]


def ring(*corners: tuple[object, object]) -> Ring:
    return tuple((F(str(x)), F(str(y))) for x, y in corners)


def polygon(corners: Ring) -> Polygon:
    return Polygon([(float(x), float(y)) for x, y in corners])


def mitred(corners: Ring, by: Fraction) -> Polygon:
    return polygon(corners).buffer(-float(by), join_style="mitre", mitre_limit=10_000)


def grown(shape: Polygon, by: Fraction) -> Polygon:
    return shape.buffer(float(by), join_style="mitre", mitre_limit=10_000)


def distance(place: Point, edge: tuple[Point, Point]) -> float:
    (ax, ay), (bx, by) = edge
    across = (bx - ax) * (place[1] - ay) - (by - ay) * (place[0] - ax)
    return float(across) / math.dist(*((float(x), float(y)) for x, y in edge))


def star(seed: int) -> Ring:
    """A ring round a point, on sixteenths, convex or not, clockwise as y runs down."""
    pick = random.Random(seed)
    corners = pick.randint(3, 9)
    angles = sorted(math.tau * (at + pick.uniform(0.1, 0.9)) / corners for at in range(corners))
    made = [(5 + pick.uniform(2, 4) * math.cos(a), 5 + pick.uniform(2, 4) * math.sin(a)) for a in angles]
    return tuple((F(round(x * 16), 16), F(round(y * 16), 16)) for x, y in made)


L_SHAPE = ring((0, 0), (5, 0), (5, 3), (3, 3), (3, 5), (0, 5))
DUMBBELL = ring((0, 0), (5, 0), (5, 5), (3, 5), (3, "0.2"), (2, "0.23"), (2, 5), (0, 5))
SLOT = ring((0, 0), (5, 0), (5, 5), ("2.6", 5), ("2.6", 2), ("2.5", 2), ("2.5", 5), (0, 5))
CHAMFER = ring((0, 0), (5, 0), (5, "0.125"), (4, 1), (3, "2.5"), (3, 5), (0, 5))


@pytest.mark.parametrize("by", [F(1, 8), F(3, 16), F(1, 2)])
@pytest.mark.parametrize("seed", range(60))
def test_a_ring_is_drawn_in_by_no_less_and_hardly_more_than_the_border(seed: int, by: Fraction) -> None:
    outline = star(seed)
    whole = mitred(outline, by)
    found = drawn_in(outline, (by,) * len(outline), STEP)
    assert bool(found) == (not whole.is_empty)
    if whole.geom_type != "Polygon" or whole.is_empty:
        assert len(found) == (len(whole.geoms) if not whole.is_empty else 0)
        return
    mine = polygon(found[0])
    assert mine.is_valid and mine.difference(whole.buffer(1e-6)).area == 0
    assert polygon(outline).exterior.distance(mine.exterior) >= float(by) - 1e-9
    assert whole.difference(grown(mine, 2 * STEP)).area < 1e-6
    for start, end in edges(found[0]):
        away = [[distance(place, edge) for place in (start, end)] for edge in edges(outline)]
        assert any(all(by - F(1, 10**9) <= each < by + STEP for each in both) for both in away)


@pytest.mark.parametrize("outline", [L_SHAPE, CHAMFER, ring((0, 0), (5, 0), (0, 5)), star(3), star(4)])
def test_corners_lie_on_marks_where_an_upright_edge_ends_in_them(outline: Ring) -> None:
    (found,) = drawn_in(outline, (F(1, 8),) * len(outline), STEP)
    for at, corner in enumerate(found):
        beside = (found[at - 1], found[(at + 1) % len(found)])
        if any(corner[0] == other[0] or corner[1] == other[1] for other in beside):
            assert all((number / STEP).denominator == 1 for number in corner)


def test_a_rectangle_becomes_the_rectangle_within() -> None:
    by = (F(1, 8), F(1, 4), F(1, 2), F(0))
    (found,) = drawn_in(ring((0, 0), (4, 0), (4, 3), (0, 3)), by, STEP)
    assert found == ring((0, "0.125"), ("3.75", "0.125"), ("3.75", "2.5"), (0, "2.5"))


def test_narrow_places_part_a_ring_and_nothing_is_left_of_a_narrow_one() -> None:
    assert len(drawn_in(DUMBBELL, (F(1, 8),) * len(DUMBBELL), STEP)) == 2
    assert drawn_in(ring((0, 0), (5, 0), (0, 1)), (F(1, 2),) * 3, STEP) == ()


@pytest.mark.parametrize("outline", [L_SHAPE, DUMBBELL, ring((0, 0), (5, 0), (0, 5)), star(5), star(6)])
def test_a_ring_is_drawn_out_by_no_more_and_hardly_less(outline: Ring) -> None:
    by = F(1, 8)
    (found,) = drawn_in(outline, (-by,) * len(outline), STEP)
    whole, mine = mitred(outline, -by), polygon(found)
    assert mine.difference(whole.buffer(1e-6)).area == 0
    assert whole.difference(grown(mine, 2 * STEP)).area < 1e-6


@pytest.mark.parametrize(("by", "square"), [
    (F(1, 8), F(2)), (F(3), F(25)), (F(1, 3), F(1, 7)), (F(-1, 8), F(2)), (F(-2), F(9, 4)),
])  # fmt: skip
def test_the_share_of_a_slanted_edge_is_the_least_that_is_no_less(by: Fraction, square: Fraction) -> None:
    found, true = share(by, square), float(by) / math.sqrt(square)
    assert abs(float(found) - true) < 1e-9
    over = found * found * square - by * by
    assert over >= 0 if by > 0 else over <= 0


@pytest.mark.parametrize("by", [F(1, 8), F(3, 2)])
def test_a_slot_that_is_narrower_than_two_borders_is_filled_when_a_ring_is_drawn_out(by: Fraction) -> None:
    (found,) = moved(SLOT, (-by,) * len(SLOT))
    assert polygon(found).symmetric_difference(mitred(SLOT, -by)).area < 1e-9


NOTCHED = ring((0, 5), (5, 0), (7, 2), (7, "2.1"), (4, 4), ("1.5", "5.25"), ("4.5", "5.25"), (5, 10))


def test_a_ring_with_a_sharp_notch_stays_where_its_tip_is_cut_off() -> None:
    """The tip at the right is narrower than a border; the notch reaches in far, before its own end."""
    by = F(1, 8)
    (found,) = moved(NOTCHED, (by,) * len(NOTCHED))
    assert polygon(found).symmetric_difference(mitred(NOTCHED, by)).area < 1e-6


@pytest.mark.parametrize("outline", [L_SHAPE, DUMBBELL, NOTCHED, ring((0, 0), (5, 0), (0, 1)), star(7)])
@pytest.mark.parametrize("by", [F(1, 8), F(1, 2), F(-1, 8)])
def test_what_is_left_of_a_ring_is_the_same_wherever_it_lies(outline: Ring, by: Fraction) -> None:
    far = tuple((x + 100, y + 30) for x, y in outline)
    here, there = (moved(each, (by,) * len(outline)) for each in (outline, far))
    assert there == [tuple((x + 100, y + 30) for x, y in part) for part in here]
