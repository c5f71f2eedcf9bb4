"""Poses that a recipe names: what cannot be held is said, and so is what would hold instead."""

import re

import pytest

from tests.recipes import HEAD, codes_of, diagnostics_of, words_of

BOX = f"{HEAD}base card from ink\n  fold strip-pop-up, width 4, height 5\n"
BEAK = f"{HEAD}base card from ink\n  fold v-pop-up, width 4, height 5, half 1, beak 1\n"
PLAIN = f"{HEAD}base card from ink\n  fold z-fold, width 3, height 5\n"


def pose(*folds: str, name: str = "standing") -> str:
    return f"pose {name}\n" + "".join(f"  fold {each}\n" for each in folds)


@pytest.mark.parametrize("recipe", [
    PLAIN + pose("1 at 60", "2 at 100"), PLAIN + pose("2 at 0"), PLAIN + pose("1 at 180", "2 at 180"),
    PLAIN + pose(),
    BOX + pose("1 at 90"), BOX + pose("1 at 90", "1 of strip at 90", "2 of strip at 90", "3 of strip at 90"),
    BOX + pose("2 of strip at 35"), BOX + pose("1 at 180"), BEAK + pose("1 at 20"),
])  # fmt: skip
def test_what_can_be_held_gets_no_word(recipe: str) -> None:
    assert codes_of(recipe) == []


@pytest.mark.parametrize(("base", "folds", "scores", "leave", "to"), [
    (BOX, ("1 at 90", "2 of strip at 45"), ["1 at 90", "2 of strip at 45"], ["2 of strip at 45"], "90"),
    (BOX, ("3 of strip at 20", "1 at 21", "2 of strip at 20"),
     ["3 of strip at 20", "1 at 21", "2 of strip at 20"], ["1 at 21"], "20"),
    (BOX, ("1 at 0", "1 of strip at 90"), ["1 at 0", "1 of strip at 90"], ["1 at 0"], "90"),
    # cos 45 degrees: see tests/against_the_world/test_linkages.py
    (BEAK, ("1 at 90", "4 at 90"), ["1 at 90", "4 at 90"], ["4 at 90"], "109.5"),
])  # fmt: skip
def test_a_torn_pose_names_its_scores_and_which_to_leave_out(
    base: str, folds: tuple[str, ...], scores: list[str], leave: list[str], to: str
) -> None:
    recipe = base + pose(*folds)
    (found,) = diagnostics_of(recipe)
    assert found.code == "pose-torn"
    assert words_of(recipe, found) == "pose standing"
    assert all(f"score {each}" in found.message for each in scores)
    assert re.findall("`fold ([^`]*)`", found.hint) == leave
    assert found.hint.endswith(f"to {to} degrees")


@pytest.mark.parametrize("folds", [
    ("1 at 90", "2 of strip at 45"), ("3 of strip at 20", "1 at 21", "2 of strip at 22"),
    ("2 of strip at 45", "1 at 90"),
])  # fmt: skip
def test_the_repair_of_a_torn_pose_holds(folds: tuple[str, ...]) -> None:
    (found,) = diagnostics_of(BOX + pose(*folds))
    gone = re.findall("`fold ([^`]*)`", found.hint)
    assert gone
    assert codes_of(BOX + pose(*(each for each in folds if each not in gone))) == []


def test_scores_outside_of_the_ring_are_not_blamed() -> None:
    panel = "panel wing from ink on back\n  size 2 x 2\n  place 1/8 from bottom\n  score 1 from left\n"
    recipe = BOX + panel + pose("1 of wing at 30", "1 at 90", "2 of strip at 45")
    (found,) = diagnostics_of(recipe)
    assert found.code == "pose-torn" and "wing" not in found.message


def test_each_torn_pose_is_told() -> None:
    recipe = BOX + pose("1 at 90", "2 of strip at 45") + pose("1 at 30", "2 of strip at 45", name="ajar")
    assert codes_of(recipe) == ["pose-torn", "pose-torn"]


def test_a_pose_that_names_some_scores_of_a_strip_keeps_the_others_alive() -> None:
    """The strip still closes with the card; only what a pose holds flat does not fold."""
    assert codes_of(BOX + pose("1 of strip at 90")) == []


def test_a_dropped_piece_takes_its_lines_of_a_pose_along() -> None:
    panel = "panel wing from ink on front outside\n  size 2 x 2\n  score 1 from left\n"
    recipe = f'{PLAIN}{panel}{pose("1 at 60", "1 of wing at 30")}variant "Bare"\n  drop wing\n'
    assert codes_of(recipe, variant="Bare") == codes_of(recipe) == []
