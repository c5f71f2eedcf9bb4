"""Exact plane geometry: small figures, and what must be true of them."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest

from cardrecipe.fold.area import all_three_overlap, contains, overlap, passes_through, region
from cardrecipe.fold.geometry import (
    STAY,
    Motion,
    Outline,
    bounding_box,
    reflect,
    shared_length,
    side_at_segment,
    signed_area,
)


def outline(text: str) -> Outline:
    """Read corners written as `x,y x,y ...`."""
    corners = (corner.split(",") for corner in text.split())
    return tuple((Fraction(x), Fraction(y)) for x, y in corners)


SQUARE = "0,0 4,0 4,4 0,4"
ELL = "0,0 4,0 4,1 1,1 1,4 0,4"
COMB = "0,0 5,0 5,4 4,4 4,1 3,1 3,4 2,4 2,1 1,1 1,4 0,4"
KITE = "2,0 4,2 2,4 0,2"


@pytest.mark.parametrize(
    ("point", "line", "image"),
    [
        ("1,0", "0,0 0,1", "-1,0"),
        ("1,0", "0,0 1,1", "0,1"),
        ("7/3,5", "7/3,0 7/3,1", "7/3,5"),
        ("1,0", "0,0 1,2", "-3/5,4/5"),
    ],
)
def test_reflection(point: str, line: str, image: str) -> None:
    start, end = outline(line)
    assert reflect(outline(point)[0], start, end) == outline(image)[0]


def test_reflection_needs_a_line() -> None:
    with pytest.raises(ValueError, match="two different points"):
        reflect(outline("1,0")[0], *outline("2,2 2,2"))


def test_two_reflections_in_parallel_lines_shift_by_twice_their_distance() -> None:
    first = Motion.reflection(*outline("1,0 1,1"))
    second = Motion.reflection(*outline("7/2,0 7/2,1"))
    assert second.after(first) == Motion.shift(5, 0)
    assert (first.is_flipped(), second.after(first).is_flipped()) == (True, False)


@pytest.mark.parametrize(
    ("directions", "closes"),
    [
        ("1,0 0,1 -1,0 0,-1", True),
        ("1,0 0,1 -1,1 -1,0 0,-1 1,-1", True),  # 90 45 45 90 45 45
        ("1,0 0,1 -1,0 1,-9", False),
        ("1,0 0,1 -1,1 -1,0 0,-1", False),  # odd: the paper would end face down on itself
    ],
)
def test_motions_round_a_vertex_agree_just_when_it_can_fold(directions: str, closes: bool) -> None:
    # Kawasaki's theorem, from memory: alternate angles add up to 180 degrees.
    motion = STAY
    for direction in outline(directions):
        motion = motion.after(Motion.reflection((0, 0), direction))
    assert (motion == STAY) is closes


def test_a_motion_keeps_lengths_and_areas() -> None:
    motion = Motion.reflection(*outline("1/3,0 2,5")).after(Motion.shift(Fraction(1, 7), 3))
    assert signed_area(motion.move(outline(ELL))) == -signed_area(outline(ELL)) == -7


def test_box() -> None:
    assert bounding_box(outline("1,5 3/2,-1 0,2")) == (0, -1, Fraction(3, 2), 5)


@pytest.mark.parametrize(
    ("segments", "length"),
    [
        ("0,0 4,0 3,0 9,0", 1),
        ("0,0 4,0 9,0 3,0", 1),
        ("0,0 4,0 4,0 9,0", 0),
        ("0,0 4,0 3,1 9,1", 0),
        ("0,0 4,0 2,-1 2,1", 0),
        ("0,0 0,4 0,1 0,3", 2),
        ("0,0 4,2 2,1 6,3", 2),
    ],
)
def test_length_shared_on_one_line(segments: str, length: int) -> None:
    start, end, other_start, other_end = outline(segments)
    assert shared_length(start, end, other_start, other_end) == length


@pytest.mark.parametrize(
    ("figure", "segment", "side"),
    [
        (SQUARE, "0,0 4,0", 1),
        (SQUARE, "4,0 0,0", -1),
        (SQUARE, "4,3 4,1", -1),
        (SQUARE, "0,0 5,0", 0),
        (SQUARE, "1,1 3,1", 0),
        ("0,0 0,4 4,4 4,0", "0,0 4,0", 1),
        ("0,0 2,0 4,0 4,4 0,4", "1,0 3,0", 1),
        (ELL, "1,1 4,1", -1),
        (ELL, "1,4 1,1", -1),
        (KITE, "2,0 4,2", 1),
    ],
)
def test_side_at_an_edge(figure: str, segment: str, side: int) -> None:
    assert side_at_segment(outline(figure), *outline(segment)) == side


@pytest.mark.parametrize(
    ("first", "second", "answer"),
    [
        (SQUARE, SQUARE, True),
        (SQUARE, "4,0 8,0 8,4 4,4", False),
        (SQUARE, "4,4 8,4 8,8 4,8", False),
        (SQUARE, "399/100,0 8,0 8,4 399/100,4", True),
        (SQUARE, "1,1 2,1 2,2 1,2", True),
        (SQUARE, KITE, True),
        (KITE, "4,0 4,2 2,0", False),
        (KITE, "0,0 1,0 1,1 0,1", False),
        (KITE, "0,0 11/10,0 11/10,1 0,1", True),
        (ELL, "1,1 4,1 4,4 1,4", False),
        (ELL, "1/2,1/2 4,1 4,4", True),
        (ELL, KITE, True),
        (COMB, "1,1 2,1 2,9 1,9", False),
        (COMB, "1,2 5/2,2 5/2,9 1,9", True),
        (COMB, "0,2 5,2 5,3 0,3", True),
    ],
)
def test_overlap(first: str, second: str, answer: bool) -> None:
    one, two = region(outline(first)), region(outline(second))
    assert overlap(one, two) is overlap(two, one) is answer


@pytest.mark.parametrize(
    ("figures", "answer"),
    [
        ((SQUARE, "1,1 9,1 9,9 1,9", "3,0 5,0 5,9 3,9"), True),
        (("0,0 6,0 3,3", "4,0 8,0 6,6", "0,0 8,0 4,-1"), False),
        ((KITE, SQUARE, "0,0 4,0 0,4"), True),
        ((ELL, "0,3 1,3 4,0 4,1/2 1/2,4 0,4", "1/2,1/2 2,1/2 2,4 1/2,4"), True),
        (("0,0 9,0 9,1 0,1", "0,0 1,0 1,9 0,9", "9,0 9,1 1,9 0,9"), False),
    ],
)
def test_three_with_an_area_in_common(figures: tuple[str, str, str], answer: bool) -> None:
    first, second, third = (region(outline(figure)) for figure in figures)
    assert all_three_overlap(first, second, third) is answer
    assert all_three_overlap(third, first, second) is answer


@pytest.mark.parametrize(
    ("figure", "segment", "answer"),
    [
        (SQUARE, "2,-1 2,9", True),
        (SQUARE, "0,0 0,4", False),
        (SQUARE, "4,4 9,9", False),
        (SQUARE, "1,1 2,1", True),
        (SQUARE, "-1,2 0,2", False),
        (SQUARE, "0,0 4,4", True),
        (SQUARE, "-1,1 1,-1", False),
        (KITE, "2,0 4,2", False),
        (KITE, "0,0 4,4", True),
        (ELL, "1,1 9,1", False),
        (ELL, "0,1 4,1", True),
        (ELL, "2,4 4,2", False),
        (ELL, "1,4 4,1", False),
        (ELL, "0,4 4,0", True),
        (COMB, "1,2 2,2", False),
        (COMB, "1,2 9/4,2", True),
        (COMB, "2,0 2,4", True),
        (COMB, "2,1 2,4", False),
        (SQUARE, "2,-1 1,2", True),
        (KITE, "2,5 3/2,2", True),
        (ELL, "4,4 1/2,3", True),
    ],
)
def test_segment_through_an_inside(figure: str, segment: str, answer: bool) -> None:
    start, end = outline(segment)
    assert passes_through(start, end, region(outline(figure))) is answer
    assert passes_through(end, start, region(outline(figure))) is answer


@pytest.mark.parametrize(
    ("figure", "point", "answer"),
    [
        (SQUARE, "2,2", True),
        (SQUARE, "0,2", False),
        (SQUARE, "4,4", False),
        (KITE, "1,1", False),
        (KITE, "1,2", True),
        (COMB, "3/2,2", False),
        (COMB, "1/2,1", True),
        (COMB, "-1,1", False),
    ],
)
def test_point_inside(figure: str, point: str, answer: bool) -> None:
    assert contains(outline(figure), outline(point)[0]) is answer


@pytest.mark.parametrize("figure", ["0,0 1,1 2,2", "0,0 4,4 4,0 1,4 0,1"])
def test_no_figure(figure: str) -> None:
    with pytest.raises(ValueError, match="outline"):
        region(outline(figure))


@pytest.mark.parametrize("figure", [SQUARE, ELL, COMB, KITE, "0,0 2,0 4,0 4,4 2,4 2,2 1,2 0,2"])
def test_pieces_make_up_the_whole(figure: str) -> None:
    for ring in (outline(figure), outline(figure)[::-1]):
        assert sum(map(signed_area, region(ring).pieces)) == abs(signed_area(ring))


def test_overlap_agrees_with_comparing_columns() -> None:
    # A row of columns that stands and one that hangs overlap just when two columns do.
    chance = random.Random(20261101)
    seen = set()
    for _ in range(300):
        heights = [[chance.randint(1, 4) for _ in range(4)] for _ in range(2)]
        drop = chance.randint(0, 5)
        first = _skyline(heights[0], 1)
        second = tuple((x, y + drop) for x, y in _skyline(heights[1], -1))
        columns = zip(*heights, strict=True)
        answer = any(max(0, drop - down) < min(up, drop) for up, down in columns)
        seen.add(answer)
        assert overlap(region(first), region(second)) is answer
    assert seen == {True, False}


def _skyline(heights: list[int], sign: int) -> Outline:
    """Give columns of unit width that stand on the x axis, or hang from it."""
    tops = [(x + step, sign * height) for x, height in enumerate(heights) for step in (0, 1)]
    corners = [(0, 0), *tops, (len(heights), 0)]
    return tuple((Fraction(x), Fraction(y)) for x, y in corners)


@pytest.mark.parametrize(
    ("start", "end", "passes"),
    [
        ("-1,2", "2,2", True),  # from outside to the middle
        ("2,2", "-1,2", True),
        ("1,2", "3,2", True),  # all of it within
        ("-1,2", "0,2", False),  # up to a corner
        ("0,0", "1,1", False),  # up to an edge
    ],
)
def test_a_segment_that_ends_within_a_polygon_passes_through(start: str, end: str, passes: bool) -> None:
    one, two = outline(start)[0], outline(end)[0]
    assert passes_through(one, two, region(outline(KITE))) == passes
