"""What of an outline is seen beneath others: exact areas, in any direction."""

import math
import random
from fractions import Fraction

from cardrecipe.fold.cover import as_rectangle, hidden, ring_of, seen_areas, uncovered
from cardrecipe.fold.folded import Outline
from cardrecipe.fold.geometry import signed_area
from cardrecipe.fold.motions import inverse, mirrored, moved, turned

F = Fraction


def box(left: int, top: int, right: int, bottom: int) -> Outline:
    return ring_of((F(left), F(top), F(right), F(bottom)))


def area(outlines: tuple[Outline, ...]) -> Fraction:
    return sum((abs(signed_area(outline)) for outline in outlines), F(0))


def test_a_cover_in_the_middle_leaves_a_frame_in_four_parts() -> None:
    rest = uncovered(box(0, 0, 4, 4), [box(1, 1, 3, 3)])
    assert len(rest) == 4
    assert area(rest) == 12


def test_parts_that_share_an_edge_are_one_outline() -> None:
    assert uncovered(box(0, 0, 4, 4), [box(2, 0, 4, 2), box(2, 2, 4, 4)]) == (box(0, 0, 2, 4),)


def test_touching_edges_cover_nothing() -> None:
    assert uncovered(box(0, 0, 2, 2), [box(2, 0, 4, 2)]) == (box(0, 0, 2, 2),)


def test_slanted_covers_leave_what_a_count_of_squares_says() -> None:
    """A square standing on its corner covers half of its own box."""
    diamond: Outline = ((F(2), F(0)), (F(4), F(2)), (F(2), F(4)), (F(0), F(2)))
    assert area(uncovered(box(0, 0, 4, 4), [diamond])) == 8
    assert area(uncovered(diamond, [box(0, 0, 4, 2)])) == 4
    assert area(uncovered(diamond, [box(5, 5, 6, 6)])) == 8
    assert area(uncovered(diamond, [box(0, 0, 1, 1)])) == 8  # their boxes overlap, they only touch
    assert uncovered(diamond, [box(0, 0, 4, 4)]) == ()


def test_only_a_rectangle_is_taken_for_one() -> None:
    assert as_rectangle(box(1, 2, 3, 5)) == (1, 2, 3, 5)
    assert as_rectangle(box(1, 2, 3, 5)[::-1]) == (1, 2, 3, 5)
    corner, right, opposite, left = box(1, 2, 3, 5)
    assert as_rectangle((corner, right, opposite)) is None
    assert as_rectangle((corner, right, left, opposite)) is None
    assert as_rectangle((corner, right, opposite, right)) is None


def test_a_hollow_cover_shows_what_lies_in_its_notch() -> None:
    ell: Outline = (
        (F(0), F(0)),
        (F(4), F(0)),
        (F(4), F(1)),
        (F(1), F(1)),
        (F(1), F(4)),
        (F(0), F(4)),
    )
    assert area(uncovered(box(0, 0, 4, 4), [ell])) == 9
    assert hidden([box(2, 2, 3, 3), ell], [True, True]) == [False, False]
    assert hidden([box(2, 0, 3, 1), ell], [True, True]) == [True, False]


def test_paper_round_a_hole_is_hidden_where_all_of_it_is_covered_and_not_only_some() -> None:
    frame, hole = box(0, 0, 4, 4), [box(1, 1, 3, 3)]
    half, sides = box(0, 0, 2, 4), [box(0, 0, 1, 4), box(3, 0, 4, 4), box(1, 0, 3, 1), box(1, 3, 3, 4)]
    assert hidden([frame, half], [True, True], [hole, []]) == [False, False]
    assert hidden([frame, *sides], [True] * 5, [hole, [], [], [], []])[0]
    assert not hidden([frame, *sides], [True] * 5, [[], [], [], [], []])[0]
    assert not hidden([frame, *sides[:3]], [True] * 4, [hole, [], [], []])[0]


def test_what_is_hidden_needs_a_cover_that_hides() -> None:
    small, large = box(1, 1, 2, 2), box(0, 0, 4, 4)
    assert hidden([small, large], [True, True]) == [True, False]
    assert hidden([small, large], [True, False]) == [False, False]
    assert hidden([large, small], [True, True]) == [False, False]


def test_a_turned_piece_is_hidden_exactly_where_its_corners_are_covered() -> None:
    """Its box reaches beyond the cover, the piece itself does not."""
    tag = moved(turned(F(45), (F(2), F(2))), box(1, 1, 3, 3))
    octagon: Outline = (
        *((F(x), F(y)) for x, y in ((1, 0), (3, 0), (4, 1), (4, 3))),
        *((F(x), F(y)) for x, y in ((3, 4), (1, 4), (0, 3), (0, 1))),
    )
    assert hidden([tag, octagon], [True, True]) == [True, False]
    assert hidden([box(0, 0, 4, 4), octagon], [True, True]) == [False, False]


def test_hidden_is_the_same_as_nothing_uncovered() -> None:
    chance = random.Random(9)
    for _ in range(150):
        pile: list[Outline] = []
        for _ in range(7):
            x, y = chance.randint(0, 4), chance.randint(0, 4)
            middle = (F(x) + F(1, 2), F(y) + F(1, 2))
            angle = F(chance.choice((0, 0, 90, 45, 30)))
            size = chance.randint(1, 3)
            pile.append(moved(turned(angle, middle), box(x, y, x + size, y + size)))
        hides = [chance.random() < 0.8 for _ in pile]
        expected = []
        for index, outline in enumerate(pile, start=1):
            later = zip(pile[index:], hides[index:], strict=True)
            expected.append(not uncovered(outline, [each for each, does in later if does]))
        assert hidden(pile, hides) == expected


def test_seen_areas_of_a_pile_add_up_to_the_outline_of_the_whole() -> None:
    chance = random.Random(4)
    for _ in range(100):
        cells = [(chance.randint(0, 4), chance.randint(0, 4)) for _ in range(6)]
        pile = [box(x, y, x + 1 + (x + y) % 3, y + 2) for x, y in cells]
        squares = {
            (left, top)
            for outline in pile
            for left in range(int(outline[0][0]), int(outline[2][0]))
            for top in range(int(outline[0][1]), int(outline[2][1]))
        }
        assert sum(area(parts) for parts in seen_areas(pile)) == len(squares)


def test_quarter_turns_are_exact_and_clockwise() -> None:
    square = box(0, 0, 2, 1)
    assert moved(turned(F(90), (F(0), F(0))), square)[1] == (F(0), F(2))
    assert moved(turned(F(180), (F(1), F(1, 2))), square)[0] == (F(2), F(1))
    assert turned(F(450), (F(1), F(1))) == turned(F(90), (F(1), F(1)))


def test_any_turn_keeps_lengths_exactly_and_its_angle_nearly() -> None:
    for degrees in (1, 30, 45, 100, 179, 200, 359):
        (x, y), *_ = moved(turned(F(degrees), (F(0), F(0))), ((F(1), F(0)),))
        assert x * x + y * y == 1
        assert abs(math.remainder(math.degrees(math.atan2(y, x)) - degrees, 360)) < 0.014


def test_inverse_undoes() -> None:
    motion = mirrored(F(7)).after(turned(F(30), (F(1), F(2))))
    square = box(0, 0, 2, 1)
    assert moved(inverse(motion), moved(motion, square)) == square


def test_where_on_the_page_a_cover_lies_changes_nothing() -> None:
    """Far down or far to the right: what has the same place is hidden, what lies beside is seen."""
    for right, down in ((0, 50), (50, 0), (50, 50)):
        own = box(right, down, right + 2, down + 2)
        assert uncovered(own, [own]) == ()
        assert hidden([own, own], [True, True]) == [True, False]
        assert uncovered(own, [box(right + 2, down, right + 4, down + 2)]) == (own,)


def test_a_turned_piece_lies_where_it_is_beside_covers_of_half_units() -> None:
    """A square on its corner from 0 to 3: covers reach just round it, or end above its lowest corner."""
    diamond: Outline = ((F(3, 2), F(0)), (F(3), F(3, 2)), (F(3, 2), F(3)), (F(0), F(3, 2)))
    for bottom, is_hidden in ((F(3), True), (F(5, 2), False)):
        cover = ring_of((F(0), F(0), F(7, 2), bottom))
        assert hidden([diamond, cover], [True, True]) == [is_hidden, False]
