"""A card whose every size is known: the value that folding, planning and drawing work from.

Lengths are exact Fractions in the recipe's unit. x runs left to right and y top to bottom, as the
flat piece lies on the table inside up.
"""

from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.papers import Paper, Supply
from cardrecipe.model.work import Glue, Work
from cardrecipe.syntax.spans import Span

Point = tuple[Fraction, Fraction]


class Edges(NamedTuple):
    """Four lengths, one for each edge of a rectangle."""

    left: Fraction
    right: Fraction
    top: Fraction
    bottom: Fraction

    @property
    def all_equal(self) -> bool:
        return self.left == self.right == self.top == self.bottom


class SizedScore(NamedTuple):
    """A score or a slit. `number` counts left to right, then top to bottom, from 1 (scores only).

    `at` is measured from the left end (`axis` "x": the line runs top to bottom) or from the top
    (`axis` "y": it runs left to right); `written_from` is the edge the recipe measured from.
    """

    number: int
    axis: str
    at: Fraction
    written_from: str
    direction: str  # "valley" | "mountain"; "slit" for a cut
    start: Point
    end: Point
    span: Span


class SizedSection(NamedTuple):
    """A part of a piece between its scores; `outline` is a ring of points on the flat piece."""

    name: str
    x: Fraction
    y: Fraction
    width: Fraction
    height: Fraction
    outline: tuple[Point, ...]


class Placement(NamedTuple):
    """One copy of a piece on its host.

    `host` is a section's or a piece's name, `host_piece` the piece it belongs to, `host_copy` which
    copy of that piece (0, 1, …). `x`, `y` are the copy's left and top inside the host **as one looks
    at that face**; for a piece with several `repeat`s there is one Placement for each.
    On a band they are measured on the whole strip, whose middle lies in the middle of the front.
    `border` is what shows of the host on each edge (negative where the piece overhangs).
    """

    host: str
    host_piece: str
    host_copy: int
    side: str  # "inside" | "outside"; for a host that is itself glued on, always "inside" (its face)
    x: Fraction
    y: Fraction
    border: Edges
    is_section: bool


class Around(NamedTuple):
    """What a band goes round: the closed `base`; `at` is its distance from the top (or, wrapped
    downward, from the left) of the closed card; `wrap` is the girth, `overlap` the rest."""

    base: str
    downward: bool
    at: Fraction
    wrap: Fraction
    overlap: Fraction


class Join(NamedTuple):
    """A section of a piece that is glued to what lies under it as the piece lies flat on the open sheet.

    `host` is a section of `host_piece`, or that piece's own name where it has no sections. On a base,
    where nothing lies flat on anything else, the two are glued where folding brings them together.
    """

    section: str
    host_piece: str
    host: str
    span: Span


class SizedPiece(NamedTuple):
    """A piece with its cut size; `count` is how many one card needs (each `Placement` is one)."""

    name: str
    kind: str  # base, panel, band, circle, oval, square, rectangle, banner, tag, cutout
    paper: str | None
    width: Fraction
    height: Fraction
    count: int  # type: ignore[assignment]  # a tuple has a method of that name
    span: Span
    placements: tuple[Placement, ...] = ()
    under: str | None = None  # the piece that this one lies beneath (`panel mat under message`)
    around: Around | None = None
    scores: tuple[SizedScore, ...] = ()
    sections: tuple[SizedSection, ...] = ()
    corner_radius: Fraction | None = None
    turned: Fraction = Fraction(0)  # degrees, clockwise as one looks at it
    works: tuple[Work, ...] = ()
    glue: Glue | None = None
    loose: bool = False
    overhangs: bool = False
    tips: tuple[str, ...] = ()  # written inside the piece: for working on it
    exact_width: Fraction | None = None  # before rounding to the grid, where that changed it
    exact_height: Fraction | None = None
    windows: tuple[tuple[Point, ...], ...] = ()  # openings, as rings on the flat piece
    tips_on: tuple[str, ...] = ()  # written as `tip on NAME`: for putting it in its place
    joins: tuple[Join, ...] = ()  # the sections by which it is glued; () where it is glued as a whole
    outline: tuple[Point, ...] | None = None  # a ring from its left top where it is no rectangle

    @property
    def glue_span(self) -> Span:
        """The line that says how the piece is glued, else its name."""
        return self.glue.span if self.glue else self.span


class Pose(NamedTuple):
    """A named way to hold the card: (base or scored panel, score number, degrees), 180 = fully folded."""

    name: str
    folds: tuple[tuple[str, int, Fraction], ...]
    span: Span
    spans: tuple[Span, ...] = ()  # the line of each fold


class ExtraStep(NamedTuple):
    """`step after NAME "…"` or `step before NAME "…"`; `place` is "after" or "before"."""

    place: str
    piece: str
    text: str
    span: Span


class SizedCard(NamedTuple):
    """A whole card, or a set of loose pieces when `bases` is empty. Pieces stand in written order."""

    title: str
    about: str  # Markdown, "" when there is none
    unit: str  # "inch" | "mm"
    nearest: Fraction  # the grid of the maker's ruler, in `unit`
    border: Fraction | None  # the recipe's default border
    makes: int
    envelope: str | None
    variant: str | None
    papers: dict[str, Paper]
    supplies: dict[str, Supply]
    pieces: tuple[SizedPiece, ...]
    poses: tuple[Pose, ...] = ()
    extra_steps: tuple[ExtraStep, ...] = ()
    metric_differs: Fraction | None = None  # largest difference to the other unit's version, in mm
    envelope_span: Span | None = None  # the `envelope` line, for what is said about it

    @property
    def bases(self) -> tuple[SizedPiece, ...]:
        return tuple(piece for piece in self.pieces if piece.kind == "base")

    def piece(self, name: str) -> SizedPiece:
        """The piece called `name`; KeyError when there is none."""
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise KeyError(name)
