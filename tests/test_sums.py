"""The sums that go with a sheet: the same words as `explain`, by the pieces of the sized card."""

from cardrecipe.compile import compile_recipe
from cardrecipe.plan.sheet import Sheet
from cardrecipe.plan.sums import PieceSums
from cardrecipe.sheets import sheet_of
from cardrecipe.syntax.source import Source
from tests.recipes import HEAD, NAME, Texts, explained

CARD = f"""{HEAD}
base card from ink
  fold side-fold, width 4 1/4, height 5 1/2
panel mat from ink on front, back
panel label from ink on mat
  size 2 x 1
"""
TWO_SIZES = f"""{HEAD}
base card from ink
  flat 8 x 5
  score 3 from left valley
  sections narrow, wide
panel mat from ink on narrow, wide
"""


def planned(text: str) -> Sheet:
    return sheet_of(compile_recipe(Source(NAME, text), Texts()))


def sums_of(sheet: Sheet, piece: str) -> PieceSums:
    return next(each for each in sheet.sums if each.piece == piece)


def test_every_piece_has_its_sums_in_both_unit_systems() -> None:
    sheet = planned(CARD)
    assert sheet.other is not None
    for version in (sheet, sheet.other):
        assert [each.piece for each in version.sums] == [each.name for each in version.folded.card.pieces]
        assert all(each.width and each.height for each in version.sums)


def test_they_say_what_explain_says() -> None:
    told = sums_of(planned(CARD), "mat").width
    assert [each.text for each in told] == explained(CARD, "mat.width")
    assert told[0].depth == 0 and {each.depth for each in told} == {0, 1, 2, 3}


def test_lines_are_those_of_the_recipe_and_not_of_a_shipped_fold() -> None:
    lines = CARD.splitlines()
    sums = sums_of(planned(CARD), "label")
    assert lines[sums.line - 1].startswith("panel label")
    assert [lines[each.line - 1].strip() for each in sums.width] == ["size 2 x 1"]
    of_the_fold = sums_of(planned(CARD), "card").width[0]
    assert of_the_fold.line == 0


def test_a_piece_of_two_sizes_has_the_sum_of_each() -> None:
    sums = {each.piece: each.width[0].text.replace("\u00a0", " ") for each in planned(TWO_SIZES).sums}
    assert sums["mat-on-narrow"].endswith("= 2\u202f3\u20444 in")
    assert sums["mat-on-wide"].endswith("= 4\u202f3\u20444 in")
