"""A ring whose edges move in (or out), each by a length of its own, to what is left of it, exactly.

A slanted edge moves by an irrational vector, so it is moved by a rational one that is no shorter: no
edge comes nearer to where it was than is asked. Corners stay sharp: two moved edges meet (a mitre).
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import isqrt
from typing import NamedTuple

from cardrecipe.solve.crossings import Place, Segment, double_area, encloses, split, turn
from cardrecipe.solve.regions import divide
from cardrecipe.solve.sized import Point

FINE = 1 << 32  # parts of an edge's length to which the way it moves is rounded, inwards

Ring = tuple[Point, ...]


class Line(NamedTuple):
    """A moved edge: places on it have `across · place == at`, those further in have more.

    `across` is as long as the edge itself, whose own places have `edge` there.
    """

    across: Point
    edge: Fraction
    by: Fraction  # how far it was asked to move
    at: Fraction

    @property
    def is_upright(self) -> bool:
        return not (self.across[0] and self.across[1])


def moved(ring: Ring, by: Sequence[Fraction]) -> list[Ring]:
    """Give what is left of a clockwise ring whose edges move inwards, the largest part first.

    A negative length moves its edge outwards.
    """
    lines = lines_of(ring, by)
    met = _met(lines)
    if _is_sound(met, ring):
        return [met]
    if min(by) >= 0:
        return _left_over(ring, by, lines, met)
    return _left_over(ring, by, lines, met)[:1] if max(by) <= 0 else []


def lines_of(ring: Ring, by: Sequence[Fraction]) -> list[Line]:
    """Give the line of each moved edge."""
    return [_line(start, end, each) for (start, end), each in zip(edges(ring), by, strict=True)]


def share(by: Fraction, square: Fraction) -> Fraction:
    """Give `by` in parts of an edge whose length has this square: the least share that is no less."""
    wanted = by * by / square
    if wanted == (exact := Fraction(isqrt(wanted.numerator), isqrt(wanted.denominator))) ** 2:
        return exact if by >= 0 else -exact
    parts = isqrt(wanted.numerator * FINE * FINE // wanted.denominator)
    return Fraction(parts + 1 if by > 0 else -parts, FINE)


def is_simple(ring: Sequence[Point]) -> bool:
    """Tell whether a ring's edges meet at its corners alone."""
    net = split(list(edges(ring)))
    return len(net.nodes) == len(ring) and all(len(path) == 2 for path in net.paths)


def facing(start: Point, end: Point) -> str | None:
    """Give the way in which an edge of a clockwise ring faces; None for a slanted one."""
    if start[1] == end[1]:
        return "top" if end[0] > start[0] else "bottom"
    if start[0] == end[0]:
        return "right" if end[1] > start[1] else "left"
    return None


def edges(ring: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """Give a ring's edges in their order."""
    return zip(ring, (*ring[1:], ring[0]), strict=True)


def dot(one: Point, two: Point) -> Fraction:
    """Give the dot product of two arms."""
    return one[0] * two[0] + one[1] * two[1]


def _line(start: Point, end: Point, by: Fraction) -> Line:
    across = (start[1] - end[1], end[0] - start[0])
    square = across[0] ** 2 + across[1] ** 2
    edge = dot(across, start)
    return Line(across, edge, by, edge + share(by, square) * square)


def _met(lines: Sequence[Line]) -> Ring:
    """Give where each line meets the one before it."""
    befores = (lines[-1], *lines[:-1])
    return tuple(_crossing(before, line) for before, line in zip(befores, lines, strict=True))


def _crossing(one: Line, two: Line) -> Point:
    (ax, ay), (bx, by) = one.across, two.across
    whole = ax * by - ay * bx
    return (one.at * by - two.at * ay) / whole, (ax * two.at - bx * one.at) / whole


def _is_sound(moved: Ring, ring: Ring) -> bool:
    """Tell whether every edge still runs as it did and none meets another: then no more is to be done."""
    along = zip(edges(moved), edges(ring), strict=True)
    if any(dot(_way(*edge), _way(*before)) <= 0 for edge, before in along):
        return False
    return is_simple(moved)


def _left_over(ring: Ring, by: Sequence[Fraction], lines: Sequence[Line], met: Ring) -> list[Ring]:
    """Take the strips that the edges pass over away from a ring (or add them to it)."""
    strips = _strips(ring, by, lines, met)
    segments: list[Segment] = [*edges(ring), *(each for strip in strips for each in edges(strip))]
    net = split([(start, end) for start, end in segments if start != end])
    whole = divide(net, list(net.along))
    kept: set[int] = set()
    for region in whole.regions:
        place = _inside(net.ring(region.rim))
        is_over = any(encloses(strip, place) for strip in strips)
        if (encloses(ring, place) and not is_over) if min(by) >= 0 else (encloses(ring, place) or is_over):
            kept.update(region.walks)
    rim = [each for at, each in enumerate(whole.stretches) if (2 * at in kept) != (2 * at + 1 in kept)]
    rings = [net.ring(region.rim) for region in divide(net, rim).regions]
    rings.sort(key=double_area, reverse=True)
    return [tuple((Fraction(x), Fraction(y)) for x, y in each) for each in rings]


def _strips(ring: Ring, by: Sequence[Fraction], lines: Sequence[Line], met: Ring) -> list[Ring]:
    """Give what each edge passes over: as far as the mitre where the strips part at a corner, else
    square to its ends."""
    sign = 1 if min(by) >= 0 else -1
    is_open = [turn(before, corner, after) * sign < 0 for before, corner, after in _corners(ring)]
    strips: list[Ring] = []
    for at, ((start, end), line) in enumerate(zip(edges(ring), lines, strict=True)):
        if not by[at]:
            continue
        after = (at + 1) % len(ring)
        far_start = met[at] if is_open[at] else _square_to(start, line)
        far_end = met[after] if is_open[after] else _square_to(end, line)
        strips.append((start, end, far_end, far_start))
    return strips


def _corners(ring: Ring) -> Iterator[tuple[Point, Point, Point]]:
    return zip((ring[-1], *ring[:-1]), ring, (*ring[1:], ring[0]), strict=True)


def _square_to(place: Point, line: Line) -> Point:
    """Give the foot on a moved edge of a place on the edge itself."""
    x, y = line.across
    share = (line.at - line.edge) / (x * x + y * y)
    return place[0] + x * share, place[1] + y * share


def _inside(ring: Sequence[Place]) -> Place:
    """Give a place inside a simple ring.

    Source: at a corner that nothing lies beyond, half way to the nearest corner in its triangle, else
    the middle of the triangle (as for a diagonal of a polygon); from memory.
    """
    at = min(range(len(ring)), key=ring.__getitem__)
    triangle = before, corner, after = ring[at - 1], ring[at], ring[(at + 1) % len(ring)]
    within = [each for each in ring if each not in triangle and _is_in(triangle, each)]
    if not within:
        x, y = (sum((Fraction(each[axis]) for each in triangle), Fraction(0)) for axis in (0, 1))
        return x / 3, y / 3
    deepest = max(within, key=lambda each: turn(before, after, each) ** 2)
    return Fraction(corner[0] + deepest[0]) / 2, Fraction(corner[1] + deepest[1]) / 2


def _is_in(triangle: tuple[Place, Place, Place], place: Place) -> bool:
    one, two, three = triangle
    turns = (turn(one, two, place), turn(two, three, place), turn(three, one, place))
    return all(each >= 0 for each in turns) or all(each <= 0 for each in turns)


def _way(start: Point, end: Point) -> Point:
    return end[0] - start[0], end[1] - start[1]
