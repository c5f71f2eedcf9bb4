"""Statements to equations: what each line of a recipe says about the unknown sizes.

Written lines are equations that must hold. Wishes hold where nothing written contradicts them, tried
in this order: default borders, a structure's defaults, even gaps, centring, the usual overlap.
"""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.card import Card, LineOn, Piece, Scope, Scoped
from cardrecipe.model.lengths import MM_PER
from cardrecipe.model.values import NotYet, Poisoned, Reader, Unreadable, Var, asked_var
from cardrecipe.solve.linear import Equation
from cardrecipe.solve.parts import Part, Parts, front_of
from cardrecipe.solve.section_panels import Panel
from cardrecipe.solve.sized import SizedSection
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.spans import Span

ONE = Fraction(1)
AXES = (("left", "right", "width"), ("top", "bottom", "height"))
USUAL_OVERLAP_MM = {"inch": Fraction(127, 10), "mm": Fraction(12)}  # 1/2 in or 12 mm
BORDERS, DEFAULTS, GAPS, CENTRING, OVERLAP = range(5)  # the order in which wishes are tried


class Origin(NamedTuple):
    """Why an equation holds: the line, and what it says in a maker's words."""

    span: Span
    text: str


Said = Equation[Origin]


class Wish(NamedTuple):
    """Equations that hold together or not at all."""

    rank: int
    equations: tuple[Said, ...]


class Pending(NamedTuple):
    """unknown + Σ rest = factor · scoped, an expression that cannot be read before more is known."""

    unknown: Var
    scoped: Scoped
    origin: Origin
    factor: int
    rest: tuple[tuple[Var, Fraction], ...]


class Draft(NamedTuple):
    """All that a card says: equations, wishes, what is still to be read, what cannot be read."""

    said: list[Said]
    wishes: list[Wish]
    pending: list[Pending]
    diagnostics: list[Diagnostic]
    lines: dict[tuple[str, str], list[tuple[LineOn, Var]]]  # (base, axis): lines in their order
    unread: list[Said]  # what an expression that means nothing would have settled; constants are made up


class Drafting:
    """Writes the equations of a card into a draft, piece by piece."""

    def __init__(
        self,
        card: Card,
        parts: Parts,
        reader: Reader,
        orders: Mapping[tuple[str, str], Sequence[int]],
        shapes: Mapping[str, Sequence[SizedSection]],
        panels: Mapping[str, Panel],
    ) -> None:
        self.card = card
        self.parts = parts
        self.reader = reader
        self.orders = orders
        self.shapes = shapes
        self.panels = panels
        self.draft = Draft([], [], [], [], {}, [])

    def drafted(self) -> Draft:
        for part in self.parts.ordered:
            piece = part.piece
            if part.owner == piece.name:
                for scope in piece.scopes:
                    self._asked(scope)
            if piece.kind == "base":
                self._base(piece)
            elif piece.kind == "band":
                self._band(piece)
            else:
                self._size(part)
                self._place(part)
            if piece.kind != "base" and piece.lines and part.owner == piece.name:
                self._sections(piece)
        self.draft.wishes.sort(key=lambda wish: wish.rank)
        return self.draft

    # ---- one equation ----------------------------------------------------------------------------

    def _says(
        self, unknown: Var, scoped: Scoped | None, text: str, *, factor: int = 1,
        rest: Mapping[Var, Fraction] | None = None,
    ) -> None:  # fmt: skip
        """unknown + Σ rest = factor · scoped."""
        if scoped is None or scoped.is_open:
            return
        origin = Origin(scoped.span, text)
        equation = self._equation(unknown, scoped, origin, factor, rest or {})
        if equation is not None:
            self.draft.said.append(equation)

    def _equation(
        self, unknown: Var, scoped: Scoped, origin: Origin, factor: int, rest: Mapping[Var, Fraction]
    ) -> Said | None:
        try:
            value = self.reader.length(scoped)
        except (Unreadable, Poisoned) as problem:
            if isinstance(problem, Unreadable):
                self.draft.diagnostics.append(problem.diagnostic)
            self.draft.unread.append(Equation({unknown: ONE, **rest}, ONE, origin))
            return None
        except NotYet:
            self.draft.pending.append(Pending(unknown, scoped, origin, factor, tuple(rest.items())))
            return None
        terms = {unknown: ONE, **rest}
        for var, coefficient in value.terms.items():
            terms[var] = terms.get(var, Fraction(0)) - factor * coefficient
        return Equation({v: c for v, c in terms.items() if c}, factor * value.constant, origin)

    def _holds(self, terms: Mapping[Var, Fraction], span: Span, text: str) -> None:
        """Σ terms = 0 by the nature of things, because of the line at `span`."""
        self.draft.said.append(Equation(terms, Fraction(0), Origin(span, text)))

    def _wish(self, rank: int, *equations: Said | None) -> None:
        known = tuple(each for each in equations if each is not None)
        if known:
            self.draft.wishes.append(Wish(rank, known))

    # ---- bases -----------------------------------------------------------------------------------

    def _base(self, piece: Piece) -> None:
        self._says((piece.name, "width"), piece.width, f"the flat width of {piece.name}")
        self._says((piece.name, "height"), piece.height, f"the flat height of {piece.name}")
        self._sections(piece)

    def _asked(self, scope: Scope) -> None:
        for name, given in scope.asked.items():
            if name in scope.scalars:
                continue
            var = asked_var(scope, name)
            self._says(var, given, f"{name} of the fold")
            if given is None and name in scope.defaults:
                default = scope.defaults[name]
                origin = Origin(default.span, f"the fold's usual {name}")
                self._wish(DEFAULTS, self._equation(var, default, origin, 1, {}))

    def _sections(self, piece: Piece) -> None:
        """Scores that run right across part a piece into columns and rows."""
        columns = self._cuts(piece, "x")
        rows = self._cuts(piece, "y")
        if not piece.has_plain_sections:
            self._shaped_sections(piece)
            return
        for at, name in enumerate(piece.sections):  # one for each, made up where none is written
            row, column = divmod(at, len(columns) + 1)
            owner = self.parts.sections[piece.name, name]
            self._strip(piece, owner, "width", columns, column)
            self._strip(piece, owner, "height", rows, row)

    def _shaped_sections(self, piece: Piece) -> None:
        """Sections between slits and part-way or slanted scores are as large as they came out before."""
        span = piece.sections_span or piece.span
        for section in self.shapes.get(piece.name, ()):
            owner = self.parts.sections.get((piece.name, section.name))
            if owner is None:  # one of very many, which nothing can be put on
                continue
            for quantity, size in (("width", section.width), ("height", section.height)):
                origin = Origin(span, f"the {quantity} of {section.name}")
                self.draft.said.append(Equation({(owner, quantity): ONE}, size, origin))

    def _cuts(self, piece: Piece, axis: str) -> list[Var]:
        """The unknown positions of the lines across one axis, in their order along it."""
        start, end = ("left", "right") if axis == "x" else ("top", "bottom")
        size = (piece.name, "width" if axis == "x" else "height")
        lines = [line for line in piece.lines if line.between is None and line.edge in (start, end)]
        order = self.orders.get((piece.name, axis)) or _likely_order(lines, start)
        placed: list[tuple[LineOn, Var]] = []
        for number, line in enumerate(lines):
            var = (piece.name, f"{axis}-line {number + 1}")
            text = f"a {line.word} of {piece.name}, from the {line.edge}"
            if line.edge == start:
                self._says(var, line.at, text, factor=line.times)
            else:
                self._says(var, line.at, text, factor=-line.times, rest={size: -ONE})
            placed.append((line, var))
        ordered = [placed[number] for number in order]
        self.draft.lines[piece.name, axis] = ordered
        return [var for _, var in ordered]

    def _strip(
        self, piece: Piece, owner: str, quantity: str, lines: Sequence[Var], at: int
    ) -> None:
        """A section reaches from the line before it (or the edge) to the line after it."""
        terms = {(owner, quantity): ONE}
        if at > 0:
            terms[lines[at - 1]] = ONE
        after = lines[at] if at < len(lines) else (piece.name, quantity)
        terms[after] = -ONE
        span = piece.sections_span or (piece.lines[0].span if piece.lines else piece.span)
        what = "its scores" if lines else "the edges"
        self._holds(terms, span, f"{owner} lies between {what} of {piece.name}")

    # ---- panels and shapes -----------------------------------------------------------------------

    def _size(self, part: Part) -> None:
        piece = part.piece
        for _, _, quantity in AXES:
            given = piece.width if quantity == "width" else piece.height
            self._says((part.owner, quantity), given, f"the {quantity} of {piece.name}")
        if piece.kind in ("circle", "square"):
            self._holds({(part.owner, "width"): ONE, (part.owner, "height"): -ONE}, piece.span,
                        f"{piece.name} is a {piece.kind}")  # fmt: skip

    def _place(self, part: Part) -> None:
        if part.host_owner is None:
            return
        for start, end, quantity in AXES:
            if part.owner in self.panels:
                self._drawn_in(part, start, end, quantity)
            elif part.over is not None:
                self._mat(part, start, end, quantity)
            else:
                self._between_borders(part, start, end, quantity)

    def _drawn_in(self, part: Part, start: str, end: str, quantity: str) -> None:
        """A panel with the outline of what it lies on is as large as that came out before."""
        size = getattr(self.panels[part.owner], quantity)
        origin = Origin(part.piece.span, f"the outline of {part.piece.name}")
        self.draft.said.append(Equation({(part.owner, quantity): ONE}, size, origin))
        self._borders(part, start, end, quantity)

    def _between_borders(self, part: Part, start: str, end: str, quantity: str) -> None:
        """host = border + piece + border, along one axis."""
        piece, host = part.piece, part.host_owner
        assert host is not None
        along = piece.repeat is not None and piece.repeat.way == (
            "across" if quantity == "width" else "down"
        )
        number = piece.repeat.number if piece.repeat is not None and along else 1
        terms: dict[Var, Fraction] = {
            (host, quantity): ONE, (part.owner, quantity): Fraction(-number),
            (part.owner, f"{start} border"): -ONE, (part.owner, f"{end} border"): -ONE,
        }  # fmt: skip
        if number > 1:
            terms[part.owner, "gap"] = Fraction(1 - number)
            self._gap(part, start)
        span = part.host.span if part.host is not None else piece.span
        on = part.host.name if part.host is not None else host
        self._holds(terms, span, f"{piece.name} lies on {on}")
        self._borders(part, start, end, quantity)

    def _gap(self, part: Part, start: str) -> None:
        repeat = part.piece.repeat
        assert repeat is not None
        var = (part.owner, "gap")
        self._says(var, repeat.gap, f"the gap between the copies of {part.piece.name}")
        if repeat.gap is None:
            origin = Origin(repeat.span, "an even gap")
            self._wish(GAPS, Equation({var: ONE, (part.owner, f"{start} border"): -ONE}, Fraction(0),
                                      origin))  # fmt: skip

    def _borders(self, part: Part, start: str, end: str, quantity: str) -> None:
        piece = part.piece
        fixed = []
        for edge in (start, end):
            given = piece.borders.get(edge)
            self._says((part.owner, f"{edge} border"), given, f"the {edge} border of {piece.name}")
            place = piece.places.get(edge)
            self._says((part.owner, f"{edge} border"), place, f"the place of {piece.name}")
            fixed += [edge] if given is not None or place is not None else []
        size = piece.width if quantity == "width" else piece.height
        free = [edge for edge in (start, end) if edge not in fixed]
        if piece.kind == "panel" and not (size is not None and any(e in piece.places for e in fixed)):
            wishes = [self._default_border(part, edge) for edge in free]
            if size is None:
                for wish in wishes:
                    self._wish(BORDERS, wish)
            else:
                self._wish(BORDERS, *wishes)
        if len(free) == 2:
            origin = Origin(piece.span, "centred")
            self._wish(CENTRING, Equation(
                {(part.owner, f"{start} border"): ONE, (part.owner, f"{end} border"): -ONE},
                Fraction(0), origin,
            ))  # fmt: skip

    def _default_border(self, part: Part, edge: str) -> Said | None:
        border = self.card.head.border
        if border is None:
            return None
        origin = Origin(border.span, f"the default border round {part.piece.name}")
        return self._equation((part.owner, f"{edge} border"), border, origin, 1, {})

    def _mat(self, part: Part, start: str, end: str, quantity: str) -> None:
        """A mat under a piece: the piece and its own border on both edges; it shares the host."""
        over = part.over
        assert over is not None and part.host_owner is not None
        borders = [(part.owner, f"{edge} border") for edge in (start, end)]
        text = f"{part.piece.name} lies under {over}"
        self._holds({(part.owner, quantity): ONE, (over, quantity): -ONE, borders[0]: -ONE,
                     borders[1]: -ONE}, part.piece.span, text)  # fmt: skip
        self._borders(part, start, end, quantity)

    # ---- bands -----------------------------------------------------------------------------------

    def _band(self, piece: Piece) -> None:
        name = piece.name
        base = piece.around or ""
        span = piece.span
        across, along = ("height", "width") if piece.downward else ("width", "height")
        self._says((name, "height"), piece.height, f"the width of {name}")
        self._says((name, "width"), piece.length, f"the length of {name}")
        self._says((name, "overlap"), piece.overlap, f"the overlap of {name}")
        self._holds({(name, "width"): ONE, (name, "wrap"): -ONE, (name, "overlap"): -ONE}, span,
                    f"{name} wraps {base} and overlaps itself")  # fmt: skip
        two = Fraction(2)
        self._holds({(name, "wrap"): ONE, (base, f"finished-{across}"): -two,
                     (name, "stack"): -two}, span,
                    f"{name} goes round the closed {base}")  # fmt: skip
        self._band_place(piece, base, along)
        if piece.overlap is None:
            usual = USUAL_OVERLAP_MM[self.reader.unit] / MM_PER[self.reader.unit]
            origin = Origin(span, "the usual overlap")
            self._wish(OVERLAP, Equation({(name, "overlap"): ONE}, usual, origin))

    def _band_place(self, piece: Piece, base: str, along: str) -> None:
        """Where the band lies on the closed card, and what it offers to the pieces on it."""
        name = piece.name
        edges = ("top", "bottom") if along == "height" else ("left", "right")
        self._holds({(base, f"finished-{along}"): ONE, (name, f"{edges[0]} border"): -ONE,
                     (name, "height"): -ONE, (name, f"{edges[1]} border"): -ONE}, piece.span,
                    f"{name} lies across the closed {base}")  # fmt: skip
        if piece.band_at is not None:
            scoped, edge = piece.band_at
            self._says((name, f"{edge} border"), scoped, f"the place of {name}")
        front = front_of(name)
        shows = {"width": "finished-width", "height": "height"}
        if along == "width":
            shows = {"width": "height", "height": "finished-height"}
        for quantity, shown in shows.items():
            owner = name if shown == "height" else base
            self._holds({(front, quantity): ONE, (owner, shown): -ONE}, piece.span,
                        f"the front of {name}")  # fmt: skip
        if piece.band_at is None:
            origin = Origin(piece.span, "in the middle")
            terms = {(name, f"{edges[0]} border"): ONE, (name, f"{edges[1]} border"): -ONE}
            self._wish(CENTRING, Equation(terms, Fraction(0), origin))


def _likely_order(lines: Sequence[LineOn], start: str) -> list[int]:
    """Lines measured from the start in their order, then those from the other end, backwards."""
    first = [at for at, line in enumerate(lines) if line.edge == start]
    last = [at for at, line in enumerate(lines) if line.edge != start]
    return first + last[::-1]

