"""The exact area of each face and piece that shows in a view.

What covers is taken no larger than it is for certain, and what is covered no smaller: of a circle or
oval the polygon inside it covers, and the one round it is covered. So an area told here holds all
that is seen, and where edges are straight no more. Vellum and acetate cover nothing.
"""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.area import region
from cardrecipe.fold.clip import joined_rings, without
from cardrecipe.fold.folded import Outline, SeenPart, View
from cardrecipe.fold.geometry import Point, Ring, turn
from cardrecipe.fold.outlines import Shares, fills_frame, shares, sure_shares, widest_shares
from cardrecipe.fold.stack import SEEN_THROUGH
from cardrecipe.solve.sized import SizedCard, SizedPiece


class SeenArea(NamedTuple):
    """One part of a view and where it shows, in the view's coordinates: rings that share no area."""

    part: SeenPart
    areas: tuple[Outline, ...]


def visible_areas(view: View, card: SizedCard) -> tuple[SeenArea, ...]:
    """Give each part of a view with what no later one covers, bottom first as the view has them.

    A part that only shows through vellum or acetate shows; windows are holes; a part with no area left
    is left out, as it is from the view where outlines alone, windows or not, hide it.
    """
    found: list[SeenArea] = []
    covers: list[Ring] = []
    for part in reversed(view.parts):
        piece = card.piece(part.piece)
        holes = [each for window in _windows(part, piece) for each in region(window).pieces]
        seen = joined_rings(without(region(_reach(part, piece)).pieces, [*covers, *holes]))
        areas = tuple(tuple((Fraction(x), Fraction(y)) for x, y in ring) for ring in seen)
        found.append(SeenArea(part, areas))
        covers += without(_cover(part, piece, card), holes)
    return tuple(each for each in reversed(found) if each.areas)


def _windows(part: SeenPart, piece: SizedPiece) -> list[Outline]:
    """Give the windows of a piece, or of the base that a section belongs to, where they are in the view."""
    if not piece.windows:
        return []
    if part.section is None:
        return [_fitted(part.outline, shares(each, piece.width, piece.height)) for each in piece.windows]
    own = next(each.outline for each in piece.sections if each.name == part.section)
    return [tuple(_as_moved(own, part.outline, point) for point in window) for window in piece.windows]


def _as_moved(own: Outline, moved: Outline, point: Point) -> Point:
    """Give a point where it goes when an outline goes to another, corner by corner."""
    start, right = own[0], own[1]
    third = next(at for at, corner in enumerate(own) if turn(start, right, corner))
    whole = turn(start, right, own[third])
    along = Fraction(turn(start, point, own[third])) / whole
    aside = Fraction(turn(start, right, point)) / whole
    (x, y), (right_x, right_y), (low_x, low_y) = moved[0], moved[1], moved[third]
    return (
        x + (right_x - x) * along + (low_x - x) * aside,
        y + (right_y - y) * along + (low_y - y) * aside,
    )


def _reach(part: SeenPart, piece: SizedPiece) -> Outline:
    """Give an outline that the part never leaves."""
    if part.section is not None or piece.around or fills_frame(piece):
        return part.outline
    return _fitted(part.outline, widest_shares(piece))


def _cover(part: SeenPart, piece: SizedPiece, card: SizedCard) -> list[Ring]:
    """Give what a part hides for certain: nothing of a cutout, whose outline no recipe tells."""
    paper = card.papers.get(piece.paper or "")
    if piece.kind == "cutout" or (paper is not None and paper.kind in SEEN_THROUGH):
        return []
    is_plain = part.section is not None or piece.around or fills_frame(piece)
    outline = part.outline if is_plain else _fitted(part.outline, sure_shares(piece))
    return list(region(outline).pieces)


def _fitted(frame: Outline, parts: Shares) -> Outline:
    """Give an outline, told in parts of a frame, in that frame."""
    (x, y), (right, right_y), _, (low_x, low) = frame
    return tuple(
        (
            x + ((right - x) * across + (low_x - x) * down) / parts.of,
            y + ((right_y - y) * across + (low - y) * down) / parts.of,
        )
        for across, down in parts.corners
    )
