"""A base held half folded: its scores as hinges, and where each section is held with some of them at an
angle. Sections that go round in rings move together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from cardrecipe.fold.closed import FlatFold
from cardrecipe.fold.geometry import Point, side_at_segment
from cardrecipe.fold.joints import Joint
from cardrecipe.fold.linkage import Jammed, Linkage, solve_linkage, torn_linkage
from cardrecipe.fold.links import Hinge
from cardrecipe.fold.vectors import FlatPoint
from cardrecipe.solve.sized import SizedSection

Angles = Mapping[int, Fraction | float]


def linked_base(flat: FlatFold, angles: Angles) -> Linkage | Jammed:
    """Hold a base with scores at angles in degrees, by number.

    A score that is not named follows where it is in a ring with one that is, and is flat elsewhere.
    """
    closed = {joint.score.number: 180.0 * (joint.score.number in flat.folded) for joint in flat.joints}
    wanted = {number: float(angle) for number, angle in angles.items()}
    return solve_linkage(len(flat.sections), _hinges(flat), (), flat.root, wanted, closed)


def shown_base(flat: FlatFold, angles: Angles) -> Linkage:
    """Hold a base as `linked_base` does; where that jams, with as many of the angles as can be.

    So the scores of a ring that move together may be given one angle, though they turn by different
    amounts: the one between the largest sections leads. What cannot be at all is shown torn.
    """
    held = linked_base(flat, angles)
    if isinstance(held, Linkage):
        return held
    for fewer in _fewer(flat, angles, held):
        better = linked_base(flat, fewer)
        if isinstance(better, Linkage):
            return better
    return torn_linkage(len(flat.sections), _hinges(flat), flat.root, angles)


def _fewer(flat: FlatFold, angles: Angles, jam: Jammed) -> Iterator[Angles]:
    """Give fewer angles: only one of those of the ring that are neither flat nor shut; only that one."""
    in_ring = {flat.joints[at].score.number for at in jam.ring}
    moving = [at for at in jam.ring if 0 < angles.get(flat.joints[at].score.number, 0) < 180]
    if not moving:
        return
    lead = flat.joints[max(moving, key=lambda at: (_size(flat, flat.joints[at]), -at))].score.number
    still = {number: angle for number, angle in angles.items() if angle in (0, 180)}
    outside = {number: angle for number, angle in angles.items() if number not in in_ring}
    yield {**outside, **still, lead: angles[lead]}
    yield {**outside, lead: angles[lead]}


def _size(flat: FlatFold, joint: Joint) -> Fraction:
    """Give how much paper hangs directly on a joint, as the boxes of its two sections."""
    one, two = flat.sections[joint.first], flat.sections[joint.second]
    return one.width * one.height + two.width * two.height


def _hinges(flat: FlatFold) -> list[Hinge]:
    return [_hinge(flat.sections, joint) for joint in flat.joints]


def _hinge(sections: tuple[SizedSection, ...], joint: Joint) -> Hinge:
    start, end = _floats(joint.start), _floats(joint.end)
    if side_at_segment(sections[joint.first].outline, joint.start, joint.end) < 0:
        start, end = end, start
    sign = 1 if joint.score.direction == "valley" else -1
    return Hinge(joint.first, joint.second, start, end, joint.score.number, sign)


def _floats(point: Point) -> FlatPoint:
    return (float(point[0]), float(point[1]))
