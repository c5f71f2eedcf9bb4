"""A ring of sections that can only move all at once: what moves, what stays, which way each score goes."""

from fractions import Fraction

from cardrecipe.fold.folded import FoldAction
from cardrecipe.fold.joints import Joint
from cardrecipe.fold.ring_folds import _lines
from cardrecipe.plan.fold_steps import fold_steps
from tests.hand_made import strip_base
from tests.plan.test_steps import plain
from tests.recipes import compile_text

BOX = """recipe "Corner box"
paper ink is cardstock "Ink" 12 x 12
base card from ink
  fold box-pop-up, width 4, height 5
"""
QUARTERS = BOX.replace("box-pop-up", "quarter-fold")


def actions_of(text: str) -> tuple[FoldAction, ...]:
    folded = compile_text(text).folded
    assert folded is not None
    return folded.closed[0].moves


def test_the_root_is_not_among_the_sections_that_move() -> None:
    (action,) = actions_of(BOX)
    assert action.is_linked
    assert set(action.moves) == {"front", "box-side", "box-front"}
    assert action.onto == ("back",)


def test_lines_that_fold_one_after_the_other_are_not_linked() -> None:
    actions = actions_of(QUARTERS)
    assert len(actions) == 2 and not any(action.is_linked for action in actions)


def test_each_score_of_a_linked_fold_is_told_its_own_way() -> None:
    folded = compile_text(BOX).folded
    assert folded is not None
    card = folded.card.piece("card")
    (step,) = fold_steps(folded, card, opens_again=False)
    ways = {way: [str(score.number) for score in card.scores if score.direction == way]
            for way in ("valley", "mountain")}  # fmt: skip
    assert ways["mountain"] == ["2"]
    told = "fold scores 1, 3, 4 and 5 so that the inside faces meet and score 2 so that the outside faces"
    assert told in plain(step.text)
    assert "the back can" not in plain(step.text)


def test_two_flaps_on_one_line_that_a_slit_parts_fold_apart() -> None:
    """Each is joined to the sheet above or below the slit, and to nothing else."""
    (score,) = strip_base([2, 2], "V").scores
    top, middle, bottom = ((Fraction(2), Fraction(down)) for down in (0, 2, 5))
    every = [Joint(score, 0, 1, top, middle), Joint(score, 0, 2, middle, bottom)]
    assert [(line.joints, line.swings) for line in _lines(every, 0)] == [((0,), {1}), ((1,), {2})]
