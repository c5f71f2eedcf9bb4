"""A card and its cutting plan → what is drawn at true scale: each piece, and each sheet with its pieces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.lengths import size_written
from cardrecipe.plan.cutting.card_plans import NumberedLayout, PaperPlan
from cardrecipe.plan.cutting.job import Part, blanks_in
from cardrecipe.plan.words import a_count_of, capital, listed, paper_words, spoken
from cardrecipe.render.true_scale.outlines import (
    CUT,
    KINDS,
    MOUNTAIN,
    SLIT,
    VALLEY,
    TrueLine,
    lines_of,
    moved,
)
from cardrecipe.solve.sized import Point, SizedCard, SizedPiece

LINE_WORDS = {
    CUT: "edges and openings",
    VALLEY: "scores that fold towards this side",
    MOUNTAIN: "scores that fold away from it",
    SLIT: "slits",
}


class TrueDrawing(NamedTuple):
    """Lines with the frame that they lie in, all in the recipe's unit, and the words beside them.

    `frame_is_drawn`: the frame is the edge of a sheet, which nobody cuts.
    """

    name: str
    title: str
    notes: tuple[str, ...]
    unit: str
    width: Fraction
    height: Fraction
    lines: tuple[TrueLine, ...]
    frame_is_drawn: bool = False

    def of_kind(self, kind: str) -> list[TrueLine]:
        return [line for line in self.lines if line.kind == kind]

    @property
    def description(self) -> str:
        """One paragraph for those who cannot see it."""
        kinds = [f"{kind} ({LINE_WORDS[kind]})" for kind in KINDS if self.of_kind(kind)]
        return " ".join((f"{self.title}, at true scale.", *self.notes, f"Groups of lines: {listed(kinds)}."))


def true_drawings(card: SizedCard, plans: Sequence[PaperPlan], copies: int = 1) -> Iterator[TrueDrawing]:
    """`true-PIECE` for each piece, then `layout-N` for each sheet of the cutting plan for so many copies."""
    for piece in card.pieces:
        yield _of_piece(card, piece, piece.count * copies)
    for plan in plans:
        for numbered in plan.layouts:
            yield _of_layout(card, plan, numbered)


def _of_piece(card: SizedCard, piece: SizedPiece, times: int) -> TrueDrawing:
    size = size_written(piece.width, piece.height, card.unit)
    return TrueDrawing(
        f"true-{piece.name}",
        f"{capital(spoken(piece.name))}, {size}, {side_up(piece)}",
        tuple(_notes(card, piece, times)),
        card.unit,
        piece.width,
        piece.height,
        lines_of(piece),
    )


def has_own_outline(piece: SizedPiece) -> bool:
    """True where no recipe tells the outline: a die or the maker's scissors give it within the size."""
    return piece.kind == "cutout" or any(work.verb in ("die", "trim") for work in piece.works)


def side_up(piece: SizedPiece) -> str:
    """The side that faces up in every picture at true scale."""
    return "inside up" if piece.kind == "base" or piece.scores else "face up"


def _notes(card: SizedCard, piece: SizedPiece, times: int) -> Iterator[str]:
    paper = card.papers.get(piece.paper or "")
    cut = f"Cut {times}" if times > 1 else "Cut one"
    yield f"{cut} from {paper_words(paper)}." if paper else f"{cut}."
    if any(score.direction != "slit" for score in piece.scores):
        yield "Valley and mountain are as seen from this side."
    if has_own_outline(piece):
        yield "This is the shape round it: a die or scissors give its own outline."


def _of_layout(card: SizedCard, plan: PaperPlan, numbered: NumberedLayout) -> TrueDrawing:
    stock, root = numbered.stock, numbered.layout.root
    size = size_written(stock.width, stock.height, card.unit)
    held = listed(a_count_of(piece, count) for piece, count in blanks_in(root).items())
    many = (f"Cut {numbered.layout.count} sheets like this.",) if numbered.layout.count > 1 else ()
    return TrueDrawing(
        f"layout-{numbered.number}",
        f"Sheet {numbered.number} of the cutting plan, {plan.of.paper.title}, {size}",
        (*many, f"It holds {held}.", "What is folded lies inside up, all else face up."),
        card.unit,
        stock.width,
        stock.height,
        tuple(_placed(card, plan, root, (Fraction(0), Fraction(0)))),
        frame_is_drawn=True,
    )


def _placed(card: SizedCard, plan: PaperPlan, part: Part, corner: Point) -> Iterator[TrueLine]:
    """The lines of every piece of a part whose left top lies at `corner`."""
    if part.blank is not None:
        yield from _in_blank(card.piece(part.blank), plan, part, corner)
    x, y = corner
    for each in part.parts:
        yield from _placed(card, plan, each, (x, y))
        if part.axis == "x":
            x += plan.of.length(each.width)
        else:
            y += plan.of.length(each.height)


def _in_blank(piece: SizedPiece, plan: PaperPlan, part: Part, corner: Point) -> Iterator[TrueLine]:
    """A piece in the middle of the rectangle it is cut from, turned by a quarter where it lies so."""
    is_turned = part.turned != (piece.name in plan.of.turned)
    wide, high = (piece.height, piece.width) if is_turned else (piece.width, piece.height)
    left = corner[0] + (plan.of.length(part.width) - wide) / 2
    top = corner[1] + (plan.of.length(part.height) - high) / 2

    def place(point: Point) -> Point:
        x, y = (piece.height - point[1], point[0]) if is_turned else point
        return left + x, top + y

    return (moved(line, place) for line in lines_of(piece))
