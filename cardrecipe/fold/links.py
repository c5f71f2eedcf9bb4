"""Sections joined by hinges and glue as a tree with further links: poses from angles, and how far the
further links come apart, with how that changes when a hinge turns.

Everything is laid out in one common plane first, as the sheets lie on the table. Nothing here asks
which sheet a facet belongs to.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from cardrecipe.fold.vectors import (
    ON_THE_TABLE,
    FlatPoint,
    Held,
    Vector,
    cross,
    dot,
    minus,
    times,
    unit,
)


class Hinge(NamedTuple):
    """Two facets that turn against each other about a line of the layout.

    `first` lies left of the way from `start` to `end` (the turn from one to the other is over 0, with y
    down), `second` right of it. `sign` is 1 where the hinge is a valley as seen from the layout's upper
    side, -1 for a mountain. Several hinges may have one `key`, the number of their score.
    """

    first: int
    second: int
    start: FlatPoint
    end: FlatPoint
    key: int
    sign: int


class Weld(NamedTuple):
    """Two facets that are glued. `held` is how `second` lies against `first`: as laid out, unless folding
    brings them together first."""

    first: int
    second: int
    held: Held = ON_THE_TABLE


Link = Hinge | Weld


class Branching(NamedTuple):
    """A tree of links from the root, and the links left over, each of which closes a ring.

    `reach` gives the parent, the link (a place among all links) and the child, nearest first; `ways` for
    each facet the links between it and the root.
    """

    links: tuple[Link, ...]
    reach: tuple[tuple[int, int, int], ...]
    ways: tuple[tuple[int, ...], ...]
    closing: tuple[int, ...]

    def ring(self, link: int) -> frozenset[int]:
        """Give the links of the ring that a left-over link closes, itself included."""
        one, two = self.links[link][:2]
        return frozenset({link}) | set(self.ways[one]) ^ set(self.ways[two])


def branching(count: int, links: Sequence[Link], root: int) -> Branching:
    """Give a tree that reaches every facet that is linked to the root, breadth first."""
    ways: list[tuple[int, ...]] = [()] * count
    reached, waiting = {root}, [root]
    reach: list[tuple[int, int, int]] = []
    for parent in waiting:
        for at, link in enumerate(links):
            if parent not in link[:2]:
                continue
            child = link.second if parent == link.first else link.first
            if child not in reached:
                reached.add(child)
                waiting.append(child)
                reach.append((parent, at, child))
                ways[child] = (*ways[parent], at)
    used = {at for _, at, _ in reach}
    closing = tuple(at for at in range(len(links)) if at not in used and links[at].first in reached)
    return Branching(tuple(links), tuple(reach), tuple(ways), closing)


def poses(branches: Branching, angles: Sequence[float]) -> list[Held]:
    """Hold every facet, the root on the table; `angles` in radians, one for each link (0 for a weld)."""
    held = [ON_THE_TABLE] * len(branches.ways)
    for parent, at, child in branches.reach:
        is_second = child == branches.links[at].second
        held[child] = _carried(held[parent], branches.links[at], angles[at], is_second=is_second)
    return held


def _carried(held: Held, link: Link, angle: float, *, is_second: bool) -> Held:
    """Give where the other facet of a link is held."""
    if isinstance(link, Weld):
        return held.after(link.held if is_second else link.held.undone())
    return held.swung(link.start, link.end, _aside(link, is_second=is_second), link.sign * angle)


def _aside(hinge: Hinge, *, is_second: bool) -> FlatPoint:
    """Give a point beside a hinge, as far from it as it is long."""
    (x, y), (end_x, end_y) = hinge.start, hinge.end
    across = (y - end_y, end_x - x)  # to the left of the way from start to end
    return (x - across[0], y - across[1]) if is_second else (x + across[0], y + across[1])


# ---- how far links come apart --------------------------------------------------------------------


def gaps(branches: Branching, held: Sequence[Held], angles: Sequence[float], at: int) -> list[Vector]:
    """Give how far the two sides of a left-over link come apart, at three points that fix a plane."""
    link = branches.links[at]
    meant = _carried(held[link.first], link, angles[at], is_second=True)
    return [minus(meant.at(point), held[link.second].at(point)) for point in _witnesses(link)]


def turned_gaps(
    branches: Branching, held: Sequence[Held], angles: Sequence[float], at: int
) -> dict[int, list[Vector]]:
    """Give by how much those gaps change for each hinge of the ring, for a radian."""
    link = branches.links[at]
    meant = _carried(held[link.first], link, angles[at], is_second=True)
    points = _witnesses(link)
    ends = [(meant.at(point), held[link.second].at(point)) for point in points]
    parents = {place: (parent, child) for parent, place, child in branches.reach}
    changes: dict[int, list[Vector]] = {}
    for place in branches.ring(at):
        hinge = branches.links[place]
        if isinstance(hinge, Weld):
            continue
        parent, child = parents.get(place, (link.first, link.second))
        foot, axis = _axis(held[parent], hinge, is_second=child == hinge.second)
        moves_first = place == at or place in branches.ways[link.first]
        changes[place] = [
            cross(axis, minus(one, foot)) if moves_first else cross(axis, minus(foot, two))
            for one, two in ends
        ]
    return changes


def _witnesses(link: Link) -> tuple[FlatPoint, ...]:
    if isinstance(link, Weld):
        return ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0))
    return (link.start, link.end, _aside(link, is_second=True))


def _axis(held: Held, hinge: Hinge, *, is_second: bool) -> tuple[Vector, Vector]:
    """Give a point of a hinge in space and the axis, one long, about which its far facet turns."""
    foot = held.at(hinge.start)
    along = unit(minus(held.at(hinge.end), foot))
    # The far facet of a valley rises; right of the way that is a turn against it.
    return foot, times(-hinge.sign if is_second else hinge.sign, along)


def length(vector: Vector) -> float:
    """Give how long an arrow is."""
    return math.sqrt(dot(vector, vector))

