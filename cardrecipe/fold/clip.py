"""Cuts convex polygons along each other, grows them, and joins the parts again, all exactly.

A ring here is convex and has its inside on the left; what is not convex comes as several.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from math import inf, isqrt

from cardrecipe.fold.geometry import Box, ExactPoint, Number, Ring, bounding_box, double_area, turn

# Roots are rounded down to this share, so that what is grown is never grown too little.
ROOT_GRID = 1024
# Of the largest of some numbers: more than what a float may be out by.
ERROR = 1e-15


def are_apart(one: Box, two: Box) -> bool:
    """Tell whether two boxes share no area."""
    return one.left >= two.right or two.left >= one.right or one.top >= two.bottom or two.top >= one.bottom


def split(part: Ring, cover: Ring) -> tuple[Ring, list[Ring]]:
    """Give what of a polygon lies under a cover, () for nothing, and the parts that do not.

    The edges with the most corners beyond them cut first, which gives fewer and larger parts.
    """
    cuts: list[tuple[int, int]] = []
    for index, corner in enumerate(cover):
        if corner == cover[index - 1]:
            continue
        sides = _sides(cover[index - 1], corner, part)
        if max(sides) <= 0:
            return (), [part]
        beyond = sum(each < 0 for each in sides)
        if beyond:
            cuts.append((-beyond, index))
    beside: list[Ring] = []
    inner = part
    for _, index in sorted(cuts):
        inner, outer = _halves(cover[index - 1], cover[index], inner)
        if outer:
            beside.append(outer)
        if not inner:
            return (), [part]
    return inner, beside


def common(part: Ring, cover: Ring, of: Sequence[Ring]) -> Ring:
    """Give what of a polygon lies inside a cover, () for nothing.

    The part lies wholly in the polygons that the cover is a part `of`, so their edges do not cut it.
    """
    rim = _rim(of)
    for index, corner in enumerate(cover):
        before = cover[index - 1]
        if part and before != corner and not _is_on_rim(rim, before, corner):
            part = left_of(before, corner, part)
    return part


def is_within(part: Ring, cover: Ring) -> bool:
    """Tell whether a polygon lies inside another or on its edges."""
    return all(
        min(_sides(cover[index - 1], corner, part)) >= 0
        for index, corner in enumerate(cover)
        if corner != cover[index - 1]
    )


def without(parts: Sequence[Ring], covers: Sequence[Ring]) -> list[Ring]:
    """Give what covers leave of some polygons."""
    rest = [(part, bounding_box(part)) for part in parts]
    for cover in covers:
        box = bounding_box(cover)
        kept: list[tuple[Ring, Box]] = []
        for part, its_box in rest:
            if are_apart(its_box, box):
                kept.append((part, its_box))
            else:
                kept += [(beside, bounding_box(beside)) for beside in split(part, cover)[1]]
        rest = kept
    return [part for part, _ in rest]


def within(parts: Sequence[Ring], cover: Ring) -> list[Ring]:
    """Give what of some polygons lies inside another."""
    return [inner for inner in (split(part, cover)[0] for part in parts) if inner]


def left_of(start: ExactPoint, end: ExactPoint, ring: Ring) -> Ring:
    """Give the part of a convex polygon left of a line, () where it has no area."""
    return _halves(start, end, ring)[0]


def _halves(start: ExactPoint, end: ExactPoint, ring: Ring) -> tuple[Ring, Ring]:
    """Give the parts of a convex polygon left and right of a line, () where one has no area.

    Source: clipping by a half-plane (Sutherland and Hodgman 1974); from memory.
    """
    sides = _sides(start, end, ring)
    if min(sides) >= 0:
        return ring, ()
    if max(sides) <= 0:
        return (), ring
    left: list[ExactPoint] = []
    right: list[ExactPoint] = []
    for index, corner in enumerate(ring):
        before, after = sides[index - 1], sides[index]
        if (before < 0 < after) or (after < 0 < before):
            crossing = _crossing(start, end, ring[index - 1], corner)
            left.append(crossing)
            right.append(crossing)
        if after >= 0:
            left.append(corner)
        if after <= 0:
            right.append(corner)
    return left, right


def _sides(start: ExactPoint, end: ExactPoint, ring: Ring) -> list[float]:
    """Give `side` of each corner; along a level or an upright line it is a comparison."""
    if start[0] == end[0]:
        at, sign = start[0], 1 if end[1] > start[1] else -1
        return [0 if x == at else sign if x < at else -sign for x, _ in ring]
    if start[1] == end[1]:
        at, sign = start[1], 1 if end[0] > start[0] else -1
        return [0 if y == at else -sign if y < at else sign for _, y in ring]
    return [side(start, end, corner) for corner in ring]


def side(start: ExactPoint, end: ExactPoint, point: ExactPoint) -> float:
    """Give a number with the sign of `geometry.turn`: over 0 for a point left of a line, 0 on it.

    Floats answer where they cannot err, which is nearly always and ten times faster; the exact sum
    answers where they might.
    """
    if type(point[0]) is type(point[1]) is type(start[0]) is type(start[1]) is int:
        return _sign(turn(start, end, point))
    try:
        sx, sy, ex, ey, x, y = *map(float, start), *map(float, end), *map(float, point)
    except OverflowError:
        return _sign(turn(start, end, point))
    about = (ex - sx) * (y - sy) - (ey - sy) * (x - sx)
    most = max(abs(sx), abs(sy), abs(ex), abs(ey), abs(x), abs(y))
    # Each difference errs by 2^-52 of `most` at most, and their products are sums of 4 such squares.
    return about if abs(about) > 1e-13 * most * most else _sign(turn(start, end, point))


def _sign(number: Number) -> int:
    return (number > 0) - (number < 0)


def _crossing(start: ExactPoint, end: ExactPoint, corner: ExactPoint, other: ExactPoint) -> ExactPoint:
    """Give where the way between two corners on either side of a line crosses it."""
    if start[0] == end[0]:
        return start[0], _at(start[0], corner, other)
    if start[1] == end[1]:
        return _at(start[1], corner[::-1], other[::-1]), start[1]
    before, after = turn(start, end, corner), turn(start, end, other)
    share = Fraction(before) / (before - after)
    return corner[0] + (other[0] - corner[0]) * share, corner[1] + (other[1] - corner[1]) * share


def _at(x: Number, corner: ExactPoint, other: ExactPoint) -> Number:
    """Give the second coordinate of the way between two corners where the first is `x`."""
    if corner[1] == other[1]:
        return corner[1]
    (x0, y0), (x1, y1) = corner, other
    if type(x) is type(x0) is type(y0) is type(x1) is type(y1) is int:
        return Fraction(y0 * (x1 - x0) + (y1 - y0) * (x - x0), x1 - x0)
    return y0 + (y1 - y0) * Fraction(x - x0) / (x1 - x0)


def grown(ring: Ring, margin: Number, of: Sequence[Ring] = ()) -> Ring:
    """Give a convex polygon that holds all points within a margin of another.

    It is a little larger at its corners, along slanted edges because roots are rounded down, and at
    slanted edges that it shares with one of the polygons that it is a part `of`.
    """
    box = bounding_box(ring)
    left, top, right, bottom = box.left - margin, box.top - margin, box.right + margin, box.bottom + margin
    whole: Ring = ((left, top), (right, top), (right, bottom), (left, bottom))
    rim = _rim(of)
    for index, corner in enumerate(ring):
        before = ring[index - 1]
        dx, dy = corner[0] - before[0], corner[1] - before[1]
        if dx and dy and not _is_on_rim(rim, before, corner):
            share = margin / _root_below(dx * dx + dy * dy)
            out_x, out_y = dy * share, -dx * share
            whole = left_of(
                (before[0] + out_x, before[1] + out_y), (corner[0] + out_x, corner[1] + out_y), whole
            )
    return whole


Rim = dict[ExactPoint, tuple[ExactPoint, ExactPoint]]


def _rim(rings: Sequence[Ring]) -> Rim:
    """Give the corners before and after each corner of some polygons."""
    return {
        corner: (ring[index - 1], ring[(index + 1) % len(ring)])
        for ring in rings
        for index, corner in enumerate(ring)
    }


def _is_on_rim(rim: Rim, start: ExactPoint, end: ExactPoint) -> bool:
    """Tell whether an edge is one of a rim, or begins or ends one that is cut short."""
    if start in rim and not side(start, rim[start][1], end):
        return True
    return end in rim and not side(rim[end][0], end, start)


def total_area(parts: Sequence[Ring]) -> Fraction:
    """Give the sum of the areas of some polygons, their inside on the left."""
    return sum((Fraction(double_area(part)) for part in parts), Fraction(0)) / 2


def joined_rings(parts: Sequence[Ring]) -> tuple[Ring, ...]:
    """Join polygons that share no area along their common edges, each ring without holes.

    Where the whole would have a hole, the parts stay as they are.
    """
    if len(parts) < 2:
        return tuple(parts)
    corners = _Corners(dict.fromkeys(corner for part in parts for corner in part))
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


class _Corners:
    """Corners to be looked up by where they lie: floats say which may be near, with room for their errors."""

    def __init__(self, corners: Iterable[ExactPoint]) -> None:
        placed = sorted(((_nearly(x), _nearly(y), (x, y)) for x, y in corners), key=lambda each: each[:2])
        self._across = [each[0] for each in placed]
        self._placed = placed
        self._room = ERROR * max(max(abs(x), abs(y)) for x, y, _ in placed)

    def near(self, start: ExactPoint, end: ExactPoint) -> Iterator[ExactPoint]:
        """Give the corners in the box of an edge, and perhaps some just beside it."""
        left, right = sorted((_nearly(start[0]), _nearly(end[0])))
        top, bottom = sorted((_nearly(start[1]), _nearly(end[1])))
        room = self._room
        if room == inf:  # beyond all floats
            yield from (corner for _, _, corner in self._placed)
            return
        first, last = bisect_left(self._across, left - room), bisect_right(self._across, right + room)
        for _, y, corner in self._placed[first:last]:
            if top - room <= y <= bottom + room:
                yield corner


def _nearly(number: Number) -> float:
    try:
        return float(number)
    except OverflowError:
        return inf if number > 0 else -inf


def _pieces(
    start: ExactPoint, end: ExactPoint, corners: _Corners
) -> Iterator[tuple[ExactPoint, ExactPoint]]:
    """Cut an edge at the corners that lie on it."""
    axis = 0 if start[0] != end[0] else 1
    low, high = sorted((start[axis], end[axis]))
    near = corners.near(start, end)
    between = [corner for corner in near if low < corner[axis] < high and not side(start, end, corner)]
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
    halves = [side(before, here, end) for end in (one, two)]
    if (halves[0] > 0) != (halves[1] > 0):
        return halves[0] > 0
    return side(here, two, one) > 0


def _straightened(ring: Ring) -> Ring:
    """Leave out the corners on straight edges."""
    kept = [
        corner
        for index, corner in enumerate(ring)
        if side(ring[index - 1], corner, ring[(index + 1) % len(ring)])
    ]
    return kept if len(kept) > 2 else ring


def _root_below(square: Number) -> Fraction:
    """Give a number that is at most the root of another, and over 0."""
    grid = ROOT_GRID
    while True:
        root = isqrt(int(Fraction(square) * grid * grid))
        if root:
            return Fraction(root, grid)
        grid *= ROOT_GRID  # a very short edge
