"""Pieces that are glued by named sections: panels by their tabs, a base to another part of itself."""

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.card import plan
from cardrecipe.plan.join_steps import pose_to_join_in
from cardrecipe.plan.sheet import Sheet, Step
from tests.plan.test_steps import plain
from tests.recipes import compile_text, diagnostics_of

HEAD = (
    'recipe "Ferry"\n  units inch nearest 1/16\npaper ink is cardstock "Ink" 12 x 12\n'
    'paper white is cardstock "White" 12 x 12\n'
)
STRIP = """base card from ink
  fold side-fold, width 4, height 5
panel strip from white on card
  size 4 x 1/2
  place 2 from left, 1/4 from top
  score 1/2 from both sides
  score 2 from left, mountain
  sections left-tab, near, far, right-tab
  glue left-tab on front, right-tab on back WITH
"""
SLEEVE = """base card from ink
  flat 8 1/2 x 5
  score 4 from left
  score 8 from left
  sections front, back, tab
  glue tab on front WITH
panel message from white on back
  size 3 x 4
panel label from white on front outside
  size 2 x 2
"""


def sheet_of(folded: FoldedCard) -> Sheet:
    sheet, _ = plan(folded)
    assert sheet is not None
    return sheet


def steps_of(text: str, adhesive: str = "") -> list[Step]:
    result = compile_text(HEAD + text.replace("WITH", adhesive and f"with {adhesive}"))
    assert result.folded is not None, result.diagnostics
    return [*sheet_of(result.folded).steps]


def titles(steps: list[Step]) -> list[str]:
    return [plain(step.title) for step in steps]


def test_a_scored_panel_is_scored_creased_and_glued_by_its_tabs_only() -> None:
    steps = steps_of(STRIP)
    scored, glued = titles(steps).index("Score the strip"), titles(steps).index(
        "Glue the strip to the front and the back"
    )
    assert scored < glued
    assert "press the creases down with the bone folder and open it out again." in steps[scored].text
    said = plain(steps[glued].text)
    assert "on the back of the left tab and the right tab, and nowhere else." in said
    assert "Lay the strip open and flat on the card, centred left to right and 1/4 in from the top." in said
    assert said.endswith("Press the left tab to the front and the right tab to the back.")
    assert steps[glued].check == "Close and open the card once: the strip folds with it and nothing pulls."


def test_wet_glue_dries_before_the_card_is_closed_on_it() -> None:
    wet, dry = (next(step for step in steps_of(STRIP, what) if step.title.startswith("Glue the strip"))
                for what in ("liquid", "tape"))  # fmt: skip
    assert wet.text.endswith("Let the glue dry before you go on.")
    assert "dry" not in dry.text


def test_a_base_is_glued_to_itself_after_what_lies_inside_and_before_what_lies_outside() -> None:
    steps = steps_of(SLEEVE)
    names = titles(steps)
    own = names.index("Glue the tab to the front")
    inside = next(at for at, name in enumerate(names) if name.startswith("Glue the message"))
    outside = next(at for at, name in enumerate(names) if name.startswith("Glue the label"))
    assert inside < own < outside
    said = plain(steps[own].text)
    assert said.startswith("Fold the card up again along scores 1 and 2. Put double-sided tape on the face")
    assert said.endswith("Press the tab to the front.")


def test_a_base_that_is_still_folded_is_glued_as_it_lies_and_its_glue_is_bought() -> None:
    result = compile_text(HEAD + SLEEVE.split("panel message")[0].replace("WITH", "with liquid"))
    assert result.folded is not None
    sheet = sheet_of(result.folded)
    last = sheet.steps[-1]
    assert "up again" not in last.text and last.text.endswith("Let the glue dry before you go on.")
    assert any(line.name.startswith("Liquid glue") for line in sheet.supplies)


def test_a_plain_panel_glued_by_its_own_name_is_told_that_it_is_glued_as_a_whole() -> None:
    text = HEAD + "base card from ink\n  fold box-pop-up, width 4, height 5\n"
    (found,) = diagnostics_of(text + "panel shell from white on box-front\n  glue shell on box-front\n")
    assert found.code == "unknown-name" and found.hint is not None
    assert "glued as a whole: `glue with tape only on box-front`" in found.hint
    whole = "panel shell from white on box-front\n  border 1/8\n  glue with tape only on box-front\n"
    assert not diagnostics_of(text + whole)


def test_a_box_is_glued_as_it_stands_and_a_sleeve_as_it_lies_closed() -> None:
    box = compile_text(HEAD + "base card from ink\n  fold box-lid, width 4, height 5\n").folded
    assert box is not None
    held = pose_to_join_in(box, box.card.piece("card"))
    assert held is not None and (held.base, held.pose.name) == ("card", "standing")
    sleeve = compile_text(HEAD + SLEEVE.replace("WITH", "with tape")).folded
    assert sleeve is not None and pose_to_join_in(sleeve, sleeve.card.piece("card")) is None
