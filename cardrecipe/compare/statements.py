"""The statements that made a card, each under its owner, so that those of two texts can be told apart by what
they say and not by how they are written or where they stand."""

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import NamedTuple, TypeVar

from cardrecipe.compare.changes import Cause
from cardrecipe.compare.version import Version
from cardrecipe.model.values import Var
from cardrecipe.solve.equations import Said
from cardrecipe.solve.explain import derivations
from cardrecipe.syntax import tree
from cardrecipe.syntax.record import Record
from cardrecipe.syntax.spans import Span

_Kind = TypeVar("_Kind")


class Line(NamedTuple):
    """A statement with its owner: `plate` for the line of a piece and those of its block, `paper ink`,
    `let reveal`, `recipe`. `says` is what it says, without its place."""

    owner: str
    statement: tree.Statement
    says: object

    @property
    def word(self) -> str:
        return "set" if isinstance(self.statement.node, tree.Set) else self.statement.word

    @property
    def key(self) -> tuple[str, object]:
        return self.owner, self.says


class Statements:
    """All the lines of one side, found by what they say, by their place and by their owner."""

    def __init__(self, version: Version) -> None:
        self.version = version
        self.lines = lines_of(version.statements)
        self.keys = frozenset(line.key for line in self.lines)

    @cached_property
    def derivations(self) -> dict[Var, tuple[Said, ...]]:
        """What settles each size."""
        return derivations(self.version.solution)

    @cached_property
    def _by_span(self) -> dict[Span, Line]:
        return {line.statement.span: line for line in reversed(self.lines)}

    @cached_property
    def lets(self) -> dict[str, Line]:
        """The `let` lines by name; the recipe's own win over those of used files, and stand last."""
        return {line.statement.node.name.text: line for line in self.lines
                if isinstance(line.statement.node, tree.Let)}  # fmt: skip

    def at(self, span: Span) -> Line | None:
        """The line that is at, or holds, a place in the text."""
        found = self._by_span.get(span)
        if found is not None:
            return found
        around = [line for line in self.lines if _holds(line.statement.span, span)]
        return min(around, key=lambda line: line.statement.span.end - line.statement.span.start, default=None)

    def of(self, owner: str) -> tuple[Line, ...]:
        """The line of a piece (or a paper, …) and those of its block."""
        return tuple(line for line in self.lines if line.owner == owner)

    def named_in(self, line: Line) -> Iterator[Line]:
        """The `let` lines whose names a line uses, and those that they use."""
        waiting, seen = [line], set()
        while waiting:
            for name in _names(waiting.pop().statement.node):
                if name in self.lets and name not in seen:
                    seen.add(name)
                    waiting.append(self.lets[name])
                    yield self.lets[name]

    @cached_property
    def supplies(self) -> dict[str, Line]:
        """The `supply` lines by name, as the `let` lines."""
        return {line.statement.node.name.text: line for line in self.lines
                if isinstance(line.statement.node, tree.SupplyLine)}  # fmt: skip

    def supplies_in(self, line: Line) -> Iterator[Line]:
        """The `supply` lines of what a line works or glues with."""
        node = line.statement.node
        words = node.using if isinstance(node, tree.WorkLine) else ()
        if isinstance(node, tree.GlueLine) and node.adhesive is not None:
            words = (node.adhesive,)
        yield from (self.supplies[word.text] for word in words if word.text in self.supplies)

    def causes(self, line: Line, side: str) -> Iterator[Cause]:
        """The places of a line: where it stands, or the places of what a variant put into it."""
        own = line.statement.span
        put = [span for span in _spans(line.statement.node) if not _holds(own, span)]
        for span in put if put and line.word == "fold" else [own]:
            source = self.version.sources[span.file]
            text = source.line_text(source.line_of(span)) if span in put else source.words_at(own)
            yield Cause(side, span.file, source.line_of(span), text.partition("\n")[0].strip())


def lines_of(statements: Sequence[tree.Statement]) -> tuple[Line, ...]:
    """Statements and those of their blocks."""
    return tuple(_lines(statements))


def bare(value: object) -> object:
    """A node without the places of its words."""
    if isinstance(value, Record):
        fields = (getattr(value, name) for name in value._fields if name != "span")
        return type(value).__name__, *(bare(field) for field in fields)
    return tuple(map(bare, value)) if isinstance(value, tuple) else value


def _lines(statements: Sequence[tree.Statement]) -> Iterator[Line]:
    """In order of place; blocks may lie in each other more deeply than calls may."""
    waiting = [("", statement) for statement in reversed(statements)]
    while waiting:
        owner, statement = waiting.pop()
        own = owner or _owner(statement)
        yield Line(own, statement, bare(statement.node))
        waiting += [(own, each) for each in reversed(statement.block)]


def _owner(statement: tree.Statement) -> str:
    """Whom a line of the top level, and its block, belongs to."""
    node = statement.node
    if isinstance(node, tree.PieceHeader):
        return node.name.text
    if isinstance(node, tree.Tip):
        return node.on.text if node.on is not None else ""
    if isinstance(node, tree.StepLine):
        return node.piece.text
    if isinstance(node, tree.Drop):
        return node.name.text
    name = getattr(node, "name", None)
    return f"{statement.word} {name.text}" if isinstance(name, tree.Word) else statement.word


def _names(value: object) -> Iterator[str]:
    """The names without dots in the expressions of a line."""
    for reference in _within(value, tree.Reference):
        yield from reference.parts if len(reference.parts) == 1 else ()


def _spans(value: object) -> Iterator[Span]:
    return _within(value, Span)


def _within(value: object, kind: type[_Kind]) -> Iterator[_Kind]:
    """What is of a kind in the fields of a line, and in theirs."""
    if isinstance(value, kind):
        yield value
    elif isinstance(value, Record):
        for field in value._fields:
            yield from _within(getattr(value, field), kind)
    elif isinstance(value, tuple):
        for each in value:
            yield from _within(each, kind)


def _holds(outer: Span, inner: Span) -> bool:
    return outer.file == inner.file and outer.start <= inner.start and inner.end <= outer.end
