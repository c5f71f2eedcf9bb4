"""An offset in a recipe → the statement it lies in, with those above it."""

from typing import NamedTuple

from cardrecipe.syntax import tree
from cardrecipe.syntax.record import Record
from cardrecipe.syntax.spans import Span


class Place(NamedTuple):
    """A statement and the ones that it is indented under, the nearest last."""

    statement: tree.Statement
    above: tuple[tree.Statement, ...]

    @property
    def piece(self) -> tree.PieceHeader | None:
        """The piece that the line belongs to, or begins."""
        for each in (self.statement, *reversed(self.above)):
            if isinstance(each.node, tree.PieceHeader):
                return each.node
        return None


def place_at(recipe: tree.Tree, offset: int) -> Place | None:
    """The line that holds `offset` (a text block counts as its line), or that ends there."""
    above: list[tree.Statement] = []
    statements = recipe.statements
    while True:
        before = [each for each in statements if each.span.start <= offset]
        if not before:
            return None
        if offset <= before[-1].span.end:
            return Place(before[-1], tuple(above))
        above.append(before[-1])
        statements = before[-1].block


def nodes_at(value: object, offset: int) -> list[Record]:
    """The nodes within a node that hold `offset`, outermost first."""
    found: list[Record] = []
    waiting: list[object] = [value]
    while waiting:
        each = waiting.pop()
        if isinstance(each, tuple) and not isinstance(each, Span):
            waiting += each
        elif isinstance(each, Record) and not isinstance(each, tree.Statement):
            span = getattr(each, "span", None)
            if span is None or span.start <= offset <= span.end:
                found.append(each)
                waiting += [getattr(each, name) for name in each._fields]
    return found
