"""The card held half folded: every face as a ring in space, sorted from the back to the front.

Here exactness ends: a position between flat and closed is drawn, never computed with.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from cardrecipe.fold.closed import CannotFold, FlatFold, closed_pose, flat_fold
from cardrecipe.fold.cover import paper_round, uncovered
from cardrecipe.fold.draw_order import Sheet, back_to_front
from cardrecipe.fold.folded import FoldedCard, Outline, SpacePart
from cardrecipe.fold.openings import moved_openings, openings
from cardrecipe.fold.outlines import frame_outline
from cardrecipe.fold.placing import Placed, placed_pieces
from cardrecipe.fold.vectors import ON_THE_TABLE, FlatPoint, Held, Vector, dot, times, unit
from cardrecipe.model.lengths import MM_PER
from cardrecipe.solve.sized import Point

Angles = Mapping[int, Fraction | float]

# The card lies on the table; the eye is above it, and a little to the left of straight before it.
ELEVATION = math.radians(52)
SIDEWAYS = math.radians(15)
LIGHT: Vector = unit((-0.4, -0.3, 1.0))
DARKEST = 0.35


def space_view(folded: FoldedCard, base: str, angles: Angles) -> tuple[SpacePart, ...]:
    """Give a base with its pieces, each score at its angle in degrees, back to front.

    An angle is measured in the score's own direction: 180 is fully folded, a score not named is
    flat. A valley swings its section toward the viewer, a mountain away; the root stays on the
    table. Bands are not shown. Of a piece on the far side only what reaches beyond its section is
    given. () where the base has no closed form.
    """
    flat = flat_fold(folded.card.piece(base), closed_pose(folded.card))
    if isinstance(flat, CannotFold):
        return ()
    return held(flat, placed_pieces(folded.card, flat), angles, folded.card.unit)


def held(flat: FlatFold, placed: Sequence[Placed], angles: Angles, length_unit: str) -> tuple[SpacePart, ...]:
    """Give the same as `space_view` for a base that has been folded and furnished before."""
    poses = _poses(flat, angles)
    sheets = [
        Sheet(_ring(section.outline, pose), pose.normal, -1 if flat.is_flipped(index) else 1)
        for index, (section, pose) in enumerate(zip(flat.sections, poses, strict=True))
    ]
    return tuple(
        part
        for unit in back_to_front(sheets, _units(flat, angles), flat.order, eye(), project)
        for part in _faces(flat, placed, unit, poses, float(MM_PER[length_unit]))
    )


def project(point: Vector) -> tuple[float, float]:
    """Give where a point in space is seen on the page, x to the right and y down (a parallel
    projection: what is parallel stays parallel)."""
    x, y, z = point
    across = x * math.cos(SIDEWAYS) + y * math.sin(SIDEWAYS)
    down = y * math.cos(SIDEWAYS) - x * math.sin(SIDEWAYS)
    return (across, down * math.sin(ELEVATION) - z * math.cos(ELEVATION))


def eye() -> Vector:
    """Give the direction in which the viewer is, one unit long."""
    level = math.cos(ELEVATION)
    return (-math.sin(SIDEWAYS) * level, math.cos(SIDEWAYS) * level, math.sin(ELEVATION))


def _poses(flat: FlatFold, angles: Angles) -> list[Held]:
    """Swing every section about the scores on its way from the root."""
    poses = [ON_THE_TABLE] * len(flat.sections)
    for branch in flat.branches:
        joint = branch.joint
        angle = math.radians(float(angles.get(joint.score.number, 0)))
        away = angle if joint.score.direction == "valley" else -angle
        middle = _middle(flat.sections[branch.child].outline)
        start, end = _floats(joint.start), _floats(joint.end)
        poses[branch.child] = poses[branch.parent].swung(start, end, middle, away)
    return poses


def _units(flat: FlatFold, angles: Angles) -> list[list[int]]:
    """Give the sections in groups that lie flat beside each other, at an angle of 0."""
    units = [[flat.root]]
    for branch in flat.branches:
        if angles.get(branch.joint.score.number, 0):
            units.append([branch.child])
            continue
        next(unit for unit in units if branch.parent in unit).append(branch.child)
    return units


def _faces(
    flat: FlatFold,
    placed: Sequence[Placed],
    unit: Sequence[int],
    poses: Sequence[Held],
    mm_per_unit: float,
) -> Iterator[SpacePart]:
    """Give sections in one plane between what lies on their far side and on the side that is
    seen."""
    pose = poses[unit[0]]
    near = "inside" if dot(pose.normal, eye()) > 0 else "outside"
    here = [each for each in placed if each.section in unit]
    outlines = [flat.sections[index].outline for index in unit]
    holes = [openings(outline, flat.piece.windows) for outline in outlines]
    paper = [part for pair in zip(outlines, holes, strict=True) for part in paper_round(*pair)]
    for each in here[::-1]:
        if each.side != near and uncovered(each.frame, paper):
            yield _piece_part(each, pose, "outside", mm_per_unit)
    for index, cut in zip(unit, holes, strict=True):
        ring = _ring(flat.sections[index].outline, poses[index])
        name = flat.sections[index].name
        windows = tuple(_ring(hole, poses[index]) for hole in cut)
        yield SpacePart(flat.piece.name, name, near, ring, _shade(pose, near), holes=windows)
    for each in here:
        if each.side == near:
            yield _piece_part(each, pose, "inside", mm_per_unit)


def _piece_part(placed: Placed, pose: Held, side: str, mm_per_unit: float) -> SpacePart:
    is_on_inside = placed.side == "inside"
    lift = float(placed.lift_mm) / mm_per_unit * (1 if is_on_inside else -1)
    facing = "inside" if is_on_inside == (side == "inside") else "outside"
    ring = _ring(placed.frame, pose, lift)
    holes = moved_openings(placed.way, frame_outline(placed.piece), placed.piece.windows)
    windows = tuple(_ring(hole, pose, lift) for hole in holes)
    return SpacePart(placed.piece.name, None, side, ring, _shade(pose, facing), placed.copy, windows)


def _shade(pose: Held, side: str) -> float:
    """Give how light a side of the paper is, from the angle at which the light falls on it."""
    normal = pose.normal if side == "inside" else times(-1, pose.normal)
    return round(DARKEST + (1 - DARKEST) * max(0.0, dot(normal, LIGHT)), 4)


def _ring(outline: Outline, pose: Held, lift: float = 0.0) -> tuple[Vector, ...]:
    return tuple(pose.at(_floats(point), lift) for point in outline)


def _middle(outline: Outline) -> FlatPoint:
    across, down = zip(*outline, strict=True)
    return _floats((sum(across, Fraction(0)) / len(across), sum(down, Fraction(0)) / len(down)))


def _floats(point: Point) -> FlatPoint:
    return (float(point[0]), float(point[1]))
