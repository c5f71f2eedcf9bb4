"""Where in a piece with an outline of its own a name has most room."""

from collections.abc import Sequence
from itertools import product

from cardrecipe.render.drawings.lettering import NORMAL, text_width
from cardrecipe.render.drawings.marks import Box
from cardrecipe.render.drawings.svg import XY
from cardrecipe.solve.sized import SizedPiece

PLACES = 24  # in which the middle of the box is looked for, each way
STEPS = 20  # in which the box grows
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
        wider = best[0] + LEAST
        # Most places have less room than the best so far: that is seen at once.
        if _encloses(edges, middle) and _is_clear(edges, middle, wider, ratio):
            half = _half_width(edges, middle, ratio, frame.width / 2)
            best = (half, middle) if half > wider else best
    half, (x, y) = best
    return Box(x - half, y - half * ratio, x + half, y + half * ratio)


def name_ratio(text: str) -> float:
    """The height of a name in parts of its width, with room round it."""
    return (NORMAL + 2) / (text_width(text, NORMAL) + 3)


def _half_width(edges: Sequence[Edge], middle: XY, ratio: float, most: float) -> float:
    """How far a box round this middle reaches before an edge enters it."""
    low, high = 0.0, most
    for _ in range(STEPS):
        half = (low + high) / 2
        low, high = (half, high) if _is_clear(edges, middle, half, ratio) else (low, half)
    return low


def _is_clear(edges: Sequence[Edge], middle: XY, half: float, ratio: float) -> bool:
    return not any(_enters(half, half * ratio, middle, *edge) for edge in edges)


def _enters(half: float, high: float, middle: XY, start: XY, end: XY) -> bool:
    """Tell whether a segment passes through an upright box, by the part of it that is within."""
    first, last = 0.0, 1.0
    for axis, reach in ((0, half), (1, high)):
        at, way = start[axis] - middle[axis], end[axis] - start[axis]
        if abs(way) < 1e-12:
            if abs(at) >= reach:
                return False
            continue
        one, two = sorted(((-reach - at) / way, (reach - at) / way))
        first, last = max(first, one), min(last, two)
    return last - first > 1e-9


def _encloses(edges: Sequence[Edge], point: XY) -> bool:
    x, y = point
    inside = False
    for (ax, ay), (bx, by) in edges:
        if (ay > y) != (by > y):
            inside ^= x < ax + (bx - ax) * (y - ay) / (by - ay)
    return inside
