"""The facts at the top of the sheet."""

from fractions import Fraction

import pytest

from cardrecipe.fold.folded import Thickness
from cardrecipe.model.work import Work
from cardrecipe.plan.envelopes import fits
from cardrecipe.plan.facts import (
    facts,
    level,
    minutes,
    minutes_counted,
    thickness_written,
    what_it_needs,
)
from cardrecipe.plan.sheet import SupplyLine
from cardrecipe.solve.sized import Around, SizedCard, SizedPiece
from tests.hand_made import SPAN, double_gate, gate, piece, placed, side_fold, strip_card
from tests.plan.cards import folded, loose_pieces, uneven
from tests.plan.test_steps import plain

F = Fraction


def of(card: SizedCard, copies: int = 1, other: SizedCard | None = None) -> dict[str, str]:
    found = facts(folded(card), copies, (), folded(other) if other else None)
    return {fact.label: plain(fact.value) for fact in found}


def test_the_double_gate() -> None:
    found = of(double_gate(), 12)
    assert found["Closed size"] == "4 1/4 × 5 1/2 in (about 108 × 140 mm)"
    assert found["Level"] == "steady: cuts to the nearest 1/8 in"
    assert found["Makes"] == "12 cards"
    assert found["Weight"].endswith("g a card, papers only")


def test_the_other_versions_own_size_is_told() -> None:
    metric = strip_card([109, 109], "V", height=140, unit="mm")
    assert of(side_fold(), other=metric)["Closed size"] == (
        "4 1/4 × 5 1/2 in (in the millimetre version 109 × 140 mm)"
    )


def test_an_estimated_thickness_has_its_range() -> None:
    estimate = Thickness(F(19, 10), F(152, 100), F(24, 10), True)
    assert plain(thickness_written(estimate, "inch")) == ("about 1.9 mm (1/16 in), between 1.5 and 2.4 mm")
    assert plain(thickness_written(estimate._replace(estimated=False), "mm")) == "1.9 mm"


@pytest.mark.parametrize(
    ("card", "said"),
    [
        (gate(), "easy: cuts to the nearest 1 in, scores to 1/2 in"),
        (double_gate(), "steady: cuts to the nearest 1/8 in"),
        (uneven(), "easy: cuts to the nearest 1/2 in, some scores between two marks"),
        (strip_card([100, 100], "V", height=140, unit="mm"), "easy: cuts to the nearest 10 mm"),
        (
            strip_card([104, 106], "V", height=145, unit="mm"),
            "easy: cuts to the nearest 5 mm, scores to 1 mm",
        ),
        (strip_card([108, 108], "V", height=140, unit="mm"), "steady: cuts to the nearest 1 mm"),
        (strip_card(["201/2", 100], "V", height=140, unit="mm"), "very exact: cuts to the nearest 0.5 mm"),
    ],
)
def test_the_level_goes_by_the_finest_cut(card: SizedCard, said: str) -> None:
    assert plain(level(card)) == said


@pytest.mark.parametrize(
    ("width", "word"),
    [
        ("17/2", "easy"), ("35/4", "easy"), ("69/8", "steady"), ("137/16", "exact"),
        ("273/32", "very exact"), ("26/3", "very exact"),
    ],
)  # fmt: skip
def test_a_finer_fraction_is_never_easier(width: str, word: str) -> None:
    assert level(strip_card([width], "", height=5)).startswith(f"{word}:")


def test_only_what_not_every_desk_has_is_needed() -> None:
    lines = (
        SupplyLine("paper", "Ink", ""), SupplyLine("paper", "Glow", ""), SupplyLine("die", "Oval", ""),
        SupplyLine("tool", "Paper trimmer", ""), SupplyLine("tool", "Die-cutting machine", ""),
    )  # fmt: skip
    assert what_it_needs(lines) == "2 papers, 1 die, die-cutting machine"
    assert what_it_needs(()) == ""


def test_time_grows_with_the_work() -> None:
    assert minutes(side_fold()) == 5
    assert minutes(double_gate()) % 5 == 0 and minutes(double_gate()) > minutes(gate())


def test_loose_pieces_have_no_closed_size() -> None:
    assert set(of(loose_pieces())) == {"Level", "Time", "Makes"}


def test_a_metric_card_is_told_in_sixteenths_of_an_inch() -> None:
    """148 mm are 5.827 in: the nearest sixteenth is 5 13/16, the nearest eighth would be 5 7/8."""
    card = strip_card([105, 105], "V", height=148, unit="mm", title="Side fold")
    assert of(card)["Closed size"] == "105 × 148 mm (about 4 1/8 × 5 13/16 in)"


def test_the_envelope_of_the_facts_is_the_best_with_its_own_size() -> None:
    """Of several that the card goes into the first is told; the others stand further down."""
    best, *others = fits(F(17, 4), F(11, 2), F(0), "inch")
    assert others and best.height != others[-1].height
    said = {fact.label: fact.value for fact in facts(folded(side_fold()), 1, (best, *others), None)}
    assert plain(said["Envelope"]) == "US A2, 4 3/8 × 5 3/4 in"


def test_the_minutes_of_a_card_are_those_of_all_that_is_done() -> None:
    """A minute for a cut, half for a score, one for a fold, three for a work, two for gluing a piece on, four
    for closing a band: so a side fold takes 2 1/2, and each thing more what is written beside it."""
    spot = placed("back", (4, 5), (2, 2))
    panel = piece("panel", "panel", "white", (2, 2), spot)
    band = piece("sash", "band", "white", (11, 1), around=Around("card", False, F(2), F(9), F(2)))
    more: tuple[tuple[SizedPiece, int], ...] = (
        (panel, 1 + 2),
        (panel._replace(works=(Work("stamp", "Moon", SPAN),)), 1 + 3 + 2),
        (panel._replace(count=2, placements=(spot, spot)), 2 * 1 + 2 * 2),
        (panel._replace(placements=()), 1),
        (band, 1 + 4),
    )
    assert minutes_counted(side_fold()) == F(5, 2)
    for each, added in more:
        assert minutes_counted(side_fold(each)) == F(5, 2) + added
    assert of(side_fold(*[panel] * 6))["Time"] == "about 20 minutes a card"  # 20 1/2
