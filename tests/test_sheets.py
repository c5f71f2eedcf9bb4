"""A sheet in both unit systems, or in one where the other's ruler makes a card that cannot be made."""

import pytest

from cardrecipe.files import CannotRead
from cardrecipe.render.pages import render
from cardrecipe.sheets import sheet_of
from tests.recipes import compile_text

# A strip of 3 mm takes glue in its middle; of 1/8 inch, which is what a ruler of sixteenths has, it does not.
STAR = """recipe "Star on a slip"
  units mm nearest 1
  border 3

paper ink is cardstock "Ink blue" 305 x 305

base card from ink
  flat 248 x 180
  score 62 from both sides
  sections left-door, back, right-door

panel pouch from ink on back
  glue along left, bottom, right
panel slip from ink on pouch
  size WIDE x 50
  loose
square star from ink on slip
  size 25 x 25
  overhangs
"""


@pytest.mark.parametrize(("wide", "has_both"), [("3", False), ("4", True)])
def test_a_card_that_could_not_be_glued_on_the_other_ruler_has_no_sheet_for_it(
    wide: str, has_both: bool
) -> None:
    found = compile_text(STAR.replace("WIDE", wide))
    sheet = sheet_of(found)
    assert (sheet.other is not None) is has_both
    assert set(render(sheet, ("html", "md", "json", "svg"))) >= {".html", ".md", ".json", "-place-star.svg"}


def test_who_asks_for_that_ruler_is_told_the_error_and_no_warning() -> None:
    found = compile_text(STAR.replace("WIDE", "3").replace("  overhangs\n", ""))
    assert [each.code for each in found.diagnostics] == ["overhang"]
    with pytest.raises(CannotRead, match="cannot be made in inch: too little of `star` lies on slip"):
        sheet_of(found, "inch")
