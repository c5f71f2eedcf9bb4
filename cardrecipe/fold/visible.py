"""The exact area of each face and piece that shows: in a view, and on the page of a card held in space.

What covers is taken no larger than it is for certain, and what is covered no smaller: of a circle or
oval the polygon inside it covers, and the one round it is covered. So an area told here holds all
that is seen, and where edges are straight no more. Vellum and acetate cover nothing, nor do windows.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.area import region
from cardrecipe.fold.clip import joined_rings, without
from cardrecipe.fold.folded import FoldedCard, Outline, SeenPart, SpacePart, View
from cardrecipe.fold.geometry import Ring, double_area, turn
from cardrecipe.fold.linked_card import Angles, SheetAngles
from cardrecipe.fold.outlines import fills_frame, fitted, sure_shares, widest_shares
from cardrecipe.fold.space import project, space_view
from cardrecipe.fold.stack import SEEN_THROUGH
from cardrecipe.fold.vectors import Vector
from cardrecipe.solve.sized import Point, SizedCard, SizedPiece

# Parts of the card's unit to which places on the page of a card in space are rounded: far finer
# than it is drawn, and coarse enough for sums of few digits.
PAGE_GRID = 1000


class SeenArea(NamedTuple):
    """One part of a view and where it shows, in the view's coordinates: rings that share no area."""

    part: SeenPart
    areas: tuple[Outline, ...]


class SpaceArea(NamedTuple):
    """One part of a card in space and where it shows on the page that `space.project` projects it to,
    in the card's unit: rings that share no area."""

    part: SpacePart
    areas: tuple[Outline, ...]


def visible_areas(view: View, card: SizedCard) -> tuple[SeenArea, ...]:
    """Give each part of a view with what no later one covers, bottom first as the view has them.

    A part that only shows through vellum, acetate or a window shows; a part with no area left is left
    out.
    """
    found = zip(view.parts, _areas(view.parts, card), strict=True)
    return tuple(SeenArea(part, areas) for part, areas in found if areas)


def visible_in_pose(
    folded: FoldedCard, base: str, angles: Angles, of_sheets: SheetAngles | None = None
) -> tuple[SpaceArea, ...]:
    """Give what shows of every face and piece of a base that is held with its scores at some angles, lying
    on its root as in `space_view`."""
    return visible_on_page(space_view(folded, base, angles, of_sheets), folded.card)


def visible_on_page(parts: Sequence[SpacePart], card: SizedCard) -> tuple[SpaceArea, ...]:
    """Give what shows of parts of a card in space, told back to front, each covered by those after it.

    Those that do not show, or that one sees on edge, are left out. Corners are rounded to the page's
    grid first; from there on it is exact, so it is exact for the projected picture as a painter draws it
    in that order. Of a part that is seen so nearly on edge that rounding tangles its outline, the hull
    counts.
    """
    flat: list[tuple[SpacePart, SeenPart]] = []
    for part in parts:
        outline = _on_page(part.ring)
        if outline:
            holes = tuple(hole for hole in map(_on_page, part.holes) if hole)
            seen = SeenPart(part.piece, part.section, part.side, outline, part.copy, holes=holes)
            flat.append((part, seen))
    areas = _areas([seen for _, seen in flat], card)
    return tuple(SpaceArea(part, own) for (part, _), own in zip(flat, areas, strict=True) if own)


def _areas(parts: Sequence[SeenPart], card: SizedCard) -> list[tuple[Outline, ...]]:
    """Give of each of some parts, bottom first, what no later one covers."""
    found: list[tuple[Outline, ...]] = []
    covers: list[Ring] = []
    for part in reversed(parts):
        piece = card.piece(part.piece)
        holes = [each for hole in part.holes for each in region(hole).pieces]
        seen = joined_rings(without(region(_reach(part, piece)).pieces, [*covers, *holes]))
        found.append(tuple(tuple((Fraction(x), Fraction(y)) for x, y in ring) for ring in seen))
        covers += without(_cover(part, piece, card), holes)
    return found[::-1]


def _reach(part: SeenPart, piece: SizedPiece) -> Outline:
    """Give an outline that the part never leaves."""
    if _is_plain(part, piece):
        return part.outline
    return fitted(widest_shares(piece), part.outline)


def _cover(part: SeenPart, piece: SizedPiece, card: SizedCard) -> list[Ring]:
    """Give what a part hides for certain: nothing of a cutout, whose outline no recipe tells."""
    paper = card.papers.get(piece.paper or "")
    if piece.kind == "cutout" or (paper is not None and paper.kind in SEEN_THROUGH):
        return []
    outline = part.outline if _is_plain(part, piece) else fitted(sure_shares(piece), part.outline)
    return list(region(outline).pieces)


def _is_plain(part: SeenPart, piece: SizedPiece) -> bool:
    """Tell whether a part is its outline; so is the hull of a frame that is seen nearly on edge."""
    is_whole = part.section is not None or piece.around is not None or fills_frame(piece)
    return is_whole or len(part.outline) < 4


def _on_page(ring: Sequence[Vector]) -> Outline:
    """Give a ring as it is projected, on the page's grid; () where it is seen on edge."""
    outline = tuple(
        (Fraction(round(x * PAGE_GRID), PAGE_GRID), Fraction(round(y * PAGE_GRID), PAGE_GRID))
        for x, y in map(project, ring)
    )
    try:
        region(outline)
    except ValueError:  # without area, or its edges cross
        hull = _hull(outline)
        return hull if len(hull) > 2 and double_area(hull) else ()
    return outline


def _hull(points: Sequence[Point]) -> Outline:
    """Give the convex hull of some points, the inside on the left.

    Source: the monotone chain (Andrew 1979); from memory.
    """
    ordered = sorted(set(points))
    rims: list[list[Point]] = []
    for way in (ordered, ordered[::-1]):
        rim: list[Point] = []
        for point in way:
            while len(rim) > 1 and turn(rim[-2], rim[-1], point) <= 0:
                rim.pop()
            rim.append(point)
        rims.append(rim[:-1])
    return tuple(rims[0] + rims[1])
