"""Folds that few cards have: rings that no line parts, sheets that are stiff, poses of nothing, bands that
stand, two cards of which the second has a tab."""

import pytest

from cardrecipe.fold.assembly import CannotAssemble
from cardrecipe.fold.card import fold
from cardrecipe.fold.closed import FlatFold, flat_fold
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.fold.layers import CannotTell
from cardrecipe.fold.linkage import Jammed
from cardrecipe.fold.linked_card import linked_card, shown_card
from cardrecipe.fold.refusals import cannot_assemble
from cardrecipe.fold.sheets import layout
from cardrecipe.fold.space import shut_card
from cardrecipe.fold.stance import Standing, standing
from cardrecipe.fold.turns import turns
from cardrecipe.plan.card import plan
from cardrecipe.plan.sheet import Sheet
from tests.fold.opened import structure
from tests.hand_made import card_of, side_fold, strip_base
from tests.recipes import HEAD, codes_of, compile_text, diagnostics_of

CARD = HEAD + "base card from ink\n  fold side-fold, width 4 1/4, height 5 1/2\n"
# Three parts that go round in a ring along one line, parted elsewhere by slits; no two of them can be told
# apart by a cut along the line alone.
HOOKED = HEAD + """base card from ink
  flat 8 x 8
  score 3 from top, between 0 and 2
  score 3 from top, between 2 and 4
  score 3 from top, mountain, between 6 and 8
  cut 2 from left, between 3 and 5
  cut 6 from left, between 3 and 5
  cut 5 from top, between 2 and 6
  cut 4 from left, between 0 and 3
  sections upper, middle, lower
pose closed
  fold 1 at 180
  fold 2 at 180
"""
# Three scores that meet in the middle of the paper hold each other flat.
STIFF = HEAD + """base card from ink
  flat 8 x 5
  score 4 from left
  score from (2, 5/2) to (0, 0)
  score from (2, 5/2) to (0, 5)
  score from (2, 5/2) to (4, 5/2)
pose closed
  fold 1 at 180
pose standing
  fold 2 at 30
"""


def folded(text: str) -> FoldedCard:
    found = compile_text(text).folded
    assert found is not None
    return found


def test_scores_of_a_ring_on_one_line_that_does_not_part_it_are_folded_together() -> None:
    (move,) = folded(HOOKED).closed[0].moves
    assert move.is_linked
    assert (move.scores, move.moves, move.onto) == ((1, 2), ("upper",), ("middle", "lower"))


def test_a_score_that_cannot_move_at_all_is_not_told_to_follow_others() -> None:
    (found,) = (each for each in diagnostics_of(STIFF) if each.code == "pose-torn")
    assert "score 2 at 30" in found.message
    assert "leave out" not in found.hint and found.hint.startswith("hold the scores less far")
    assert "pose-torn" not in codes_of(STIFF.replace("fold 2 at 30", "fold 1 at 30"))


def test_a_pose_in_which_nothing_is_bent_has_no_way_to_be_shown_into() -> None:
    card = folded(CARD + "pose ajar\n  fold 1 at 60\npose flat\n  fold 1 at 0\n").card
    shut = shut_card(card, "card")
    assert shut is not None
    assert [turn.pose.name for turn in turns(card, shut) if turn.pose] == ["ajar"]


def test_a_band_does_not_turn_a_standing_card_round() -> None:
    """What is glued on a card looks at the viewer; a band is taken off before the card stands."""
    pose, label = "pose ajar\n  fold 1 at 60\n", "panel label from ink on back\n"
    band = "band sash from ink around card\n  width 1\n"
    for more in ("", label):
        plain, banded = (folded(CARD + more + each + pose) for each in ("", band))
        rings = [[part.ring for part in standing(each, "card", each.card.poses[0]).parts if part.section]
                 for each in (plain, banded)]  # fmt: skip
        assert rings[0] == rings[1]


def test_nothing_stands_of_a_card_that_cannot_be_folded_shut() -> None:
    card = card_of(strip_base([4, 1, 4], "VV"))
    found, refusals = fold(card)
    assert [each.code for each in refusals] == ["cannot-fold"]
    posed = folded(CARD + "pose ajar\n  fold 1 at 60\n").card.poses[0]
    assert standing(found, "card", posed) == Standing((), ())


def test_scores_of_a_ring_held_flat_and_shut_at_once_are_shown_torn() -> None:
    """None of them is on its way, so that none could lead the others."""
    card = structure("strip-pop-up")
    held = {("strip", 1): 180, ("strip", 2): 0}
    assert isinstance(linked_card(card, {1: 0}, held), Jammed)
    shown = shown_card(card, {1: 0}, held)
    assert shown.gap > 0.5
    assert sorted(shown.angles) == pytest.approx([0, 0, 0, 180])


def test_a_score_held_flat_gives_way_to_the_one_that_leads_its_ring() -> None:
    card = structure("strip-pop-up")
    held = {("strip", 2): 0}
    assert isinstance(linked_card(card, {1: 60}, held), Jammed)
    assert shown_card(card, {1: 60}, held).angles == pytest.approx([60] * 4)


def test_the_tab_of_a_second_base_is_glued_as_that_lies_closed() -> None:
    box = "base box from ink\n  flat 9 x 5\n  score 4, 8 from left\n"
    box += "  sections lid, floor, tab\n  glue tab on lid\n"
    sheet, _ = plan(folded(CARD + box))
    assert isinstance(sheet, Sheet)
    titles = [step.title.replace("\u00a0", " ") for step in sheet.steps]
    assert titles[-1] == "Glue the tab to the lid"


def test_where_the_search_gives_up_on_all_that_is_glued_the_base_is_named() -> None:
    found = flat_fold(side_fold().bases[0])
    assert isinstance(found, FlatFold)
    why = CannotAssemble(found, layout(side_fold(), found, ()), None, CannotTell(20_000))
    said = cannot_assemble(why)
    assert (said.code, said.severity) == ("cannot-tell", "error")
    assert "whether card can be folded flat with what is glued to it" in said.message
