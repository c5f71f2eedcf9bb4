"""A card and its sheets → the turns in which it goes from flat to closed, and those into its other poses:
which joints move in each, how far on the way, and which turns have to be done before.

A fold through the whole sheet is a turn by itself. Around a ring of sections everything moves at once,
evenly where that closes the ring, else as the linkage has it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.folded import FoldAction
from cardrecipe.fold.linkage import Jammed
from cardrecipe.fold.linked_card import course_of, hinges_and_welds, shown_card
from cardrecipe.fold.links import Branching, branching, gaps, length, poses
from cardrecipe.fold.poses import angles_in, is_of
from cardrecipe.solve.sized import Pose, SizedCard

SHUT = 180.0
# Where a course is not even, its angles are given so many times: between them a curve is drawn.
STEPS = 12
# A ring that is closed at these shares of the way, and turns evenly, is closed everywhere.
WITNESSES = (0.21, 0.5, 0.83)
CLOSED = 1e-6  # of a section's size
UNTURNED = 1e-3  # degrees

Course = tuple[float, ...]  # degrees, at equal steps; two for what turns evenly


class Turn(NamedTuple):
    """Joints that move together, each along its course; `needs` are turns to be done before.

    A turn into a pose starts from the flat card, and nothing else is folded with it.
    """

    courses: tuple[tuple[int, Course], ...]
    needs: tuple[int, ...] = ()
    pose: Pose | None = None

    @property
    def joints(self) -> frozenset[int]:
        return frozenset(joint for joint, _ in self.courses)


def turns(card: SizedCard, shut: Assembly) -> tuple[Turn, ...]:
    """Give the turns that close a card, in an order that can be done, then one for each of its poses; ()
    where it cannot be told how a ring moves."""
    branches = branches_of(shut)
    found = _closing(shut, branches)
    if found is None:
        return ()
    closing = tuple(_in_order(shut, branches, found))
    return (*closing, *_into_poses(card, shut, branches, closing))


def branches_of(shut: Assembly) -> Branching:
    """Give the joints and welds of a card as a tree from its root, the joints in their order."""
    hinges, welds = hinges_and_welds(shut)
    return branching(len(shut.sections), (*hinges, *welds), shut.flat.root)


# ---- closing -------------------------------------------------------------------------------------


def _closing(shut: Assembly, branches: Branching) -> list[Turn] | None:
    """Give the turns in the order in which they are told, those of glued sheets first."""
    groups = [*_of_sheets(shut), *_of_base(shut)]
    rings = _rings(shut, branches)
    is_linked = {number for move in shut.flat.actions if move.is_linked for number in move.scores}
    found: list[Turn] = []
    done: frozenset[int] = frozenset()
    for ring in rings:
        members = [group for group in groups if group & ring]
        crosses_sheets = len({_owner(shut, at) for at in ring}) > 1
        linked = any(_is_of_base(shut, at) and _number(shut, at) in is_linked for at in ring)
        if linked or crosses_sheets or not _fold_alone(shut, branches, members):
            together = frozenset().union(*members, ring & shut.folded)
            groups = [group for group in groups if not group & ring]
            groups.append(together)
    for group in groups:
        turn = _turn(shut, branches, group, done)
        if turn is None:
            return None
        done |= group
        found.append(turn)
    return found


def _of_base(shut: Assembly) -> Iterator[frozenset[int]]:
    for move in shut.flat.actions:
        yield frozenset(_joints_of(shut, move))


def _joints_of(shut: Assembly, move: FoldAction) -> Iterator[int]:
    for at in range(len(shut.flat.joints)):
        if at in shut.folded and _number(shut, at) in move.scores:
            yield at


def _of_sheets(shut: Assembly) -> Iterator[frozenset[int]]:
    """Give the folded joints of glued sheets, those of one score together."""
    groups: dict[tuple[str, int], set[int]] = {}
    for at in sorted(shut.folded):
        if not _is_of_base(shut, at):
            groups.setdefault((_owner(shut, at), _number(shut, at)), set()).add(at)
    yield from map(frozenset, groups.values())


def _rings(shut: Assembly, branches: Branching) -> list[frozenset[int]]:
    """Give the joints that hang together in rings, those that share one as one."""
    rings: list[frozenset[int]] = []
    for at in branches.closing:
        ring = frozenset(link for link in branches.ring(at) if link < len(shut.joints))
        rings, apart = [each for each in rings if not each & ring], [each for each in rings if each & ring]
        rings.append(ring.union(*apart))
    return [ring for ring in rings if ring & shut.folded]


def _fold_alone(shut: Assembly, branches: Branching, groups: Sequence[frozenset[int]]) -> bool:
    """Tell whether some groups of a ring can be folded one after the other, each evenly."""
    done: frozenset[int] = frozenset()
    for group in groups:
        if not _is_closed(shut, branches, _evenly(shut, group, done)):
            return False
        done |= group
    return True


def _turn(shut: Assembly, branches: Branching, group: frozenset[int], done: frozenset[int]) -> Turn | None:
    joints = sorted(group)
    if _is_closed(shut, branches, _evenly(shut, group, done)):
        return Turn(tuple((at, (0.0, SHUT)) for at in joints))
    course = course_of(shut, joints, STEPS)
    if isinstance(course, Jammed):
        return None
    return Turn(tuple((at, tuple(angles[at] for angles in course)) for at in joints))


def _evenly(shut: Assembly, group: frozenset[int], done: frozenset[int]) -> Callable[[float], list[float]]:
    def angles(share: float) -> list[float]:
        count = range(len(shut.joints))
        return [share * SHUT if at in group else SHUT if at in done else 0.0 for at in count]

    return angles


def _is_closed(shut: Assembly, branches: Branching, angles: Callable[[float], list[float]]) -> bool:
    """Tell whether no ring comes apart on the way."""
    if not branches.closing:
        return True
    size = float(max(section.width + section.height for section in shut.sections))
    for share in WITNESSES:
        turned = [math.radians(angle) for angle in angles(share)]
        turned += [0.0] * (len(branches.links) - len(turned))
        held = poses(branches, turned)
        for at in branches.closing:
            if max(map(length, gaps(branches, held, turned, at))) > CLOSED * size:
                return False
    return True


# ---- order ---------------------------------------------------------------------------------------


def _in_order(shut: Assembly, branches: Branching, found: Sequence[Turn]) -> Iterator[Turn]:
    """Give the turns with what each needs, what is needed first."""
    owner = {joint: at for at, turn in enumerate(found) for joint in turn.joints}
    needed = [_needed(shut, branches, owner, at, turn) for at, turn in enumerate(found)]
    for ring in _rings(shut, branches):
        members = [at for at, turn in enumerate(found) if turn.joints & ring]
        for before, after in pairwise(members):
            needed[after].add(before)
    waiting, order = list(range(len(found))), list[int]()
    while waiting:
        free = [at for at in waiting if not needed[at] & set(waiting)]
        chosen = (free or waiting)[0]
        waiting.remove(chosen)
        order.append(chosen)
    for place, at in enumerate(order):
        yield found[at]._replace(needs=tuple(n for n in range(place) if order[n] in needed[at]))


def _needed(
    shut: Assembly, branches: Branching, owner: dict[int, int], own: int, turn: Turn
) -> set[int]:
    """Give the turns that bring what lies between the two sides of a joint: once it is shut, nothing gets
    in there."""
    needed: set[int] = set()
    for at in turn.joints:
        one, two = shut.joints[at].first, shut.joints[at].second
        for layer in range(len(shut.sections)):
            under = shut.order.above(one, layer)
            if under is not None and under == shut.order.above(layer, two):
                ways = set(branches.ways[layer])
                way = min((ways ^ set(branches.ways[side]) for side in (one, two)), key=len)
                needed |= {owner[link] for link in way if link in owner}
    return needed - {own}


# ---- poses ---------------------------------------------------------------------------------------


def _into_poses(
    card: SizedCard, shut: Assembly, branches: Branching, closing: Sequence[Turn]
) -> Iterator[Turn]:
    for pose in card.poses:
        if pose.name != "closed" and is_of(pose, shut):
            own, of_sheets = angles_in(pose, shut)
            end = shown_card(shut, own, of_sheets).angles
            needs = _done_in(end, closing)
            start = [0.0] * len(end)
            for at in (at for need in needs for at in closing[need].joints):
                start[at] = SHUT
            courses = tuple(_to_pose(shut, branches, start, end))
            if courses:
                yield Turn(courses, needs, pose)


def _done_in(end: Sequence[float], closing: Sequence[Turn]) -> tuple[int, ...]:
    """Give the turns that are done in a pose: they go first."""
    done: list[int] = []
    for place, turn in enumerate(closing):
        if all(abs(end[at] - SHUT) < UNTURNED for at in turn.joints) and set(turn.needs) <= set(done):
            done.append(place)
    return tuple(done)


def _to_pose(
    shut: Assembly, branches: Branching, start: Sequence[float], end: Sequence[float]
) -> Iterator[tuple[int, Course]]:
    moving = [at for at in range(len(end)) if abs(end[at] - start[at]) > UNTURNED]

    def between(share: float) -> list[float]:
        return [one + share * (two - one) for one, two in zip(start, end, strict=True)]

    if _is_closed(shut, branches, between):
        yield from ((at, (start[at], end[at])) for at in moving)
        return
    course: list[Sequence[float]] = [start]
    for step in range(1, STEPS):
        some = between(step / STEPS)
        of_base = {_number(shut, at): some[at] for at in range(len(end)) if _is_of_base(shut, at)}
        others = {
            (_owner(shut, at), _number(shut, at)): some[at]
            for at in range(len(end))
            if not _is_of_base(shut, at)
        }
        course.append(shown_card(shut, of_base, others).angles)
    course.append(end)
    yield from ((at, tuple(angles[at] for angles in course)) for at in moving)


# ---- joints --------------------------------------------------------------------------------------


def _is_of_base(shut: Assembly, at: int) -> bool:
    return at < len(shut.flat.joints)


def _owner(shut: Assembly, at: int) -> str:
    return shut.facings[shut.joints[at].first].piece.name


def _number(shut: Assembly, at: int) -> int:
    return shut.joints[at].score.number
