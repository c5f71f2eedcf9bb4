"""How the size of each piece is worked out, in words: what `explain` prints, kept with the sheet."""

from typing import NamedTuple


class SumLine(NamedTuple):
    """One line of a sum, `depth` steps behind the size that is explained."""

    depth: int
    text: str  # "door-paper.width = left-door.width 2 1⁄2 − 2 × border 1⁄8 = 2 1⁄4 in"
    because: str  # the statement in a maker's words
    line: int  # of the recipe, from 1; 0 for what stands in another file


class PieceSums(NamedTuple):
    """The sums of one piece; `line` is where the recipe names it (0: in another file)."""

    piece: str
    line: int
    width: tuple[SumLine, ...]
    height: tuple[SumLine, ...]
