"""What a card is made from: papers and supplies, as facts a maker can read off the packet."""

from fractions import Fraction
from typing import NamedTuple

from cardrecipe.syntax.spans import Span


class StockSheet(NamedTuple):
    """One size that a paper is sold in, in the recipe's unit, with the price of a sheet."""

    width: Fraction
    height: Fraction
    price: Fraction | None = None


class Weight(NamedTuple):
    """A paper's weight as written: `270 gsm`, or `80 lb cover` with its kind of basis weight."""

    amount: Fraction
    unit: str  # "gsm" | "lb"
    basis: str | None = None  # "cover" | "text" | "bond" | "index", only with "lb"


class Paper(NamedTuple):
    """A declared paper. `thick` is in the recipe's unit; `sheets` holds at least one size."""

    name: str
    kind: str  # "cardstock" | "patterned" | "plain" | "vellum" | "acetate"
    title: str
    sheets: tuple[StockSheet, ...]
    span: Span
    weight: Weight | None = None
    thick: Fraction | None = None
    grain: str | None = None  # "long" | "short": along the long or the short side of the sheet
    one_way: bool = False
    color: str | None = None  # "#rrggbb"
    pack: int | None = None


class Supply(NamedTuple):
    """Something besides paper: an ink, a stamp, a ribbon, a tool."""

    name: str
    kind: str  # see `cardrecipe.syntax.words.SUPPLY_KINDS`
    title: str
    span: Span | None = None
