"""Which poses get a picture, how it is called, and how its angles are told."""

import pytest

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.poses import posed_bases
from tests.recipes import HEAD, compile_text

Z = "base card from ink\n  fold z-fold, width 3, height 5\n"
SECOND = "base second from ink\n  fold tent, width 3, height 4\n"
WING = "panel wing from ink on {} outside\n  size 2 x 2\n  score 1 from left\n  sections flap, rest\n"


def folded(text: str) -> FoldedCard:
    found = compile_text(HEAD + text)
    assert found.folded is not None, found.diagnostics
    return found.folded


def captions(text: str) -> list[tuple[str, str, str]]:
    return [(each.picture, each.base, each.caption) for each in posed_bases(folded(text))]


def test_every_pose_but_closed_has_a_picture() -> None:
    text = f"{Z}pose standing\n  fold 1 at 60\npose half-open\n  fold 2 at 10\n"
    expected = [("pose-standing", "card", "Standing"), ("pose-half-open", "card", "Half open")]
    assert captions(text) == expected
    assert captions(f"{text}pose closed\n  fold 1 at 180\n  fold 2 at 180\n") == expected
    assert captions(Z) == []


def test_a_pose_has_a_picture_of_each_base_that_it_speaks_of() -> None:
    both = f"{Z}{SECOND}pose standing\n  fold 1 at 60\n  fold 1 of second at 90\n"
    assert captions(both) == [
        ("pose-standing", "card", "Standing"), ("pose-standing-second", "second", "Standing: second"),
    ]  # fmt: skip
    assert [base for _, base, _ in captions(f"{Z}{SECOND}pose up\n  fold 1 of second at 90\n")] == ["second"]


def test_the_score_of_a_panel_holds_the_base_that_it_is_on() -> None:
    text = f"{Z}{SECOND}{WING.format('second.front')}pose up\n  fold 1 of wing at 30\n"
    assert captions(text) == [("pose-up-second", "second", "Up: second")]


@pytest.mark.parametrize(("folds", "told"), [
    ("1 at 60", "score 1 at 60 degrees"),
    ("1 at 60, 2 at 60", "scores 1 and 2 at 60 degrees"),
    ("2 at 60, 1 at 12.25", "score 2 at 60 degrees, score 1 at 12.2"),
    ("1 of wing at 30, 1 at 30, 2 at 30", "score 1 of the wing at 30 degrees, scores 1 and 2 at 30"),
])  # fmt: skip
def test_angles_are_told_in_words(folds: str, told: str) -> None:
    lines = "".join(f"  fold {each}\n" for each in folds.split(", "))
    (found,) = posed_bases(folded(f"{Z}{WING.format('card.back')}pose standing\n{lines}"))
    assert found.told == told


def test_the_poses_of_a_structure_have_pictures_too() -> None:
    text = "base card from ink\n  fold never-ending, width 6, height 6\n"
    assert [name for name, _, _ in captions(text)] == ["pose-opened", "pose-opened-again"]
    own = f"{text}pose opened\n  fold 1 of left-strip at 30\n"
    opened = next(each for each in posed_bases(folded(own)) if each.pose.name == "opened")
    assert opened.told == "score 1 of the left strip at 30 degrees"
