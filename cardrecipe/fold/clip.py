"""Cuts convex polygons along each other, grows them, and joins the parts again, all exactly.

A ring here is convex and has its inside on the left; what is not convex comes as several.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from math import isqrt

from cardrecipe.fold.geometry import Box, ExactPoint, Number, Ring, bounding_box, double_area, turn

# Roots are rounded down to this share, so that what is grown is never grown too little.
ROOT_GRID = 1024


def are_apart(one: Box, two: Box) -> bool:
    """Tell whether two boxes share no area."""
    return one.left >= two.right or two.left >= one.right or one.top >= two.bottom or two.top >= one.bottom


def split(part: Ring, cover: Ring) -> tuple[Ring, list[Ring]]:
    """Give what of a polygon lies under a cover, () for nothing, and the parts that do not."""
    beside: list[Ring] = []
    inner = part
    for index, corner in enumerate(cover):
        before = cover[index - 1]
        if before == corner:
            continue
        outer = left_of(corner, before, inner)
        if outer:
            inner = left_of(before, corner, inner)
            beside.append(outer)
            if not inner:
                return (), [part]
    return inner, beside


def without(parts: Sequence[Ring], covers: Sequence[Ring]) -> list[Ring]:
    """Give what covers leave of some polygons."""
    rest = list(parts)
    for cover in covers:
        box = bounding_box(cover)
        kept: list[Ring] = []
        for part in rest:
            kept += [part] if are_apart(bounding_box(part), box) else split(part, cover)[1]
        rest = kept
    return rest


def within(parts: Sequence[Ring], cover: Ring) -> list[Ring]:
    """Give what of some polygons lies inside another."""
    return [inner for inner in (split(part, cover)[0] for part in parts) if inner]


def left_of(start: ExactPoint, end: ExactPoint, ring: Ring) -> Ring:
    """Give the part of a convex polygon left of a line, () where it has no area.

    Source: clipping by a half-plane (Sutherland and Hodgman 1974); from memory.
    """
    offsets = [turn(start, end, corner) for corner in ring]
    if min(offsets) >= 0:
        return ring
    if max(offsets) <= 0:
        return ()
    kept: list[ExactPoint] = []
    for index, corner in enumerate(ring):
        before, after = offsets[index - 1], offsets[index]
        if (before < 0 < after) or (after < 0 < before):
            kept.append(_between(ring[index - 1], corner, Fraction(before) / (before - after)))
        if after >= 0:
            kept.append(corner)
    return kept


def grown(ring: Ring, margin: Number) -> Ring:
    """Give a convex polygon that holds all points within a margin of another.

    It is a little larger at its corners, and along slanted edges because roots are rounded down.
    """
    box = bounding_box(ring)
    left, top, right, bottom = box.left - margin, box.top - margin, box.right + margin, box.bottom + margin
    whole: Ring = ((left, top), (right, top), (right, bottom), (left, bottom))
    for index, corner in enumerate(ring):
        before = ring[index - 1]
        dx, dy = corner[0] - before[0], corner[1] - before[1]
        if dx and dy:
            share = margin / _root_below(dx * dx + dy * dy)
            out_x, out_y = dy * share, -dx * share
            whole = left_of(
                (before[0] + out_x, before[1] + out_y), (corner[0] + out_x, corner[1] + out_y), whole
            )
    return whole


def total_area(parts: Sequence[Ring]) -> Fraction:
    """Give the sum of the areas of some polygons, their inside on the left."""
    return sum((Fraction(double_area(part)) for part in parts), Fraction(0)) / 2


def joined_rings(parts: Sequence[Ring]) -> tuple[Ring, ...]:
    """Join polygons that share no area along their common edges, each ring without holes.

    Where the whole would have a hole, the parts stay as they are.
    """
    if len(parts) < 2:
        return tuple(parts)
    corners = list(dict.fromkeys(corner for part in parts for corner in part))
    edges: dict[tuple[ExactPoint, ExactPoint], None] = {}
    for part in parts:
        for index, end in enumerate(part):
            for piece in _pieces(part[index - 1], end, corners):
                if piece[::-1] in edges:
                    del edges[piece[::-1]]
                else:
                    edges[piece] = None
    rings = [_straightened(ring) for ring in _stitched(list(edges))]
    return tuple(parts) if any(double_area(ring) <= 0 for ring in rings) else tuple(rings)


def _pieces(
    start: ExactPoint, end: ExactPoint, corners: Sequence[ExactPoint]
) -> Iterator[tuple[ExactPoint, ExactPoint]]:
    """Cut an edge at the corners that lie on it."""
    axis = 0 if start[0] != end[0] else 1
    low, high = sorted((start[axis], end[axis]))
    between = [
        corner for corner in corners if low < corner[axis] < high and not turn(start, end, corner)
    ]
    between.sort(key=lambda corner: corner[axis], reverse=start[axis] > end[axis])
    stops = [start, *between, end]
    return pairwise(stops)


def _stitched(edges: list[tuple[ExactPoint, ExactPoint]]) -> Iterator[Ring]:
    """Walk edges into rings; where several leave a corner, the sharpest bend to the left goes on."""
    onward: dict[ExactPoint, list[ExactPoint]] = {}
    for start, end in edges:
        onward.setdefault(start, []).append(end)
    while onward:
        start = next(iter(onward))
        ring, here = [start], _taken(onward, start, 0)
        while here != start:
            ring.append(here)
            here = _taken(onward, here, _sharpest(ring[-2], here, onward[here]))
        yield ring


def _taken(onward: dict[ExactPoint, list[ExactPoint]], corner: ExactPoint, index: int) -> ExactPoint:
    after = onward[corner].pop(index)
    if not onward[corner]:
        del onward[corner]
    return after


def _sharpest(before: ExactPoint, here: ExactPoint, ends: Sequence[ExactPoint]) -> int:
    """Give the place of the end that turns furthest to the left, coming from `before`."""
    best = 0
    for index in range(1, len(ends)):
        if _is_further_left(before, here, ends[index], ends[best]):
            best = index
    return best


def _is_further_left(before: ExactPoint, here: ExactPoint, one: ExactPoint, two: ExactPoint) -> bool:
    halves = [turn(before, here, end) for end in (one, two)]
    if (halves[0] > 0) != (halves[1] > 0):
        return halves[0] > 0
    return turn(here, two, one) > 0


def _straightened(ring: Ring) -> Ring:
    """Leave out the corners on straight edges."""
    kept = [
        corner
        for index, corner in enumerate(ring)
        if turn(ring[index - 1], corner, ring[(index + 1) % len(ring)])
    ]
    return kept if len(kept) > 2 else ring


def _between(start: ExactPoint, end: ExactPoint, share: Fraction) -> ExactPoint:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _root_below(square: Number) -> Fraction:
    """Give a number that is at most the root of another, and over 0."""
    grid = ROOT_GRID
    while True:
        root = isqrt(int(Fraction(square) * grid * grid))
        if root:
            return Fraction(root, grid)
        grid *= ROOT_GRID  # a very short edge
