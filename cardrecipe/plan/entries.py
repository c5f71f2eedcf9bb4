"""The lines of the sheet that a check needs as well: supplies and envelopes."""

from fractions import Fraction
from typing import NamedTuple

SUPPLY_GROUPS = {
    "paper": "Paper",
    "stamp": "Stamps",
    "ink": "Inks",
    "die": "Dies",
    "folder": "Embossing folders",
    "punch": "Punches",
    "marker": "Markers",
    "ribbon": "Ribbon",
    "cord": "Cord",
    "gem": "Gems",
    "adhesive": "Adhesives",
    "tool": "Tools",
    "other": "And",
}
"""Headings of the groups of the supply list, in the order in which they are printed."""


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


class PostFit(NamedTuple):
    """A letter service against the card in its envelope. `because` gives reasons in a maker's words:
    what rules the service out or, where it fits, what is in doubt or makes it the one to take."""

    service: str  # "us-letter"
    title: str
    country: str
    system: str  # "inch" | "mm": the recipes whose sheets show it
    envelope: str  # its title; "" for what goes without one
    fits: bool
    because: tuple[str, ...]
    figures: str  # "figures of 2010-01-04"

    @property
    def check(self) -> str:
        """How old the figures are and whom to ask, as a sentence."""
        return f"{self.figures[:1].upper()}{self.figures[1:]}; check with your carrier."
