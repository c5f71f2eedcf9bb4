"""The cut list: every size to cut, grouped by paper, the base's paper and the largest piece first."""

from __future__ import annotations

from collections.abc import Iterator

from cardrecipe.model.lengths import is_on, round_down, round_up, size_written, written
from cardrecipe.plan.cutting.paper_jobs import blank_size, has_margin
from cardrecipe.plan.papers import cut_order
from cardrecipe.plan.sheet import CutLine
from cardrecipe.plan.words import paper_words
from cardrecipe.solve.sized import SizedCard, SizedPiece


def cut_lines(card: SizedCard, copies: int, other: SizedCard | None = None) -> tuple[CutLine, ...]:
    """The cut list of `card`; `other` is the same card in the other unit system."""
    return tuple(_line(card, piece, copies, other) for piece in cut_order(card))


def one_copy(card: SizedCard) -> str:
    """What is made once: a card, or a set of loose pieces."""
    return "card" if card.bases else "set"


def _line(card: SizedCard, piece: SizedPiece, copies: int, other: SizedCard | None) -> CutLine:
    paper = card.papers.get(piece.paper or "")
    return CutLine(
        piece.name,
        piece.kind,
        piece.paper or "",
        paper_words(paper) if paper else "",
        piece.count,
        piece.count * copies,
        piece.width,
        piece.height,
        size_written(piece.width, piece.height, card.unit),
        _other_size(piece, other),
        tuple(_notes(card, piece)),
    )


def _other_size(piece: SizedPiece, other: SizedCard | None) -> str:
    """The size in the other version; "" without one, or when the piece is not in it."""
    for twin in other.pieces if other else ():
        if other and twin.name == piece.name:
            return size_written(twin.width, twin.height, other.unit)
    return ""


def _notes(card: SizedCard, piece: SizedPiece) -> Iterator[str]:
    if piece.kind in ("circle", "oval", "banner", "tag"):
        yield piece.kind
    verbs = {work.verb: work.text for work in piece.works}
    if "die" in verbs:
        yield "die-cut"
    if piece.kind == "cutout" or "trim" in verbs:
        yield "trimmed by hand along the outline"
    if has_margin(piece):
        yield f"first a rectangle of {size_written(*blank_size(card, piece), card.unit)}"
    if piece.outline is not None:
        yield "a rectangle first, then trimmed to its outline"
    paper = card.papers.get(piece.paper or "")
    if paper and paper.one_way and piece.width != piece.height:
        yield "pattern upright: the second number runs from top to bottom"
    yield from _grain(card, piece)
    if piece.corner_radius:
        yield f"corners rounded, radius {written(piece.corner_radius, card.unit)}"
    for size in dict.fromkeys((piece.width, piece.height)):
        if not is_on(size, card.nearest):
            below, above = round_down(size, card.nearest), round_up(size, card.nearest)
            between = f"between {written(below, card.unit)} and {written(above, card.unit)}"
            yield f"{written(size, card.unit)} is {between} on the ruler"


def _grain(card: SizedCard, piece: SizedPiece) -> Iterator[str]:
    """A base folds cleanest along the grain; said only where the packet tells the grain."""
    paper = card.papers.get(piece.paper or "")
    axes = {score.axis for score in piece.scores}
    if paper and paper.grain and len(axes) == 1:
        yield f"grain best {'top to bottom' if axes == {'x'} else 'left to right'}, along the folds"
