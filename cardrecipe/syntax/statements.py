"""A tree to its statements in the order of the text, with the comments between them.

For whoever works on a recipe's form: a file may be indented as deeply as it is long, so nothing here
is recursive over blocks.
"""

from collections.abc import Iterator
from typing import Any, NamedTuple

from cardrecipe.syntax import tree
from cardrecipe.syntax.record import Record
from cardrecipe.syntax.source import Source

# What may be taken from the ends of a line: a sign that no recipe may hold is no space, and stays to be told.
_SPACES = (
    " \t\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000"
)


class Placed(NamedTuple):
    """A statement and how many blocks it stands in."""

    depth: int
    statement: tree.Statement


def in_order(statements: tuple[tree.Statement, ...]) -> Iterator[Placed]:
    """Every statement, each before those of its block."""
    waiting = [(0, each) for each in reversed(statements)]
    while waiting:
        depth, statement = waiting.pop()
        yield Placed(depth, statement)
        waiting += [(depth + 1, each) for each in reversed(statement.block)]


class Gap(NamedTuple):
    """What stands between two statements: the rest of the first one's line, and the lines up to the next."""

    rest: str
    lines: list[str]
    indent: str  # before the second statement


def gaps(source: Source, statements: list[Placed]) -> list[Gap]:
    """The gaps before, between and after the statements; nothing but spaces and comments is in them."""
    ends = [0, *(each.statement.span.end for each in statements)]
    starts = [*(each.statement.span.start for each in statements), len(source.text)]
    found = []
    for at, (end, start) in enumerate(zip(ends, starts, strict=True)):
        rest, *lines = source.text[end:start].split("\n")
        if at == 0:
            rest, lines = "", [rest, *lines]
        indent = lines.pop() if lines and at < len(statements) else ""
        found.append(Gap(bare(rest), lines, indent))
    return found


def bare(line: str) -> str:
    """A line of a gap without its end and the spaces around it."""
    return line.rstrip("\r").strip(_SPACES)


def comments(source: Source, found: tree.Tree) -> list[str]:
    """Every comment, in order, without the spaces around it."""
    between = gaps(source, list(in_order(found.statements)))
    said = [bare(line) for gap in between for line in (gap.rest, *gap.lines)]
    return [line for line in said if line]


def meaning(found: tree.Tree) -> list[tuple[int, str, Any]]:
    """What a tree says, without the places of its words: equal for two texts of one meaning."""
    return [(depth, each.word, without_places(each.node)) for depth, each in in_order(found.statements)]


def without_places(value: Any) -> Any:
    """A node as nested tuples without its spans."""
    if isinstance(value, Record):
        inner = (without_places(getattr(value, name)) for name in value._fields if name != "span")
        return (type(value), *inner)
    if isinstance(value, tuple):
        return tuple(map(without_places, value))
    return value
