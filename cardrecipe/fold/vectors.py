"""Arrows in space as three floats, and rigid motions of a flat sheet into space."""

from __future__ import annotations

import math
from typing import NamedTuple

Vector = tuple[float, float, float]
FlatPoint = tuple[float, float]


def plus(one: Vector, two: Vector) -> Vector:
    return (one[0] + two[0], one[1] + two[1], one[2] + two[2])


def minus(one: Vector, two: Vector) -> Vector:
    return (one[0] - two[0], one[1] - two[1], one[2] - two[2])


def times(number: float, vector: Vector) -> Vector:
    return (number * vector[0], number * vector[1], number * vector[2])


def dot(one: Vector, two: Vector) -> float:
    return one[0] * two[0] + one[1] * two[1] + one[2] * two[2]


def cross(one: Vector, two: Vector) -> Vector:
    return (
        one[1] * two[2] - one[2] * two[1],
        one[2] * two[0] - one[0] * two[2],
        one[0] * two[1] - one[1] * two[0],
    )


def unit(vector: Vector) -> Vector:
    return times(1 / math.sqrt(dot(vector, vector)), vector)


class Held(NamedTuple):
    """Where a flat sheet is held: the images of its axes, of its inside's normal, and of (0, 0)."""

    right: Vector
    down: Vector
    normal: Vector
    origin: Vector

    def at(self, point: FlatPoint, lift: float = 0.0) -> Vector:
        """Give a flat point in space, `lift` above the inside of the paper."""
        across, along = times(point[0], self.right), times(point[1], self.down)
        return plus(plus(self.origin, times(lift, self.normal)), plus(across, along))

    def swung(self, start: FlatPoint, end: FlatPoint, aside: FlatPoint, angle: float) -> Held:
        """Give the part of the sheet beyond a line, swung about it toward the inside.

        `aside` is a point of that part; the angle is in radians, less than 0 to swing away.
        """
        along = unit((end[0] - start[0], end[1] - start[1], 0.0))
        offset = (aside[0] - start[0], aside[1] - start[1], 0.0)
        across: Vector = (-along[1], along[0], 0.0)
        if dot(offset, across) < 0:
            across = times(-1, across)
        turned = plus(times(math.cos(angle), across), (0.0, 0.0, math.sin(angle)))
        normal = plus(times(-math.sin(angle), across), (0.0, 0.0, math.cos(angle)))

        def swing(vector: Vector) -> Vector:
            flat = plus(times(dot(vector, along), along), times(dot(vector, across), turned))
            return plus(flat, times(vector[2], normal))

        pivot = (start[0], start[1], 0.0)
        origin = plus(pivot, swing(times(-1, pivot)))
        axes = (swing((1.0, 0.0, 0.0)), swing((0.0, 1.0, 0.0)), normal)
        right, down, up = (self._direction(axis) for axis in axes)
        return Held(right, down, up, self.at(origin[:2], origin[2]))

    def after(self, first: Held) -> Held:
        """Give the one motion that does `first` and then this one."""
        right, down, normal = (self._direction(axis) for axis in (first.right, first.down, first.normal))
        return Held(right, down, normal, self.at(first.origin[:2], first.origin[2]))

    def undone(self) -> Held:
        """Give the motion that takes everything back."""
        axes = (self.right, self.down, self.normal)
        right, down, normal = zip(*axes, strict=True)
        x, y, z = (-dot(axis, self.origin) for axis in axes)
        return Held(right, down, normal, (x, y, z))

    def _direction(self, vector: Vector) -> Vector:
        flat = plus(times(vector[0], self.right), times(vector[1], self.down))
        return plus(flat, times(vector[2], self.normal))


ON_THE_TABLE = Held((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.0, 0.0, 0.0))
