"""What is done to a piece and how it is fixed: stamping, colouring, glue."""

from fractions import Fraction
from typing import NamedTuple

from cardrecipe.syntax.spans import Span


class Work(NamedTuple):
    """One operation on a piece, in the order written.

    `verb` is one of stamp, emboss, color, die, punch, trim, foil, ink-edges, write, add, do.
    `text` is the quoted design or instruction ("" for `trim by hand` and `color`).
    `using` holds what it is done with, each already resolved to a title a shopper can read
    (`stamp "Row of lanterns" in coal` gives ("Coal black",)).
    `middle` is the length of the middle part that is worked on (`emboss "…" on middle 5`);
    `item` and `long` belong to `add ribbon "…" 8 long`. Lengths are in the recipe's unit.
    """

    verb: str
    text: str
    span: Span
    using: tuple[str, ...] = ()
    middle: Fraction | None = None
    item: str | None = None
    long: Fraction | None = None


class Glue(NamedTuple):
    """How a piece is fixed, as the recipe says it. No `Glue` at all: the compiler chooses.

    `adhesive` is tape, liquid, dots, foam or the title of a declared adhesive; None with `all over`
    or `along` alone. `thick` is the foam's, in the recipe's unit.
    """

    span: Span
    adhesive: str | None = None
    thick: Fraction | None = None
    only_on: str | None = None
    all_over: bool = False
    along: tuple[str, ...] = ()  # of left, right, top, bottom
