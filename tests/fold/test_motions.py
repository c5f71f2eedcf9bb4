"""Pieces that are turned: quarter turns to the last digit, every other angle as near as can be drawn."""

import math
from fractions import Fraction

import pytest

from cardrecipe.fold.motions import inverse, turned

F = Fraction
ABOUT = (F(3, 2), F(5, 7))
PLACE = (F(11, 3), F(1, 4))


@pytest.mark.parametrize("rounds", [-30, -2, 0, 1, 20])
@pytest.mark.parametrize(("degrees", "expected"), [
    (0, PLACE),
    (90, (ABOUT[0] - (PLACE[1] - ABOUT[1]), ABOUT[1] + (PLACE[0] - ABOUT[0]))),
    (180, (2 * ABOUT[0] - PLACE[0], 2 * ABOUT[1] - PLACE[1])),
    (270, (ABOUT[0] + (PLACE[1] - ABOUT[1]), ABOUT[1] - (PLACE[0] - ABOUT[0]))),
])  # fmt: skip
def test_quarter_turns_are_exact_however_often_one_goes_round(
    degrees: int, expected: tuple[Fraction, Fraction], rounds: int
) -> None:
    assert turned(F(degrees + 360 * rounds), ABOUT).move((PLACE,)) == (expected,)


@pytest.mark.parametrize("degrees", range(-350, 720, 17))
def test_any_angle_is_a_turn_without_a_change_of_size(degrees: int) -> None:
    motion = turned(F(degrees), ABOUT)
    ((x, y),) = motion.move((PLACE,))
    dx, dy = PLACE[0] - ABOUT[0], PLACE[1] - ABOUT[1]
    assert (x - ABOUT[0]) ** 2 + (y - ABOUT[1]) ** 2 == dx * dx + dy * dy
    angle = math.radians(degrees)
    assert float(x - ABOUT[0]) == pytest.approx(
        math.cos(angle) * float(dx) - math.sin(angle) * float(dy), abs=1e-3
    )
    assert float(y - ABOUT[1]) == pytest.approx(
        math.sin(angle) * float(dx) + math.cos(angle) * float(dy), abs=1e-3
    )
    assert inverse(motion).move(motion.move((PLACE,))) == (PLACE,)
    assert not motion.is_flipped()
