"""Pieces with an outline of their own: the straight cuts that make them of the rectangle round them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from cardrecipe.model.lengths import with_unit
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import listed, the
from cardrecipe.solve.sized import Point, SizedCard, SizedPiece

Cut = tuple[Point, ...]  # the ends of one straight cut after the other, from edge to edge


def trim_words(card: SizedCard, piece: SizedPiece) -> str:
    """How the rectangle is cut to the piece's outline, face up; "" where it stays a rectangle."""
    ways = [_way(card, piece, cut) for cut in trims(piece)]
    return say("cut/trim", name=the(piece.name), ways=listed(ways, "then")) if ways else ""


def trims(piece: SizedPiece) -> tuple[Cut, ...]:
    """The cuts in the order in which the outline runs, clockwise from its left top."""
    if piece.outline is None:
        return ()
    return tuple(_chains(piece, piece.outline))


def straight_sides(piece: SizedPiece) -> tuple[str, ...]:
    """The sides of the rectangle of which something stays."""
    ends = list(edges_of(piece.outline or ()))
    sizes = {"left": (0, Fraction(0)), "right": (0, piece.width),
             "top": (1, Fraction(0)), "bottom": (1, piece.height)}  # fmt: skip
    return tuple(side for side, (axis, at) in sizes.items()
                 if any(start[axis] == at == end[axis] for start, end in ends))  # fmt: skip


def edges_of(ring: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """The edges of a ring, each as its two ends."""
    return zip(ring, (*ring[1:], *ring[:1]), strict=True)


def _chains(piece: SizedPiece, outline: tuple[Point, ...]) -> Iterator[Cut]:
    """Runs of edges that are not edges of the rectangle; the first begins after one that is."""
    ends = list(edges_of(outline))
    is_cut = [not _is_on_rim(piece, *end) for end in ends]
    first = next((at for at, cut in enumerate(is_cut) if cut and not is_cut[at - 1]), 0)
    chain: list[Point] = []
    for at in (*range(first, len(ends)), *range(first)):
        start, end = ends[at]
        if not is_cut[at]:
            continue  # it lies on the rim, so the next run begins there and ends this one
        if chain and _is_at_rim(piece, start):
            yield tuple(chain)
            chain = []
        chain = [*(chain or [start]), end]
    if chain:
        yield tuple(chain)


def _is_on_rim(piece: SizedPiece, start: Point, end: Point) -> bool:
    sizes = piece.width, piece.height
    return any(start[axis] == end[axis] in (0, size) for axis, size in enumerate(sizes))


def _is_at_rim(piece: SizedPiece, point: Point) -> bool:
    return point[0] in (0, piece.width) or point[1] in (0, piece.height)


def _way(card: SizedCard, piece: SizedPiece, cut: Cut) -> str:
    start, *rest = (place_on(card, piece, point) for point in cut)
    return say("cut/trim-way", start=start, onward=listed((f"to {end}" for end in rest), "and on"))


def place_on(card: SizedCard, piece: SizedPiece, point: Point) -> str:
    """A place on the rectangle in words: a corner, so far along an edge, or so far from two edges."""
    x, y = point
    across = {Fraction(0): "left", piece.width: "right"}.get(x)
    down = {Fraction(0): "top", piece.height: "bottom"}.get(y)
    from_left, from_top = with_unit(x, card.unit), with_unit(y, card.unit)
    if across and down:
        return say("cut/trim-corner", across=across, down=down)
    if down:
        return say("cut/trim-edge", edge=down, distance=from_left, end="left")
    if across:
        return say("cut/trim-edge", edge=across, distance=from_top, end="top")
    return say("cut/trim-point", across=from_left, down=from_top)
