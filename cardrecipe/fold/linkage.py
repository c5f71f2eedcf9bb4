"""Rings of sections that move together: the angle of every score from those of a few.

Where sections go round in a ring (the box of a pop-up, a shutter band) their scores cannot be folded
one by one. One is driven, the others follow so that the ring stays closed: loop-closure equations, as
for any spatial linkage (from memory: Denavit and Hartenberg, 1955; for folded paper Belcastro and Hull,
"Modelling the folding of paper into three dimensions using affine transformations", 2002). They are
solved by damped least squares (from memory: Levenberg, 1944; Marquardt, 1963), followed from a state
that is known, in steps.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from cardrecipe.fold.links import Branching, Hinge, Weld, branching, gaps, length, poses, turned_gaps
from cardrecipe.fold.vectors import Held

# From flat to folded shut in steps of at most 7 1/2 degrees: neighbouring states are alike enough for
# the next to be found from the one before, and a pop-up still takes a few milliseconds.
STEPS = 24
# A step converges in 3 to 6 rounds; near a flat state, where the equations lose rank, the last one may
# need a few dozen.
ROUNDS, LAST_ROUNDS = 12, 80
# Of squared lengths, as a share of the longest hinge's square: never so little that floats lose it.
DAMPING, LEAST_DAMPING, MOST_DAMPING = 1e-4, 1e-12, 1e8
# Float noise of a ring is some 1e-15 of its size. What is a millionth apart is drawn as closed.
CLOSED, TORN = 1e-14, 1e-6
# A hinge may pass flat or shut by this much, in radians, before it counts as turned the wrong way.
WRONG_WAY = math.radians(0.5)
SHUT = 180.0
# So many states of cards are remembered; a card has a few poses, and a course of some thirty steps.
KEPT = 64


class Linkage(NamedTuple):
    """Facets held in space, with the angle in degrees of each hinge in its own direction."""

    angles: tuple[float, ...]
    poses: tuple[Held, ...]
    gap: float  # how far any link comes apart, in unit lengths: float noise


class Jammed(NamedTuple):
    """The wanted angles cannot be: these hinges (places) of `ring` would be torn by `gap` unit lengths."""

    hinges: tuple[int, ...]
    ring: tuple[int, ...]
    gap: float


class _Ring(NamedTuple):
    """Links that have to agree: `closing` are the left-over ones, `free` the hinges that follow."""

    closing: tuple[int, ...]
    members: tuple[int, ...]
    free: tuple[int, ...]
    size: float


def solve_linkage(
    count: int,
    hinges: Sequence[Hinge],
    welds: Sequence[Weld],
    root: int,
    wanted: Mapping[int, float],
    closed: Mapping[int, float],
) -> Linkage | Jammed:
    """Hold `count` facets with the `wanted` angles, in degrees by key; the others of a ring follow.

    Hinges in no ring and not wanted stay at 0, and so do rings in which nothing is wanted. `closed` are
    the angles of the card folded shut (180 for a key that is not named), which is a known state too.
    Where several states are possible it is the one nearest to all hinges turning alike, each in its own
    direction. The root stays on the table.
    """
    told = tuple(sorted(wanted.items()))
    return solved_once(count, tuple(hinges), tuple(welds), root, told, tuple(sorted(closed.items())))


@lru_cache(maxsize=KEPT)
def solved_once(
    count: int,
    hinges: tuple[Hinge, ...],
    welds: tuple[Weld, ...],
    root: int,
    wanted_by_key: tuple[tuple[int, float], ...],
    closed_by_key: tuple[tuple[int, float], ...],
) -> Linkage | Jammed:
    """The last ones are kept: variants hold the card alike, and so do its check and its drawings."""
    wanted, closed = dict(wanted_by_key), dict(closed_by_key)
    branches = branching(count, (*hinges, *welds), root)
    goal = [math.radians(wanted.get(each.key, 0.0)) for each in hinges] + [0.0] * len(welds)
    shut = [math.radians(closed.get(each.key, SHUT)) for each in hinges] + [0.0] * len(welds)
    worst = 0.0
    for ring in _rings(branches, wanted):
        angles, gap = _settled(branches, ring, goal, shut)
        if gap > TORN * ring.size:
            held = poses(branches, angles)
            torn = [at for at in ring.closing if _gap(branches, held, angles, at) > TORN * ring.size]
            places = [tuple(at for at in each if at < len(hinges)) for each in (torn, ring.members)]
            return Jammed(places[0], places[1], gap)
        goal, worst = angles, max(worst, gap)
    degrees = tuple(math.degrees(angle) for angle in goal[: len(hinges)])
    return Linkage(degrees, tuple(poses(branches, goal)), worst)


def linkage_course(
    count: int,
    hinges: Sequence[Hinge],
    welds: Sequence[Weld],
    root: int,
    lead: int,
    closed: Mapping[int, float],
    steps: int,
) -> tuple[tuple[float, ...], ...] | Jammed:
    """Give the angles of all hinges in so many equal steps from flat to shut, while the hinges of one key
    turn evenly and the others of their ring follow; hinges in no ring with them stay flat."""
    branches = branching(count, (*hinges, *welds), root)
    links = [math.radians(closed.get(each.key, SHUT)) for each in hinges] + [0.0] * len(welds)
    rings = list(_rings(branches, {lead: SHUT}))
    ring = next(each for each in rings if len(each.free) < sum(at < len(hinges) for at in each.members))
    shut = [angle if at in ring.members else 0.0 for at, angle in enumerate(links)]
    before, now = [0.0] * len(shut), [0.0] * len(shut)
    course = [tuple(now[: len(hinges)])]
    for step in range(1, steps + 1):
        goal = [step / steps * angle for angle in shut]
        if 1 < step < steps:
            for at in ring.free:
                goal[at] = 2 * now[at] - before[at]
        before, now = now, goal if step == steps else _closed(branches, ring, goal, LAST_ROUNDS)
        gap = _widest(branches, ring, now)
        if gap > TORN * ring.size:
            return Jammed((), tuple(at for at in ring.members if at < len(hinges)), gap)
        course.append(tuple(map(math.degrees, now[: len(hinges)])))
    return tuple(course)


def torn_linkage(
    count: int, hinges: Sequence[Hinge], welds: Sequence[Weld], root: int, angles: Mapping[int, float]
) -> Linkage:
    """Turn every hinge as told, along the shortest ways from the root; its rings stay torn."""
    branches = branching(count, (*hinges, *welds), root)
    turned = [math.radians(angles.get(each.key, 0.0)) for each in hinges] + [0.0] * len(welds)
    held = poses(branches, turned)
    apart = max((_gap(branches, held, turned, at) for at in branches.closing), default=0.0)
    return Linkage(tuple(map(math.degrees, turned[: len(hinges)])), tuple(held), apart)


def _rings(branches: Branching, wanted: Mapping[int, float]) -> Iterator[_Ring]:
    """Give the rings, those that share a link as one."""
    groups: list[tuple[set[int], set[int]]] = []
    for at in branches.closing:
        members, closing = set(branches.ring(at)), {at}
        for group in [each for each in groups if each[0] & members]:
            groups.remove(group)
            members |= group[0]
            closing |= group[1]
        groups.append((members, closing))
    for members, closing in groups:
        hinges = {at: link for at in sorted(members) if isinstance(link := branches.links[at], Hinge)}
        free = tuple(at for at, hinge in hinges.items() if hinge.key not in wanted)
        size = max((math.dist(each.start, each.end) for each in hinges.values()), default=1.0)
        yield _Ring(tuple(sorted(closing)), tuple(sorted(members)), free, size)


# ---- ways to the wanted state --------------------------------------------------------------------


def _settled(
    branches: Branching, ring: _Ring, goal: Sequence[float], shut: Sequence[float]
) -> tuple[list[float], float]:
    """Give all angles with those of the ring settled, and how far it comes apart: the first way that
    ends with every hinge turned in its own direction, else the one that strays least."""
    found: list[tuple[bool, float, float, list[float]]] = []
    for way in (_from_flat, _from_shut, _at_once):
        angles = _unwound(way(branches, ring, goal, shut), ring.free)
        gap = _widest(branches, ring, angles)
        astray = max((_astray(angles[at]) for at in ring.free), default=0.0)
        found.append((gap > TORN * ring.size, astray, gap, angles))
        if not ring.free or (not found[-1][0] and astray < WRONG_WAY):
            return angles, gap
    _, _, gap, angles = min(found, key=lambda each: (each[0], each[2] if each[0] else each[1]))
    return angles, gap


def _from_flat(branches: Branching, ring: _Ring, goal: Sequence[float], shut: Sequence[float]) -> list[float]:
    return _followed(branches, ring, [0.0] * len(goal), goal, shut)


def _from_shut(branches: Branching, ring: _Ring, goal: Sequence[float], shut: Sequence[float]) -> list[float]:
    return _followed(branches, ring, shut, goal, shut)


def _at_once(branches: Branching, ring: _Ring, goal: Sequence[float], shut: Sequence[float]) -> list[float]:
    return _closed(branches, ring, _alike(ring, goal, shut), LAST_ROUNDS)


def _alike(ring: _Ring, goal: Sequence[float], shut: Sequence[float]) -> list[float]:
    """Give a guess: every hinge that follows is as far on its way to being shut as those that lead."""
    leading = [goal[at] / shut[at] for at in ring.members if at not in ring.free and shut[at]]
    share = max(leading, default=0.0)
    guess = list(goal)
    for at in ring.free:
        guess[at] = share * shut[at]
    return guess


def _followed(
    branches: Branching, ring: _Ring, start: Sequence[float], goal: Sequence[float], shut: Sequence[float]
) -> list[float]:
    """Go from a known state to the wanted one in steps, each guessed from the two before.

    The known state is flat or shut, where a ring can move in several ways at once: the first step
    leaves it with every hinge turning alike.
    """
    end = _alike(ring, goal, shut)
    farthest = max(abs(end[at] - start[at]) for at in ring.members)
    steps = max(1, math.ceil(farthest / math.pi * STEPS))
    before, now = list(start), list(start)
    for step in range(1, steps + 1):
        share = step / steps
        guess = list(goal)
        for at in ring.members:
            guess[at] = start[at] + share * (end[at] - start[at])
        if step > 1:
            for at in ring.free:
                guess[at] = 2 * now[at] - before[at]
        rounds = LAST_ROUNDS if step == steps else ROUNDS
        before, now = now, _closed(branches, ring, guess, rounds)
    return now


def _astray(angle: float) -> float:
    """Give how far an angle lies outside of 0 to 180 degrees."""
    return max(0.0, -angle, angle - math.pi)


def _unwound(angles: list[float], free: Sequence[int]) -> list[float]:
    """Take whole turns off; what is folded shut the wrong way round is folded shut."""
    for at in free:
        angle = math.remainder(angles[at], 2 * math.pi)
        angles[at] = angle + 2 * math.pi if angle < -math.pi + WRONG_WAY else angle
    return angles


# ---- damped least squares ------------------------------------------------------------------------


def _gap(branches: Branching, held: Sequence[Held], angles: Sequence[float], at: int) -> float:
    return max(length(each) for each in gaps(branches, held, angles, at))


def _widest(branches: Branching, ring: _Ring, angles: Sequence[float]) -> float:
    held = poses(branches, angles)
    return max(_gap(branches, held, angles, at) for at in ring.closing)


def _closed(branches: Branching, ring: _Ring, guess: Sequence[float], rounds: int) -> list[float]:
    """Change the free angles, as little as the damping makes them, until the ring is closed."""
    angles, error = list(guess), _error(branches, ring, guess)
    damping, unit = DAMPING, ring.size**2
    for _ in range(rounds):
        if error <= (CLOSED * ring.size) ** 2 or damping > MOST_DAMPING:
            break
        matrix, downhill = _normal(branches, ring, angles)
        while damping <= MOST_DAMPING:
            changed = list(angles)
            for at, change in zip(ring.free, _solved(matrix, downhill, damping * unit), strict=True):
                changed[at] += change
            better = _error(branches, ring, changed)
            if better < error:
                angles, error, damping = changed, better, max(damping / 10, LEAST_DAMPING)
                break
            damping *= 10
    return angles


def _error(branches: Branching, ring: _Ring, angles: Sequence[float]) -> float:
    held = poses(branches, angles)
    return sum(
        number * number
        for at in ring.closing
        for gap in gaps(branches, held, angles, at)
        for number in gap
    )


def _normal(
    branches: Branching, ring: _Ring, angles: Sequence[float]
) -> tuple[list[list[float]], list[float]]:
    """Give the normal equations of the gaps in the free angles, undamped."""
    held = poses(branches, angles)
    size = len(ring.free)
    matrix, downhill = [[0.0] * size for _ in range(size)], [0.0] * size
    for at in ring.closing:
        apart = [number for gap in gaps(branches, held, angles, at) for number in gap]
        changes = turned_gaps(branches, held, angles, at)
        rows = [
            (place, [number for change in changes[hinge] for number in change])
            for place, hinge in enumerate(ring.free)
            if hinge in changes
        ]
        for one, first in rows:
            downhill[one] -= _product(first, apart)
            for two, second in rows:
                matrix[one][two] += _product(first, second)
    return matrix, downhill


def _product(one: Sequence[float], two: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(one, two, strict=True))


def _solved(matrix: Sequence[Sequence[float]], right: Sequence[float], damping: float) -> list[float]:
    """Solve a symmetric system that the damping makes positive: elimination without exchanges."""
    size = len(right)
    rows = [[*row, right[at]] for at, row in enumerate(matrix)]
    for at in range(size):
        rows[at][at] += damping
    for at in range(size):
        rows[at][at] = max(rows[at][at], damping)
        for below in range(at + 1, size):
            share = rows[below][at] / rows[at][at]
            if share:
                rows[below] = [low - share * high for low, high in zip(rows[below], rows[at], strict=True)]
    answer = [0.0] * size
    for at in reversed(range(size)):
        known = sum(rows[at][later] * answer[later] for later in range(at + 1, size))
        answer[at] = (rows[at][size] - known) / rows[at][at]
    return answer
