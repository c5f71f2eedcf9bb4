"""A true line in mm → what a page draws: straight ways and Bézier curves, whole or cut to a window of it.

A curve is drawn in eighths of an ellipse; each stays within 5 millionths of its radius (computed; a test).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import acos, asin, atan2, cos, pi, sin, tan
from typing import NamedTuple

from cardrecipe.render.drawings.marks import Box
from cardrecipe.render.drawings.svg import XY
from cardrecipe.render.true_scale.outlines import Quarter, TrueLine, end_of

NEAR = 1e-9  # mm: what counts as one place
EIGHTH = pi / 4

Way = list[object]  # "m" x y, "l" x y, "c" x y x y x y, "z"


class Stroke(NamedTuple):
    """One line as it is drawn: `ways` one after the other, in mm."""

    kind: str
    ways: tuple[Way, ...]


def stroke_of(line: TrueLine) -> Stroke:
    """The whole line; a ring is closed, so that its corners meet."""
    ways: list[Way] = [["m", *_xy(line.start)]]
    here = line.start
    for move in line.moves:
        if isinstance(move, Quarter):
            ways += [["c", *each] for each in _curves(_arc(_xy(here), move))]
        elif not (line.is_closed and move == line.start):
            ways.append(["l", *_xy(move)])
        here = end_of(move)
    return Stroke(line.kind, (*ways, ["z"]) if line.is_closed else tuple(ways))


def strokes_within(line: TrueLine, window: Box) -> Iterator[Stroke]:
    """The parts of a line that lie in a window or on its edge."""
    for before, move in pairwise((line.start, *line.moves)):
        start = _xy(end_of(before))
        if isinstance(move, Quarter):
            for arc in _arcs_within(_arc(start, move), window):
                ways: list[Way] = [["m", *_at(arc, arc.first)], *(["c", *each] for each in _curves(arc))]
                yield Stroke(line.kind, tuple(ways))
        else:
            part = clipped(start, _xy(move), window)
            if part is not None:
                yield Stroke(line.kind, (["m", *part[0]], ["l", *part[1]]))


def clipped(start: XY, end: XY, window: Box) -> tuple[XY, XY] | None:
    """The part of a straight line in a window, its edges included (the clipping of Liang and Barsky)."""
    first, last = 0.0, 1.0
    box = window.grown(NEAR)
    for axis, (low, high) in enumerate(((box.left, box.right), (box.top, box.bottom))):
        way = end[axis] - start[axis]
        if way == 0:
            if not low <= start[axis] <= high:
                return None
            continue
        near, far = sorted(((low - start[axis]) / way, (high - start[axis]) / way))
        first, last = max(first, near), min(last, far)
    if last - first <= NEAR:
        return None
    return _between(start, end, first), _between(start, end, last)


def _between(start: XY, end: XY, share: float) -> XY:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


class _Arc(NamedTuple):
    """A part of an upright ellipse from one angle to a larger one: clockwise, since y runs down."""

    center: XY
    across: float
    down: float
    first: float
    last: float


def _arc(start: XY, move: Quarter) -> _Arc:
    center, across, down = _xy(move.center), float(move.across), float(move.down)
    angle = round(atan2((start[1] - center[1]) / down, (start[0] - center[0]) / across) / (pi / 2)) * pi / 2
    return _Arc(center, across, down, angle, angle + pi / 2)


def _at(arc: _Arc, angle: float) -> XY:
    return arc.center[0] + arc.across * cos(angle), arc.center[1] + arc.down * sin(angle)


def _curves(arc: _Arc) -> Iterator[tuple[float, ...]]:
    """Cubic curves along an arc, each no longer than an eighth: two handles and an end."""
    parts = max(1, round((arc.last - arc.first) / EIGHTH + 0.499))
    step = (arc.last - arc.first) / parts
    handle = 4 / 3 * tan(step / 4)
    for part in range(parts):
        one, two = arc.first + part * step, arc.first + (part + 1) * step
        (ax, ay), (bx, by) = _at(arc, one), _at(arc, two)
        yield (
            ax - handle * arc.across * sin(one),
            ay + handle * arc.down * cos(one),
            bx + handle * arc.across * sin(two),
            by - handle * arc.down * cos(two),
            bx,
            by,
        )


def _arcs_within(arc: _Arc, window: Box) -> Iterator[_Arc]:
    """The parts of an arc between its crossings with the edges of a window, where they lie inside."""
    angles = [arc.first, *sorted(_crossings(arc, window)), arc.last]
    for first, last in pairwise(angles):
        x, y = _at(arc, (first + last) / 2)
        if last - first > NEAR and window.left <= x <= window.right and window.top <= y <= window.bottom:
            yield arc._replace(first=first, last=last)


def _crossings(arc: _Arc, window: Box) -> Iterator[float]:
    across = [(edge - arc.center[0]) / arc.across for edge in (window.left, window.right)]
    down = [(edge - arc.center[1]) / arc.down for edge in (window.top, window.bottom)]
    found = [sign * acos(each) for each in across if abs(each) <= 1 for sign in (1, -1)]
    found += [angle for each in down if abs(each) <= 1 for angle in (asin(each), pi - asin(each))]
    for angle in found:
        for turn in (-2 * pi, 0.0, 2 * pi):
            if arc.first < angle + turn < arc.last:
                yield angle + turn


def shifted(stroke: Stroke, x: float, y: float) -> Stroke:
    """A stroke whose points are counted from (x, y)."""
    return Stroke(stroke.kind, tuple(_shifted(way, (x, y)) for way in stroke.ways))


def _shifted(way: Way, by: XY) -> Way:
    numbers = [each for each in way[1:] if isinstance(each, float)]
    return [way[0], *(each - by[index % 2] for index, each in enumerate(numbers))]


def _xy(point: Sequence[object]) -> XY:
    return float(point[0]), float(point[1])  # type: ignore[arg-type]
