"""The outlines of pieces in their own coordinates, as exact polygons: one that never leaves the piece
and one that the piece never leaves.

A circle or oval has polygons of 36 sides: their distance to the ellipse is under 1/180 of its
radius. Where a shape has an outline of its own that no recipe tells (a cutout), its frame counts.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache
from math import ceil, floor, lcm
from typing import NamedTuple

from cardrecipe.fold.folded import Outline
from cardrecipe.fold.geometry import Point
from cardrecipe.solve.sized import SizedPiece

ROUND = ("circle", "oval")

# The tangents of half the angles from 0 to 44 degrees: each gives a rational point of the circle, and
# their mirror images in the diagonal give the rest of a quarter. No two are over 11.5 degrees apart.
HALF_TANGENTS = (Fraction(0), Fraction(1, 10), Fraction(1, 5), Fraction(3, 10), Fraction(2, 5))

# The polygons have their corners on this grid of the radius, inwards or outwards, so that few digits
# tell them.
GRID = 1024

# As the drawings show a tag and a banner; common practice, no published source.
TAG_CLIP, TAG_CLIP_LONG, BANNER_NOTCH = Fraction(28, 100), Fraction(3, 10), Fraction(35, 100)


def frame_outline(piece: SizedPiece) -> Outline:
    """Give the four corners of a piece, left top first."""
    return _box(piece.width, piece.height)


def own_outline(piece: SizedPiece) -> Outline:
    """Give where a piece can take glue: inside an ellipse, within rounded corners, its outline, else its
    frame."""
    if piece.outline is not None:
        return piece.outline
    if piece.kind in ROUND:
        return ellipse_inside(piece.width, piece.height)
    if piece.corner_radius:
        return _bevelled(piece.width, piece.height, piece.corner_radius)
    return frame_outline(piece)


def widest_outline(piece: SizedPiece) -> Outline:
    """Give an outline that a piece never leaves: round an ellipse, its own, else its frame."""
    if piece.kind in ROUND:
        return ellipse_outside(piece.width, piece.height)
    return piece.outline or frame_outline(piece)


class Shares(NamedTuple):
    """An outline in whole parts of its frame: `corners` are so many `of`-ths of its width and height."""

    of: int
    corners: tuple[tuple[int, int], ...]


def shares(outline: Outline, width: Fraction, height: Fraction) -> Shares:
    """Give an outline in parts of its frame."""
    parts = [(x / width, y / height) for x, y in outline]
    of = lcm(*{number.denominator for point in parts for number in point})
    return Shares(of, tuple((int(x * of), int(y * of)) for x, y in parts))


def fills_frame(piece: SizedPiece) -> bool:
    """Tell whether a piece is a plain rectangle, or may be one for all that a recipe tells."""
    is_cut = piece.corner_radius or piece.outline is not None
    return piece.kind not in (*ROUND, "tag", "banner") and not is_cut


def sure_shares(piece: SizedPiece) -> Shares:
    """Give what a piece covers for certain: less than the frame where corners are cut away."""
    if piece.outline is not None:
        return _own_shares(piece.outline, piece.width, piece.height)
    return _sure(piece.kind, piece.width, piece.height, piece.corner_radius)


def widest_shares(piece: SizedPiece) -> Shares:
    """Give an outline that a piece never leaves: round an ellipse, its own, else the frame."""
    if piece.outline is not None:
        return _own_shares(piece.outline, piece.width, piece.height)
    return _widest_round() if piece.kind in ROUND else _FRAME


def laid(piece: SizedPiece, frame: Outline) -> Outline:
    """Give the outline of a piece whose frame lies there; the frame where it has none of its own."""
    return fitted(widest_shares(piece), frame) if piece.outline is not None else frame


def fitted(parts: Shares, frame: Outline) -> Outline:
    """Give an outline, told in parts of a frame, in that frame."""
    (x, y), (right, right_y), _, (low_x, low) = frame
    return tuple(
        (
            x + ((right - x) * across + (low_x - x) * down) / parts.of,
            y + ((right_y - y) * across + (low - y) * down) / parts.of,
        )
        for across, down in parts.corners
    )


_FRAME = Shares(1, ((0, 0), (1, 0), (1, 1), (0, 1)))


@lru_cache(maxsize=256)
def _own_shares(outline: Outline, width: Fraction, height: Fraction) -> Shares:
    return shares(outline, width, height)


@lru_cache(maxsize=256)
def _sure(kind: str, width: Fraction, height: Fraction, radius: Fraction | None) -> Shares:
    if kind in ROUND:
        outline = ellipse_inside(width, height)
    elif kind == "tag":
        outline = _tag(width, height)
    elif kind == "banner":
        outline = _banner(width, height)
    else:
        outline = _bevelled(width, height, radius or Fraction(0))
    return shares(outline, width, height)


@lru_cache(maxsize=1)
def _widest_round() -> Shares:
    one = Fraction(1)
    return shares(ellipse_outside(one, one), one, one)


@lru_cache(maxsize=256)
def ellipse_inside(width: Fraction, height: Fraction) -> Outline:
    """Give a polygon whose corners lie on the ellipse that touches the frame, or right inside it."""
    return tuple(_fitted(point, width, height, floor) for point in _circle())


@lru_cache(maxsize=256)
def ellipse_outside(width: Fraction, height: Fraction) -> Outline:
    """Give a polygon whose edges touch the ellipse near the other one's corners, or pass outside it.

    The tangents at two unit vectors p and q meet at (p + q) / (1 + p.q). A corner that moves away from
    both axes takes the edges on both sides of it outwards.
    """
    unit = _circle()
    corners = []
    for (x, y), (far_x, far_y) in zip(unit, (*unit[1:], unit[0]), strict=True):
        share = 1 + x * far_x + y * far_y
        corners.append(((x + far_x) / share, (y + far_y) / share))
    return tuple(_fitted(point, width, height, ceil) for point in corners)


@lru_cache(maxsize=1)
def _circle() -> Outline:
    """Give points of the unit circle, the inside on their left (y runs down)."""
    octant = [((1 - t * t) / (1 + t * t), 2 * t / (1 + t * t)) for t in HALF_TANGENTS]
    quarter = [*octant, *((y, x) for x, y in reversed(octant[1:]))]
    points: list[Point] = []
    for _ in range(4):
        points += quarter
        quarter = [(-y, x) for x, y in quarter]
    return tuple(points)


def _fitted(point: Point, width: Fraction, height: Fraction, rounded: Callable[[Fraction], int]) -> Point:
    """Fit a point of the unit circle's plane into a frame, each coordinate rounded by its size."""
    x, y = (_on_grid(part, rounded) for part in point)
    return (1 + x) * width / 2, (1 + y) * height / 2


def _on_grid(part: Fraction, rounded: Callable[[Fraction], int]) -> Fraction:
    size = Fraction(rounded(abs(part) * GRID), GRID)
    return size if part > 0 else -size


def _box(width: Fraction, height: Fraction) -> Outline:
    nil = Fraction(0)
    return ((nil, nil), (width, nil), (width, height), (nil, height))


def _bevelled(width: Fraction, height: Fraction, radius: Fraction) -> Outline:
    """Give a rectangle whose corners are cut straight where they are rounded: inside the round."""
    nil, r = Fraction(0), min(radius, width / 2, height / 2)
    ring = (
        (r, nil),
        (width - r, nil),
        (width, r),
        (width, height - r),
        (width - r, height),
        (r, height),
        (nil, height - r),
        (nil, r),
    )
    return tuple(dict.fromkeys(ring))


def _tag(width: Fraction, height: Fraction) -> Outline:
    short, long = min(width, height), max(width, height)
    nil, clip = Fraction(0), min(short * TAG_CLIP, long * TAG_CLIP_LONG)
    if width <= height:
        ends = ((clip, nil), (width - clip, nil), (width, clip))
        return (*ends, (width, height), (nil, height), (nil, clip))
    return (
        (clip, nil),
        (width, nil),
        (width, height),
        (clip, height),
        (nil, height - clip),
        (nil, clip),
    )


def _banner(width: Fraction, height: Fraction) -> Outline:
    notch, nil = min(width, height) * BANNER_NOTCH, Fraction(0)
    if width < height:
        end = ((width, height), (width / 2, height - notch), (nil, height))
        return ((nil, nil), (width, nil), *end)
    right = ((width, nil), (width - notch, height / 2), (width, height))
    return ((nil, nil), *right, (nil, height), (notch, height / 2))
