"""One side of a comparison: a sheet with all that its sizes came from."""

from collections.abc import Mapping
from typing import NamedTuple

from cardrecipe.plan.sheet import Sheet
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.tree import Statement


class Version(NamedTuple):
    """A card of one of the two sides. `file` is the recipe's file as its user calls it."""

    file: str
    sheet: Sheet
    solution: Solution
    sources: Mapping[str, Source]  # the recipe's own first
    statements: tuple[Statement, ...]  # those that made the card: its variant's changes made, used files too
    variants: Mapping[str, Statement] = {}  # every variant of the recipe, as it is written
