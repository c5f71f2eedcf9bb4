"""The whole plan: one call from a folded card to the sheet."""

from fractions import Fraction

import pytest

from cardrecipe.plan.card import plan
from cardrecipe.plan.checks import check_plan
from cardrecipe.solve.sized import SizedCard
from cardrecipe.syntax.diagnostics import error, warning
from tests.hand_made import SPAN, double_gate, side_fold, strip_card
from tests.plan.cards import every_card, folded
from tests.plan.test_steps import plain


@pytest.mark.parametrize("card", every_card(), ids=lambda card: card.title)
def test_every_card_has_a_sheet(card: SizedCard) -> None:
    sheet, _ = plan(folded(card))
    assert sheet.title == card.title
    assert len(sheet.cuts) == len(card.pieces)
    assert sheet.steps and sheet.supplies and sheet.other is None


def test_copies_are_the_recipes_unless_told() -> None:
    card = double_gate()._replace(makes=3)
    assert plan(folded(card))[0].cuts[0].total == 3
    assert plan(folded(card), 5)[0].cuts[0].total == 5


def test_the_other_sheet_is_inside_and_names_this_ones_sizes() -> None:
    metric = strip_card([108, 108], "V", height=140, unit="mm", title="Side fold")
    sheet, _ = plan(folded(side_fold()), other=folded(metric))
    assert sheet.other is not None and sheet.other.other is None
    assert sheet.cuts[0].other_size == sheet.other.cuts[0].size == "216 × 140\u00a0mm"
    assert sheet.other.cuts[0].other_size == sheet.cuts[0].size
    assert "216\u00a0mm" in sheet.other.steps[1].text


def test_notes_are_the_warnings_the_roundings_and_the_difference() -> None:
    base = side_fold().pieces[0]._replace(exact_height=Fraction(17, 3))
    card = side_fold()._replace(pieces=(base,), metric_differs=Fraction(4, 5))
    earlier = [
        warning("a", SPAN, "the doors gape"),
        *check_plan(folded(card)),
        error("b", SPAN, "it is wrong"),
    ]
    sheet, found = plan(folded(card), warnings=earlier)
    notes = [plain(note) for note in sheet.notes]
    assert notes[0] == "The doors gape."
    assert "It is wrong." not in notes
    assert len(notes) == len(set(notes))
    assert "No piece is made from the paper “Paper glow”." in notes
    assert any(note.startswith("The height of the card works out as 5 2/3 in") for note in notes)
    assert "The inch and the millimetre version differ by 0.8 mm at most, piece for piece." in notes
    assert found[0].code == "unused-paper"
