"""The lines under a piece, read into the piece: each line once, no two that say the same thing."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from cardrecipe.model.card import (
    GlueOn,
    LineOn,
    Piece,
    RepeatOn,
    Scope,
    Scoped,
    ScopedLine,
    SlantedLine,
    WindowOn,
    WorkOn,
)
from cardrecipe.model.counts import MAX_COUNT, MAX_REPEAT
from cardrecipe.model.materials import whole
from cardrecipe.model.papers import Paper, Supply
from cardrecipe.model.structures import unfolded
from cardrecipe.model.values import Names, NotYet, Poisoned, Reader, Unreadable
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.words import ADHESIVES

MAX_LINES = 100  # scores and slits of one piece: a folding map has a dozen, and with more `check` takes long
MAX_SLANTED = 24  # of them; slanted ones cross each other in more places, all of which are worked out exactly
MAX_WINDOWS = 50  # openings of one piece; lace is cut with a die, which is one line
EDGES = ("left", "right", "top", "bottom")


class Shelf(NamedTuple):
    """What the lines of a piece may name: papers and supplies by name, the recipe's own structures."""

    unit: str
    papers: Mapping[str, Paper]
    supplies: Mapping[str, Supply]
    structures: Mapping[str, tree.Statement]
    poison: frozenset[str]


def piece_with_block(
    piece: Piece, statement: tree.Statement, scope: Scope, shelf: Shelf, diagnostics: list[Diagnostic]
) -> Piece:
    """`piece` (its header) with what its lines say."""
    reading = _Reading(piece, shelf, diagnostics)
    for line in statement.block:
        node = line.node
        if isinstance(node, tree.Fold):
            lines = unfolded(piece.name, line, node, scope, shelf.structures, shelf.poison,
                             reading.found["scopes"], diagnostics)  # fmt: skip
            reading.found["sections_lost"] |= not lines
            reading.found["broken"] |= not lines or any(each.is_broken for each in reading.found["scopes"])
            for each in lines:
                reading.read(each.statement, each.scope)
        else:
            reading.read(line, scope)
    return reading.finished()


class _Reading:
    """What has been found of one piece so far, field by field of `Piece`."""

    def __init__(self, piece: Piece, shelf: Shelf, diagnostics: list[Diagnostic]) -> None:
        self.piece = piece
        self.shelf = shelf
        self.diagnostics = diagnostics
        self.found: dict[str, Any] = {
            "broken": piece.broken, "borders": {}, "places": {}, "lines": [], "slanted": [],
            "windows": [], "works": [], "tips": [], "scopes": [], "brings": [],
            "sections_lost": False,
        }  # fmt: skip
        self.said: dict[str, Span] = {}

    def finished(self) -> Piece:
        found: dict[str, Any] = {
            name: tuple(v) if isinstance(v, list) else v for name, v in self.found.items()
        }
        return self.piece.replace(**found)

    def read(self, line: tree.Statement, scope: Scope) -> None:
        if isinstance(line.node, tree.Broken):
            self.found["broken"] = True
            self.found["sections_lost"] |= line.word in ("sections", "fold")
        elif isinstance(line.node, tree.PieceHeader | tree.PoseLine):
            self.found["brings"].append(ScopedLine(line, scope))
        else:
            _LINES[type(line.node)](self, ScopedLine(line, scope), line.node)

    # ---- what every line needs -------------------------------------------------------------------

    def once(self, what: str, span: Span) -> bool:
        """True the first time; a diagnostic with both places the second."""
        if what not in self.said:
            self.said[what] = span
            return True
        self.diagnostics.append(error(
            "said-twice", span, f"the {what} of `{self.piece.name}` is said twice", "keep one of the two",
            (Related(self.said[what], "here it is said first"),),
        ))  # fmt: skip
        return False

    def scoped(self, expression: tree.Expression, line: ScopedLine) -> Scoped:
        return Scoped(expression, line.scope, line.statement.span)

    def closed(self, expression: tree.Expression, line: ScopedLine) -> Scoped | None:
        """The expression, or None for `?`."""
        scoped = self.scoped(expression, line)
        return None if scoped.is_open else scoped

    # ---- base lines ------------------------------------------------------------------------------

    def flat(self, line: ScopedLine, node: tree.Flat) -> None:
        if self.once("flat size", line.statement.span):
            self.found["width"] = self.closed(node.size.width, line)
            self.found["height"] = self.closed(node.size.height, line)

    def fits(self, what: str, count: int, most: int, span: Span) -> bool:
        """True while a piece has no more of something than it may; a diagnostic for the first one more."""
        if count <= most:
            return True
        if f"more {what}" not in self.said:
            self.said[f"more {what}"] = span
            self.diagnostics.append(_too_many(self.piece.name, what, most, span))
        self.found["broken"] = self.found["sections_lost"] = True
        return False

    def _fits_lines(self, more: int, span: Span) -> bool:
        there = len(self.found["lines"]) + len(self.found["slanted"])
        return self.fits("scores and slits", there + more, MAX_LINES, span)

    def line_across(self, line: ScopedLine, node: tree.LineAcross) -> None:
        times = self._times(line, node)
        if not self._fits_lines(times * len(node.at) * len(node.edges), line.statement.span):
            return
        for at in node.at:
            for number in range(1, times + 1):
                # By turns the last one is a valley: so the last part lies at the back of the closed card.
                turn = "valley" if (times - number) % 2 == 0 else "mountain"
                direction = turn if node.direction == "by turns" else node.direction or "valley"
                for edge in node.edges:
                    self.found["lines"].append(self._line(line, node, at, number, edge, direction))

    def _line(
        self, line: ScopedLine, node: tree.LineAcross, at: tree.Expression, number: int, edge: str,
        direction: str,
    ) -> LineOn:  # fmt: skip
        between = None
        if node.between is not None:
            between = (self.scoped(node.between[0], line), self.scoped(node.between[1], line))
        return LineOn(node.word, self.scoped(at, line), number, edge, direction, between,
                      line.statement.span)  # fmt: skip

    def _times(self, line: ScopedLine, node: tree.LineAcross) -> int:
        if node.times is None:
            return 1
        try:
            reader = Reader(self.shelf.unit, self.shelf.unit, Names({}, self.shelf.poison))
            number = reader.number(self.scoped(node.times, line))
        except Unreadable as problem:
            self.diagnostics.append(problem.diagnostic._replace(span=_given_span(node.times, line)))
        except (NotYet, Poisoned):
            pass
        else:
            if number.denominator == 1 and 1 <= number <= MAX_LINES:
                return number.numerator
            self.diagnostics.append(error("not-a-count", _given_span(node.times, line),
                                          f"this must be a whole number from 1 to {MAX_LINES}",
                                          "write a number such as 3"))  # fmt: skip
        self.found["broken"] = True
        return 1

    def line_slanted(self, line: ScopedLine, node: tree.LineSlanted) -> None:
        span, count = line.statement.span, 1 + len(self.found["slanted"])
        if not (self.fits("slanted lines", count, MAX_SLANTED, span) and self._fits_lines(1, span)):
            return
        start = (self.scoped(node.start.x, line), self.scoped(node.start.y, line))
        end = (self.scoped(node.end.x, line), self.scoped(node.end.y, line))
        direction = node.direction or "valley"
        self.found["slanted"].append(SlantedLine(node.word, start, end, direction, line.statement.span))

    def window(self, line: ScopedLine, node: tree.Window) -> None:
        if not self.fits("windows", len(self.found["windows"]) + 1, MAX_WINDOWS, line.statement.span):
            return
        self.found["windows"].append(WindowOn(
            self.scoped(node.size.width, line), self.scoped(node.size.height, line),
            self.scoped(node.at.x, line), self.scoped(node.at.y, line), line.statement.span,
        ))  # fmt: skip

    def corners(self, line: ScopedLine, node: tree.Corners) -> None:
        if self.once("corner radius", line.statement.span):
            self.found["corners"] = self.scoped(node.radius, line)

    def sections(self, line: ScopedLine, node: tree.Sections) -> None:
        own = line.scope.base is None
        if own and not self.once("list of sections", line.statement.span):
            return
        self.found["sections"] = tuple(word.text for word in node.names)
        self.found["sections_span"] = line.statement.span

    # ---- sizes and places ------------------------------------------------------------------------

    def size_line(self, line: ScopedLine, node: tree.SizeLine) -> None:
        if self.once("size", line.statement.span):
            self.found["width"] = self.closed(node.size.width, line)
            self.found["height"] = self.closed(node.size.height, line)

    def measure(self, line: ScopedLine, node: tree.Measure) -> None:
        if not self.once("size" if node.word == "diameter" else node.word, line.statement.span):
            return
        value = self.closed(node.value, line)
        if node.word == "diameter":
            self.found["width"] = self.found["height"] = value
        elif node.word == "width":  # a band's own width is its height as it lies round the card
            self.found["height"] = value
        else:
            self.found[node.word] = value

    def border(self, line: ScopedLine, node: tree.Border) -> None:
        for entry in node.entries:
            if isinstance(entry.value, tree.Unknown):
                continue
            for edge in entry.edges or EDGES:
                scoped = self.scoped(entry.value, line)
                if entry.edges and not self.once(f"{edge} border", line.statement.span):
                    continue
                if entry.edges or edge not in self.found["borders"]:
                    self.found["borders"][edge] = scoped

    def place(self, line: ScopedLine, node: tree.Place) -> None:
        for entry in node.entries:
            axis = "place across" if entry.edge in ("left", "right") else "place up and down"
            if self.once(axis, line.statement.span):
                self.found["places"][entry.edge] = self.scoped(entry.value, line)

    def at(self, line: ScopedLine, node: tree.At) -> None:
        if self.once("place", line.statement.span):
            self.found["band_at"] = (self.scoped(node.where.value, line), node.where.edge)

    def repeat(self, line: ScopedLine, node: tree.Repeat) -> None:
        if self.once("repeat", line.statement.span):
            gap = self.closed(node.gap, line) if node.gap is not None else None
            number = whole(node.number, self.diagnostics, MAX_REPEAT)
            self.found["repeat"] = RepeatOn(number, node.way, gap, line.statement.span)

    def flag(self, line: ScopedLine, node: tree.Flag) -> None:
        self.found[node.word] = True

    def amount(self, line: ScopedLine, node: tree.Amount) -> None:
        if self.once("count", line.statement.span):
            self.found["count"] = whole(node.number, self.diagnostics, MAX_COUNT)

    # ---- work and fixing -------------------------------------------------------------------------

    def work(self, line: ScopedLine, node: tree.WorkLine) -> None:
        using = tuple(self._title(word) for word in node.using)
        middle = self.closed(node.middle, line) if node.middle is not None else None
        long = self.closed(node.long, line) if node.long is not None else None
        self.found["works"].append(WorkOn(node, using, middle, long, line.statement.span))

    def _title(self, word: tree.Word) -> str:
        if word.text in self.shelf.supplies:
            return self.shelf.supplies[word.text].title
        meant = nearest(word.text, self.shelf.supplies)
        if meant and word.text not in self.shelf.poison:
            self.diagnostics.append(error("unknown-name", word.span, f"no supply is called `{word.text}`",
                                          f"did you mean `{meant}`?"))  # fmt: skip
        return word.text.replace("-", " ")

    def glue(self, line: ScopedLine, node: tree.GlueLine) -> None:
        earlier = self.found.get("glue")
        if node.sections and earlier is not None and earlier.line.sections:
            node = node.replace(sections=(*earlier.line.sections, *node.sections),
                                adhesive=node.adhesive or earlier.line.adhesive)  # fmt: skip
        elif not self.once("glue", line.statement.span):
            return
        adhesive = node.adhesive.text if node.adhesive is not None else None
        if adhesive is not None and adhesive in self.shelf.supplies:
            adhesive = self.shelf.supplies[adhesive].title
        elif node.adhesive is not None and adhesive not in ADHESIVES:
            meant = nearest(node.adhesive.text, [*ADHESIVES, *self.shelf.supplies])
            self.diagnostics.append(error(
                "unknown-name", node.adhesive.span, f"no adhesive is called `{adhesive}`",
                f"did you mean `{meant}`?" if meant
                else f"write {', '.join(ADHESIVES)}, or declare it: supply {adhesive} is adhesive \"…\"",
            ))  # fmt: skip
        thick = self.scoped(node.thick, line) if node.thick is not None else None
        self.found["glue"] = GlueOn(node, adhesive, thick, line.statement.span)

    def tip(self, line: ScopedLine, node: tree.Tip) -> None:
        self.found["tips"].append(node.text.text)


def _too_many(piece: str, what: str, most: int, span: Span) -> Diagnostic:
    said = f"`{piece}` has more than {most} {what}"
    if what == "windows":
        return error("too-many-windows", span, said, 'name the die that cuts them all at once: die "lace"')
    return error("too-many-scores", span, said, "part the piece, and glue the parts to each other")


def _given_span(times: tree.Expression, line: ScopedLine) -> Span:
    """Where the maker gave the number that a structure counts by; else the structure's own words."""
    given = (line.scope.asked.get(name) for name in sorted(line.scope.scalars))
    return next((each.expression.span for each in given if each is not None), times.span)


_LINES: dict[type, Any] = {
    tree.Flat: _Reading.flat, tree.LineAcross: _Reading.line_across,
    tree.LineSlanted: _Reading.line_slanted, tree.Window: _Reading.window,
    tree.Corners: _Reading.corners, tree.Sections: _Reading.sections,
    tree.SizeLine: _Reading.size_line, tree.Measure: _Reading.measure, tree.Border: _Reading.border,
    tree.Place: _Reading.place, tree.At: _Reading.at, tree.Repeat: _Reading.repeat,
    tree.Flag: _Reading.flag, tree.Amount: _Reading.amount, tree.WorkLine: _Reading.work,
    tree.GlueLine: _Reading.glue, tree.Tip: _Reading.tip,
}  # fmt: skip
