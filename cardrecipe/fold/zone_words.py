"""Says in a maker's words which part of a piece a glue zone is: `the left 2 1/4 in of it`."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.area import region
from cardrecipe.fold.clip import left_of, total_area
from cardrecipe.fold.folded import GlueZone
from cardrecipe.fold.geometry import Point, Ring, bounding_box
from cardrecipe.fold.outlines import own_outline
from cardrecipe.model.lengths import round_down, round_up, size_written, with_unit
from cardrecipe.solve.sized import SizedCard, SizedPiece


def part_in_words(card: SizedCard, piece: SizedPiece, zone: GlueZone, it: str = "it") -> str:
    """Say which part of a piece a zone is, as one looks at its face; "" where no few words can.

    A strip from an edge, a strip across, else a box in it that is wholly safe; rounded inwards to the
    marks of the maker's ruler. What is rounded may leave a little of the zone unsaid.
    """
    if zone.is_whole or not zone.rings:
        return ""
    whole = region(own_outline(piece)).pieces
    area = total_area(zone.rings)
    for strip in _strips(card, piece, zone):
        if total_area(_cut(whole, strip)) == area:
            return _in_words(card, piece, strip, it)
    safe = tuple(part for ring in zone.rings for part in region(ring).pieces)
    for strip in _strips(card, piece, zone):
        inner = _on_marks(card, piece, strip)
        said = total_area(_cut(whole, inner)) if inner else Fraction(0)
        if inner and area > said >= area * MOST_OF_IT and total_area(_cut(safe, inner)) == said:
            return _in_words(card, piece, inner, it)
    return ""


# So much of a zone has to be told for its words: beside what moves on its own the margin of an oval is round
# at its ends, so that no strip is the whole zone.
MOST_OF_IT = Fraction(19, 20)


class _Strip(NamedTuple):
    """A box in a piece, from its left top; None where it is the piece's own edge."""

    left: Fraction | None
    top: Fraction | None
    right: Fraction | None
    bottom: Fraction | None


def _strips(card: SizedCard, piece: SizedPiece, zone: GlueZone) -> Iterator[_Strip]:
    """Give the box round a zone, by fewer and by more edges of its own."""
    box = bounding_box([corner for ring in zone.rings for corner in ring])
    left, top, right, bottom = map(Fraction, box)
    yield _Strip(None, None, right, None)
    yield _Strip(left, None, None, None)
    yield _Strip(None, None, None, bottom)
    yield _Strip(None, top, None, None)
    yield _Strip(left, None, right, None)
    yield _Strip(None, top, None, bottom)
    yield _Strip(left, top, right, bottom)


def _on_marks(card: SizedCard, piece: SizedPiece, strip: _Strip) -> _Strip | None:
    """Give a strip with its edges moved inwards to the marks that tell it; None where nothing is left."""
    left, right = _both_inwards(card, strip.left, strip.right, piece.width)
    top, bottom = _both_inwards(card, strip.top, strip.bottom, piece.height)
    has_width = (left or 0) < (piece.width if right is None else right)
    has_height = (top or 0) < (piece.height if bottom is None else bottom)
    return _Strip(left, top, right, bottom) if has_width and has_height else None


def _both_inwards(
    card: SizedCard, start: Fraction | None, end: Fraction | None, long: Fraction
) -> tuple[Fraction | None, Fraction | None]:
    """Move two opposite edges; one without the other is measured from the far side of the piece."""
    near = None if start is None else _up(card, start)
    if start is not None and end is None:
        near = long - round_down(long - start, card.nearest)
    return near, None if end is None else round_down(end, card.nearest)


def _cut(parts: tuple[Ring, ...], strip: _Strip) -> list[Ring]:
    nil, one = Fraction(0), Fraction(1)
    kept = list(parts)
    if strip.left is not None:
        kept = _left_of((strip.left, one), (strip.left, nil), kept)
    if strip.right is not None:
        kept = _left_of((strip.right, nil), (strip.right, one), kept)
    if strip.top is not None:
        kept = _left_of((nil, strip.top), (one, strip.top), kept)
    if strip.bottom is not None:
        kept = _left_of((one, strip.bottom), (nil, strip.bottom), kept)
    return kept


def _left_of(start: Point, end: Point, parts: list[Ring]) -> list[Ring]:
    return [part for part in (left_of(start, end, each) for each in parts) if part]


def _in_words(card: SizedCard, piece: SizedPiece, strip: _Strip, it: str) -> str:
    left, top, right, bottom = strip
    near = {"left": right, "right": None if left is None else piece.width - left,
            "top": bottom, "bottom": None if top is None else piece.height - top}  # fmt: skip
    edges = [edge for edge, deep in near.items() if deep is not None]
    if len(edges) == 1:
        deep = near[edges[0]]
        assert deep is not None
        return f"the {edges[0]} {with_unit(_inwards(card, deep), card.unit)} of {it}"
    if top is None and bottom is None and left is not None and right is not None:
        return f"the strip of {it} {_from_to(card, left, right)} from its left edge"
    if left is None and right is None and top is not None and bottom is not None:
        return f"the strip of {it} {_from_to(card, top, bottom)} from its top edge"
    assert left is not None and right is not None and top is not None and bottom is not None
    size = size_written(_inwards(card, right - left), _inwards(card, bottom - top), card.unit)
    off = [f"{with_unit(_up(card, at), card.unit)} from its {edge}" for at, edge in
           ((left, "left"), (top, "top")) if at]  # fmt: skip
    return f"the part of {it}, {size}, that begins {' and '.join(off) or 'at its left top corner'}"


def _from_to(card: SizedCard, start: Fraction, end: Fraction) -> str:
    low, high = _up(card, start), round_down(end, card.nearest)
    if low >= high:
        low, high = start, end
    return f"between {with_unit(low, card.unit)} and {with_unit(high, card.unit)}"


def _inwards(card: SizedCard, length: Fraction) -> Fraction:
    """Give a length no ruler's mark beyond it; one under a mark stays as it is."""
    return round_down(length, card.nearest) or length


def _up(card: SizedCard, length: Fraction) -> Fraction:
    return round_up(length, card.nearest)
