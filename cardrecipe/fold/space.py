"""The card held half folded: every face as a ring in space, sorted from the back to the front.

Here exactness ends: a position between flat and closed is drawn, never computed with.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from cardrecipe.fold.assembly import Assembly, folded_together
from cardrecipe.fold.closed import CannotFold, closed_pose, flat_fold
from cardrecipe.fold.cover import paper_round, uncovered
from cardrecipe.fold.draw_order import Sheet, back_to_front
from cardrecipe.fold.folded import FoldedCard, Outline, SpacePart
from cardrecipe.fold.linkage import Linkage
from cardrecipe.fold.linked_card import Angles, SheetAngles, shown_card
from cardrecipe.fold.openings import moved_openings
from cardrecipe.fold.outlines import frame_outline, laid
from cardrecipe.fold.placing import Placed
from cardrecipe.fold.vectors import ON_THE_TABLE, FlatPoint, Held, Vector, dot, times, unit
from cardrecipe.model.lengths import MM_PER
from cardrecipe.solve.sized import Point, SizedCard

UNTURNED = 1e-6  # degrees: less than this is the noise of a ring that is closed with floats

# The card lies on the table; the eye is above it, and a little to the left of straight before it.
ELEVATION = math.radians(52)
SIDEWAYS = math.radians(15)
LIGHT: Vector = unit((-0.4, -0.3, 1.0))
DARKEST = 0.35

OTHER_SIDE = {"inside": "outside", "outside": "inside"}


def space_view(
    folded: FoldedCard, base: str, angles: Angles, of_sheets: SheetAngles | None = None
) -> tuple[SpacePart, ...]:
    """Give a base with its pieces, each score at its angle in degrees, back to front.

    An angle is measured in the score's own direction: 180 is fully folded. A score not named is flat,
    but where sections go round in a ring it follows those that are named. A valley swings its section
    toward the viewer, a mountain away; the root stays on the table. `of_sheets` are the angles of scored
    panels by piece and score. Bands are not shown. Of a piece on the far side only what reaches beyond
    its section is given. () where the card has no closed form.
    """
    shut = shut_card(folded.card, base)
    return held(shut, angles, of_sheets or {}, folded.card.unit) if shut is not None else ()


def shut_card(card: SizedCard, base: str) -> Assembly | None:
    """Give a base and its sheets as they are folded shut; None where they cannot be."""
    flat = flat_fold(card.piece(base), closed_pose(card))
    if isinstance(flat, CannotFold):
        return None
    shut = folded_together(card, flat)
    return shut if isinstance(shut, Assembly) else None


def held(
    card: Assembly,
    angles: Angles,
    of_sheets: SheetAngles,
    length_unit: str,
    root: Held = ON_THE_TABLE,
) -> tuple[SpacePart, ...]:
    """Give the same as `space_view` for a card that has been folded and furnished before; `root` is how
    its root is held."""
    return painted(card, shown_card(card, angles, of_sheets), length_unit, root, LIGHT)


def painted(
    card: Assembly, linkage: Linkage, length_unit: str, root: Held, light: Vector
) -> tuple[SpacePart, ...]:
    """Give the faces of a card in the order in which a painter draws them; `light` is where light comes
    from, one unit long."""
    poses = [root.after(pose) for pose in linkage.poses]
    sheets = [
        Sheet(_ring(section.outline, pose), pose.normal, -1 if motion.is_flipped() else 1)
        for section, pose, motion in zip(card.sections, poses, card.motions, strict=True)
    ]
    return tuple(
        part
        for unit in back_to_front(sheets, _units(card, linkage.angles), card.order, eye(), project)
        for part in _faces(card, unit, poses, float(MM_PER[length_unit]), light)
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


def _units(card: Assembly, bent: Sequence[float]) -> list[list[int]]:
    """Give the sections in groups that lie flat beside each other, at an angle of 0."""
    leaders = list(range(len(card.sections)))
    for joint, angle in zip(card.joints, bent, strict=True):
        if abs(angle) < UNTURNED:
            keep, gone = sorted((leaders[joint.first], leaders[joint.second]))
            leaders = [keep if leader == gone else leader for leader in leaders]
    return [
        [at for at, leader in enumerate(leaders) if leader == each] for each in dict.fromkeys(leaders)
    ]


def _faces(
    card: Assembly,
    unit: Sequence[int],
    poses: Sequence[Held],
    mm_per_unit: float,
    light: Vector,
) -> Iterator[SpacePart]:
    """Give sections in one plane between what lies on their far side and on the side that is
    seen."""
    pose = poses[unit[0]]
    near = "inside" if dot(pose.normal, eye()) > 0 else "outside"
    here = [each for each in card.placed if each.section in unit]
    outlines = [card.sections[index].outline for index in unit]
    holes = [card.windows_in(index) for index in unit]
    paper = [part for pair in zip(outlines, holes, strict=True) for part in paper_round(*pair)]
    for each in here[::-1]:
        if each.side != near and uncovered(laid(each.piece, each.frame), paper):
            yield _piece_part(each, pose, "outside", mm_per_unit, light)
    for index, cut in zip(unit, holes, strict=True):
        facing, section = card.facings[index], card.sections[index]
        lift = float(facing.lift_mm) / mm_per_unit * (1 if facing.rank >= 0 else -1)
        ring = _ring(section.outline, poses[index], lift)
        side = OTHER_SIDE[near] if facing.is_turned else near
        windows = tuple(_ring(hole, poses[index], lift) for hole in cut)
        shade = _shade(pose, near, light)
        yield SpacePart(facing.piece.name, section.name, side, ring, shade, facing.copy, windows)
    for each in here:
        if each.side == near:
            yield _piece_part(each, pose, "inside", mm_per_unit, light)


def _piece_part(placed: Placed, pose: Held, side: str, mm_per_unit: float, light: Vector) -> SpacePart:
    is_on_inside = placed.side == "inside"
    lift = float(placed.lift_mm) / mm_per_unit * (1 if is_on_inside else -1)
    facing = "inside" if is_on_inside == (side == "inside") else "outside"
    ring = _ring(placed.frame, pose, lift)
    holes = moved_openings(placed.way, frame_outline(placed.piece), placed.piece.windows)
    windows = tuple(_ring(hole, pose, lift) for hole in holes)
    shade = _shade(pose, facing, light)
    return SpacePart(placed.piece.name, None, side, ring, shade, placed.copy, windows)


def _shade(pose: Held, side: str, light: Vector) -> float:
    """Give how light a side of the paper is, from the angle at which the light falls on it."""
    normal = pose.normal if side == "inside" else times(-1, pose.normal)
    return round(DARKEST + (1 - DARKEST) * max(0.0, dot(normal, light)), 4)


def _ring(outline: Outline, pose: Held, lift: float = 0.0) -> tuple[Vector, ...]:
    return tuple(pose.at(_floats(point), lift) for point in outline)


def _floats(point: Point) -> FlatPoint:
    return (float(point[0]), float(point[1]))
