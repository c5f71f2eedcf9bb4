"""Rings drawn in and out where the marks of the ruler are far apart for them: thin and sharp ones."""

from fractions import Fraction

import pytest
from shapely.geometry import LineString, Polygon

from cardrecipe.solve.crossings import turn
from cardrecipe.solve.drawn_in import drawn_in
from cardrecipe.solve.moved_edges import Ring, edges

F = Fraction


def ring(*points: tuple[str, str]) -> Ring:
    return tuple((F(x), F(y)) for x, y in points)


def polygon(outline: Ring) -> Polygon:
    return Polygon([(float(x), float(y)) for x, y in outline])


THIN = ring(("3", "4"), ("5/2", "4"), ("3/2", "0"))
SLIVER = ring(("9/4", "13/4"), ("31/8", "9/2"), ("25/8", "37/8"))
FLAT = ring(("2", "3"), ("5", "3"), ("7/2", "4"))
SPLINTER = ring(("1", "2"), ("2", "9/2"), ("1/2", "1"))
KITE = ring(("19/8", "1/8"), ("21/8", "5/8"), ("19/8", "29/8"), ("13/8", "3/2"))


@pytest.mark.parametrize(("outline", "by", "step"), [
    # A mark is wider than what is left, so that on marks nothing would be left or edges would cross.
    (THIN, ("1/8", "1/8", "1/8"), "1/2"), (SLIVER, ("1/8", "1/8", "1/8"), "1/2"),
    # The border of a short edge reaches past the others' corners.
    (FLAT, ("1/8", "1/2", "1/16"), "1/16"),
])  # fmt: skip
def test_what_is_left_of_a_narrow_ring_keeps_every_border(
    outline: Ring, by: tuple[str, ...], step: str
) -> None:
    borders = tuple(F(each) for each in by)
    found = drawn_in(outline, borders, F(step))
    for part in found:
        mine = polygon(part)
        assert mine.is_valid and mine.area > 0 and polygon(outline).buffer(1e-9).contains(mine)
        for (start, end), border in zip(edges(outline), borders, strict=True):
            edge = LineString([tuple(map(float, start)), tuple(map(float, end))])
            assert edge.distance(mine) >= float(border) - 1e-9


@pytest.mark.parametrize("outline", [SPLINTER, THIN, SLIVER])
def test_a_mat_round_a_sharp_corner_stays_sharp_and_holds_all_of_the_panel(outline: Ring) -> None:
    (found,) = drawn_in(outline, (F(-1, 8),) * 3, F(1, 16))
    assert polygon(found).is_valid and polygon(found).contains(polygon(outline))
    mitred = polygon(outline).buffer(0.125, join_style="mitre", mitre_limit=1000)
    assert mitred.buffer(1e-6).contains(polygon(found))


def test_no_corner_is_left_on_a_straight_edge_so_that_more_can_be_drawn_in_from_it() -> None:
    """On marks of 1/2 two edges of this mat come to lie on one line: what lay on it could not be drawn in."""
    (mat,) = drawn_in(KITE, (F(-1, 4),) * 4, F(1, 2))
    assert all(turn(mat[at - 2], mat[at - 1], mat[at]) for at in range(len(mat)))
    (on_it,) = drawn_in(mat, (F(1, 16),) * len(mat), F(1, 16))
    assert polygon(mat).buffer(-1 / 16 + 1e-9).contains(polygon(on_it))
