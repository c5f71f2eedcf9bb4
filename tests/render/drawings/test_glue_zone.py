"""The picture of placing a piece hatches the part that takes glue, and only where that is a part."""

import re
from fractions import Fraction

import pytest

from cardrecipe.fold.card import fold, glued
from cardrecipe.render.drawings.index import drawings
from cardrecipe.solve.sized import SizedCard, SizedPiece
from tests.hand_made import Size, double_gate, gate, piece, placed

DOOR: tuple[Size, Size] = ("5/2", 7)
SAYS = "glue behind the hatched part only"


def picture(card: SizedCard, name: str) -> str:
    return drawings(glued(fold(card)[0])[0])[f"place-{name}"].svg


def bar(*hosts: str, at: Size = 1, **more: object) -> SizedPiece:
    spots = [placed(host, DOOR, (3, 2), side="outside", at=(at, 3)) for host in hosts]
    return piece("bar", "panel", None, (3, 2), *spots, **more)


def hatches(svg: str) -> list[tuple[float, float, float, float]]:
    """The slanted lines, as from x, y to x, y."""
    number = r"(-?[\d.]+)"
    found = re.findall(f"M{number} {number}L{number} {number}(?=M|\")", svg)
    lines = [tuple(map(float, each)) for each in found]
    return [each for each in lines if each[0] != each[2] and each[1] != each[3]]  # type: ignore[misc]


@pytest.mark.parametrize(("card", "name"), [(gate(bar("left-door")), "bar"), (double_gate(), "plate")])
def test_a_part_is_hatched_and_told(card: SizedCard, name: str) -> None:
    svg = picture(card, name)
    assert SAYS in svg
    assert len(hatches(svg)) > 5


@pytest.mark.parametrize("name", ["message", "boats-card", "door-paper"])
def test_a_whole_is_not(name: str) -> None:
    assert SAYS not in picture(double_gate(), name)


def test_lines_run_at_45_degrees_within_the_part() -> None:
    """The zone is the left 1 7/16 of 3."""
    lines = hatches(picture(gate(bar("left-door")), "bar"))
    lines = [each for each in lines if abs(abs(each[2] - each[0]) - abs(each[3] - each[1])) < 0.01]
    left, right = min(each[0] for each in lines), max(each[2] for each in lines)
    top, bottom = min(each[3] for each in lines), max(each[1] for each in lines)
    assert (right - left) / (bottom - top) == pytest.approx(float(Fraction(23, 16) / 2), rel=0.08)


def test_hosts_that_share_a_picture_but_not_a_zone_are_left_unhatched() -> None:
    assert SAYS not in picture(gate(bar("left-door", "right-door", at="-1/4")), "bar")
