"""Basis weights turned into grams per square metre: `80 lb cover` is 216 gsm."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from cardrecipe.library.tables import rows
from cardrecipe.model.papers import Weight

REAM = 500  # sheets, by the definition of a basis weight
POUND_IN_GRAMS = Fraction(45359237, 100000)  # the international pound of 1959, exact
INCH_IN_METRES = Fraction(254, 10000)


def grams_per_square_metre(weight: Weight) -> Fraction:
    """`weight` in gsm, exactly. KeyError for pounds without one of the known kinds."""
    if weight.unit == "gsm":
        return weight.amount
    return weight.amount * gsm_per_pound(weight.basis or "")


def gsm_per_pound(basis: str) -> Fraction:
    """What one pound of this kind of basis weight is in gsm: a ream of its basic size weighs it."""
    width, height = _basic_sizes()[basis]
    return POUND_IN_GRAMS / (REAM * width * height * INCH_IN_METRES**2)


@cache
def _basic_sizes() -> dict[str, tuple[Fraction, Fraction]]:
    return {
        row["basis"]: (Fraction(row["width"]), Fraction(row["height"]))
        for row in rows("basis_weights", "basic_sizes")
    }
