"""Parser's matches to tree nodes: one method for each rule of the grammar, named alike."""

from fractions import Fraction
from typing import Any

from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, error
from cardrecipe.syntax.read_line import Token
from cardrecipe.syntax.spans import Span

MAX_DIGITS = 12  # no ruler needs more, and powers of long numbers make numbers without end
MAX_OPERATORS = 200  # every walk over an expression is recursive; a maker's sum has five

_VULGAR = {
    "½": (1, 2), "⅓": (1, 3), "⅔": (2, 3), "¼": (1, 4), "¾": (3, 4), "⅕": (1, 5), "⅖": (2, 5),
    "⅗": (3, 5), "⅘": (4, 5), "⅙": (1, 6), "⅚": (5, 6), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8),
    "⅞": (7, 8),
}  # fmt: skip


class LineProblem(Exception):
    """A line that parses but says something that no line may say; holds its diagnostic."""

    def __init__(self, diagnostic: Diagnostic) -> None:
        self.diagnostic = diagnostic


class NodeBuilder:
    """Builds the node of one line, which begins at `offset` of `file`."""

    def __init__(self, file: str, offset: int) -> None:
        self._file = file
        self._offset = offset
        self._operators = 0

    # ---- words, numbers, texts -------------------------------------------------------------------

    def _span(self, token: Token) -> Span:
        start = self._offset + token.start_pos
        return Span(self._file, start, start + len(token))

    def _word(self, token: Token) -> tree.Word:
        return tree.Word(self._span(token), str(token))

    def _number(self, token: Token) -> tree.Number:
        span = self._span(token)
        return tree.Number(span, _value(str(token), span))

    def _text(self, token: Token) -> tree.Text:
        return tree.Text(self._span(token), text_in(str(token)))

    def start(self, c: list[Any]) -> tree.Node:
        node: tree.Node = c[0]
        return node

    def text(self, c: list[Any]) -> tree.Text:
        return self._text(c[0])

    def edge(self, c: list[Any]) -> str:
        return str(c[0])

    def names(self, c: list[Any]) -> tuple[tree.Word, ...]:
        return tuple(map(self._word, c))

    def dotted(self, c: list[Any]) -> tree.Reference:
        last = self._span(c[-1])
        span = Span(self._file, self._span(c[0]).start, last.end)
        return tree.Reference(span, tuple(map(str, c)))

    target = dotted

    # ---- expressions -----------------------------------------------------------------------------

    def _count_operator(self, span: Span) -> None:
        self._operators += 1
        if self._operators > MAX_OPERATORS:
            raise LineProblem(error("sum-too-long", span, f"this line has more than {MAX_OPERATORS} "
                                    "operations", "name parts of it with `let`"))  # fmt: skip

    def _binary(self, kind: Any, operator: str, c: list[Any]) -> Any:
        span = _across(c[0].span, c[1].span)
        self._count_operator(span)
        return kind(span, operator, c[0], c[1])

    def plus(self, c: list[Any]) -> Any:
        return self._binary(tree.Sum, "+", c)

    def minus(self, c: list[Any]) -> Any:
        return self._binary(tree.Sum, "-", c)

    def times(self, c: list[Any]) -> Any:
        return self._binary(tree.Product, "*", c)

    def over(self, c: list[Any]) -> Any:
        return self._binary(tree.Product, "/", c)

    def negative(self, c: list[Any]) -> tree.Negative:
        self._count_operator(c[0].span)
        return tree.Negative(c[0].span, c[0])

    def call(self, c: list[Any]) -> tree.Call:
        span = _across(self._span(c[0]), c[-1].span)
        self._count_operator(span)
        return tree.Call(span, str(c[0]), tuple(c[1:]))

    def number(self, c: list[Any]) -> tree.Number:
        number = self._number(c[0])
        if c[1] is None:
            return number
        return tree.Number(_across(number.span, self._span(c[1])), number.value, str(c[1]))

    def reference(self, c: list[Any]) -> tree.Reference:
        reference: tree.Reference = c[0]
        return reference

    def unknown(self, c: list[Any]) -> tree.Unknown:
        return tree.Unknown(self._span(c[0]))

    # ---- the head --------------------------------------------------------------------------------

    def recipe(self, c: list[Any]) -> tree.Recipe:
        return tree.Recipe(c[0])

    def units(self, c: list[Any]) -> tree.Units:
        return tree.Units(self._word(c[0]), c[1])

    def border(self, c: list[Any]) -> tree.Border:
        return tree.Border(tuple(c))

    def border_entry(self, c: list[Any]) -> tree.BorderEntry:
        return tree.BorderEntry(c[0].span, c[0], tuple(c[1:]))

    def makes(self, c: list[Any]) -> tree.Amount:
        return tree.Amount("makes", self._number(c[0]))

    def count(self, c: list[Any]) -> tree.Amount:
        return tree.Amount("count", self._number(c[0]))

    def envelope(self, c: list[Any]) -> tree.EnvelopeWanted:
        return tree.EnvelopeWanted(self._word(c[0]))

    def about(self, c: list[Any]) -> tree.About:
        return tree.About(c[0])

    def use(self, c: list[Any]) -> tree.Use:
        return tree.Use(self._text(c[0]))

    def let(self, c: list[Any]) -> tree.Let:
        return tree.Let(self._word(c[0]), c[1])

    # ---- papers and supplies ---------------------------------------------------------------------

    def paper(self, c: list[Any]) -> tree.PaperLine:
        return tree.PaperLine(self._word(c[0]), c[1])

    def supply(self, c: list[Any]) -> tree.SupplyLine:
        return tree.SupplyLine(self._word(c[0]), self._word(c[1]), self._text(c[2]))

    def paper_facts(self, c: list[Any]) -> tree.PaperFacts:
        kind, title = self._word(c[0]), self._text(c[1])
        facts: dict[str, Any] = {}
        for fact in c[2:]:
            if fact is None:
                continue
            name, value, span = fact
            if name in facts:
                raise LineProblem(error("said-twice", span or title.span,
                                        f"this paper's {_FACT_NAMES[name]} is said twice",
                                        "keep one of the two"))  # fmt: skip
            facts[name] = value
        return tree.PaperFacts(_across(kind.span, title.span), kind, title, **facts)

    def sheet_size(self, c: list[Any]) -> tree.SizeOf:
        return self.size([c[0], c[2]])

    def sheet_sizes(self, c: list[Any]) -> Any:
        return ("sizes", tuple(c), c[0].span)

    def weight(self, c: list[Any]) -> Any:
        number, unit = self._number(c[0]), str(c[1])
        span = _across(number.span, self._span(c[2] if c[2] is not None else c[1]))
        basis = self._word(c[2]) if c[2] is not None else None
        return ("weight", tree.WeightFact(span, number, unit, basis), span)

    def thick(self, c: list[Any]) -> Any:
        return ("thick", c[0], c[0].span)

    def grain(self, c: list[Any]) -> Any:
        return ("grain", self._word(c[0]), self._span(c[0]))

    def one_way(self, c: list[Any]) -> Any:
        return ("one_way", True, None)

    def color_fact(self, c: list[Any]) -> Any:
        return ("color", self._text(c[0]), self._span(c[0]))

    def price(self, c: list[Any]) -> Any:
        return ("prices", tuple(map(self._number, c)), self._span(c[0]))

    def pack(self, c: list[Any]) -> Any:
        return ("pack", self._number(c[0]), self._span(c[0]))

    # ---- pieces ----------------------------------------------------------------------------------

    def base(self, c: list[Any]) -> tree.PieceHeader:
        return tree.PieceHeader("base", self._word(c[0]), c[1])

    def panel(self, c: list[Any]) -> tree.PieceHeader:
        return self._piece("panel", c)

    def shape(self, c: list[Any]) -> tree.PieceHeader:
        return self._piece(str(c[0]), c[1:])

    def _piece(self, kind: str, c: list[Any]) -> tree.PieceHeader:
        found: dict[str, Any] = {}
        for part in c[1:]:
            if isinstance(part, tree.Word):
                found["paper"] = part
            elif isinstance(part, tree.Reference):
                found["under"] = part
            else:
                found["hosts"] = part
        return tree.PieceHeader(kind, self._word(c[0]), **found)

    def band(self, c: list[Any]) -> tree.PieceHeader:
        found: dict[str, Any] = {}
        for part in c[1:]:
            if isinstance(part, tree.Word):
                found["paper"] = part
            else:
                found["around"], found["downward"] = part
        return tree.PieceHeader("band", self._word(c[0]), **found)

    def from_(self, c: list[Any]) -> tree.Word:
        return self._word(c[0])

    def on(self, c: list[Any]) -> tuple[tree.Host, ...]:
        return tuple(c)

    def under(self, c: list[Any]) -> tree.Reference:
        reference: tree.Reference = c[0]
        return reference

    def around(self, c: list[Any]) -> tuple[tree.Reference, bool]:
        return c[0], c[1] is not None

    def host(self, c: list[Any]) -> tree.Host:
        return tree.Host(c[0], str(c[1]) if c[1] is not None else None)

    # ---- bases -----------------------------------------------------------------------------------

    def flat(self, c: list[Any]) -> tree.Flat:
        return tree.Flat(c[0])

    def line_across(self, c: list[Any]) -> tree.LineAcross:
        direction, between = c[-1]
        return tree.LineAcross(str(c[0]), tuple(c[1:-2]), c[-2], direction, between)

    def line_repeated(self, c: list[Any]) -> tree.LineAcross:
        direction, between = c[-1]
        return tree.LineAcross(str(c[0]), (c[1],), (c[3],), direction, between, c[2])

    def line_slanted(self, c: list[Any]) -> tree.LineSlanted:
        direction, between = c[-1]
        return tree.LineSlanted(str(c[0]), c[1], c[2], direction, between)

    def line_options(self, c: list[Any]) -> tuple[Any, Any]:
        found = {"direction": None, "between": None}
        for kind, value, span in c:
            if found[kind] is not None:
                place = span or c[0][2] or Span(self._file, self._offset, self._offset + 1)
                raise LineProblem(error("said-twice", place, f"the {kind} is said twice",
                                        "keep one of the two"))  # fmt: skip
            found[kind] = value
        return found["direction"], found["between"]

    def direction(self, c: list[Any]) -> Any:
        return ("direction", str(c[0]), self._span(c[0]))

    def by_turns(self, c: list[Any]) -> Any:
        return ("direction", "by turns", None)

    def between(self, c: list[Any]) -> Any:
        return ("between", (c[0], c[1]), c[0].span)

    def one_edge(self, c: list[Any]) -> tuple[str, ...]:
        return (c[0],)

    def both_sides(self, c: list[Any]) -> tuple[str, ...]:
        return ("left", "right")

    def top_and_bottom(self, c: list[Any]) -> tuple[str, ...]:
        return ("top", "bottom")

    def window(self, c: list[Any]) -> tree.Window:
        return tree.Window(c[0], c[1])

    def corners(self, c: list[Any]) -> tree.Corners:
        return tree.Corners(c[0])

    def sections(self, c: list[Any]) -> tree.Sections:
        return tree.Sections(tuple(map(self._word, c)))

    def fold(self, c: list[Any]) -> tree.Fold:
        return tree.Fold(self._word(c[0]), tuple(c[1:]))

    def argument(self, c: list[Any]) -> tree.Argument:
        return tree.Argument(self._word(c[0]), c[1])

    def point(self, c: list[Any]) -> tree.Point:
        return tree.Point(_across(c[0].span, c[1].span), c[0], c[1])

    def size(self, c: list[Any]) -> tree.SizeOf:
        width, height = c[0], c[-1]
        return tree.SizeOf(_across(width.span, height.span), width, height)

    # ---- sizes and places ------------------------------------------------------------------------

    def size_line(self, c: list[Any]) -> tree.SizeLine:
        return tree.SizeLine(c[0])

    def diameter(self, c: list[Any]) -> tree.Measure:
        return tree.Measure("diameter", c[0])

    def width(self, c: list[Any]) -> tree.Measure:
        return tree.Measure("width", c[0])

    def length(self, c: list[Any]) -> tree.Measure:
        return tree.Measure("length", c[0])

    def overlap(self, c: list[Any]) -> tree.Measure:
        return tree.Measure("overlap", c[0])

    def turned(self, c: list[Any]) -> tree.Measure:
        return tree.Measure("turned", c[0])

    def place(self, c: list[Any]) -> tree.Place:
        return tree.Place(tuple(c))

    def place_entry(self, c: list[Any]) -> tree.FromEdge:
        return tree.FromEdge(c[0].span, c[0], c[1])

    def at(self, c: list[Any]) -> tree.At:
        return tree.At(self.place_entry(c))

    def repeat(self, c: list[Any]) -> tree.Repeat:
        return tree.Repeat(self._number(c[0]), str(c[1]), c[2])

    def overhangs(self, c: list[Any]) -> tree.Flag:
        return tree.Flag("overhangs")

    def loose(self, c: list[Any]) -> tree.Flag:
        return tree.Flag("loose")

    # ---- work and fixing -------------------------------------------------------------------------

    def stamp(self, c: list[Any]) -> tree.WorkLine:
        return tree.WorkLine("stamp", c[0], using=c[1] or ())

    def emboss(self, c: list[Any]) -> tree.WorkLine:
        return tree.WorkLine("emboss", c[0], middle=c[1])

    def color_work(self, c: list[Any]) -> tree.WorkLine:
        return tree.WorkLine("color", using=c[0])

    def die(self, c: list[Any]) -> tree.WorkLine:
        return tree.WorkLine("die", c[0])

    def punch(self, c: list[Any]) -> tree.WorkLine:
        return tree.WorkLine("punch", c[0])

    def trim(self, c: list[Any]) -> tree.WorkLine:
        return tree.WorkLine("trim")

    def foil(self, c: list[Any]) -> tree.WorkLine:
        return tree.WorkLine("foil", c[0])

    def ink_edges(self, c: list[Any]) -> tree.WorkLine:
        return tree.WorkLine("ink-edges", using=(self._word(c[0]),))

    def write(self, c: list[Any]) -> tree.WorkLine:
        return tree.WorkLine("write", c[0])

    def add(self, c: list[Any]) -> tree.WorkLine:
        return tree.WorkLine("add", c[1], item=self._word(c[0]), long=c[2])

    def do(self, c: list[Any]) -> tree.WorkLine:
        return tree.WorkLine("do", c[0])

    def glue(self, c: list[Any]) -> tree.GlueLine:
        return tree.GlueLine(self._word(c[0]), c[1], c[2])

    def glue_sections(self, c: list[Any]) -> tree.GlueLine:
        sections = tuple(each for each in c if isinstance(each, tree.Glued))
        adhesive, thick = c[-1] if len(c) > len(sections) else (None, None)
        return tree.GlueLine(adhesive, thick, sections=sections)

    def glued(self, c: list[Any]) -> tree.Glued:
        return tree.Glued(self._word(c[0]), c[1])

    def glued_with(self, c: list[Any]) -> tuple[tree.Word, tree.Expression | None]:
        return self._word(c[0]), c[1]

    def glue_all_over(self, c: list[Any]) -> tree.GlueLine:
        return tree.GlueLine(all_over=True)

    def glue_along(self, c: list[Any]) -> tree.GlueLine:
        return tree.GlueLine(along=tuple(c))

    # ---- notes, poses, structures, variants, classes ---------------------------------------------

    def tip(self, c: list[Any]) -> tree.Tip:
        return tree.Tip(None, c[0])

    def tip_on(self, c: list[Any]) -> tree.Tip:
        return tree.Tip(c[0], c[1])

    def step(self, c: list[Any]) -> tree.StepLine:
        return tree.StepLine(str(c[0]), c[1], c[2])

    def pose(self, c: list[Any]) -> tree.PoseLine:
        return tree.PoseLine(self._word(c[0]))

    def fold_pose(self, c: list[Any]) -> tree.FoldPose:
        base = self._word(c[1]) if c[1] is not None else None
        return tree.FoldPose(self._number(c[0]), base, c[2])

    def structure(self, c: list[Any]) -> tree.Structure:
        return tree.Structure(self._word(c[0]))

    def ask(self, c: list[Any]) -> tree.Ask:
        return tree.Ask(tuple(c))

    def asked(self, c: list[Any]) -> tree.Asked:
        return tree.Asked(self._word(c[0]), c[1])

    def variant(self, c: list[Any]) -> tree.Variant:
        return tree.Variant(self._text(c[0]))

    def replace(self, c: list[Any]) -> tree.Replace:
        return tree.Replace(self._word(c[0]), c[1])

    def set(self, c: list[Any]) -> tree.Set:
        return tree.Set(c[0], c[1])

    def drop(self, c: list[Any]) -> tree.Drop:
        return tree.Drop(c[0])

    def class_(self, c: list[Any]) -> tree.ClassHead:
        return tree.ClassHead(self._text(c[0]))

    def make(self, c: list[Any]) -> tree.Make:
        return tree.Make(self._number(c[0]), self._text(c[1]),
                         self._text(c[2]) if c[2] is not None else None,
                         self._number(c[3]) if c[3] is not None else None)  # fmt: skip

    def spare(self, c: list[Any]) -> tree.Amount:
        return tree.Amount("spare", self._number(c[0]))

    def have(self, c: list[Any]) -> tree.Have:
        name = self._text(c[0]) if str(c[0]).startswith('"') else self._word(c[0])
        return tree.Have(name, self._number(c[1]) if c[1] is not None else None, c[3])


# `from` and `class` are rules of the grammar and words of Python.
setattr(NodeBuilder, "from", NodeBuilder.from_)
setattr(NodeBuilder, "class", NodeBuilder.class_)

_FACT_NAMES = {
    "sizes": "sheet size", "weight": "weight", "thick": "thickness", "grain": "grain",
    "one_way": "`one-way`", "color": "color", "prices": "price", "pack": "pack",
}  # fmt: skip


def _across(first: Span, last: Span) -> Span:
    return Span(first.file, first.start, last.end)


def _value(text: str, span: Span) -> Fraction:
    """The number that a NUMBER token means; the token's form is the grammar's business."""
    if sum(char.isdigit() for char in text) > MAX_DIGITS:
        raise LineProblem(error("number-too-long", span, f"this number has more than {MAX_DIGITS} "
                                "digits", "no ruler is marked so finely"))  # fmt: skip
    if text[-1] in _VULGAR:
        whole = text[:-1].strip()
        return Fraction(int(whole) if whole else 0) + Fraction(*_VULGAR[text[-1]])
    *whole_part, last = text.split()
    before = int(whole_part[0]) if whole_part else 0
    top, slash, bottom = last.partition("/")
    if slash and int(bottom) == 0:
        raise LineProblem(error("divided-by-zero", span, f"`{text}` divides by zero",
                                "write a fraction such as 1/8"))  # fmt: skip
    if slash and whole_part and int(top) >= int(bottom):
        ones, rest = divmod(before + Fraction(int(top), int(bottom)), 1)
        meant = f"{ones} {rest}" if rest else f"{ones}"
        raise LineProblem(error("fraction-beyond-one", span,
                                f"a fraction after a whole number is less than 1, and {last} is not",
                                f"write {meant} if that is what you mean"))  # fmt: skip
    return before + (Fraction(int(top), int(bottom)) if slash else Fraction(last))


def text_in(text: str) -> str:
    """What a text in quotes, or a block between lines of quotes, says."""
    if not text.startswith('"""'):
        return text[1:-1]
    return _dedented(text[3:-3]).strip("\n").rstrip()


def _dedented(text: str) -> str:
    """The text without the indentation that its lines share; the first line follows the quotes."""
    lines = text.replace("\r\n", "\n").split("\n")
    indents = [len(line) - len(line.lstrip(" ")) for line in lines[1:] if line.strip()]
    shared = min(indents, default=0)
    first = lines[0].lstrip(" ") if lines[0].strip() else ""
    return "\n".join([first, *(line[shared:] if line.strip() else "" for line in lines[1:])])
