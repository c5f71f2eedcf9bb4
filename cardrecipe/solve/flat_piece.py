"""A flat piece's rings and lines as one set of whole-number segments, and where paper lies beside them."""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from cardrecipe.solve.crossings import Net, Place, Segment, Stretch, double_area, encloses
from cardrecipe.solve.sized import Point

Sides = dict[Stretch, tuple[bool, bool]]  # paper at the left and right hand, going up the nodes?


class FlatPiece(NamedTuple):
    """Everything on the piece, on a scale on which every end is whole: so it compares faster."""

    scale: int
    rings: tuple[tuple[Place, ...], ...]  # clockwise; first the outline, then the openings
    ring_of: tuple[int, ...]  # for each segment that is an edge its ring; the edges come first
    segments: tuple[Segment, ...]  # after the edges each line


def flat_piece(rings: Sequence[Sequence[Point]], lines: Sequence[tuple[Point, Point]]) -> FlatPiece:
    """Give the piece with an outline, its openings, and lines that each have two different ends."""
    points = [point for line in (*rings, *lines) for point in line]
    scale = math.lcm(*{number.denominator for point in points for number in point})
    whole = tuple(_clockwise([_whole(corner, scale) for corner in ring]) for ring in rings)
    edges = [
        (number, (before, after))
        for number, ring in enumerate(whole)
        for before, after in pairwise((*ring, ring[0]))
        if before != after
    ]
    segments = [(_whole(start, scale), _whole(end, scale)) for start, end in lines]
    return FlatPiece(
        scale,
        whole,
        tuple(number for number, _ in edges),
        (*(edge for _, edge in edges), *segments),
    )


def paper_beside(piece: FlatPiece, net: Net) -> Sides:
    """Tell on which sides of each stretch of the piece's net paper lies: in the outline and in no
    opening."""
    edges = len(piece.ring_of)
    # At double size the middle between two places is their sum: no number is halved.
    doubled = [tuple((2 * x, 2 * y) for x, y in ring) for ring in piece.rings]
    at_edge = {node for path in net.paths[:edges] for node in path}
    sides: Sides = {}
    for path in net.paths:
        before: tuple[bool, bool] | None = None
        for start, end in pairwise(path):
            stretch = (start, end) if start < end else (end, start)
            if stretch not in sides:
                # Along a line nothing changes but at an edge.
                known = None if start in at_edge else before
                sides[stretch] = known or _beside(piece, doubled, net, stretch)
            before = sides[stretch]
    return sides


def _beside(
    piece: FlatPiece, doubled: Sequence[Sequence[Place]], net: Net, stretch: Stretch
) -> tuple[bool, bool]:
    edges = len(piece.ring_of)
    upward = {piece.ring_of[each]: net.runs_up(each) for each in net.along[stretch] if each < edges}
    (x, y), (to_x, to_y) = net.ring(stretch)
    left = right = True
    for number, ring in enumerate(doubled):
        if number in upward:
            in_left, in_right = not upward[number], upward[number]
        else:
            in_left = in_right = encloses(ring, (x + to_x, y + to_y))
        left, right = left and in_left == (number == 0), right and in_right == (number == 0)
    return left, right


def _whole(point: Point, scale: int) -> tuple[int, int]:
    x, y = point
    return (x.numerator * (scale // x.denominator), y.numerator * (scale // y.denominator))


def _clockwise(ring: list[tuple[int, int]]) -> tuple[Place, ...]:
    return tuple(ring if double_area(ring) > 0 else ring[::-1])
