"""Which areas of folded paper lie over each other: exact overlap of simple polygons.

Most sections are upright rectangles, whose boxes answer everything; other outlines are cut into
convex pieces once (`region`) and compared piece by piece. A shared edge or corner is no overlap.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from cardrecipe.fold.clip import left_of, side
from cardrecipe.fold.geometry import Box, ExactPoint, Number, Ring, bounding_box, double_area, turn


class Region(NamedTuple):
    """An outline prepared for questions about its inside."""

    outline: Ring
    box: Box
    fills_box: bool
    pieces: tuple[Ring, ...]  # convex, inside on the left, together the whole


def region(outline: Ring) -> Region:
    """Prepare a simple polygon; ValueError if it has no area or its edges cross."""
    box = bounding_box(outline)
    double = double_area(outline)
    if not double:
        raise ValueError("an outline must enclose an area")
    fills_box = abs(double) == 2 * (box.right - box.left) * (box.bottom - box.top)
    ring = outline if double > 0 else tuple(reversed(outline))
    pieces = (ring,) if fills_box or _is_convex(ring) else _triangles(ring)
    return Region(outline, box, fills_box, pieces)


def overlap(first: Region, second: Region) -> bool:
    """Tell whether two polygons have an area in common."""
    if not _boxes_overlap(first.box, second.box):
        return False
    if first.fills_box and second.fills_box:
        return True
    return any(_convex_overlap(one, two) for one in first.pieces for two in second.pieces)


def all_three_overlap(first: Region, second: Region, third: Region) -> bool:
    """Tell whether three polygons, each two of which overlap, have an area common to all.

    Upright rectangles always do: intervals that meet in pairs have a common point (Helly's theorem
    on a line, applied to x and to y; from memory).
    """
    if first.fills_box and second.fills_box and third.fills_box:
        return True
    return any(
        _convex_overlap(common, three)
        for one in first.pieces
        for two in second.pieces
        if (common := _convex_common(one, two))
        for three in third.pieces
    )


def contains(outline: Ring, point: ExactPoint) -> bool:
    """Tell whether a point lies inside a simple polygon; a point on the edge does not.

    Source: the even-odd crossing count, with exact comparison; from memory.
    """
    inside = False
    previous = outline[-1]
    for corner in outline:
        bend = turn(previous, corner, point)
        if not bend and _within_box(point, previous, corner):
            return False
        if (previous[1] > point[1]) != (corner[1] > point[1]):
            inside ^= (bend > 0) == (corner[1] > previous[1])
        previous = corner
    return inside


def passes_through(start: ExactPoint, end: ExactPoint, shape: Region) -> bool:
    """Tell whether more than a point of a segment lies inside a polygon, edges not counted."""
    left, right = sorted((start[0], end[0]))
    top, bottom = sorted((start[1], end[1]))
    box = shape.box
    if right < box.left or left > box.right or bottom < box.top or top > box.bottom:
        return False
    if shape.fills_box and left == right:
        return box.left < left < box.right and max(top, box.top) < min(bottom, box.bottom)
    if shape.fills_box and top == bottom:
        return box.top < top < box.bottom and max(left, box.left) < min(right, box.right)
    stops = _crossings(start, end, shape.outline)
    return any(
        contains(shape.outline, _between(start, end, (before + after) / 2))
        for before, after in pairwise(stops)
    )


def _crossings(start: ExactPoint, end: ExactPoint, outline: Ring) -> list[Fraction]:
    """Give, in order, the shares of the way along a segment where it may enter or leave."""
    axis = 0 if start[0] != end[0] else 1
    stops = {Fraction(0), Fraction(1)}
    previous, before = outline[-1], turn(start, end, outline[-1])
    for corner in outline:
        after = turn(start, end, corner)
        if not after:
            stops.add(Fraction(corner[axis] - start[axis]) / (end[axis] - start[axis]))
        elif (before < 0 < after) or (after < 0 < before):
            meet = _between(previous, corner, Fraction(before) / (before - after))
            stops.add(Fraction(meet[axis] - start[axis]) / (end[axis] - start[axis]))
        previous, before = corner, after
    return sorted(stop for stop in stops if 0 <= stop <= 1)


def _between(start: ExactPoint, end: ExactPoint, share: Fraction) -> ExactPoint:
    return (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)


def _boxes_overlap(first: Box, second: Box) -> bool:
    return (
        first.left < second.right
        and second.left < first.right
        and first.top < second.bottom
        and second.top < first.bottom
    )


def _within_box(point: ExactPoint, corner: ExactPoint, opposite: ExactPoint) -> bool:
    return all(
        min(corner[axis], opposite[axis]) <= point[axis] <= max(corner[axis], opposite[axis])
        for axis in (0, 1)
    )


def _is_convex(ring: Ring) -> bool:
    """Tell whether a simple polygon, inside on the left, never turns right."""
    return all(
        side(ring[index - 2], ring[index - 1], corner) >= 0 for index, corner in enumerate(ring)
    )


def _convex_overlap(first: Ring, second: Ring) -> bool:
    """Tell whether convex polygons share an area: no edge of either may part them.

    Source: the separating axis theorem for convex polygons; from memory.
    """
    return not (_has_parting_edge(first, second) or _has_parting_edge(second, first))


def _has_parting_edge(ring: Ring, other: Ring) -> bool:
    return any(
        all(side(ring[index - 1], corner, point) <= 0 for point in other)
        for index, corner in enumerate(ring)
        if ring[index - 1] != corner
    )


def _convex_common(first: Ring, second: Ring) -> Ring:
    """Give the area common to two convex polygons, empty when there is none.

    Source: clipping by one half-plane after another (Sutherland and Hodgman 1974); from memory.
    """
    ring = first
    for index, corner in enumerate(second):
        ring = left_of(second[index - 1], corner, ring)
        if not ring:
            break
    return ring


def _triangles(ring: Ring) -> tuple[Ring, ...]:
    """Cut a simple polygon, inside on the left, into triangles by taking off ears.

    Source: every simple polygon has an ear (Meisters 1975); from memory.
    """
    rest = list(ring)
    triangles: list[Ring] = []
    while len(rest) > 2:
        index, bend = _next_ear(rest)
        if bend:
            triangles.append((rest[index - 1], rest[index], rest[(index + 1) % len(rest)]))
        del rest[index]
    return tuple(triangles)


def _next_ear(rest: list[ExactPoint]) -> tuple[int, Number]:
    """Give a corner that can be cut off, and how it bends: 0 for one on a straight edge."""
    for index, tip in enumerate(rest):
        before, after = rest[index - 1], rest[(index + 1) % len(rest)]
        bend = turn(before, tip, after)
        if not bend or (bend > 0 and _is_empty((before, tip, after), rest)):
            return index, bend
    raise ValueError("the edges of an outline must not cross")


def _is_empty(triangle: tuple[ExactPoint, ExactPoint, ExactPoint], corners: Ring) -> bool:
    """Tell whether no corner but its own lies in a triangle or on its edges."""
    first, second, third = triangle
    return not any(
        side(first, second, point) >= 0 and side(second, third, point) >= 0 and side(third, first, point) >= 0
        for point in corners
        if point not in triangle
    )
