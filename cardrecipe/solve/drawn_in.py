"""A ring drawn in (or out) by a length for each of its edges, to a ring that a ruler can draw.

Corners go on to marks of the ruler, always inwards: no edge of the result is nearer to its edge of
the ring than was asked, and none is a whole mark further away. So an edge may be a hair off parallel.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import lru_cache

from cardrecipe.solve.crossings import Segment, double_area, turn
from cardrecipe.solve.moved_edges import Line, Ring, dot, edges, facing, is_simple, lines_of, moved, share
from cardrecipe.solve.sized import Point

FINER = (1, 2, 4, 8, 16, 32, 64)  # a corner that no mark meets lies between two: on a half, a quarter, …
REACH = 3  # marks on either side of a corner among which its place is looked for


@lru_cache(maxsize=256)
def drawn_in(ring: Ring, by: tuple[Fraction, ...], step: Fraction) -> tuple[Ring, ...]:
    """Give the ring, clockwise, with each edge moved inwards, corners on marks that are `step` apart.

    A negative length moves its edge outwards. Where the edges on both sides of a narrow place meet
    there are several rings, the largest first; () where nothing is left.
    """
    exact = moved(ring, by)
    if not exact:
        return ()
    origin = _origin(exact[0], step)
    on_marks = _on_marks(ring, by, origin, step)
    left = moved(ring, on_marks)
    return tuple(_from_the_top(_rounded(each, ring, on_marks, origin, step)) for each in left)


def _origin(ring: Ring, step: Fraction) -> Point:
    """Give a place that lies on marks both ways, less than one from nothing.

    Marks count from an upright edge of the result, at its left or its top where it has one.
    """
    at = {facing(start, end): start for start, end in edges(ring)}
    across, down = (_first(at, names) for names in (("left", "right"), ("top", "bottom")))
    return (across[0] if across else Fraction(0)) % step, (down[1] if down else Fraction(0)) % step


def _first(at: dict[str | None, Point], names: tuple[str, str]) -> Point | None:
    return next((at[name] for name in names if name in at), None)


def _on_marks(ring: Ring, by: Sequence[Fraction], origin: Point, step: Fraction) -> list[Fraction]:
    """Let upright edges move on to the next mark."""
    found = []
    for (start, end), each in zip(edges(ring), by, strict=True):
        way = facing(start, end)
        axis, sign = (0 if way in ("left", "right") else 1), (1 if way in ("left", "top") else -1)
        if way is not None:
            each += sign * (origin[axis] - start[axis] - sign * each) % step
        found.append(each)
    return found


def _rounded(exact: Ring, ring: Ring, by: Sequence[Fraction], origin: Point, step: Fraction) -> Ring:
    """Put corners on marks where no edge comes too near; where that spoils the ring it stays exact."""
    lines = lines_of(ring, by)
    own = [_line_of(edge, lines) for edge in edges(exact)]
    corners = [
        _on_a_mark(corner, (before, after), origin, step)
        for corner, before, after in zip(exact, (own[-1], *own[:-1]), own, strict=True)
    ]
    rounded = _straightened(tuple(dict.fromkeys(corners)))
    return rounded if len(rounded) > 2 and _is_within(rounded, exact) else exact


def _straightened(ring: Ring) -> Ring:
    """Leave out corners that have come to lie on a straight edge: two edges of one line meet nowhere, so that
    nothing could be drawn in from them."""
    beside = zip((ring[-1], *ring[:-1]), ring, (*ring[1:], ring[0]), strict=True)
    return tuple(corner for before, corner, after in beside if not _goes_straight_on(before, corner, after))


def _goes_straight_on(before: Point, corner: Point, after: Point) -> bool:
    there = corner[0] - before[0], corner[1] - before[1]
    onward = after[0] - corner[0], after[1] - corner[1]
    return turn(before, corner, after) == 0 and dot(there, onward) > 0


def _line_of(edge: tuple[Point, Point], lines: Sequence[Line]) -> Line | None:
    return next((line for line in lines if all(dot(line.across, end) == line.at for end in edge)), None)


def _on_a_mark(corner: Point, beside: tuple[Line | None, ...], origin: Point, step: Fraction) -> Point:
    lines = [line for line in beside if line is not None]
    if len(lines) < len(beside):
        return corner
    for part in FINER:
        near = [each for each in _marks(corner, origin, step / part) if _is_kept(each, lines, step)]
        if near:
            return min(near, key=lambda each: ((each[0] - corner[0]) ** 2 + (each[1] - corner[1]) ** 2, each))
    return corner


def _marks(corner: Point, origin: Point, step: Fraction) -> Iterator[Point]:
    across, down = ((place - start) // step for place, start in zip(corner, origin, strict=True))
    for x in range(across - REACH, across + REACH + 2):
        for y in range(down - REACH, down + REACH + 2):
            yield origin[0] + x * step, origin[1] + y * step


def _is_kept(place: Point, lines: Sequence[Line], step: Fraction) -> bool:
    return all(_is_right(place, line, step) for line in lines)


def _is_right(place: Point, line: Line, step: Fraction) -> bool:
    """Tell whether a place lies as far in as asked and less than a mark further; on an upright line."""
    at = dot(line.across, place)
    if line.is_upright:
        return at == line.at
    square = line.across[0] ** 2 + line.across[1] ** 2
    return at >= line.at and at - line.edge < _less(line.by + step, square)


def _less(length: Fraction, square: Fraction) -> Fraction:
    """Give a length times the root of a square, or a little less."""
    return -share(-length, square) * square


def _is_within(ring: Ring, exact: Ring) -> bool:
    """Tell whether a ring with nearly the same corners is simple and lies within the exact one."""
    if double_area(ring) <= 0 or not is_simple(ring):
        return False
    return not any(_cross(one, two) for one in edges(ring) for two in edges(exact))


def _cross(one: Segment, two: Segment) -> bool:
    (a, b), (c, d) = one, two
    return turn(a, b, c) * turn(a, b, d) < 0 and turn(c, d, a) * turn(c, d, b) < 0


def _from_the_top(ring: Ring) -> Ring:
    """Begin at the topmost corner, the leftmost of those."""
    top = min(range(len(ring)), key=lambda at: (ring[at][1], ring[at][0]))
    return (*ring[top:], *ring[:top])
