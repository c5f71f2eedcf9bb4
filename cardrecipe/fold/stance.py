"""A pose of the recipe → the card as it stands in it: set down, turned to the viewer, with its shadow.

A recipe tells angles and not how the card is set down. What is bent at upright scores alone stands on its
bottom edges like a screen; what is bent sharply at one level line stands on two edges like a tent, and
less sharply lies on what is below that line; all else lies on its root. Then it is turned until what is on
it looks at the viewer.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.folded import FoldedCard, SpacePart
from cardrecipe.fold.geometry import double_area
from cardrecipe.fold.joints import Joint
from cardrecipe.fold.linked_card import shown_card
from cardrecipe.fold.poses import angles_in
from cardrecipe.fold.space import ELEVATION, SIDEWAYS, painted, shut_card
from cardrecipe.fold.vectors import ON_THE_TABLE, Held, Vector, cross, dot, minus, plus, times, unit
from cardrecipe.solve.sized import Point, Pose

BENT = 1e-3  # degrees: less than this counts as flat, or as folded shut
SHARP = 90.0  # a fold by more than this stands like a tent
# Of the area of what looks to all sides: where less is left over, no side is the front.
EVEN = 0.05
LOW_EYE = math.radians(30)  # what stands is looked at from lower than what lies
FROM_THE_FRONT: Vector = unit((-0.4, 0.5, 1.1))  # the light, so that what looks at the viewer is lit

UP: Vector = (0.0, 0.0, 1.0)
# The bottom edge of the flat card on the table, its inside towards the viewer.
UPRIGHT = Held((1.0, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 1.0, 0.0), (0.0, 0.0, 0.0))

Ring = tuple[Vector, ...]


class Standing(NamedTuple):
    """A card in a pose: its faces, back to front, and where its parts throw their shadows on the table."""

    parts: tuple[SpacePart, ...]
    shadows: tuple[Ring, ...]


def standing(folded: FoldedCard, base: str, pose: Pose) -> Standing:
    """Give a base with its pieces as a pose holds it; nothing where the card has no closed form."""
    shut = shut_card(folded.card, base)
    if shut is None:
        return Standing((), ())
    linkage = shown_card(shut, *angles_in(pose, shut))
    root, lies = stance(shut, linkage.angles, linkage.poses)
    table = ON_THE_TABLE if lies else _seen_from_lower()
    parts = painted(shut, linkage, folded.card.unit, table.after(root), FROM_THE_FRONT)
    return Standing(parts, tuple(_shadows(parts, table.normal)))


def stance(card: Assembly, angles: Sequence[float], poses: Sequence[Held]) -> tuple[Held, bool]:
    """Give how to hold the root so that a card with these angles stands as a maker would set it down, and
    whether it lies; `poses` have the root on the table."""
    bent = [
        (joint, abs(angle))
        for joint, angle in zip(card.joints, angles, strict=True)
        if BENT < abs(angle) < 180 - BENT
    ]
    if not bent:
        return ON_THE_TABLE, True
    set_up, lies = _set_up(card, bent, poses)
    turn = _turned_to_viewer(card, [set_up.after(pose) for pose in poses])
    return turn.after(set_up), lies


def _seen_from_lower() -> Held:
    """Give the turn about the page's level that shows a card as from `LOW_EYE`."""
    level: Vector = (math.cos(SIDEWAYS), math.sin(SIDEWAYS), 0.0)
    start, lower = cross(UP, level), ELEVATION - LOW_EYE
    toward = plus(times(math.cos(lower), start), times(math.sin(lower), UP))
    before, after = _with_axes(level, start, UP), _with_axes(level, toward, cross(level, toward))
    return after.undone().after(before)


def _shadows(parts: Sequence[SpacePart], up: Vector) -> Iterator[Ring]:
    """Give the shadows of all sections on the table, on which the lowest corner stands."""
    rings = [part.ring for part in parts if part.section is not None]
    ground = min(dot(point, up) for ring in rings for point in ring)
    for ring in rings:
        heights = [dot(point, up) - ground for point in ring]
        fall = dot(FROM_THE_FRONT, up)
        yield tuple(
            minus(point, times(height / fall, FROM_THE_FRONT))
            for point, height in zip(ring, heights, strict=True)
        )


def _set_up(card: Assembly, bent: Sequence[tuple[Joint, float]], poses: Sequence[Held]) -> tuple[Held, bool]:
    """Give how to set a card down, and whether it lies then."""
    if all(joint.start[0] == joint.end[0] for joint, _ in bent):
        return UPRIGHT, False
    own = [each for each in bent if card.facings[each[0].first].piece is card.piece]
    lines = {(joint.start[1], joint.end[1]) for joint, _ in own}
    if len(lines) == 1 and all(start == end for start, end in lines):
        joint, angle = own[0]
        tent = _as_tent(card, joint, poses) if angle > SHARP else None
        return (tent, False) if tent is not None else (_lower_part_lies(card, joint, poses), True)
    return ON_THE_TABLE, True


def _lower_part_lies(card: Assembly, joint: Joint, poses: Sequence[Held]) -> Held:
    """Lay what is below a line of the flat card on the table, the inside up."""
    ends = joint.first, joint.second
    lower = max(ends, key=lambda at: max(point[1] for point in card.sections[at].outline))
    return poses[lower].undone()


def _as_tent(card: Assembly, joint: Joint, poses: Sequence[Held]) -> Held | None:
    """Set a card that is bent at one line down on the two edges that are farthest from it; None where it is
    nearly shut."""
    first = poses[joint.first]
    ridge = first.at(_floats(joint.start))
    along = unit(minus(first.at(_floats(joint.end)), ridge))
    feet = []
    for side in (-1, 1):
        corners = [
            minus(pose.at(_floats(point)), ridge)
            for section, pose in zip(card.sections, poses, strict=True)
            for point in section.outline
            if (point[1] > joint.start[1]) == (side > 0)
        ]
        across = [minus(corner, times(dot(corner, along), along)) for corner in corners]
        feet.append(max(across, key=lambda corner: dot(corner, corner), default=(0.0, 0.0, 0.0)))
    level = minus(feet[1], feet[0])
    if dot(level, level) < EVEN * dot(feet[0], feet[0]):
        return None
    deep = unit(level)
    up = cross(along, deep)
    if dot(up, feet[0]) > 0:
        along, up = times(-1, along), times(-1, up)
    return _with_axes(along, deep, up)


def _with_axes(right: Vector, toward: Vector, up: Vector) -> Held:
    """Give the turn that brings three arrows to the right, towards the viewer and up."""
    columns = zip(right, toward, up, strict=True)
    x, y, z = ((one, two, three) for one, two, three in columns)
    return Held(x, y, z, (0.0, 0.0, 0.0))


def _turned_to_viewer(card: Assembly, poses: Sequence[Held]) -> Held:
    """Give the turn on the table that lets the pieces look at the viewer, else the insides."""
    for looks in (list(_of_pieces(card, poses)), list(_of_insides(card, poses))):
        total: Vector = (0.0, 0.0, 0.0)
        for look in looks:
            total = plus(total, look)
        weight = sum(math.sqrt(dot(look, look)) for look in looks)
        level = (total[0], total[1], 0.0)
        if looks and math.sqrt(dot(level, level)) > EVEN * weight:
            toward = unit(level)
            return _with_axes(cross(toward, UP), toward, UP)
    return ON_THE_TABLE


def _of_pieces(card: Assembly, poses: Sequence[Held]) -> Iterator[Vector]:
    """Give for each piece the arrow in which it looks, as long as its area."""
    for each in card.placed:
        if each.section is not None:
            side = 1 if each.side == "inside" else -1
            yield times(side * _area(each.frame), poses[each.section].normal)


def _of_insides(card: Assembly, poses: Sequence[Held]) -> Iterator[Vector]:
    for section, facing, pose in zip(card.sections, card.facings, poses, strict=True):
        side = -1 if facing.is_turned else 1
        yield times(side * _area(section.outline), pose.normal)


def _area(outline: Sequence[Point]) -> float:
    return abs(float(double_area(tuple(outline)))) / 2


def _floats(point: Point) -> tuple[float, float]:
    return (float(point[0]), float(point[1]))
