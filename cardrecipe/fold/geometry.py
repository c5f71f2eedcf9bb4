"""Exact plane geometry on rationals: points, lines, segments, and the motions of folded paper.

Nothing here rounds: two edges that meet after folding meet exactly, so a layer question is never
decided by the last bit of a float. Lengths are in whatever unit the caller uses throughout. The y
axis points down the page, as in a recipe; "left" of a line is then what a mathematician, with y
upward, calls left.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

Number = Fraction | int
Point = tuple[Fraction, Fraction]
Outline = tuple[Point, ...]

# What the questions below accept: points scaled to whole numbers are answered faster.
ExactPoint = tuple[Number, Number]
Ring = Sequence[ExactPoint]


class Box(NamedTuple):
    """The upright rectangle round something: least and greatest x and y."""

    left: Number
    top: Number
    right: Number
    bottom: Number


class Motion(NamedTuple):
    """A flat motion of the plane: x' = xx*x + xy*y + dx, y' = yx*x + yy*y + dy, all exact."""

    xx: Fraction
    xy: Fraction
    yx: Fraction
    yy: Fraction
    dx: Fraction
    dy: Fraction

    @classmethod
    def reflection(cls, start: ExactPoint, end: ExactPoint) -> Motion:
        """Give the reflection across the line through two points; ValueError if they are one.

        Source: the Householder form 2 d d^T / |d|^2 - I, from memory.
        """
        along, down = Fraction(end[0] - start[0]), Fraction(end[1] - start[1])
        square = along * along + down * down
        if not square:
            raise ValueError("a line needs two different points")
        cosine = (along * along - down * down) / square
        sine = 2 * along * down / square
        dx = start[0] - cosine * start[0] - sine * start[1]
        dy = start[1] - sine * start[0] + cosine * start[1]
        return cls(cosine, sine, sine, -cosine, dx, dy)

    @classmethod
    def shift(cls, dx: Number, dy: Number) -> Motion:
        """Give the motion that moves every point by (dx, dy)."""
        return cls(Fraction(1), Fraction(0), Fraction(0), Fraction(1), Fraction(dx), Fraction(dy))

    def apply(self, point: ExactPoint) -> Point:
        """Give the place to which a point is moved; motions along the axes, the usual case, only add."""
        x, y = point
        if not self.xy and not self.yx:
            dx, dy = self.dx, self.dy
            return (dx + x if self.xx > 0 else dx - x, dy + y if self.yy > 0 else dy - y)
        return (self.xx * x + self.xy * y + self.dx, self.yx * x + self.yy * y + self.dy)

    def move(self, outline: Ring) -> Outline:
        """Give an outline with every corner moved."""
        return tuple(self.apply(point) for point in outline)

    def after(self, first: Motion) -> Motion:
        """Give the one motion that does `first` and then this one."""
        dx, dy = self.apply((first.dx, first.dy))
        if not self.xy and not self.yx:
            across, down = self.xx > 0, self.yy > 0
            return Motion(
                first.xx if across else -first.xx,
                first.xy if across else -first.xy,
                first.yx if down else -first.yx,
                first.yy if down else -first.yy,
                dx,
                dy,
            )
        return Motion(
            self.xx * first.xx + self.xy * first.yx,
            self.xx * first.xy + self.xy * first.yy,
            self.yx * first.xx + self.yy * first.yx,
            self.yx * first.xy + self.yy * first.yy,
            dx,
            dy,
        )

    def is_flipped(self) -> bool:
        """Tell whether the paper is turned over by the motion (its determinant is negative)."""
        if not self.xy and not self.yx:
            return (self.xx > 0) != (self.yy > 0)
        return self.xx * self.yy - self.xy * self.yx < 0


STAY = Motion.shift(0, 0)


def reflect(point: ExactPoint, start: ExactPoint, end: ExactPoint) -> Point:
    """Give the mirror image of a point across the line through two points."""
    return Motion.reflection(start, end).apply(point)


def turn(origin: ExactPoint, first: ExactPoint, second: ExactPoint) -> Number:
    """Give the cross product of two arms from `origin`: over 0 if `second` lies to the left."""
    return (first[0] - origin[0]) * (second[1] - origin[1]) - (first[1] - origin[1]) * (
        second[0] - origin[0]
    )


def signed_area(outline: Ring) -> Fraction:
    """Give the area of a simple polygon, over 0 when its inside is on the left of its edges."""
    return Fraction(double_area(outline)) / 2


def double_area(outline: Ring) -> Number:
    """Give twice the signed area, which stays whole for whole-number corners (shoelace formula)."""
    total: Number = 0
    previous = outline[-1]
    for point in outline:
        total += previous[0] * point[1] - previous[1] * point[0]
        previous = point
    return total


def bounding_box(outline: Ring) -> Box:
    """Give the smallest upright rectangle that holds every corner."""
    across = [point[0] for point in outline]
    down = [point[1] for point in outline]
    return Box(min(across), min(down), max(across), max(down))


def shared_length(
    start: ExactPoint, end: ExactPoint, other_start: ExactPoint, other_end: ExactPoint
) -> Number:
    """Give how much of one line two segments share, 0 when they lie on different lines.

    It is measured along x, or along y for an upright line: no root is taken, so it stays exact.
    """
    if turn(start, end, other_start) or turn(start, end, other_end):
        return 0
    axis = 0 if start[0] != end[0] else 1
    low = max(min(start[axis], end[axis]), min(other_start[axis], other_end[axis]))
    high = min(max(start[axis], end[axis]), max(other_start[axis], other_end[axis]))
    return high - low if high > low else 0


def side_at_segment(outline: Ring, start: ExactPoint, end: ExactPoint) -> int:
    """Tell on which side of a segment on its edge a polygon lies: 1 left of it, -1 right.

    0 means that the segment is not wholly on the polygon's edge.
    """
    axis = 0 if start[0] != end[0] else 1
    uncovered = shared_length(start, end, start, end)
    side = 0
    previous = outline[-1]
    for point in outline:
        shared = shared_length(start, end, previous, point)
        if shared:
            uncovered -= shared
            along = (end[axis] > start[axis]) == (point[axis] > previous[axis])
            side = 1 if along == (double_area(outline) > 0) else -1
        previous = point
    return 0 if uncovered else side
