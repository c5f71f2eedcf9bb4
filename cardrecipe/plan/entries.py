"""The lines of the sheet that a check needs as well: supplies and envelopes."""

from fractions import Fraction
from typing import NamedTuple


class EnvelopeFit(NamedTuple):
    """An envelope against the closed card; sizes in the recipe's unit."""

    name: str  # "us-a2"
    title: str
    width: Fraction
    height: Fraction
    fits: bool
    note: str  # clearance in words, source of the size
    wanted: bool = False


class SupplyLine(NamedTuple):
    """One line to tick off: `kind` groups them (paper, ink, stamp, adhesive, tool, …)."""

    kind: str
    name: str
    amount: str  # "1 sheet 8 1⁄2 × 11 in", "about 20 in", "" when there is no telling
    used_for: tuple[str, ...] = ()
    color: str | None = None  # a paper's colour, for a swatch
