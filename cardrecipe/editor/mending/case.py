"""A mistake with all that its repair may look at, and the few edits that repairs are made of."""

from collections.abc import Callable, Iterator
from functools import cached_property
from typing import NamedTuple

from cardrecipe.editor.snapshot import Edit, Snapshot
from cardrecipe.model.card import Card, Piece
from cardrecipe.model.texts import text_at
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.record import Record
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span


class Repair(NamedTuple):
    """What could be typed instead. `is_preferred`: the one that is most likely meant.

    Of the repairs that are `among` one kind and differ by degree, the first that helps is enough.
    """

    title: str
    edits: tuple[Edit, ...]
    is_preferred: bool = False
    among: str = ""


class Case:
    """One diagnostic of a snapshot, with the text that it stands in and the lines around it."""

    def __init__(self, snapshot: Snapshot, diagnostic: Diagnostic) -> None:
        self.snapshot = snapshot
        self.diagnostic = diagnostic
        self.span = diagnostic.span

    @cached_property
    def source(self) -> Source:
        """The text that the diagnostic stands in: the recipe's own, or that of a used file."""
        return self._read[0]

    @cached_property
    def parsed(self) -> tree.Tree:
        return self._read[1]

    @cached_property
    def _read(self) -> tuple[Source, tree.Tree]:
        own = self.snapshot.source
        if self.span.file == own.name:
            return own, self.snapshot.tree
        source = Source(self.span.file, text_at(self.snapshot.texts, self.span.file) or "")
        return source, parse(source)[0]

    @property
    def words(self) -> str:
        """What the diagnostic points at."""
        return self.source.words_at(self.span)

    @cached_property
    def trail(self) -> tuple[tree.Statement, ...]:
        """The line that the diagnostic points into, last, after the lines that it is indented under."""
        return self.trail_to(self.span)

    def trail_to(self, span: Span) -> tuple[tree.Statement, ...]:
        """The statement that begins at or contains `span`, after those it stands under; () for none."""
        found: list[tree.Statement] = []
        level = self.parsed.statements
        while before := [each for each in level if each.span.start <= span.start]:
            found.append(before[-1])
            if span.start < before[-1].span.end:
                break
            level = before[-1].block
        return tuple(found) if found and span.start <= found[-1].span.end else ()

    @property
    def line(self) -> tree.Statement | None:
        return self.trail[-1] if self.trail else None

    @property
    def head(self) -> tree.Statement | None:
        """The line at the left edge that the diagnostic's line belongs to."""
        return self.trail[0] if self.trail else None

    # ---- what is known of the card ---------------------------------------------------------------

    @property
    def solution(self) -> Solution | None:
        """The sizes of the plain card, as far as they are settled."""
        return self.snapshot.compiled.solution if self.snapshot.compiled else None

    @property
    def card(self) -> Card | None:
        return self.solution.card if self.solution else None

    @property
    def pieces(self) -> tuple[Piece, ...]:
        return self.card.pieces if self.card else ()

    @property
    def unit(self) -> str:
        return self.card.head.unit if self.card else "inch"

    def piece_called(self, name: str) -> Piece | None:
        return next((each for each in self.pieces if each.name == name), None)

    # ---- edits -----------------------------------------------------------------------------------

    @property
    def newline(self) -> str:
        return "\r\n" if "\r\n" in self.source.text else "\n"

    def indent_of(self, statement: tree.Statement) -> int:
        return self.source.line_and_column(statement.span.start)[1] - 1

    def replaced(self, span: Span, text: str) -> Edit:
        return Edit(span, text)

    def put(self, offset: int, text: str) -> Edit:
        return Edit(Span(self.span.file, offset, offset), text)

    def without(self, statement: tree.Statement, is_preferred: bool = False) -> Repair:
        """The repair that takes a line out, and says which."""
        return Repair(f"Take out `{self.text_of(statement)}`", (self.taken_out(statement),), is_preferred)

    def taken_out(self, statement: tree.Statement) -> Edit:
        """A line and the block under it gone, with one of the blank lines round them."""
        text = self.source.text
        start = text.rfind("\n", 0, statement.span.start) + 1
        end = self._line_end(_last(statement).span.end)
        if end == len(text) and start > 0 and not text.endswith("\n"):
            start -= len(self.newline)
        is_apart = text[:start].endswith(2 * self.newline) or start == 0
        if is_apart and text.startswith(self.newline, end):
            end += len(self.newline)
        return Edit(Span(self.span.file, start, end), "")

    def put_under(self, statement: tree.Statement, line: str) -> Edit:
        """`line` as the last of the block of `statement`, indented as the others there are."""
        indent = self.indent_of(statement.block[0]) if statement.block else self.indent_of(statement) + 2
        return self._put_line(_last(statement), " " * indent + line)

    def put_first_under(self, statement: tree.Statement, line: str) -> Edit:
        """`line` as the first of the block of `statement`."""
        indent = self.indent_of(statement.block[0]) if statement.block else self.indent_of(statement) + 2
        return self._put_line(statement, " " * indent + line)

    def put_after(self, statement: tree.Statement, line: str) -> Edit:
        """`line` after a statement and its block, as far to the right as that is."""
        return self._put_line(_last(statement), " " * self.indent_of(statement) + line)

    def _put_line(self, after: tree.Statement, line: str) -> Edit:
        end = self._line_end(after.span.end)
        if not self.source.text[:end].endswith("\n"):
            return self.put(end, self.newline + line)
        return self.put(end, line + self.newline)

    def _line_end(self, offset: int) -> int:
        """Where the next line begins."""
        end = self.source.text.find("\n", offset)
        return len(self.source.text) if end < 0 else end + 1

    def text_of(self, statement: tree.Statement) -> str:
        return self.source.words_at(statement.span)


Proposer = Callable[[Case], Iterator[Repair]]


def _last(statement: tree.Statement) -> tree.Statement:
    """The last line of a statement's block, or the statement itself."""
    while statement.block:
        statement = statement.block[-1]
    return statement


def records_in(value: object) -> Iterator[Record]:
    """Every node in a node, itself first."""
    if isinstance(value, Record):
        yield value
        for name in value._fields:
            yield from records_in(getattr(value, name))
    elif isinstance(value, tuple):
        for each in value:
            yield from records_in(each)


EXPRESSIONS = (tree.Number, tree.Reference, tree.Sum, tree.Product, tree.Negative, tree.Call, tree.Unknown)


def expressions_in(node: tree.Node) -> list[tree.Expression]:
    """Every expression of a line, the larger ones before those in them."""
    found = [each for each in records_in(node) if isinstance(each, EXPRESSIONS)]
    return sorted(found, key=lambda each: each.span.start - each.span.end)


def expression_around(node: tree.Node, span: Span) -> tree.Expression | None:
    """The largest expression of a line that `span` lies in."""
    return next((each for each in expressions_in(node)
                 if each.span.start <= span.start and span.end <= each.span.end), None)  # fmt: skip


def lines_of(statement: tree.Statement, *kinds: type[Record]) -> list[tree.Statement]:
    """The lines under a statement whose node is of one of these kinds."""
    return [each for each in statement.block if isinstance(each.node, kinds)]
