"""Faces of a flat piece: small cuts and what must come of them, then laws over random ones.

A piece is written `10 x 7` or as the corners of its outline (`0,0 4,0 4,3`), lines as `score` or `slit`
with two ends, one after another; their index is their place in the text. y runs down.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import combinations, pairwise
from typing import NamedTuple

import pytest
import shapely

from cardrecipe.solve.subdivision import DrawnLine, Subdivision, _center, subdivide
from tests.counted import calls

Point = tuple[Fraction, Fraction]
Ring = tuple[Point, ...]


def cut(piece: str, text: str = "", *openings: str) -> Subdivision:
    return subdivide(ring(piece), lines(text), [ring(each) for each in openings])


def ring(text: str) -> Ring:
    if " x " not in text:
        return tuple(point(word) for word in text.split())
    width, height = (Fraction(word) for word in text.split(" x "))
    return ((Fraction(0), Fraction(0)), (width, Fraction(0)), (width, height), (Fraction(0), height))


def lines(text: str) -> list[DrawnLine]:
    words = text.split()
    return [
        DrawnLine(words[at], point(words[at + 1]), point(words[at + 2]), at // 3)
        for at in range(0, len(words), 3)
    ]


def point(word: str) -> Point:
    x, y = word.split(",")
    return (Fraction(x), Fraction(y))


def written(points: Iterable[Point]) -> str:
    return " ".join(f"{x},{y}" for x, y in points)


def faces(found: Subdivision) -> list[str]:
    return [written(face) for face in found.faces]


def hinges(found: Subdivision) -> list[str]:
    return [
        f"{hinge.line}: {hinge.first}-{hinge.second} {written((hinge.start, hinge.end))}"
        for hinge in found.hinges
    ]


def runs(found: Sequence[NamedTuple]) -> list[str]:
    return [f"{run[0]}: {written((run[-2], run[-1]))}" for run in found]


def area(points: Sequence[Point]) -> Fraction:
    """Over 0 when the ring runs clockwise as one looks at it."""
    closed = pairwise((*points, points[0]))
    return sum((a[0] * b[1] - b[0] * a[1] for a, b in closed), Fraction(0)) / 2


# What makers cut.


def test_a_piece_without_lines_is_one_face() -> None:
    found = cut("10 x 7")
    assert faces(found) == ["0,0 10,0 10,7 0,7"]
    assert found == Subdivision(found.faces, ((),), (), (), (), ())


def test_an_outline_may_repeat_a_corner_or_have_one_on_a_straight_edge() -> None:
    notched, text = "0,0 3,0 3,3 7,3 7,0 10,0 10,7 0,7", "score 0,1 6,7"
    assert cut("0,0 0,0 3,0 3,3 3,3 5,3 7,3 7,0 10,0 10,7 0,7 0,4", text) == cut(notched, text)


def test_a_side_fold() -> None:
    found = cut("10 x 7", "score 5,0 5,7")
    assert faces(found) == ["0,0 5,0 5,7 0,7", "5,0 10,0 10,7 5,7"]
    assert hinges(found) == ["0: 0-1 5,0 5,7"]


def test_a_line_is_told_in_its_own_direction() -> None:
    assert hinges(cut("10 x 7", "score 5,7 5,0")) == ["0: 0-1 5,7 5,0"]
    assert runs(cut("10 x 7", "score 10,1 2,1").dangling) == ["0: 10,1 2,1"]


def test_a_dutch_door_has_two_leaves_on_one_score() -> None:
    found = cut("10 x 7", "score 5,0 5,7 slit 10,3 5,3")
    assert faces(found) == ["0,0 5,0 5,7 0,7", "5,0 10,0 10,3 5,3", "5,3 10,3 10,7 5,7"]
    assert hinges(found) == ["0: 0-1 5,0 5,3", "0: 0-2 5,3 5,7"]


def test_a_shutter_turns_between_two_slits_on_part_way_scores() -> None:
    # The strip between the slits folds at 2 and 8; above and below it the piece folds in the middle.
    found = cut(
        "10 x 7",
        "slit 2,2 8,2 slit 2,5 8,5 score 2,2 2,5 score 8,2 8,5 score 5,0 5,2 score 5,5 5,7",
    )
    assert faces(found) == [
        "0,0 5,0 5,2 2,2 2,5 5,5 5,7 0,7",
        "5,0 10,0 10,7 5,7 5,5 8,5 8,2 5,2",
        "2,2 8,2 8,5 2,5",
    ]
    assert hinges(found) == ["2: 0-2 2,2 2,5", "3: 1-2 8,2 8,5", "4: 0-1 5,0 5,2", "5: 0-1 5,5 5,7"]


def test_two_upright_slits_with_part_way_scores_between_the_edges() -> None:
    # Left of the slit the piece folds at 3 above and below; between the slits nothing does.
    found = cut("10 x 8", "slit 3,2 3,6 slit 7,2 7,6 score 3,0 3,2 score 3,6 3,8 score 7,0 7,2 score 7,6 7,8")
    assert faces(found) == ["0,0 3,0 3,8 0,8", "3,0 7,0 7,8 3,8", "7,0 10,0 10,8 7,8"]
    assert hinges(found) == ["2: 0-1 3,0 3,2", "3: 0-1 3,6 3,8", "4: 1-2 7,0 7,2", "5: 1-2 7,6 7,8"]


def test_a_centre_step_folds_at_other_heights_on_both_sides_of_a_slit() -> None:
    found = cut(
        "10 x 8", "slit 5,2 5,6 score 0,2 5,2 score 0,4 5,4 score 0,6 5,6 score 5,2 10,2 score 5,6 10,6"
    )
    assert faces(found) == [
        "0,0 10,0 10,2 0,2",
        "0,2 5,2 5,4 0,4",
        "5,2 10,2 10,6 5,6",
        "0,4 5,4 5,6 0,6",
        "0,6 10,6 10,8 0,8",
    ]
    assert hinges(found) == [
        "1: 0-1 0,2 5,2",
        "2: 1-3 0,4 5,4",
        "3: 3-4 0,6 5,6",
        "4: 0-2 5,2 10,2",
        "5: 2-4 5,6 10,6",
    ]


def test_a_box_pop_up_stands_off_a_fold_between_two_slits() -> None:
    found = cut(
        "10 x 8",
        "slit 4,2 4,5 slit 6,2 6,5 score 4,2 6,2 score 4,3 6,3 score 4,5 6,5 score 0,4 4,4 score 6,4 10,4",
    )
    assert faces(found) == [
        "0,0 10,0 10,4 6,4 6,2 4,2 4,4 0,4",
        "4,2 6,2 6,3 4,3",
        "4,3 6,3 6,5 4,5",
        "0,4 4,4 4,5 6,5 6,4 10,4 10,8 0,8",
    ]
    assert hinges(found) == [
        "2: 0-1 4,2 6,2",
        "3: 1-2 4,3 6,3",
        "4: 2-3 4,5 6,5",
        "5: 0-3 0,4 4,4",
        "6: 0-3 6,4 10,4",
    ]


def test_a_diagonal_corner() -> None:
    found = cut("10 x 7", "score 6,0 10,4")
    assert faces(found) == ["0,0 6,0 10,4 10,7 0,7", "6,0 10,0 10,4"]
    assert hinges(found) == ["0: 0-1 6,0 10,4"]


def test_both_diagonals_make_four_triangles() -> None:
    found = cut("10 x 7", "score 0,0 10,7 score 10,0 0,7")
    assert faces(found) == ["0,0 10,0 5,7/2", "0,0 5,7/2 0,7", "10,0 10,7 5,7/2", "5,7/2 10,7 0,7"]
    assert hinges(found) == [
        "0: 0-1 0,0 5,7/2",
        "0: 2-3 5,7/2 10,7",
        "1: 0-2 10,0 5,7/2",
        "1: 1-3 5,7/2 0,7",
    ]


@pytest.mark.parametrize("count", [1, 2, 5, 19])
def test_parallel_lines_make_one_face_more_in_order(count: int) -> None:
    text = " ".join(f"score {at},0 {at},7" for at in range(1, count + 1))
    found = cut(f"{count + 1} x 7", text)
    assert [face[0][0] for face in found.faces] == list(range(count + 1))
    assert [hinge[:3] for hinge in found.hinges] == [(at, at, at + 1) for at in range(count)]


@pytest.mark.parametrize(("across", "down"), [(1, 1), (2, 3), (7, 5)])
def test_a_grid_is_read_row_by_row(across: int, down: int) -> None:
    upright = [f"score {at},0 {at},{down + 1}" for at in range(1, across + 1)]
    level = [f"slit 0,{at} {across + 1},{at}" for at in range(1, down + 1)]
    found = cut(f"{across + 1} x {down + 1}", " ".join(upright + level))
    assert [face[0][::-1] for face in found.faces] == [
        (y, x) for y in range(down + 1) for x in range(across + 1)
    ]
    assert len(found.hinges) == across * (down + 1)


# Lines that do less than they seem to.


def test_a_score_that_ends_in_a_face_divides_nothing_there() -> None:
    found = cut("10 x 7", "score 5,0 5,7 score 0,3 8,3")
    assert faces(found) == ["0,0 5,0 5,3 0,3", "5,0 10,0 10,7 5,7", "0,3 5,3 5,7 0,7"]
    assert runs(found.dangling) == ["1: 5,3 8,3"]
    assert hinges(found) == ["0: 0-1 5,0 5,3", "0: 1-2 5,3 5,7", "1: 0-2 0,3 5,3"]


def test_a_chain_that_ends_in_a_face_dangles_to_its_root() -> None:
    found = cut("10 x 7", "slit 0,3 4,3 score 4,3 4,5 slit 3,5 5,5")
    assert len(found.faces) == 1
    assert runs(found.dangling) == ["0: 0,3 4,3", "1: 4,3 4,5", "2: 3,5 5,5"]


def test_a_touching_slit_does_not_part_a_hinge() -> None:
    assert hinges(cut("10 x 7", "score 5,0 5,7 slit 5,3 7,3")) == ["0: 0-1 5,0 5,7"]


def test_a_slit_wins_over_a_score_and_ends_its_hinge() -> None:
    found = cut("10 x 7", "score 5,0 5,7 slit 5,5 5,2")
    assert hinges(found) == ["0: 0-1 5,0 5,2", "0: 0-1 5,5 5,7"]
    assert found.covered == ((0, 1, point("5,2"), point("5,5")),)


def test_of_two_scores_on_one_line_the_first_counts() -> None:
    found = cut("10 x 7", "score 5,4 5,0 score 5,1 5,7")
    assert hinges(found) == ["0: 0-1 5,4 5,0", "1: 0-1 5,4 5,7"]
    assert found.covered == ((1, 0, point("5,1"), point("5,4")),)


def test_faces_with_only_a_slit_between_them_are_not_joined() -> None:
    found = cut("10 x 7", "slit 5,0 5,7")
    assert len(found.faces) == 2
    assert (found.hinges, found.dangling) == ((), ())


def test_a_part_cut_free_is_a_face_in_a_hole() -> None:
    found = cut("10 x 7", "slit 2,2 4,2 slit 4,2 4,4 slit 4,4 2,4 slit 2,4 2,2")
    assert faces(found) == ["0,0 10,0 10,7 0,7", "2,2 4,2 4,4 2,4"]
    assert [written(hole) for hole in found.holes[0]] == ["2,2 4,2 4,4 2,4"]
    assert found.hinges == ()


def test_a_flap_on_a_score() -> None:
    found = cut("10 x 7", "slit 2,2 4,2 slit 4,2 4,4 slit 4,4 2,4 score 2,4 2,2")
    assert hinges(found) == ["3: 0-1 2,4 2,2"]


def test_a_score_from_the_edge_to_a_part_cut_free_dangles() -> None:
    found = cut("10 x 7", "slit 2,2 4,2 slit 4,2 4,4 slit 4,4 2,4 slit 2,4 2,2 score 0,3 3,3")
    assert faces(found) == ["0,0 10,0 10,7 0,7", "2,2 4,2 4,4 2,4"]
    assert runs(found.dangling) == ["4: 0,3 3,3"]


def test_a_ring_in_a_ring_is_in_the_hole_of_the_nearer() -> None:
    square = "slit {0},{0} {1},{0} slit {1},{0} {1},{1} slit {1},{1} {0},{1} slit {0},{1} {0},{0}"
    found = cut("10 x 10", " ".join(square.format(at, 10 - at) for at in (4, 3, 1)))
    assert faces(found) == [written(ring(f"{a},{a} {b},{a} {b},{b} {a},{b}")) for a, b in
                            ((0, 10), (1, 9), (3, 7), (4, 6))]  # fmt: skip
    assert [len(holes) for holes in found.holes] == [1, 1, 1, 0]
    assert written(found.holes[1][0]) == faces(found)[2]


def test_a_hole_may_touch_the_rim_at_a_point() -> None:
    found = cut(
        "8 x 8", "slit 4,0 6,2 slit 6,2 4,4 slit 4,4 2,2 slit 2,2 4,0 slit 4,4 5,6 slit 5,6 3,6 slit 3,6 4,4"
    )
    assert faces(found) == ["0,0 8,0 8,8 0,8", "4,0 6,2 4,4 2,2", "4,4 5,6 3,6"]
    assert sorted(written(hole) for hole in found.holes[0]) == faces(found)[1:]


def test_a_line_of_no_length_is_left_out() -> None:
    assert cut("10 x 7", "score 5,3 5,3") == cut("10 x 7")


# Off the paper.


def test_a_window_parts_a_score() -> None:
    found = cut("10 x 7", "score 5,0 5,7", "4,2 6,2 6,4 4,4")
    assert faces(found) == ["0,0 5,0 5,2 4,2 4,4 5,4 5,7 0,7", "5,0 10,0 10,7 5,7 5,4 6,4 6,2 5,2"]
    assert hinges(found) == ["0: 0-1 5,0 5,2", "0: 0-1 5,4 5,7"]
    assert runs(found.off) == ["0: 5,2 5,4"]


def test_a_window_within_a_face_is_a_hole_and_no_face() -> None:
    found = cut("10 x 7", "score 5,0 5,7", "1,2 1,4 3,4 3,2")
    assert len(found.faces) == 2
    assert [[written(hole) for hole in holes] for holes in found.holes] == [["1,2 3,2 3,4 1,4"], []]


def test_a_score_along_the_edge_of_a_window_folds_only_beside_it() -> None:
    found = cut("10 x 7", "score 5,0 5,7", "5,2 7,2 7,4 5,4")
    assert hinges(found) == ["0: 0-1 5,0 5,2", "0: 0-1 5,4 5,7"]
    assert runs(found.off) == ["0: 5,2 5,4"]
    assert faces(found)[1] == "5,0 10,0 10,7 5,7 5,4 7,4 7,2 5,2"


@pytest.mark.parametrize("empty", ["1,0 1,0 1,2 1,2", "1,1 6,1 6,1 1,1"])
def test_a_window_without_area_is_none(empty: str) -> None:
    """It may run along another or through it."""
    window = "1,0 4,0 4,2 1,2"
    assert cut("10 x 7", "score 5,0 5,7", window, empty) == cut("10 x 7", "score 5,0 5,7", window)


def test_windows_may_overlap_and_run_over_the_edge() -> None:
    found = cut("10 x 7", "", "-1,2 3,2 3,4 -1,4", "2,3 5,3 5,5 2,5", "5,3 6,3 6,5 5,5")
    assert faces(found) == ["0,0 10,0 10,7 0,7 0,4 2,4 2,5 6,5 6,3 3,3 3,2 0,2"]
    assert found.holes == ((),)


def test_a_line_off_the_sheet_or_on_its_edge_is_off() -> None:
    found = cut("10 x 7", "score 0,0 10,0 score -1,3 12,3 score 11,0 11,7")
    assert runs(found.off) == ["0: 0,0 10,0", "1: -1,3 0,3", "1: 10,3 12,3", "2: 11,0 11,7"]
    assert hinges(found) == ["1: 0-1 0,3 10,3"]


def test_a_score_across_a_notch_makes_two_hinges() -> None:
    found = cut("0,0 3,0 3,3 7,3 7,0 10,0 10,7 0,7", "score 0,2 10,2")
    assert faces(found) == ["0,0 3,0 3,2 0,2", "7,0 10,0 10,2 7,2", "0,2 3,2 3,3 7,3 7,2 10,2 10,7 0,7"]
    assert hinges(found) == ["0: 0-2 0,2 3,2", "0: 1-2 7,2 10,2"]
    assert runs(found.off) == ["0: 3,2 7,2"]


# Laws, on random cuts of small grids: there lines touch, cross at one point and lie along each other.

OUTLINES = (
    "6 x 5",
    "0,0 2,0 2,2 4,2 4,0 6,0 6,5 0,5",  # a notch
    "1,0 6,0 6,3 4,5 0,5 0,1",  # slanted corners
)
OPENINGS = ("1,1 3,1 3,3 1,3", "2,2 5,2 5,4 2,4", "2,1 6,1 4,3", "0,1 1,1 1,2 0,2", "3,1 4,1 4,3 3,3")


class Case(NamedTuple):
    outline: Ring
    openings: list[Ring]
    lines: list[DrawnLine]

    def cut(self) -> Subdivision:
        return subdivide(self.outline, self.lines, self.openings)


def random_case(seed: int, steps: Sequence[tuple[int, int]] | None = None) -> Case:
    """A random cut; `steps` are the only directions its lines may take."""
    rng = random.Random(seed)
    outline = ring(rng.choice(OUTLINES))
    openings = [ring(each) for each in rng.sample(OPENINGS, rng.choice((0, 0, 0, 1, 2)))]
    drawn = []
    for index in range(rng.randint(1, 14)):
        x, y = rng.randint(-1, 7), rng.randint(-1, 6)
        across, down = rng.randint(0, 6), rng.randint(0, 5)
        if steps is not None:
            step, times = rng.choice(steps), rng.randint(-7, 7)
            across, down = x + step[0] * times, y + step[1] * times
        start, end = (Fraction(x), Fraction(y)), (Fraction(across), Fraction(down))
        drawn.append(DrawnLine(rng.choice(("score", "score", "slit")), start, end, index))
    return Case(outline, openings, drawn)


def length(start: Point, end: Point) -> Fraction:
    """Along x and y together: exact, and it adds up along a line."""
    return abs(end[0] - start[0]) + abs(end[1] - start[1])


def is_on_edge(points: Ring, start: Point, end: Point) -> bool:
    """Tell whether one edge of a ring holds a whole run."""
    for corner, following in pairwise((*points, points[0])):
        if area((corner, following, start)) == 0 == area((corner, following, end)):
            low, high = sorted((corner, following))
            if low <= min(start, end) and max(start, end) <= high:
                return True
    return False


def test_areas_add_up_to_the_outline() -> None:
    for seed in range(300):
        case = random_case(seed)._replace(openings=[])
        found = case.cut()
        left_out = sum((area(hole) for holes in found.holes for hole in holes), Fraction(0))
        assert sum(map(area, found.faces)) - left_out == area(case.outline), seed


def test_rings_are_simple_clockwise_and_in_order() -> None:
    for seed in range(300):
        found = random_case(seed).cut()
        for points in (*found.faces, *(hole for holes in found.holes for hole in holes)):
            assert area(points) > 0, seed
            assert len(set(points)) == len(points), seed
            assert points[0] == min(points, key=lambda each: each[::-1]), seed
            bends = zip(points, points[1:] + points[:1], points[2:] + points[:2], strict=True)
            assert all(area(three) for three in bends), seed
        places = [(min(y for _, y in face), min(x for x, _ in face)) for face in found.faces]
        assert places == sorted(places), seed


def test_hinges_lie_on_an_edge_of_both_faces() -> None:
    met = 0
    for seed in range(300):
        found = random_case(seed).cut()
        for hinge in found.hinges:
            assert hinge.first < hinge.second, seed
            for face in (hinge.first, hinge.second):
                rings = (found.faces[face], *found.holes[face])
                # A hinge may go straight on past a corner of one ring into another of the same face.
                parts = [hinge.start, *corners_between(rings, hinge.start, hinge.end), hinge.end]
                for start, end in pairwise(parts):
                    assert any(is_on_edge(each, start, end) for each in rings), seed
            met += 1
    assert met > 500


def corners_between(rings: Iterable[Ring], start: Point, end: Point) -> list[Point]:
    low, high = min(start, end), max(start, end)
    on_it = {
        corner for each in rings for corner in each if area((start, end, corner)) == 0 and low < corner < high
    }
    return sorted(on_it, reverse=end < start)


def test_every_part_of_a_score_has_one_role() -> None:
    for seed in range(300):
        case = random_case(seed)
        found = case.cut()
        told = (*found.hinges, *found.dangling, *found.off, *found.covered)
        for line in case.lines:
            parts = sorted(tuple(sorted((run.start, run.end))) for run in told if run.line == line.index)
            assert all(before[1] <= after[0] for before, after in pairwise(parts)), seed
            if line.kind == "score":
                assert sum(length(*part) for part in parts) == length(line.start, line.end), seed


def test_the_order_and_direction_of_lines_change_no_face() -> None:
    for seed in range(200):
        case = random_case(seed)
        turned = [line._replace(start=line.end, end=line.start) for line in case.lines]
        random.Random(seed).shuffle(turned)
        back = Case(case.outline[::-1], [each[::-1] for each in case.openings[::-1]], turned)
        assert back.cut().faces == case.cut().faces, seed
        slits = case._replace(lines=[line._replace(kind="slit") for line in case.lines])
        assert (slits.cut().faces, slits.cut().hinges) == (case.cut().faces, ()), seed


def test_a_piece_of_odd_fractions_is_cut_like_one_of_whole_numbers() -> None:
    def move(where: Point) -> Point:
        return (where[0] * 3 / 7 + Fraction(1, 16), where[1] * 5 / 11 - Fraction(2, 3))

    for seed in range(200):
        case = random_case(seed)
        moved = Case(
            tuple(map(move, case.outline)),
            [tuple(map(move, each)) for each in case.openings],
            [line._replace(start=move(line.start), end=move(line.end)) for line in case.lines],
        )
        expected = case.cut()
        assert moved.cut().faces == tuple(tuple(map(move, face)) for face in expected.faces), seed
        assert [hinge[:3] for hinge in moved.cut().hinges] == [hinge[:3] for hinge in expected.hinges], seed


def test_twenty_lines_take_a_few_milliseconds() -> None:
    """Counted in calls, some 24,000 of them: the bound refuses a slow method."""
    upright = [f"score {at}/11,0 {at}/11,7" for at in range(1, 11)]
    level = [f"score 0,{at}/16 11,{at + 5}/16" for at in range(10, 110, 10)]
    drawn, outline = lines(" ".join(upright + level)), ring("11 x 7")
    assert len(subdivide(outline, drawn).faces) == 121
    assert calls(lambda: subdivide(outline, drawn)) < 50_000



# Against shapely, which finds polygons in floats by methods of its own.

# In these directions all crossings are halves, so that floats are exact too.
STEPS = ((1, 0), (0, 1), (1, 1), (1, -1))


def floats(points: Iterable[Point]) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in points]


def polygons(found: Subdivision) -> list[shapely.Polygon]:
    return [
        shapely.Polygon(floats(face), [floats(hole) for hole in holes])
        for face, holes in zip(found.faces, found.holes, strict=True)
    ]


def paper(case: Case) -> shapely.Geometry:
    return shapely.Polygon(floats(case.outline)).difference(
        shapely.unary_union([shapely.Polygon(floats(each)) for each in case.openings])
    )


def drawn(case: Case, *kinds: str) -> shapely.Geometry:
    wanted = [line for line in case.lines if line.kind in kinds and line.start != line.end]
    return shapely.unary_union(shapely.MultiLineString([floats((each.start, each.end)) for each in wanted]))


def polygonized(case: Case) -> list[shapely.Polygon]:
    rings = [shapely.LinearRing(floats(each)) for each in (case.outline, *case.openings)]
    # On a fine grid three lines through one place meet there, which floats alone do not promise.
    noded = shapely.unary_union([*rings, drawn(case, "score", "slit")], grid_size=1e-9)
    whole = paper(case)
    parts = shapely.polygonize(shapely.get_parts(noded)).geoms
    return [each for each in parts if each.area > 1e-6 and whole.contains(each.representative_point())]


@pytest.mark.parametrize("steps", [None, STEPS], ids=["any direction", "eight directions"])
def test_faces_are_the_polygons_that_shapely_finds(steps: Sequence[tuple[int, int]] | None) -> None:
    most = 0
    for seed in range(1000, 1500):
        case = random_case(seed, steps)
        ours, theirs = polygons(case.cut()), polygonized(case)
        # Rounded to floats, a hole that touches the rim at a point may seem to cross it.
        assert steps is None or all(each.is_valid for each in ours), seed
        assert len(ours) == len(theirs), seed
        for each in ours:
            twin = min(theirs, key=each.representative_point().distance)
            assert each.symmetric_difference(twin).area < 1e-6, seed
        most = max(most, len(ours))
    assert most > 10


def test_hinges_are_the_edges_that_two_polygons_share_on_a_score() -> None:
    joined = 0
    for seed in range(2000, 2300):
        case = random_case(seed, STEPS)
        found = case.cut()
        shapes = polygons(found)
        folds = drawn(case, "score").difference(drawn(case, "slit"))
        told: dict[tuple[int, int], float] = {}
        for hinge in found.hinges:
            run = shapely.LineString(floats((hinge.start, hinge.end)))
            told[hinge[1:3]] = told.get(hinge[1:3], 0) + run.length
        for first, second in combinations(range(len(shapes)), 2):
            shared = folds.intersection(shapes[first].boundary).intersection(shapes[second].boundary)
            assert told.get((first, second), 0) == pytest.approx(shared.length, abs=1e-9), seed
            joined += shared.length > 0
    assert joined > 300


def test_what_dangles_is_drawn_on_paper_but_on_no_boundary() -> None:
    dangling = 0
    for seed in range(3000, 3300):
        case = random_case(seed, STEPS)
        found = case.cut()
        boundaries = shapely.unary_union([each.boundary for each in polygons(found)])
        loose = drawn(case, "score", "slit").intersection(paper(case)).difference(boundaries)
        told = shapely.unary_union([shapely.LineString(floats(run[1:])) for run in found.dangling])
        assert told.symmetric_difference(loose).length < 1e-9, seed
        assert sum(shapely.LineString(floats(run[1:])).length for run in found.dangling) == pytest.approx(
            loose.length
        ), seed
        dangling += bool(found.dangling)
    assert dangling > 100


@pytest.mark.parametrize("corners", ["0,0 4,0 4,3", "1,1 6,2 5,7 3,5", "0,0 5,0 5,3 3,3 3,5 0,5"])
def test_the_middle_of_a_face_is_its_centroid(corners: str) -> None:
    """Faces whose boxes begin at one place are told by it, the upper first."""
    found = ring(corners)
    down, across = _center(found)
    center = shapely.Polygon([(float(x), float(y)) for x, y in found]).centroid
    assert (float(across), float(down)) == pytest.approx((center.x, center.y))
