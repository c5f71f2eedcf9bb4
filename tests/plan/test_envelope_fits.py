"""Which envelopes hold a card: whichever way it lies, and with its thickness."""

from fractions import Fraction

import pytest

from cardrecipe.library.envelopes import find_envelope
from cardrecipe.plan.envelopes import check_envelope, closed_size, fits
from cardrecipe.solve.sized import SizedCard
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.spans import Span
from tests.hand_made import SPAN, double_gate, side_fold, strip_card
from tests.plan.cards import folded, loose_pieces
from tests.plan.test_steps import plain

F = Fraction


def found(card: SizedCard) -> list[Diagnostic]:
    return list(check_envelope(folded(card)))


def names(width: int | str, height: int | str, unit: str = "inch", thick: int = 0) -> list[str]:
    return [fit.name for fit in fits(F(width), F(height), F(thick), unit)]


@pytest.mark.parametrize(
    ("width", "height", "unit", "best"),
    [
        # Common practice, no published source: a 5 x 7 goes into an A7, an A6 sheet into a C6.
        (5, 7, "inch", "us-a7"),
        ("17/4", "11/2", "inch", "us-a2"),
        (105, 148, "mm", "iso-c6"),
        (99, 210, "mm", "iso-dl"),
        (150, 150, "mm", "square-155mm"),
    ],
)
def test_the_best_envelope(width: int | str, height: int | str, unit: str, best: str) -> None:
    assert names(width, height, unit)[0] == best
    assert names(height, width, unit) == names(width, height, unit)


def test_at_most_three_and_smallest_first() -> None:
    areas = [fit.width * fit.height for fit in fits(F(4), F(5), F(0), "inch")]
    assert len(areas) == 3 and areas == sorted(areas)


def test_a_square_envelope_is_only_for_a_square_card() -> None:
    assert not any(name.startswith("square") for name in names(5, 7))
    # Its name is its own size: a 6 in square envelope does not take a 6 in card.
    assert names(6, 6)[0] == "square-6-1-2in"


def test_the_other_system_where_the_own_has_none() -> None:
    assert names(9, 12) == ["iso-c3"]
    assert names(20, 20) == []


def test_a_thick_card_needs_a_larger_envelope() -> None:
    assert names("17/4", "11/2", thick=2)[0] == "us-a2"
    assert names("17/4", "11/2", thick=4)[0] == "us-a6"


def test_the_wanted_one_is_told_with_its_clearance() -> None:
    (fit,) = fits(F(5), F(7), F(1), "inch", "us-a7")
    assert fit.wanted and fit.fits
    assert plain(fit.note).startswith("1/4 in to spare across and 1/4 in along.")
    (thick,) = fits(F(5), F(7), F(7), "inch", "us-a7")
    assert thick.fits and thick.note.startswith("Tight, for so thick a card:")
    (small,) = fits(F(5), F(7), F(0), "inch", "us-a6")
    assert not small.fits and small.note.startswith("Too small.")
    assert fits(F(5), F(7), F(0), "inch", "us-a77") == ()


def test_too_small_is_an_error_with_a_larger_one_to_type() -> None:
    card = side_fold()._replace(envelope="us-a1", envelope_span=Span("x.recipe", 5, 20))
    (error,) = found(card)
    assert (error.code, error.severity, error.span.start) == ("envelope-too-small", "error", 5)
    assert plain(error.message) == (
        "the card does not go into its envelope: the closed card is 4 1/4 × 5 1/2 in and us-a1 is "
        "3 5/8 × 5 1/8 in"
    )
    assert error.hint == "try `envelope us-a2`"


def test_boundaries_on_each_side() -> None:
    """An envelope of the card's own size is an error; a hair more is only tight; 1/8 in is enough."""
    envelope = find_envelope("square-6in")
    assert envelope is not None

    def code(side: Fraction) -> list[str]:
        card = strip_card([side, side], "V", height=side)._replace(envelope=envelope.name)
        flat = folded(card)
        assert flat.thickness is not None
        thin = flat._replace(thickness=flat.thickness._replace(likely_mm=F(0)))
        return [one.code for one in check_envelope(thin)]

    assert code(F(6)) == ["envelope-too-small"]
    assert code(F(6) - F(1, 64)) == ["envelope-tight"]
    assert code(F(6) - F(1, 8)) == []


def test_fits_by_size_but_is_tight_by_thickness() -> None:
    (warning,) = found(double_gate()._replace(envelope="us-a2"))
    assert (warning.code, warning.severity) == ("envelope-tight", "warning")
    assert "thick" in warning.message and warning.span == SPAN


def test_no_envelope_no_base_nothing_to_say() -> None:
    assert found(side_fold()) == []
    assert found(loose_pieces()._replace(envelope="us-a2")) == []
    assert closed_size(folded(loose_pieces())) is None


def test_what_has_just_enough_to_spare_is_not_called_tight() -> None:
    """An A2 envelope is 4 3/8 wide: an eighth wider than the card that it is made for."""
    (best, *_) = fits(F("17/4"), F("11/2"), F(0), "inch")
    (tighter, *_) = [each for each in fits(F("137/32"), F("11/2"), F(0), "inch") if each.name == "us-a2"]
    assert best.name == "us-a2"
    assert not any("Tight" in str(part) for part in best)
    assert any("Tight" in str(part) for part in tighter)
