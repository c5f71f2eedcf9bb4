"""The step that glues a piece says where, when that is not all over its back."""

from fractions import Fraction

import pytest

from cardrecipe.fold.card import fold, glued
from cardrecipe.plan.steps import steps
from cardrecipe.solve.sized import SizedCard, SizedPiece
from tests.hand_made import Size, double_gate, gate, piece, placed, strip_base
from tests.plan.cards import overlapping, pocketed

DOOR: tuple[Size, Size] = ("5/2", 7)


def told(card: SizedCard, name: str) -> str:
    """The text of the step that puts a piece on."""
    folded, _ = glued(fold(card)[0])
    text = next(step.text for step in steps(folded, 1) if step.picture == f"place-{name}")
    return text.replace("\u00a0", " ").replace("\u202f", " ").replace("\u2044", "/")


def wing(*hosts: str, at: Size) -> SizedPiece:
    spots = [placed(host, DOOR, (2, 1), side="outside", at=(at, 3)) for host in hosts]
    return piece("wing", "panel", "glow", (2, 1), *spots, overhangs=True)


def test_a_moon_over_both_doors_is_glued_on_its_left_part() -> None:
    assert (
        "on the back of the moon, only on the part that will lie on the left door: "
        "the left 2 3/16 in of it, as you look at its face." in told(overlapping(), "moon")
    )


def test_a_plate_on_a_band_is_glued_on_a_strip() -> None:
    text = told(double_gate(), "plate")
    assert "on the sash: the strip of it between 11/16 in and 1 9/16 in from its top edge." in text


def test_copies_that_are_glued_alike_are_told_once() -> None:
    text = told(gate(wing("left-door", "right-door", at="3/2")), "wing")
    assert "will lie on the left door and the right door: the left 15/16 in of it, as you" in text


def test_copies_that_are_not_are_told_one_by_one() -> None:
    both = wing("left-door", at="3/2")
    other = placed("right-door", DOOR, (2, 1), side="outside", at=(-1, 5))
    text = told(gate(both._replace(placements=(*both.placements, other), count=2)), "wing")
    assert (
        "on the left door the left 15/16 in of it, on the right door the right 15/16 in of it, as you" in text
    )


def test_a_panel_with_a_score_is_glued_on_one_side_of_it() -> None:
    own = strip_base([1, 2], "V", ["wing", "held"], 5)
    leaf = own._replace(name="leaf", kind="panel", placements=(placed("back", (5, 7), (3, 5)),))
    assert "on the back of the leaf, only on the right 2 in of it, as you look at its face." in told(
        gate(leaf), "leaf"
    )


def test_a_slanted_border_is_left_to_the_picture() -> None:
    slanted = wing("left-door", at=1)._replace(turned=Fraction(30))
    assert "only where it will lie on the left door." in told(gate(slanted), "wing")


@pytest.mark.parametrize(("card", "name"), [(double_gate(), "message"), (pocketed(), "pocket")])
def test_what_may_be_glued_anywhere_is_told_as_ever(card: SizedCard, name: str) -> None:
    assert "only on" not in told(card, name)
