"""What rectangles cover together, compared with a count of squares, and what asking costs."""

import random
from functools import partial

from cardrecipe.fold.covered import Covered, Rectangle
from tests.counted import calls


def _squares(box: Rectangle) -> set[tuple[int, int]]:
    left, top, right, bottom = map(int, box)
    return {(x, y) for x in range(left, right) for y in range(top, bottom)}


def _box(chance: random.Random, most: int) -> Rectangle:
    left, top = chance.randint(0, most), chance.randint(0, most)
    return (left, top, left + chance.randint(1, most), top + chance.randint(1, most))


def test_it_holds_what_a_count_of_squares_says() -> None:
    chance, answers = random.Random(3), set()
    for _ in range(300):
        boxes = [_box(chance, 6) for _ in range(chance.randint(0, 9))]
        covered, under = Covered(boxes), set[tuple[int, int]]()
        for box in boxes:
            covered.add(box)
            under |= _squares(box)
            for asked in (box, _box(chance, 4), _box(chance, 4)):
                holds = covered.holds(asked)
                assert holds == (_squares(asked) <= under), (boxes, box, asked)
                answers.add(holds)
    assert answers == {True, False}


def test_what_is_told_of_is_not_yet_there() -> None:
    covered = Covered([(0, 0, 2, 2)])
    assert not covered.holds((0, 0, 2, 2))
    covered.add((0, 0, 2, 2))
    assert covered.holds((0, 0, 2, 2)) and covered.holds((1, 1, 2, 2))
    assert not covered.holds((1, 1, 3, 2)) and not covered.holds((1, 1, 2, 3))


def test_without_any_nothing_is_covered() -> None:
    assert not Covered([]).holds((0, 0, 1, 1))


def _pyramid(number: int) -> list[Rectangle]:
    return [(at, at, 3 * number - at, 3 * number - at) for at in range(number)]


def _all_held(boxes: list[Rectangle]) -> None:
    covered = Covered(boxes)
    for box in boxes:
        covered.holds(box)
        covered.add(box)


def test_four_times_as_many_cost_little_more_than_four_times() -> None:
    few, many = (calls(partial(_all_held, _pyramid(number))) for number in (100, 400))
    assert many < 6 * few
