"""Cuts a flat piece along its scores and slits into faces, and says which scores join which faces.

Everything is exact: lines that touch, cross or lie along each other do so to the last bit. Rings are
simple and clockwise as one looks at the sheet (y runs down), and begin at their topmost corner (the
leftmost of those); no corner lies on a straight edge.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby, pairwise
from operator import itemgetter
from typing import NamedTuple

from cardrecipe.solve.crossings import Net, Number, Place, Stretch, double_area, split, turn
from cardrecipe.solve.flat_piece import Sides, flat_piece, paper_beside
from cardrecipe.solve.regions import Corners, Division, Region, divide
from cardrecipe.solve.sized import Point

Ring = tuple[Point, ...]


class DrawnLine(NamedTuple):
    """A straight score or slit on the flat piece; `index` is how its owner knows it."""

    kind: str  # "score" | "slit"
    start: Point
    end: Point
    index: int  # type: ignore[assignment]  # a tuple has a method of that name


class Hinge(NamedTuple):
    """Two faces (their places, `first` < `second`) that a score joins along a part of it."""

    line: int
    first: int
    second: int
    start: Point  # in the line's own direction
    end: Point


class Run(NamedTuple):
    """A part of a line, in the line's own direction."""

    line: int
    start: Point
    end: Point


class Covered(NamedTuple):
    """A part of a line that does nothing because the line `by` lies there too."""

    line: int
    by: int
    start: Point
    end: Point


class Subdivision(NamedTuple):
    """The faces of a flat piece in reading order, and what its lines do, in the order of the lines.

    Every part of a line is a hinge, a slit between two faces, dangling, off or covered. Where lines
    lie along each other a slit wins over a score, and the one written first over its like.
    """

    faces: tuple[Ring, ...]
    holes: tuple[tuple[Ring, ...], ...]  # for each face: openings in it, and parts cut free within it
    hinges: tuple[Hinge, ...]
    dangling: tuple[Run, ...]  # one face on both sides: a mere cut into it, or a score that cannot fold
    off: tuple[Run, ...]  # off the paper, in an opening, or along an edge of either
    covered: tuple[Covered, ...]


def subdivide(
    outline: Sequence[Point], lines: Sequence[DrawnLine], openings: Sequence[Sequence[Point]] = ()
) -> Subdivision:
    """Give the faces into which lines and openings divide a piece.

    `outline` and `openings` are simple straight-edged rings, run either way round; an opening may
    overlap another, or an edge. A line of no length is left out, and an opening of no area.
    """
    real = [line for line in lines if line.start != line.end]
    holes = [opening for opening in openings if double_area(opening)]
    piece = flat_piece((outline, *holes), [(line.start, line.end) for line in real])
    net = split(piece.segments)
    sides = paper_beside(piece, net)
    division = divide(net, [stretch for stretch, paper in sides.items() if any(paper)])
    faces = _in_reading_order(net, _of_paper(sides, division))
    points = [(_measure(x, piece.scale), _measure(y, piece.scale)) for x, y in net.nodes]
    lying = _Lying(net, sides, division.idle, _beside(division, faces), real)
    return _written(lying, faces, points)


class _Lying(NamedTuple):
    """What lies where, to tell what a stretch of a line does."""

    net: Net
    sides: Sides
    idle: frozenset[Stretch]
    beside: dict[Stretch, tuple[int, ...]]  # the two faces beside a stretch
    lines: Sequence[DrawnLine]  # their segments are the net's last


class _Role(NamedTuple):
    """Off, covered by a line, dangling, a slit, or a hinge between two faces."""

    word: str
    others: tuple[int, ...] = ()


_OFF, _DANGLING, _SLIT = _Role("off"), _Role("dangling"), _Role("slit")


def _of_paper(sides: Sides, division: Division) -> list[Region]:
    """Leave out the regions that are openings."""
    kept = []
    for region in division.regions:
        stretch, comes_down = divmod(region.walks[0], 2)
        left, right = sides[division.stretches[stretch]]
        if left if comes_down else right:
            kept.append(region)
    return kept


def _in_reading_order(net: Net, faces: Sequence[Region]) -> list[Region]:
    """Sort by the top, then the left of the rim; ties by the middle, upper before lower."""
    places = [(net.rows[face.rim[0]], net.columns[min(face.rim)]) for face in faces]
    shared = {place for place, times in Counter(places).items() if times > 1}
    order = [
        (place, _center(net.ring(face.rim)) if place in shared else (), number)
        for number, (place, face) in enumerate(zip(places, faces, strict=True))
    ]
    return [faces[number] for _, _, number in sorted(order)]


def _center(ring: Sequence[Place]) -> Place:
    """Give y and x of a ring's centroid (the mean of its triangles with the first corner, by area)."""
    down: Number = 0
    across: Number = 0
    for before, after in pairwise(ring):
        area = turn(ring[0], before, after)
        down += area * (ring[0][1] + before[1] + after[1])
        across += area * (ring[0][0] + before[0] + after[0])
    whole = 3 * double_area(ring)
    return (Fraction(down) / whole, Fraction(across) / whole)


def _beside(division: Division, faces: Sequence[Region]) -> dict[Stretch, tuple[int, ...]]:
    beside: dict[Stretch, tuple[int, ...]] = {}
    for number, face in enumerate(faces):
        for walk in face.walks:
            stretch = division.stretches[walk // 2]
            beside[stretch] = (*beside.get(stretch, ()), number)
    return beside


def _role(lying: _Lying, line: int, stretch: Stretch) -> _Role:
    if not all(lying.sides[stretch]):
        return _OFF
    strongest = _strongest(lying, stretch)
    if line != strongest:
        return _Role("covered", (strongest,))
    if stretch in lying.idle:
        return _DANGLING
    return _SLIT if lying.lines[line].kind == "slit" else _Role("hinge", lying.beside[stretch])


def _strongest(lying: _Lying, stretch: Stretch) -> int:
    """Give the line that counts where several lie along each other."""
    first = len(lying.net.paths) - len(lying.lines)
    present = lying.net.along[stretch]
    if len(present) == 1:
        return present[0] - first
    return min((each - first for each in present), key=lambda each: (lying.lines[each].kind != "slit", each))


def _parts(lying: _Lying) -> Iterator[tuple[int, _Role, int, int]]:
    """Give for each line its longest parts of one role, from node to node, along the line."""
    first = len(lying.net.paths) - len(lying.lines)
    for line, path in enumerate(lying.net.paths[first:]):
        steps = [(_role(lying, line, (min(step), max(step))), step) for step in pairwise(path)]
        for role, run in groupby(steps, key=itemgetter(0)):
            part = [step for _, step in run]
            yield line, role, part[0][0], part[-1][1]


def _written(lying: _Lying, faces: Sequence[Region], points: Sequence[Point]) -> Subdivision:
    """Write the findings in the piece's own measure and with the lines' own numbers."""
    index = [line.index for line in lying.lines]
    hinges, covered = [], []
    runs: dict[str, list[Run]] = {"dangling": [], "off": [], "slit": []}
    for line, role, start, end in _parts(lying):
        run = Run(index[line], points[start], points[end])
        if role.word == "hinge":
            first, second = role.others
            hinges.append(Hinge(run.line, first, second, run.start, run.end))
        elif role.word == "covered":
            covered.append(Covered(run.line, index[role.others[0]], run.start, run.end))
        else:
            runs[role.word].append(run)
    return Subdivision(
        tuple(_ring(points, face.rim) for face in faces),
        tuple(tuple(_ring(points, hole) for hole in face.holes) for face in faces),
        tuple(hinges),
        tuple(runs["dangling"]),
        tuple(runs["off"]),
        tuple(covered),
    )


def _ring(points: Sequence[Point], corners: Corners) -> Ring:
    return tuple(points[corner] for corner in corners)


def _measure(number: Number, scale: int) -> Fraction:
    return Fraction(number, scale) if isinstance(number, int) else number / scale
