"""How lengths are measured, rounded and written: one rule for every output.

A length is a Fraction in the recipe's unit. Nothing here or before drawing makes a binary float.
"""

from fractions import Fraction
from math import ceil, floor

INCH_IN_MM = Fraction(127, 5)  # the international inch of 1959, exactly 25.4 mm
MM_PER = {"inch": INCH_IN_MM, "in": INCH_IN_MM, "mm": Fraction(1), "cm": Fraction(10)}
GRID = {"inch": Fraction(1, 16), "mm": Fraction(1)}
ABBREVIATION = {"inch": "in", "mm": "mm"}

FINEST = {"inch": 64, "mm": 100}  # the largest denominator that is written out
_SHORT = {"inch": Fraction(1, 1000), "mm": Fraction(1, 100)}

NARROW_SPACE = "\u202f"
FRACTION_SLASH = "\u2044"
TIMES = "\u00d7"
MINUS = "\u2212"


def to_mm(value: Fraction, unit: str) -> Fraction:
    """`value` of `unit` in millimetres, exactly."""
    return value if unit == "mm" else value * MM_PER[unit]


def convert(value: Fraction, unit: str, into: str) -> Fraction:
    """`value` of `unit` in the unit `into`, exactly."""
    return value if unit == into else value * MM_PER[unit] / MM_PER[into]


def round_down(value: Fraction, grid: Fraction) -> Fraction:
    """The largest multiple of `grid` that is not above `value`."""
    return floor(value / grid) * grid


def round_up(value: Fraction, grid: Fraction) -> Fraction:
    """The smallest multiple of `grid` that is not below `value`."""
    return ceil(value / grid) * grid


def round_near(value: Fraction, grid: Fraction) -> Fraction:
    """The multiple of `grid` nearest to `value`, halves upward."""
    step = value.denominator * grid.numerator
    marks = (2 * value.numerator * grid.denominator + step) // (2 * step)
    return Fraction(marks * grid.numerator, grid.denominator)


def is_on(value: Fraction, grid: Fraction) -> bool:
    """True where `value` is a mark on a ruler with this `grid`."""
    return value.numerator * grid.denominator % (value.denominator * grid.numerator) == 0


def written(value: Fraction, unit: str) -> str:
    """`value` for a reader, without its unit: `5 1⁄2` for inches, `107.95` or `35` for mm.

    Inches are whole + U+202F + numerator + U+2044 + denominator. Millimetres whose decimals end are
    written as decimals, others as a fraction. What no ruler could show (it comes from an estimated
    thickness) is rounded and says so: `≈2.36`.
    """
    if value < 0:
        return MINUS + written(-value, unit)
    if value.denominator > FINEST[unit]:
        return f"≈{_decimal(round_near(value, _SHORT[unit]))}"
    if unit == "mm" and _ends(value):
        return _decimal(value)
    whole, rest = divmod(value.numerator, value.denominator)
    if rest == 0:
        return str(whole)
    part = f"{rest}{FRACTION_SLASH}{value.denominator}"
    return f"{whole}{NARROW_SPACE}{part}" if whole else part


def with_unit(value: Fraction, unit: str) -> str:
    """`value` for a reader, with its unit: `5 1⁄2 in`."""
    return f"{written(value, unit)}\u00a0{ABBREVIATION[unit]}"


def size_written(width: Fraction, height: Fraction, unit: str) -> str:
    """Width by height with the unit once: `2 1⁄4 × 6 3⁄4 in`."""
    return f"{written(width, unit)} {TIMES} {with_unit(height, unit)}"


def typed(value: Fraction) -> str:
    """`value` as it would be typed in a recipe: `5 1/2`."""
    if value < 0:
        return "-" + typed(-value)
    whole, rest = divmod(value.numerator, value.denominator)
    if rest == 0:
        return str(whole)
    return f"{whole} {rest}/{value.denominator}" if whole else f"{rest}/{value.denominator}"


def _ends(value: Fraction) -> bool:
    rest = value.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    return rest == 1


def _decimal(value: Fraction) -> str:
    digits = 0
    scaled = value
    while scaled.denominator != 1:
        scaled *= 10
        digits += 1
    text = str(scaled.numerator).rjust(digits + 1, "0")
    return text if digits == 0 else f"{text[:-digits]}.{text[-digits:]}"
