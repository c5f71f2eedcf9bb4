"""A card with its sizes still open: names resolved, expressions kept with the scope they are read in."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from cardrecipe.model.papers import Paper, Supply
from cardrecipe.syntax import tree
from cardrecipe.syntax.record import Record
from cardrecipe.syntax.spans import Span


class Scope:
    """What names mean in a text: its `let`s, and in a structure the values it was asked for.

    `base` is the piece that a structure is used for; `asked` maps the asked names to their value, or
    to None where the recipe left one open; `defaults` to the structure's own defaults. `scalars` are
    asked names that count something, so that no unit belongs to them. `number` tells the folds of one
    base apart, those within a structure included; `is_broken`: it was given what it does not ask for.
    """

    def __init__(
        self,
        lets: Mapping[str, Scoped],
        *,
        base: str | None = None,
        asked: Mapping[str, Scoped | None] | None = None,
        defaults: Mapping[str, Scoped] | None = None,
        scalars: frozenset[str] = frozenset(),
        number: int = 1,
        is_broken: bool = False,
    ) -> None:
        self.lets = lets
        self.base = base
        self.asked = asked if asked is not None else {}
        self.defaults = defaults if defaults is not None else {}
        self.scalars = scalars
        self.number = number
        self.is_broken = is_broken


class Scoped(Record):
    """An expression, the scope its names are read in, and the line it stands on."""

    expression: tree.Expression
    scope: Scope
    span: Span  # the whole statement, for messages

    @property
    def is_open(self) -> bool:
        return isinstance(self.expression, tree.Unknown)


class ScopedLine(NamedTuple):
    """A line of a piece's block and the scope of the text that it comes from."""

    statement: tree.Statement
    scope: Scope


class HostRef(Record):
    """Where a piece goes: a section of a piece, or the face of a piece (`section` None)."""

    piece: str
    section: str | None
    side: str  # "inside" | "outside"
    span: Span

    @property
    def name(self) -> str:
        return self.section or self.piece


class LineOn(Record):
    """A score or slit across a piece: at `at` from `edge`; `group` is the line of text it comes from."""

    word: str  # "score" | "cut"
    at: Scoped
    times: int  # `at` is taken so many times
    edge: str
    direction: str
    between: tuple[Scoped, Scoped] | None
    span: Span


class SlantedLine(Record):
    """A score or slit from point to point; coordinates from the left top of the flat piece."""

    word: str
    start: tuple[Scoped, Scoped]
    end: tuple[Scoped, Scoped]
    direction: str
    span: Span


class WindowOn(Record):
    width: Scoped
    height: Scoped
    x: Scoped
    y: Scoped
    span: Span


class RepeatOn(Record):
    number: int
    way: str  # "across" | "down"
    gap: Scoped | None
    span: Span


class WorkOn(Record):
    """A work line with its names resolved to titles; see `cardrecipe.model.work.Work`."""

    line: tree.WorkLine
    using: tuple[str, ...]
    middle: Scoped | None
    long: Scoped | None
    span: Span


class GlueOn(Record):
    line: tree.GlueLine
    adhesive: str | None
    thick: Scoped | None
    span: Span


class JoinOn(Record):
    """A section of the piece that is glued to a section, or to a piece without any."""

    section: str
    host: HostRef


class Piece(Record):
    """One piece as the recipe tells it. What it does not tell is None or empty.

    `broken`: some line of it could not be read, so that nothing may be concluded from what is absent.
    """

    name: str
    kind: str
    span: Span
    paper: str | None = None
    hosts: tuple[HostRef, ...] = ()
    under: str | None = None
    around: str | None = None
    downward: bool = False
    width: Scoped | None = None
    height: Scoped | None = None
    length: Scoped | None = None  # of a band
    overlap: Scoped | None = None
    band_at: tuple[Scoped, str] | None = None
    borders: Mapping[str, Scoped] = {}  # by edge
    places: Mapping[str, Scoped] = {}  # by edge
    lines: tuple[LineOn, ...] = ()
    slanted: tuple[SlantedLine, ...] = ()
    windows: tuple[WindowOn, ...] = ()
    corners: Scoped | None = None
    sections: tuple[str, ...] = ()
    sections_span: Span | None = None
    scopes: tuple[Scope, ...] = ()  # of the structures that it is folded by, each before those within it
    turned: Scoped | None = None
    repeat: RepeatOn | None = None
    overhangs: bool = False
    works: tuple[WorkOn, ...] = ()
    glue: GlueOn | None = None
    joins: tuple[JoinOn, ...] = ()
    loose: bool = False
    count: int = 1
    tips: tuple[str, ...] = ()
    tips_on: tuple[str, ...] = ()  # written as `tip on NAME`
    brings: tuple[ScopedLine, ...] = ()  # the panels and poses of the structures that it is folded by
    home: str | None = None  # the base that brings this piece along
    broken: bool = False
    sections_lost: bool = False  # the line that names its sections, or its fold, could not be read

    @property
    def has_plain_sections(self) -> bool:
        """True where only scores that run right across divide the piece: into columns and rows."""
        plain = all(line.word == "score" and line.between is None for line in self.lines)
        return plain and not self.slanted and not self.windows


class PoseOn(Record):
    name: str
    folds: tuple[tuple[str, int, Scoped], ...]
    span: Span


class StepOn(Record):
    place: str
    piece: str
    text: str
    span: Span


class Head(Record):
    """What stands under `recipe`. `nearest` and `border` are None where they are not written."""

    title: str
    unit: str
    nearest: Scoped | None
    border: Scoped | None
    makes: int
    envelope: str | None
    envelope_span: Span | None
    about: str
    span: Span


class Card(Record):
    """A card with unknowns: pieces in written order, each host named before it is stood on."""

    head: Head
    scope: Scope
    papers: Mapping[str, Paper]
    supplies: Mapping[str, Supply]
    pieces: tuple[Piece, ...]
    poses: tuple[PoseOn, ...]
    steps: tuple[StepOn, ...]
    variant: str | None
