"""How to fold a sheet whose sections go round in rings: along whole lines, or all of a ring at once.

A map's scores cross; nothing beyond one of them can swing by itself. What can be folded are the
scores that lie on one line and together part the sheet (a simple fold through all its layers: Arkin
and others, "When can you fold a map?", 2004). Where no line parts it, as round the box of a pop-up,
the scores of the ring move together.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.folded import FoldAction
from cardrecipe.fold.geometry import Motion, turn
from cardrecipe.fold.joints import Branch, Joint, fold_motions
from cardrecipe.solve.sized import SizedSection

OTHER = {"valley": "mountain", "mountain": "valley"}


class Line(NamedTuple):
    """Joints (their places) that fold in one go, and the sections that swing with them."""

    joints: tuple[int, ...]
    swings: frozenset[int]  # empty where no line parts the sheet


def has_rings(every: Sequence[Joint], branches: Sequence[Branch]) -> bool:
    """True where some section is reached from the root in two ways."""
    return len(every) > len(branches)


def ring_actions(
    base: str,
    sections: Sequence[SizedSection],
    every: Sequence[Joint],
    branches: Sequence[Branch],
    root: int,
    is_folded: Callable[[Joint], bool],
) -> tuple[FoldAction, ...]:
    """The folds in an order that can be done, each along one line as the sheet lies by then.

    Lines far from the root go first. `direction` is as seen when the fold is made, the root's inside
    up. What is left over when no line can be folded by itself moves together in a last action.
    """
    waiting = [line for line in _lines(every, root) if any(is_folded(every[at]) for at in line.joints)]
    waiting.sort(key=lambda line: (not line.swings, len(line.swings), line.joints))
    done: set[int] = set()
    actions: list[FoldAction] = []
    while waiting:
        motions = _motions(len(sections), every, branches, done)
        ready = [line for line in waiting if line.swings and _folds_alone(line, every, motions)]
        together = ready[:1] or waiting
        action = _action(base, sections, every, motions, together, actions)
        actions.append(action if ready else _linked(action, sections, every, root))
        done |= {at for line in together for at in line.joints}
        waiting = [line for line in waiting if line not in together]
    return tuple(actions)


# ---- lines ---------------------------------------------------------------------------------------


def _lines(every: Sequence[Joint], root: int) -> list[Line]:
    """The joints, grouped by what has to fold together; each joint stands in one line."""
    found: dict[tuple[int, ...], Line] = {}
    straight: dict[tuple[Fraction | None, Fraction], list[int]] = {}
    for at, joint in enumerate(every):
        straight.setdefault(_line_of(joint), []).append(at)
    for joint in every:
        on_line = straight[_line_of(joint)]
        near = _reached(every, joint.first, set(on_line))
        if joint.second in near:
            found[tuple(on_line)] = Line(tuple(on_line), frozenset())
            continue
        far = _reached(every, joint.second, set(on_line))
        parting = tuple(at for at in on_line if _crosses(every[at], near, far))
        if not _parts(every, parting, joint):
            found[parting] = Line(parting, frozenset())
            continue
        found[parting] = Line(parting, frozenset(far if root not in far else near))
    return list(found.values())


def _line_of(joint: Joint) -> tuple[Fraction | None, Fraction]:
    """The line that a joint lies on: its slope, none where it is upright, and where it meets an axis."""
    across, up = joint.end[0] - joint.start[0], joint.end[1] - joint.start[1]
    if across == 0:
        return None, joint.start[0]
    return up / across, joint.start[1] - joint.start[0] * up / across


def _crosses(joint: Joint, near: frozenset[int], far: frozenset[int]) -> bool:
    ends = {joint.first, joint.second}
    return bool(ends & near) and bool(ends & far)


def _parts(every: Sequence[Joint], parting: tuple[int, ...], joint: Joint) -> bool:
    """True where nothing else joins the two sides of a line."""
    return joint.second not in _reached(every, joint.first, set(parting))


def _reached(every: Sequence[Joint], start: int, without: set[int]) -> frozenset[int]:
    beside: dict[int, list[int]] = {}
    for at, joint in enumerate(every):
        if at not in without:
            beside.setdefault(joint.first, []).append(joint.second)
            beside.setdefault(joint.second, []).append(joint.first)
    reached, waiting = {start}, [start]
    while waiting:
        new = set(beside.get(waiting.pop(), ())) - reached
        reached |= new
        waiting += new
    return frozenset(reached)


# ---- one fold ------------------------------------------------------------------------------------


def _motions(
    count: int, every: Sequence[Joint], branches: Sequence[Branch], done: set[int]
) -> list[Motion]:
    folded = [every[at] for at in done]
    return fold_motions(count, branches, lambda joint: joint in folded)


def _folds_alone(line: Line, every: Sequence[Joint], motions: Sequence[Motion]) -> bool:
    """True where the line's scores lie on one line now and go the same way."""
    joints = [every[at] for at in line.joints]
    points = [motions[joint.first].apply(point) for joint in joints for point in (joint.start, joint.end)]
    straight = all(turn(points[0], points[1], point) == 0 for point in points)
    return straight and len({_seen(joint, motions) for joint in joints}) == 1


def _seen(joint: Joint, motions: Sequence[Motion]) -> str:
    direction = joint.score.direction
    return OTHER[direction] if motions[joint.first].is_flipped() else direction


def _action(
    base: str, sections: Sequence[SizedSection], every: Sequence[Joint], motions: Sequence[Motion],
    lines: Sequence[Line], before: Sequence[FoldAction],
) -> FoldAction:  # fmt: skip
    joints = [every[at] for line in lines for at in line.joints]
    numbers = tuple(sorted({joint.score.number for joint in joints}))
    angles = dict(before[-1].angles) if before else {
        number: Fraction(0) for number in sorted({joint.score.number for joint in every})
    }  # fmt: skip
    angles |= dict.fromkeys(numbers, Fraction(180))
    swings = sorted(frozenset().union(*(line.swings for line in lines)))
    rest = [at for at in range(len(sections)) if at not in swings]
    return FoldAction(
        base,
        numbers,
        _seen(joints[0], motions),
        tuple(sections[at].name for at in swings),
        tuple(sections[at].name for at in rest),
        tuple(angles.items()),
    )


def _linked(
    action: FoldAction, sections: Sequence[SizedSection], every: Sequence[Joint], root: int
) -> FoldAction:
    """The same scores as one movement of a ring: what hangs on the root by other scores stays."""
    moving = {at for at, joint in enumerate(every) if joint.score.number in action.scores}
    stays = _reached(every, root, moving)
    names = [section.name for section in sections]
    return action._replace(
        moves=tuple(name for at, name in enumerate(names) if at not in stays),
        onto=tuple(name for at, name in enumerate(names) if at in stays),
        is_linked=True,
    )
