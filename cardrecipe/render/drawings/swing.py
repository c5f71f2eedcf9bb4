"""The way that paper travels in a fold: the plane it lies in, and the arc of its far edge."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import product
from math import cos, radians, sin
from typing import NamedTuple

from cardrecipe.fold.folded import FoldAction, SpacePart
from cardrecipe.fold.vectors import Vector, dot, minus, plus, times, unit
from cardrecipe.solve.sized import Point, SizedPiece, SizedScore, SizedSection

LIFT_OFF, LANDING = 6, 152  # degrees at which the arrow begins and ends
ARROW_OUT = 1.04  # the arrow runs this much outside the paper's own edge
ARC_STEPS = 16


class Plane(NamedTuple):
    """Where a section's plane lies in space: the images of (0, 0), of the two axes, and its normal
    on the inside."""

    origin: Vector
    right: Vector
    down: Vector
    normal: Vector

    def at(self, point: Point) -> Vector:
        along = plus(times(float(point[0]), self.right), times(float(point[1]), self.down))
        return plus(self.origin, along)


def planes_of(base: SizedPiece, parts: Sequence[SpacePart]) -> dict[str, Plane]:
    outlines = {section.name: section.outline for section in base.sections}
    return {
        part.section: _plane(outlines[part.section], part.ring)
        for part in parts
        if part.section is not None
    }


class Swing(NamedTuple):
    """One score of a fold: the section that swings there, and the plane of the one that is still."""

    score: SizedScore
    moving: SizedSection
    still: Plane

    def path(self) -> list[Vector]:
        """The way in space of the far edge of the section that swings."""
        return _arc(self.still, self.score, _far_middle(self.moving, self.score))


def swings_of(base: SizedPiece, action: FoldAction, planes: dict[str, Plane]) -> list[Swing]:
    """The scores of a fold at which a section swings against one that is still.

    A score that has no such pair (its sections do not meet there) is left out.
    """
    found = []
    for score in base.scores:
        if score.number not in action.scores:
            continue
        for moving, still in _pairs(base, score):
            if moving.name in action.moves and still.name not in action.moves:
                found.append(Swing(score, moving, planes[still.name]))
                break
    return found


def acted_parts(base: SizedPiece, score: SizedScore, moves: Sequence[str]) -> list[tuple[Point, Point]]:
    """The parts of a score at which a section that moves meets one that does not: a score runs on over
    what has been cut out."""
    if score.axis not in ("x", "y"):
        return [(score.start, score.end)]
    across, at = ("y", 1) if score.axis == "x" else ("x", 0)
    ends = sorted((score.start[at], score.end[at]))
    spans: set[tuple[Fraction, Fraction]] = set()
    for one, two in _pairs(base, score):
        if one.name in moves and two.name not in moves:
            low = max(ends[0], _stretch(one, across)[0], _stretch(two, across)[0])
            high = min(ends[1], _stretch(one, across)[1], _stretch(two, across)[1])
            spans.add((low, high))
    found = [((score.at, low), (score.at, high)) for low, high in sorted(spans) if low < high]
    return found if score.axis == "x" else [((y, x), (v, u)) for (x, y), (u, v) in found]


def _pairs(
    base: SizedPiece, score: SizedScore
) -> Iterator[tuple[SizedSection, SizedSection]]:
    """Sections that meet along a score, either one first."""
    if score.axis not in ("x", "y"):
        yield from _slanted_pairs(base, score)
        return
    across = "y" if score.axis == "x" else "x"
    for one, two in product(base.sections, repeat=2):
        (near, mid), (also_mid, far) = _stretch(one, score.axis), _stretch(two, score.axis)
        (start, end), (first, last) = _stretch(one, across), _stretch(two, across)
        if mid == also_mid == score.at and near < far and start < last and first < end:
            yield from ((one, two), (two, one))


def _slanted_pairs(base: SizedPiece, score: SizedScore) -> Iterator[tuple[SizedSection, SizedSection]]:
    for one, two in product(base.sections, repeat=2):
        for (start, end), (first, last) in product(_edges_on(one, score), _edges_on(two, score)):
            # Of two that lie on either side one edge runs the other way.
            if start < end and first > last and start < first and last < end:
                yield from ((one, two), (two, one))


def _edges_on(section: SizedSection, score: SizedScore) -> list[tuple[Fraction, Fraction]]:
    """Where edges of a section on the line of a slanted score begin and end, measured along it."""
    way = score.end[0] - score.start[0], score.end[1] - score.start[1]
    outline = section.outline
    return [
        (_measured(start, score, way), _measured(end, score, way))
        for start, end in zip(outline, (*outline[1:], outline[0]), strict=True)
        if _off(start, score) == _off(end, score) == 0
    ]


def _measured(point: Point, score: SizedScore, way: Point) -> Fraction:
    return (point[0] - score.start[0]) * way[0] + (point[1] - score.start[1]) * way[1]


def _off(point: Point, score: SizedScore) -> Fraction:
    """How far a point lies from the line of a score, times the length of the score."""
    (x, y), (to_x, to_y) = score.start, score.end
    return (to_x - x) * (point[1] - y) - (to_y - y) * (point[0] - x)


def _plane(outline: Sequence[Point], corners: Sequence[Vector]) -> Plane:
    """The rigid motion that takes the flat `outline` to its `corners`, from three of them."""
    (ax, ay), (bx, by) = outline[0], outline[1]
    third = next(
        place
        for place, (x, y) in enumerate(outline)
        if (bx - ax) * (y - ay) != (by - ay) * (x - ax)
    )
    cx, cy = outline[third]
    p, q, r, s = (float(each) for each in (bx - ax, by - ay, cx - ax, cy - ay))
    first, second = minus(corners[1], corners[0]), minus(corners[third], corners[0])
    area = p * s - q * r
    right = times(1 / area, minus(times(s, first), times(q, second)))
    down = times(1 / area, minus(times(p, second), times(r, first)))
    along = plus(times(float(ax), right), times(float(ay), down))
    return Plane(minus(corners[0], along), right, down, _cross(right, down))


def _stretch(section: SizedSection, axis: str) -> tuple[Fraction, Fraction]:
    if axis == "x":
        return section.x, section.x + section.width
    return section.y, section.y + section.height


def _far_middle(section: SizedSection, score: SizedScore) -> Point:
    """The middle of the edge, or the corner, that lies farthest from the score."""
    if score.axis not in ("x", "y"):
        most = max(abs(_off(point, score)) for point in section.outline)
        far_off = [point for point in section.outline if abs(_off(point, score)) == most]
        xs, ys = zip(*far_off, strict=True)
        return Fraction(sum(xs), len(far_off)), Fraction(sum(ys), len(far_off))
    first, last = _stretch(section, score.axis)
    far = first if last == score.at else last
    if score.axis == "x":
        return far, section.y + section.height / 2
    return section.x + section.width / 2, far


def _arc(plane: Plane, score: SizedScore, point: Point) -> list[Vector]:
    """The way of a point of the swinging section, from lying flat to nearly folded."""
    start, end, flat = plane.at(score.start), plane.at(score.end), plane.at(point)
    along = unit(minus(end, start))
    foot = plus(start, times(dot(minus(flat, start), along), along))
    reach = times(ARROW_OUT, minus(flat, foot))
    length = dot(reach, reach) ** 0.5
    rise = times(length if score.direction == "valley" else -length, plane.normal)
    span = LANDING - LIFT_OFF
    turns = [radians(LIFT_OFF + span * step / ARC_STEPS) for step in range(ARC_STEPS + 1)]
    return [plus(foot, plus(times(cos(turn), reach), times(sin(turn), rise))) for turn in turns]


def _cross(one: Vector, two: Vector) -> Vector:
    return (
        one[1] * two[2] - one[2] * two[1],
        one[2] * two[0] - one[0] * two[2],
        one[0] * two[1] - one[1] * two[0],
    )
