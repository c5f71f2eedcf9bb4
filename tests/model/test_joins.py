"""Panels that are glued by their sections, and structures that bring such panels and poses along."""

from fractions import Fraction

import pytest

from cardrecipe.solve.sized import SizedCard
from tests.recipes import compile_text

HEAD = """recipe "Tide tables"
  units inch nearest 1/16
  border 1/8
paper ink is cardstock "Ink" 24 x 24
paper white is cardstock "White" 24 x 24
"""
BOOK = "base card from ink\n  fold side-fold, width 4, height 5\n"
STRIP = """panel strip from white on card
  size 5 x 1
  place 1 1/2 from left
  score 1/2, 4 1/2 from left
  score 2 1/2 from left, mountain
  sections left-tab, near, far, right-tab
"""


def card(text: str) -> SizedCard:
    result = compile_text(HEAD + text)
    assert [each.message for each in result.diagnostics if each.severity == "error"] == []
    assert result.folded is not None
    return result.folded.card


@pytest.mark.parametrize(
    "lines",
    [
        "  glue left-tab on front, right-tab on back with tape\n",
        "  glue left-tab on front with tape\n  glue right-tab on back\n",
        "  glue left-tab on card.front, right-tab on card.back with tape\n",
    ],
)
def test_a_join_names_a_section_and_what_it_is_glued_to(lines: str) -> None:
    strip = card(BOOK + STRIP + lines).piece("strip")
    joins = [(join.section, join.host_piece, join.host) for join in strip.joins]
    assert joins == [("left-tab", "card", "front"), ("right-tab", "card", "back")]
    assert strip.glue is not None and strip.glue.adhesive == "tape"


def test_a_join_may_go_to_a_piece_without_sections() -> None:
    text = f"{BOOK}panel mat from white on back\n{STRIP}  glue left-tab on front, right-tab on mat\n"
    joins = card(text).piece("strip").joins
    assert (joins[1].host_piece, joins[1].host) == ("mat", "mat")


def test_a_tab_of_the_base_is_glued_to_another_part_of_it() -> None:
    text = (
        "base card from ink\n  flat 9 x 5\n  score 4, 8 from left\n  sections front, back, tab\n"
        "  glue tab on front with liquid\n"
    )
    (join,) = card(text).bases[0].joins
    assert (join.section, join.host_piece, join.host) == ("tab", "card", "front")


BRIDGED = """structure bridged
  ask width, height, out = width / 2
  flat 2 * width x height
  score width from left
  sections front, back
  panel bridge on base
    size 2 * out + 1 x 1
    place width - out - 1/2 from left
    score 1/2 from both sides
    score 1/2 + out from left, mountain
    sections front-tab, side, face, back-tab
    glue front-tab on front, back-tab on back
  pose standing
    fold 1 at 90
"""


def test_a_structure_brings_its_panels_of_the_same_paper() -> None:
    found = card(f"{BRIDGED}base card from ink\n  fold bridged, width 4, height 5, out 1 1/2\n")
    bridge = found.piece("bridge")
    assert (bridge.paper, bridge.width, bridge.height) == ("ink", 4, 1)
    assert bridge.placements[0].x == 2
    assert [piece.name for piece in found.pieces] == ["card", "bridge"]


def test_its_pose_is_that_of_the_recipe_unless_the_recipe_has_one_of_that_name() -> None:
    base = f"{BRIDGED}base card from ink\n  fold bridged, width 4, height 5\n"
    assert [(pose.name, pose.folds) for pose in card(base).poses] == [("standing", (("card", 1, 90),))]
    own = card(f"{base}pose standing\n  fold 1 at 60\n").poses
    assert [(pose.name, pose.folds) for pose in own] == [("standing", (("card", 1, Fraction(60)),))]


def test_a_recipe_puts_panels_on_what_a_structure_brings() -> None:
    text = f"{BRIDGED}base card from ink\n  fold bridged, width 4, height 5\npanel label from white on face\n"
    label = card(text).piece("label")
    assert (label.width, label.height) == (Fraction(7, 4), Fraction(3, 4))


def test_a_section_that_two_bases_share_is_that_of_its_own_structure() -> None:
    text = (
        f"{BRIDGED}base other from white\n  fold side-fold, width 3, height 3\n"
        "base card from ink\n  fold bridged, width 4, height 5\n"
    )
    assert {join.host_piece for join in card(text).piece("bridge").joins} == {"card"}


def test_two_bases_cannot_bring_a_panel_of_the_same_name() -> None:
    text = (
        f"{BRIDGED}base one from ink\n  fold bridged, width 4, height 5\n"
        "base two from ink\n  fold bridged, width 4, height 5\n"
    )
    assert "doubled-name" in [each.code for each in compile_text(HEAD + text).diagnostics]
