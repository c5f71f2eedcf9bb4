"""Basis weights against pint's pounds and inches, and against the handbook values in common use.

Sources: pint for the units; the basic sizes (cover 20 x 26, text 25 x 38, bond 17 x 22, index
25 1/2 x 30 1/2 in, 500 sheets) as six merchants' pages give them. The whole grams for 65, 80 and
100 lb cover (176, 216, 270) are common practice, no published source.
"""

from fractions import Fraction

import pint
import pytest

from cardrecipe.library.basis_weights import grams_per_square_metre, gsm_per_pound
from cardrecipe.model.papers import Weight

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()
BASIC_SIZES = {"cover": (20, 26), "text": (25, 38), "bond": (17, 22), "index": (25.5, 30.5)}


def gsm(pounds: int, basis: str) -> Fraction:
    return grams_per_square_metre(Weight(Fraction(pounds), "lb", basis))


@pytest.mark.parametrize("basis", BASIC_SIZES)
@pytest.mark.parametrize("pounds", [1, 20, 65, 110])
def test_against_pint(basis: str, pounds: int) -> None:
    width, height = BASIC_SIZES[basis]
    ream = pounds * UNITS.pound / (500 * width * height * UNITS.inch**2)
    assert float(gsm(pounds, basis)) == pytest.approx(ream.to("g/m^2").magnitude, rel=1e-12)


@pytest.mark.parametrize(
    ("basis", "factor"),
    [("cover", 2.704114), ("text", 1.480146), ("bond", 3.759730), ("index", 1.807958)],
)
def test_the_factor_of_a_pound(basis: str, factor: float) -> None:
    assert float(gsm_per_pound(basis)) == pytest.approx(factor, abs=5e-7)


@pytest.mark.parametrize(
    ("pounds", "basis", "whole"),
    [
        (65, "cover", 176),
        (80, "cover", 216),
        (100, "cover", 270),
        (110, "cover", 297),
        (80, "text", 118),
        (24, "bond", 90),
        (110, "index", 199),
    ],
)
def test_handbook_values(pounds: int, basis: str, whole: int) -> None:
    assert round(gsm(pounds, basis)) == whole


def test_eighty_pounds_is_three_different_papers() -> None:
    assert [round(gsm(80, basis)) for basis in ("text", "cover", "bond")] == [118, 216, 301]


def test_gsm_is_gsm() -> None:
    assert grams_per_square_metre(Weight(Fraction(270), "gsm")) == 270


def test_pounds_of_nothing_are_refused() -> None:
    with pytest.raises(KeyError):
        grams_per_square_metre(Weight(Fraction(80), "lb"))
