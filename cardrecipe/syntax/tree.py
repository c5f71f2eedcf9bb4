"""The recipe as written: one node for each kind of line, each with the place of its words.

The tree knows no meanings: a name is a name, a size an expression. A `Statement` is a line with the
block indented under it; its `node` says which kind of line it is.
"""

from __future__ import annotations

from fractions import Fraction

from cardrecipe.syntax.record import Record
from cardrecipe.syntax.spans import Span

# ---- expressions ---------------------------------------------------------------------------------


class Number(Record):
    """A number as written; `unit` is in, mm, cm or None."""

    span: Span
    value: Fraction
    unit: str | None = None


class Reference(Record):
    """`back.width`: the words between the dots."""

    span: Span
    parts: tuple[str, ...]

    @property
    def text(self) -> str:
        return ".".join(self.parts)


class Sum(Record):
    """`left + right` or `left - right`."""

    span: Span
    operator: str
    left: Expression
    right: Expression


class Product(Record):
    """`left * right` or `left / right`."""

    span: Span
    operator: str
    left: Expression
    right: Expression


class Negative(Record):
    span: Span
    operand: Expression


class Call(Record):
    """`min(a, b)` or `max(a, b)`."""

    span: Span
    function: str
    arguments: tuple[Expression, ...]


class Unknown(Record):
    """`?`: work it out."""

    span: Span


Expression = Number | Reference | Sum | Product | Negative | Call | Unknown


class Word(Record):
    """A name or a keyword that has a place of its own."""

    span: Span
    text: str


class Text(Record):
    """A quoted text, without its quotes; a block with its common indentation taken off."""

    span: Span
    text: str


class Point(Record):
    span: Span
    x: Expression
    y: Expression


class SizeOf(Record):
    """`width x height`."""

    span: Span
    width: Expression
    height: Expression


# ---- the head ------------------------------------------------------------------------------------


class Recipe(Record):
    title: Text


class Units(Record):
    unit: Word
    nearest: Expression | None


class BorderEntry(Record):
    """One length of a `border` line; no edges means all four."""

    span: Span
    value: Expression
    edges: tuple[str, ...]


class Border(Record):
    entries: tuple[BorderEntry, ...]


class Amount(Record):
    """`makes 1`, `count 3`, `spare 2`: a word and a whole number."""

    word: str
    number: Number


class EnvelopeWanted(Record):
    name: Word


class About(Record):
    text: Text


class Use(Record):
    path: Text


class Let(Record):
    name: Word
    value: Expression


# ---- papers and supplies -------------------------------------------------------------------------


class WeightFact(Record):
    span: Span
    number: Number
    unit: str
    basis: Word | None


class PaperFacts(Record):
    """`cardstock "White" 8 1/2 x 11, 270 gsm`: what follows `is` or `with`."""

    span: Span
    kind: Word
    title: Text
    sizes: tuple[SizeOf, ...] = ()
    weight: WeightFact | None = None
    thick: Expression | None = None
    grain: Word | None = None
    one_way: bool = False
    color: Text | None = None
    prices: tuple[Number, ...] = ()
    pack: Number | None = None


class PaperLine(Record):
    name: Word
    facts: PaperFacts


class SupplyLine(Record):
    name: Word
    kind: Word
    title: Text


# ---- pieces --------------------------------------------------------------------------------------


class Host(Record):
    """`left-door outside`; `side` is None when it is not written."""

    name: Reference
    side: str | None


class PieceHeader(Record):
    """The first line of a piece. `kind` is base, panel, band or a shape; absent parts are None."""

    kind: str
    name: Word
    paper: Word | None = None
    hosts: tuple[Host, ...] = ()
    under: Reference | None = None
    around: Reference | None = None
    downward: bool = False


class Flat(Record):
    size: SizeOf


class LineAcross(Record):
    """`score 1, 3 from left …` or `cut …`: lines across the piece.

    `edges` is what it is measured from: one edge, or a pair for both. What is not written is None.
    `score every L, N times from EDGE` has `times`. `direction` may be "by turns".
    """

    word: str  # "score" | "cut"
    at: tuple[Expression, ...]
    edges: tuple[str, ...]
    direction: str | None
    between: tuple[Expression, Expression] | None
    times: Expression | None = None


class LineSlanted(Record):
    word: str
    start: Point
    end: Point
    direction: str | None
    between: tuple[Expression, Expression] | None


class Window(Record):
    size: SizeOf
    at: Point


class Corners(Record):
    radius: Expression


class Sections(Record):
    names: tuple[Word, ...]


class Argument(Record):
    name: Word
    value: Expression


class Fold(Record):
    structure: Word
    arguments: tuple[Argument, ...]


class SizeLine(Record):
    size: SizeOf


class Measure(Record):
    """`width 1 1/2`, `length …`, `overlap …`, `diameter …`, `turned 45`: a word and one value."""

    word: str
    value: Expression


class FromEdge(Record):
    """`1/4 from left`."""

    span: Span
    value: Expression
    edge: str


class Place(Record):
    entries: tuple[FromEdge, ...]


class At(Record):
    where: FromEdge


class Repeat(Record):
    number: Number
    way: str
    gap: Expression | None


class Flag(Record):
    """`overhangs` or `loose`."""

    word: str


class WorkLine(Record):
    """One operation on a piece; see `cardrecipe.model.work.Work` for the verbs."""

    verb: str
    text: Text | None = None
    using: tuple[Word, ...] = ()
    middle: Expression | None = None
    item: Word | None = None
    long: Expression | None = None


class Glued(Record):
    """`left-tab on front` of a glue line."""

    section: Word
    host: Reference


class GlueLine(Record):
    adhesive: Word | None = None
    thick: Expression | None = None
    only_on: Reference | None = None
    all_over: bool = False
    along: tuple[str, ...] = ()
    sections: tuple[Glued, ...] = ()


# ---- notes, poses, structures, variants, classes -------------------------------------------------


class Tip(Record):
    on: Reference | None
    text: Text


class StepLine(Record):
    place: str
    piece: Reference
    text: Text


class PoseLine(Record):
    name: Word


class FoldPose(Record):
    number: Number
    base: Word | None
    degrees: Expression


class Structure(Record):
    name: Word


class Asked(Record):
    name: Word
    default: Expression | None


class Ask(Record):
    parameters: tuple[Asked, ...]


class Variant(Record):
    title: Text


class Replace(Record):
    paper: Word
    facts: PaperFacts


class Set(Record):
    target: Reference
    value: Expression


class Drop(Record):
    name: Reference


class ClassHead(Record):
    title: Text


class Make(Record):
    number: Number
    path: Text
    variant: Text | None
    spare: Number | None = None


class Have(Record):
    """`have ink 3 sheets 6 x 11` of a paper, by its name or its title; `have coal` of a supply."""

    name: Word | Text
    number: Number | None = None
    size: SizeOf | None = None


class Broken(Record):
    """A line that could not be read; a diagnostic tells why. `words` are the names it may have meant."""

    words: frozenset[str]


Node = (
    Recipe | Units | Border | Amount | EnvelopeWanted | About | Use | Let | PaperLine | SupplyLine
    | PieceHeader | Flat | LineAcross | LineSlanted | Window | Corners | Sections | Fold | SizeLine
    | Measure | Place | At | Repeat | Flag | WorkLine | GlueLine | Tip | StepLine | PoseLine
    | FoldPose | Structure | Ask | Variant | Replace | Set | Drop | ClassHead | Make | Have | Broken
)  # fmt: skip


class Statement(Record):
    """A line with the block under it. `word` is its first word, `span` the line without its comment."""

    span: Span
    word: str
    node: Node
    block: tuple[Statement, ...] = ()


class Tree(Record):
    """A whole file."""

    file: str
    statements: tuple[Statement, ...]
