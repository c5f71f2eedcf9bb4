"""Lengths against pint (a registry that counts in Fractions) and against the ruler's exact table.

pint is a test dependency and only ever gets a Fraction and the name of a unit. The table of sixteenths
is arithmetic: an inch is 25.4 mm exactly (the international inch of 1959).
"""

import random
import re
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardrecipe.model.lengths import (
    FINEST,
    FRACTION_SLASH,
    MINUS,
    NARROW_SPACE,
    convert,
    is_on,
    round_down,
    round_near,
    round_up,
    size_written,
    to_mm,
    typed,
    with_unit,
    written,
)
from tests.recipes import HEAD, size

UNITS = pint.UnitRegistry(non_int_type=Fraction)
PINT_NAME = {"inch": "inch", "in": "inch", "mm": "millimeter", "cm": "centimeter"}
RULER = {
    "1/16": "1.5875", "1/8": "3.175", "3/16": "4.7625", "1/4": "6.35", "5/16": "7.9375", "3/8": "9.525",
    "7/16": "11.1125", "1/2": "12.7", "9/16": "14.2875", "5/8": "15.875", "11/16": "17.4625",
    "3/4": "19.05", "13/16": "20.6375", "7/8": "22.225", "15/16": "23.8125", "1": "25.4",
    "1/32": "0.79375", "1/64": "0.396875",
}  # fmt: skip

lengths = st.fractions(min_value=-2_000, max_value=2_000, max_denominator=4_096)
units = st.sampled_from(sorted(PINT_NAME))
grids = st.sampled_from(
    [Fraction(1, 16), Fraction(1, 8), Fraction(1, 32), Fraction(1), Fraction(1, 2), Fraction(5)]
)


@given(lengths, units, st.sampled_from(["inch", "mm"]))
def test_conversions_are_those_of_pint(value: Fraction, unit: str, into: str) -> None:
    oracle = UNITS.Quantity(value, PINT_NAME[unit]).to(PINT_NAME[into]).magnitude
    assert convert(value, unit, into) == oracle
    assert to_mm(value, unit) == UNITS.Quantity(value, PINT_NAME[unit]).to("millimeter").magnitude


@given(lengths, units, units)
def test_a_conversion_there_and_back_loses_nothing(value: Fraction, unit: str, into: str) -> None:
    assert convert(convert(value, unit, into), into, unit) == value


@pytest.mark.parametrize(("inches", "mm"), RULER.items())
def test_the_ruler_has_these_millimetres(inches: str, mm: str) -> None:
    assert to_mm(Fraction(inches), "inch") == Fraction(mm)
    assert convert(Fraction(mm), "mm", "inch") == Fraction(inches)


@pytest.mark.parametrize(("typed_length", "inches"), [
    ("50.8 mm", "2"), ("5.08 cm", "2"), ("2 in", "2"), ("1/2 cm", "25/127"), ("2 1/2 in", "2 1/2"),
])  # fmt: skip
def test_units_in_a_recipe_are_converted_exactly(typed_length: str, inches: str) -> None:
    text = f"{HEAD}rectangle tag from ink\n  size {typed_length} x 3\n  loose\n"
    assert _plain(size(text, "tag.width")) == _plain(inches)


@given(lengths, grids)
def test_rounding_gives_the_marks_on_both_sides(value: Fraction, grid: Fraction) -> None:
    below, near, above = (each(value, grid) for each in (round_down, round_near, round_up))
    assert below <= value <= above
    assert all(is_on(each, grid) for each in (below, near, above))
    assert above - below == (0 if is_on(value, grid) else grid)
    assert abs(near - value) <= grid / 2
    assert near == above if value - below == grid / 2 else near in (below, above)


@given(lengths)
def test_what_is_typed_reads_back_as_the_same_length(value: Fraction) -> None:
    assert sum((Fraction(part) for part in typed(abs(value)).split()), Fraction(0)) == abs(value)


@given(st.integers(-4_000, 4_000), st.integers(0, 6), st.sampled_from(["inch", "mm"]))
def test_what_is_written_reads_back_as_the_same_length(top: int, power: int, unit: str) -> None:
    value = Fraction(top, 2**power)
    if value.denominator <= FINEST[unit]:
        assert _read(written(value, unit)) == value


def test_what_no_ruler_shows_is_written_as_about() -> None:
    chance = random.Random(3)
    for _ in range(2_000):
        value = Fraction(chance.randint(1, 10**6), chance.randint(1, 10**4))
        for unit in ("inch", "mm"):
            text = written(value, unit)
            near = _read(text.removeprefix("≈"))
            assert text.startswith("≈") == (value.denominator > FINEST[unit])
            assert abs(near - value) <= (Fraction(1, 200) if unit == "mm" else Fraction(1, 2_000))
            assert text.startswith("≈") or near == value


@pytest.mark.parametrize(("value", "unit", "text"), [
    ("11/2", "inch", f"5{NARROW_SPACE}1{FRACTION_SLASH}2"), ("1/8", "inch", f"1{FRACTION_SLASH}8"),
    ("7", "inch", "7"), ("0", "mm", "0"), ("-1/8", "inch", f"{MINUS}1{FRACTION_SLASH}8"),
    ("107.95", "mm", "107.95"), ("35", "mm", "35"), ("1/3", "mm", f"1{FRACTION_SLASH}3"),
    ("2.358", "inch", "≈2.358"), ("0.001", "mm", "≈0"),
    ("17/6", "inch", f"2{NARROW_SPACE}5{FRACTION_SLASH}6"),
])  # fmt: skip
def test_lengths_are_written_by_one_rule(value: str, unit: str, text: str) -> None:
    assert written(Fraction(value), unit) == text


def test_units_are_written_once() -> None:
    assert with_unit(Fraction(11, 2), "inch") == f"{written(Fraction(11, 2), 'inch')}\u00a0in"
    assert size_written(Fraction(4), Fraction(5), "mm") == "4 × 5\u00a0mm"


def _plain(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split()), Fraction(0))


def _read(text: str) -> Fraction:
    """A written length back to a Fraction, by a reader of its own."""
    match = re.fullmatch(r"(−?)(?:(\d+(?:\.\d+)?)(?:\u202f|$))?(?:(\d+)⁄(\d+))?", text)
    assert match, text
    sign, whole, top, bottom = match.groups()
    value = Fraction(whole or 0) + (Fraction(int(top), int(bottom)) if top else 0)
    return -value if sign else value
