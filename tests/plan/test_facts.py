"""The facts at the top of the sheet."""

from fractions import Fraction

import pytest

from cardrecipe.fold.folded import Thickness
from cardrecipe.plan.facts import facts, finest_cut, minutes, thickness_written
from cardrecipe.solve.sized import SizedCard
from tests.hand_made import double_gate, gate, side_fold, strip_card
from tests.plan.cards import folded, loose_pieces, uneven
from tests.plan.test_steps import plain

F = Fraction


def of(card: SizedCard, copies: int = 1, other: SizedCard | None = None) -> dict[str, str]:
    found = facts(folded(card), copies, (), folded(other) if other else None)
    return {fact.label: plain(fact.value) for fact in found}


def test_the_double_gate() -> None:
    found = of(double_gate(), 12)
    assert found["Closed size"] == "4 1/4 × 5 1/2 in (about 108 × 140 mm)"
    assert found["Cuts"] == "to the nearest 1/8 in"
    assert found["Makes"] == "12 cards"
    assert found["Weight"].endswith("g a card, papers only")


def test_the_other_versions_own_size_is_told() -> None:
    metric = strip_card([109, 109], "V", height=140, unit="mm")
    assert of(side_fold(), other=metric)["Closed size"] == (
        "4 1/4 × 5 1/2 in (in the other version 109 × 140 mm)"
    )


def test_an_estimated_thickness_has_its_range() -> None:
    estimate = Thickness(F(19, 10), F(152, 100), F(24, 10), True)
    assert plain(thickness_written(estimate, "inch")) == (
        "about 1.9 mm (1/16 in), between 1.5 and 2.4 mm"
    )
    assert plain(thickness_written(estimate._replace(estimated=False), "mm")) == "1.9 mm"


@pytest.mark.parametrize(
    ("card", "said"),
    [
        (gate(), "to the nearest 1/2 in"),
        (double_gate(), "to the nearest 1/8 in"),
        (uneven(), "some between two marks of the ruler"),
        (strip_card([100, 100], "V", height=140, unit="mm"), "to the nearest 1 mm"),
        (strip_card(["201/2", 100], "V", height=140, unit="mm"), "to the nearest 0.5 mm"),
    ],
)
def test_the_finest_cut(card: SizedCard, said: str) -> None:
    assert plain(finest_cut(card)) == said


def test_time_grows_with_the_work() -> None:
    assert minutes(side_fold()) == 5
    assert minutes(double_gate()) % 5 == 0 and minutes(double_gate()) > minutes(gate())


def test_loose_pieces_have_no_closed_size() -> None:
    assert set(of(loose_pieces())) == {"Cuts", "Time", "Makes"}
