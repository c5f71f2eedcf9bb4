"""Which boxes lie near a place: none that meets it is missing, and few others are told of."""

import random
from fractions import Fraction

from cardrecipe.fold.geometry import Box
from cardrecipe.fold.nearby import MOST_SQUARES, Nearby


def _meet(one: Box, two: Box) -> bool:
    is_beside = one.right < two.left or two.right < one.left
    return not is_beside and one.bottom >= two.top and two.bottom >= one.top


def _box(chance: random.Random, size: int) -> Box:
    left, top = Fraction(chance.randint(-90, 90), 7), Fraction(chance.randint(-90, 90), 7)
    wide, high = (Fraction(chance.randint(0, size), chance.randint(1, 5)) for _ in range(2))
    return Box(left, top, left + wide, top + high)


def test_none_that_shares_a_point_is_missing() -> None:
    chance = random.Random(5)
    for number in (1, 2, 30, 120):
        boxes = [_box(chance, size) for size in (*[2] * number, 40)]
        nearby = Nearby(boxes)
        for asked in (*boxes, *(_box(chance, 30) for _ in range(30))):
            found = nearby.near(asked)
            assert list(found) == sorted(set(found))
            assert {at for at, box in enumerate(boxes) if _meet(box, asked)} <= set(found)


def test_of_many_small_ones_side_by_side_few_are_told() -> None:
    boxes = [Box(10 * x, 10 * y, 10 * x + 9, 10 * y + 9) for x in range(20) for y in range(20)]
    nearby = Nearby(boxes)
    assert max(len(nearby.near(box)) for box in boxes) <= MOST_SQUARES
    assert len(nearby.near(Box(0, 0, 199, 199))) == len(boxes)


def test_a_wide_one_among_them_is_told_everywhere() -> None:
    boxes = [*(Box(10 * x, 0, 10 * x + 9, 9) for x in range(400)), Box(0, 0, 4000, 9)]
    assert 400 in Nearby(boxes).near(boxes[123]) and len(Nearby(boxes).near(boxes[123])) < 100
