"""A piece → its lines at true size, each named for what is done along it: cut, scored, slit.

Points are exact, in the recipe's unit, from the piece's left top, x to the right and y down, as the piece
lies inside up (what is not folded: face up). A round part is a quarter of an ellipse, never a chain of lines.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from cardrecipe.fold.area import contains
from cardrecipe.fold.clip import joined_rings
from cardrecipe.fold.geometry import double_area, turn
from cardrecipe.fold.openings import openings
from cardrecipe.fold.outlines import ROUND, fitted, frame_outline, sure_shares
from cardrecipe.solve.sized import Point, SizedPiece, SizedScore

CUT, VALLEY, MOUNTAIN, SLIT = "cut", "score-valley", "score-mountain", "slit"
KINDS = (CUT, VALLEY, MOUNTAIN, SLIT)
_NAMES = {"valley": VALLEY, "mountain": MOUNTAIN, "slit": SLIT}
_CLIPPED = ("tag", "banner")

Ring = tuple[Point, ...]


class Quarter(NamedTuple):
    """A quarter of an upright ellipse, clockwise as one looks at it, to `end`."""

    end: Point
    center: Point
    across: Fraction  # the radius from left to right
    down: Fraction


Move = Point | Quarter  # a straight way to a point, or a round one


class TrueLine(NamedTuple):
    """One line of a piece; a closed one ends where it starts."""

    kind: str  # one of KINDS
    start: Point
    moves: tuple[Move, ...]
    is_closed: bool


def lines_of(piece: SizedPiece) -> tuple[TrueLine, ...]:
    """Every line of a piece: the outline first, then openings, then scores and slits in their order.

    A score that runs on over an opening, or along its edge, is left out there: there is nothing to score.
    """
    return (*(_closed(*each) for each in _cuts(piece)), *_inner_lines(piece))


def ways_of_scores(piece: SizedPiece) -> Iterator[tuple[SizedScore, list[tuple[Point, Point]]]]:
    """Each score and slit with its parts that have paper on both sides: one, where no opening is near."""
    rings = _rings(piece) if piece.windows else []
    for score in piece.scores:
        yield score, _on_paper(rings, score.start, score.end) if rings else [(score.start, score.end)]


def kinds_of_scores(piece: SizedPiece) -> list[str]:
    """The kind of each score and slit that has paper to run on; once, however often an opening parts it."""
    return [_NAMES[score.direction] for score, ways in ways_of_scores(piece) if ways]


def moved(line: TrueLine, place: Callable[[Point], Point], scale: Fraction = Fraction(1)) -> TrueLine:
    """A line whose points are taken elsewhere; `place` may shift, enlarge by `scale`, or turn by quarters."""
    origin = place((Fraction(0), Fraction(0)))
    is_turned = place((Fraction(1), Fraction(0)))[0] == origin[0]

    def move(each: Move) -> Move:
        if not isinstance(each, Quarter):
            return place(each)
        radii = (each.down, each.across) if is_turned else (each.across, each.down)
        return Quarter(place(each.end), place(each.center), radii[0] * scale, radii[1] * scale)

    return line._replace(start=place(line.start), moves=tuple(map(move, line.moves)))


def enlarged(lines: Sequence[TrueLine], scale: Fraction) -> tuple[TrueLine, ...]:
    """The lines of a piece in another unit: `scale` is how many of it make one of the recipe's."""
    return tuple(moved(line, lambda point: (point[0] * scale, point[1] * scale), scale) for line in lines)


def end_of(move: Move) -> Point:
    return move.end if isinstance(move, Quarter) else move


def _cuts(piece: SizedPiece) -> Iterator[tuple[Point, tuple[Move, ...]]]:
    """The outline and each opening: where it starts and how it goes on."""
    if piece.kind in ROUND:
        yield _ellipse(piece.width, piece.height)
        return
    outline, *within = _rings(piece)
    yield _rounded(piece, outline)
    for ring in within:
        yield ring[0], ring[1:]


def _rings(piece: SizedPiece) -> list[Ring]:
    """The outline, without what openings take from its edge, and the openings that lie within it."""
    outline, within = _polygon(piece), []
    for opening in openings(frame_outline(piece), piece.windows):
        inner = opening if double_area(opening) < 0 else opening[::-1]
        joined = joined_rings((outline, inner))
        if len(joined) == 1:
            outline = _exact(joined[0])
        else:
            within.append(inner)
    return [outline, *within]


def _polygon(piece: SizedPiece) -> Ring:
    """The corners of a piece clockwise, before any is rounded."""
    if piece.outline is not None:
        ring = piece.outline
    elif piece.kind in _CLIPPED:
        ring = fitted(sure_shares(piece), frame_outline(piece))
    else:
        ring = frame_outline(piece)
    return ring if double_area(ring) > 0 else ring[::-1]


def _exact(ring: Sequence[tuple[Fraction | int, Fraction | int]]) -> Ring:
    return tuple((Fraction(x), Fraction(y)) for x, y in ring)


def _closed(start: Point, moves: tuple[Move, ...]) -> TrueLine:
    home = moves if end_of(moves[-1]) == start else (*moves, start)
    return TrueLine(CUT, start, home, True)


def _ellipse(width: Fraction, height: Fraction) -> tuple[Point, tuple[Move, ...]]:
    x, y, nil = width / 2, height / 2, Fraction(0)
    ends = ((width, y), (x, height), (nil, y), (x, nil))
    return (x, nil), tuple(Quarter(end, (x, y), x, y) for end in ends)


def _rounded(piece: SizedPiece, ring: Ring) -> tuple[Point, tuple[Move, ...]]:
    """A ring in which the corners of the piece's rectangle are rounded, where it tells a radius."""
    if not piece.corner_radius or piece.kind in _CLIPPED:
        return ring[0], ring[1:]
    corners = frame_outline(piece)
    ways: list[tuple[Point, Move]] = []
    for index, corner in enumerate(ring):
        before, after = ring[index - 1], ring[(index + 1) % len(ring)]
        radius = min(piece.corner_radius, *(_reach(piece, corner, end) for end in (before, after)))
        if corner in corners and _is_square(before, corner, after):
            start, end = _toward(corner, before, radius), _toward(corner, after, radius)
            center = (start[0] + end[0] - corner[0], start[1] + end[1] - corner[1])
            ways.append((start, Quarter(end, center, radius, radius)))
        else:
            ways.append((corner, corner))
    return _joined(ways)


def _joined(ways: Sequence[tuple[Point, Move]]) -> tuple[Point, tuple[Move, ...]]:
    """Corners, each with where it is reached and how it is passed, as one way round; no move is nil."""
    start = end_of(ways[-1][1])
    here, moves = start, []
    for reached, move in ways:
        for each in (reached, move):
            if isinstance(each, Quarter) or each != here:
                moves.append(each)
                here = end_of(each)
    return start, tuple(moves)


def _reach(piece: SizedPiece, corner: Point, end: Point) -> Fraction:
    """How much of an edge a round corner may take: half of a whole side, all of a shorter edge."""
    length = abs(end[0] - corner[0]) + abs(end[1] - corner[1])
    side = piece.width if end[1] == corner[1] else piece.height
    return length / 2 if length == side else length


def _is_square(before: Point, corner: Point, after: Point) -> bool:
    """True at an outer corner between an upright and a level edge."""
    (ax, ay), (bx, by), (cx, cy) = before, corner, after
    is_upright = (ax == bx and by == cy) or (ay == by and bx == cx)
    return is_upright and (bx - ax) * (cy - by) - (by - ay) * (cx - bx) > 0


def _toward(corner: Point, end: Point, distance: Fraction) -> Point:
    """A point along an upright or a level edge."""
    across, down = end[0] - corner[0], end[1] - corner[1]
    length = abs(across) + abs(down)
    return corner[0] + across * distance / length, corner[1] + down * distance / length


def _inner_lines(piece: SizedPiece) -> Iterator[TrueLine]:
    for score, ways in ways_of_scores(piece):
        for start, end in ways:
            yield TrueLine(_NAMES[score.direction], start, (end,), False)


def _on_paper(rings: Sequence[Ring], start: Point, end: Point) -> list[tuple[Point, Point]]:
    """The parts of a straight line with paper on both sides; `rings` are the outline and the openings."""
    stops = sorted({Fraction(0), Fraction(1), *(stop for ring in rings for stop in _stops(ring, start, end))})
    found: list[tuple[Fraction, Fraction]] = []
    for first, last in pairwise(stops):
        middle = _part_way(start, end, (first + last) / 2)
        if _is_on_paper(rings, middle):
            joins = bool(found) and found[-1][1] == first
            found[-1:] = [(found[-1][0], last)] if joins else [*found[-1:], (first, last)]
    return [(_part_way(start, end, first), _part_way(start, end, last)) for first, last in found]


def _is_on_paper(rings: Sequence[Ring], point: Point) -> bool:
    """True inside the outline and outside the openings, not on the edge of either."""
    outline, *within = rings
    return contains(outline, point) and not any(
        contains(ring, point) or any(_lies_on(edge, point) for edge in _edges(ring)) for ring in within
    )


def _stops(ring: Ring, start: Point, end: Point) -> Iterator[Fraction]:
    """The parts of the way along a line at which it meets the edges of a ring."""
    along = end[0] - start[0], end[1] - start[1]
    square = along[0] ** 2 + along[1] ** 2
    for one, two in _edges(ring):
        before, after = turn(start, end, one), turn(start, end, two)
        for corner, side in ((one, before), (two, after)):
            if side == 0:
                part = ((corner[0] - start[0]) * along[0] + (corner[1] - start[1]) * along[1]) / square
                if 0 < part < 1:
                    yield part
        if (before < 0 < after) or (after < 0 < before):
            meet = _part_way(one, two, Fraction(before) / (before - after))
            part = ((meet[0] - start[0]) * along[0] + (meet[1] - start[1]) * along[1]) / square
            if 0 < part < 1:
                yield part


def _edges(ring: Ring) -> Iterator[tuple[Point, Point]]:
    return zip(ring, (*ring[1:], ring[0]), strict=True)


def _lies_on(edge: tuple[Point, Point], point: Point) -> bool:
    """True where a point of the edge's line lies between its ends."""
    (ax, ay), (bx, by) = edge
    between = min(ax, bx) <= point[0] <= max(ax, bx) and min(ay, by) <= point[1] <= max(ay, by)
    return between and not turn(*edge, point)


def _part_way(start: Point, end: Point, part: Fraction) -> Point:
    return start[0] + (end[0] - start[0]) * part, start[1] + (end[1] - start[1]) * part


def straight_edges(line: TrueLine) -> Iterator[tuple[Point, Point]]:
    """The straight parts of a line, each as its two ends."""
    for before, move in pairwise((line.start, *line.moves)):
        if not isinstance(move, Quarter):
            yield end_of(before), move
