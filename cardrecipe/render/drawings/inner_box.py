"""Where in a piece with an outline of its own a name has most room."""

from collections.abc import Sequence
from itertools import product
from math import inf

from cardrecipe.render.drawings.lettering import NORMAL, text_width
from cardrecipe.render.drawings.marks import Box
from cardrecipe.render.drawings.svg import XY
from cardrecipe.solve.sized import SizedPiece

PLACES = 24  # in which the middle of the box is looked for, each way
LEAST = 1e-6  # mm that a box must be wider to be taken instead
Edge = tuple[XY, XY]


def inner_box(piece: SizedPiece, frame: Box, ratio: float) -> Box:
    """The largest box found in the piece whose height is `ratio` of its width; `frame` without an
    outline of its own."""
    if piece.outline is None:
        return frame
    across, down = frame.width / float(piece.width), frame.height / float(piece.height)
    ring = [(frame.left + float(x) * across, frame.top + float(y) * down) for x, y in piece.outline]
    edges = list(zip(ring, (*ring[1:], ring[0]), strict=True))
    best = 0.0, frame.middle
    for column, row in product(range(1, PLACES), repeat=2):
        middle = (frame.left + frame.width * column / PLACES, frame.top + frame.height * row / PLACES)
        if _encloses(edges, middle):
            half = _half_width(edges, middle, ratio, best[0] + LEAST)
            best = (half, middle) if half > best[0] + LEAST else best
    half, (x, y) = best
    return Box(x - half, y - half * ratio, x + half, y + half * ratio)


def name_ratio(text: str) -> float:
    """The height of a name in parts of its width, with room round it."""
    return (NORMAL + 2) / (text_width(text, NORMAL) + 3)


def _half_width(edges: Sequence[Edge], middle: XY, ratio: float, least: float) -> float:
    """How far a box round this middle reaches before an edge enters it; some lesser number once it is
    no more than `least`, which most places have seen after a few edges."""
    half = inf
    for edge in edges:
        half = min(half, _reach(middle, ratio, *edge))
        if half <= least:
            break
    return half


def _reach(middle: XY, ratio: float, start: XY, end: XY) -> float:
    """Half the width of the box round a middle that just touches a segment.

    That is the least of max(|x|, |y| / ratio) on the segment, seen from the middle: it lies at an end, or
    where the two are equal, on one of the lines through the box's corners.
    """
    x, y = start[0] - middle[0], (start[1] - middle[1]) / ratio
    far_x, far_y = end[0] - middle[0], (end[1] - middle[1]) / ratio
    reach = min(max(abs(x), abs(y)), max(abs(far_x), abs(far_y)))
    for before, after in ((x - y, far_x - far_y), (x + y, far_x + far_y)):
        if before * after < 0:
            share = before / (before - after)
            reach = min(reach, abs(x + (far_x - x) * share))
    return reach


def _encloses(edges: Sequence[Edge], point: XY) -> bool:
    x, y = point
    inside = False
    for (ax, ay), (bx, by) in edges:
        if (ay > y) != (by > y):
            inside ^= x < ax + (bx - ax) * (y - ay) / (by - ay)
    return inside
