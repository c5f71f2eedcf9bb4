"""A card held half folded: the scores of all its sheets as hinges, its glue as welds, and where each facet
is held with some scores at an angle. Sections that go round in rings move together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.geometry import Point, side_at_segment
from cardrecipe.fold.joints import Joint
from cardrecipe.fold.linkage import Jammed, Linkage, linkage_course, solve_linkage, torn_linkage
from cardrecipe.fold.links import Hinge, Weld
from cardrecipe.fold.vectors import FlatPoint

Angles = Mapping[int, Fraction | float]
SheetAngles = Mapping[tuple[str, int], Fraction | float]

# A key tells the scores of all sheets apart: those of the base have their number, those of the n-th
# facing sheet come after so many; no piece may have more scores (`model.blocks.MAX_LINES`).
MOST_SCORES = 1000


def linked_card(card: Assembly, angles: Angles, of_sheets: SheetAngles) -> Linkage | Jammed:
    """Hold a card with scores at angles in degrees: those of the base by number, those of glued sheets by
    piece and number.

    A score that is not named follows where it is in a ring with one that is, and is flat elsewhere. Each
    angle is in the score's own direction.
    """
    return _solved(card, _wanted(card, angles, of_sheets))


def shown_card(card: Assembly, angles: Angles, of_sheets: SheetAngles) -> Linkage:
    """Hold a card as `linked_card` does; where that jams, with as many of the angles as can be.

    So the scores of a ring that move together may be given one angle, though they turn by different
    amounts: the one between the largest sections leads. What cannot be at all is shown torn.
    """
    wanted = _wanted(card, angles, of_sheets)
    held = _solved(card, wanted)
    if isinstance(held, Linkage):
        return held
    for fewer in _fewer(card, wanted, held):
        better = _solved(card, fewer)
        if isinstance(better, Linkage):
            return better
    return torn_linkage(len(card.sections), _hinges(card), _welds(card), card.flat.root, wanted)


def hinges_and_welds(card: Assembly) -> tuple[list[Hinge], list[Weld]]:
    """Give what joins the facets of a card, as links that turn and links that keep together."""
    return _hinges(card), _welds(card)


def course_of(card: Assembly, joints: Iterable[int], steps: int) -> tuple[tuple[float, ...], ...] | Jammed:
    """Give the angles of all joints in so many equal steps from flat to shut, while that one of some joints
    of a ring turns evenly which the most paper hangs on."""
    lead = max(joints, key=lambda at: (_size(card, card.joints[at]), -at))
    closed = {_key(card, joint): 180.0 * (at in card.folded) for at, joint in enumerate(card.joints)}
    key, root = _key(card, card.joints[lead]), card.flat.root
    return linkage_course(len(card.sections), _hinges(card), _welds(card), root, key, closed, steps)


def _solved(card: Assembly, wanted: Mapping[int, float]) -> Linkage | Jammed:
    closed = {_key(card, joint): 180.0 * (at in card.folded) for at, joint in enumerate(card.joints)}
    root = card.flat.root
    return solve_linkage(len(card.sections), _hinges(card), _welds(card), root, wanted, closed)


def _wanted(card: Assembly, angles: Angles, of_sheets: SheetAngles) -> dict[int, float]:
    wanted = {number: float(angle) for number, angle in angles.items()}
    for joint in card.joints:
        angle = of_sheets.get((card.facings[joint.first].piece.name, joint.score.number))
        if angle is not None and _key(card, joint) != joint.score.number:
            wanted[_key(card, joint)] = float(angle)
    return wanted


def _key(card: Assembly, joint: Joint) -> int:
    return abs(card.facings[joint.first].rank) * MOST_SCORES + joint.score.number


def _fewer(card: Assembly, wanted: Mapping[int, float], jam: Jammed) -> Iterator[Mapping[int, float]]:
    """Give fewer angles: only one of those of the ring that are neither flat nor shut; only that one."""
    in_ring = {_key(card, card.joints[at]) for at in jam.ring}
    moving = [at for at in jam.ring if 0 < wanted.get(_key(card, card.joints[at]), 0) < 180]
    if not moving:
        return
    lead = _key(card, card.joints[max(moving, key=lambda at: (_size(card, card.joints[at]), -at))])
    still = {key: angle for key, angle in wanted.items() if angle in (0, 180)}
    outside = {key: angle for key, angle in wanted.items() if key not in in_ring}
    yield {**outside, **still, lead: wanted[lead]}
    yield {**outside, lead: wanted[lead]}


def _size(card: Assembly, joint: Joint) -> Fraction:
    """Give how much paper hangs directly on a joint, as the boxes of its two sections."""
    one, two = card.sections[joint.first], card.sections[joint.second]
    return one.width * one.height + two.width * two.height


def _hinges(card: Assembly) -> list[Hinge]:
    return [_hinge(card, joint) for joint in card.joints]


def _hinge(card: Assembly, joint: Joint) -> Hinge:
    start, end = _floats(joint.start), _floats(joint.end)
    if side_at_segment(card.sections[joint.first].outline, joint.start, joint.end) < 0:
        start, end = end, start
    is_turned = card.facings[joint.first].is_turned
    sign = 1 if (joint.score.direction == "valley") != is_turned else -1
    return Hinge(joint.first, joint.second, start, end, _key(card, joint), sign)


def _welds(card: Assembly) -> list[Weld]:
    return [Weld(weld.host, weld.facet) for weld in card.welds if not weld.by_folding]


def _floats(point: Point) -> FlatPoint:
    return (float(point[0]), float(point[1]))
