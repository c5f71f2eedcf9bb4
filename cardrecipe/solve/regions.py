"""Finds the regions into which a net of stretches divides the plane, and what divides nothing.

Each stretch is walked once in each direction, with a region at one's right hand (as one looks at a
sheet whose y runs down): walk 2n goes along stretch n from its lower node to its higher one, walk
2n + 1 back. Going on round the same region gives its rim clockwise, the rims of its holes the other
way round.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from cardrecipe.solve.crossings import Net, Stretch, double_area, encloses

Corners = tuple[int, ...]  # the nodes at which a simple ring turns, clockwise from the topmost


class Region(NamedTuple):
    """One part of the plane: its rim, the rims of what is left out of it, and the walks beside it."""

    rim: Corners
    holes: tuple[Corners, ...]
    walks: tuple[int, ...]


class Division(NamedTuple):
    """The bounded regions; `stretches` are those that divide, `idle` those that divide nothing."""

    stretches: tuple[Stretch, ...]
    idle: frozenset[Stretch]
    regions: tuple[Region, ...]


class _Walks(NamedTuple):
    starts: list[int]  # the node at which each walk begins
    ranks: list[int]  # its direction: equal for parallel walks, rising clockwise
    following: list[int]  # the walk that goes on round the same region


class _Circuit(NamedTuple):
    """One closed way round a region: its outer rim if it has one here, and the holes on the way."""

    walks: list[int]
    rim: Corners | None
    holes: list[Corners]


def divide(net: Net, stretches: Sequence[Stretch]) -> Division:
    """Give the regions that some of a net's stretches make.

    A stretch with one region on both sides divides nothing: it ends in the open, or it is a bridge
    between rings. Without all of those, every rim is made of simple rings.
    """
    walks = _walks(net, stretches)
    circuits = _circuits(walks)
    circuit_of = {walk: number for number, circuit in enumerate(circuits) for walk in circuit}
    idle = frozenset(
        stretch for n, stretch in enumerate(stretches) if circuit_of[2 * n] == circuit_of[2 * n + 1]
    )
    dividing = tuple(stretch for stretch in stretches if stretch not in idle)
    if idle:
        walks = _walks(net, dividing)
        circuits = _circuits(walks)
    return Division(dividing, idle, _regions(net, walks, circuits))


def _walks(net: Net, stretches: Sequence[Stretch]) -> _Walks:
    """Give every walk, and the one after it: the next at its end, turning as far right as it can."""
    about_turn = max(net.slopes, default=0) + 1
    starts = [node for stretch in stretches for node in stretch]
    slopes = [net.slopes[net.along[stretch][0]] for stretch in stretches]
    ranks = [rank for slope in slopes for rank in (slope, slope + about_turn)]
    leaving: dict[int, list[int]] = {}
    for walk, node in enumerate(starts):
        leaving.setdefault(node, []).append(walk)
    following = [0] * len(starts)
    for choices in leaving.values():
        choices.sort(key=ranks.__getitem__)
        for index, walk in enumerate(choices):
            following[walk ^ 1] = choices[index - 1]
    return _Walks(starts, ranks, following)


def _circuits(walks: _Walks) -> list[list[int]]:
    """Give the closed ways that the walks make, each walk in one of them."""
    is_done = [False] * len(walks.starts)
    circuits = []
    for first in range(len(walks.starts)):
        circuit = []
        walk = first
        while not is_done[walk]:
            is_done[walk] = True
            circuit.append(walk)
            walk = walks.following[walk]
        if circuit:
            circuits.append(circuit)
    return circuits


def _regions(net: Net, walks: _Walks, circuits: Sequence[list[int]]) -> tuple[Region, ...]:
    """Join each circuit without an outer rim to the region that it lies in, if it lies in any."""
    read = [_read(net, walks, circuit) for circuit in circuits]
    regions = [
        Region(circuit.rim, tuple(circuit.holes), tuple(circuit.walks))
        for circuit in read
        if circuit.rim is not None
    ]
    for circuit in read:
        if circuit.rim is not None:
            continue
        # No rim of its own group of lines begins lower, and the others it does not touch.
        lowest = min(walks.starts[walk] for walk in circuit.walks)
        round_it = [
            index
            for index, region in enumerate(regions)
            if min(region.rim) < lowest and encloses(net.ring(region.rim), net.nodes[lowest])
        ]
        if round_it:
            nearest = min(round_it, key=lambda index: double_area(net.ring(regions[index].rim)))
            rim, holes, beside = regions[nearest]
            regions[nearest] = Region(rim, (*holes, *circuit.holes), (*beside, *circuit.walks))
    return tuple(regions)


def _read(net: Net, walks: _Walks, circuit: list[int]) -> _Circuit:
    rim: Corners | None = None
    holes = []
    for loop in _loops(walks, circuit):
        corners = _corners(walks, loop)
        if _is_clockwise(walks, loop):
            rim = _from_the_top(net, corners)
        else:
            holes.append(_from_the_top(net, corners[::-1]))
    return _Circuit(circuit, rim, holes)


def _loops(walks: _Walks, circuit: Sequence[int]) -> Iterator[list[int]]:
    """Part a circuit where it meets itself at a point, so that no loop passes a node twice."""
    loop: list[int] = []
    place_of: dict[int, int] = {}
    for walk in circuit:
        node = walks.starts[walk]
        if node in place_of:
            cut = place_of[node]
            yield loop[cut:]
            for done in loop[cut:]:
                del place_of[walks.starts[done]]
            del loop[cut:]
        place_of[node] = len(loop)
        loop.append(walk)
    yield loop


def _is_clockwise(walks: _Walks, loop: Sequence[int]) -> bool:
    """Tell which way a simple loop runs, by how it turns at its lowest node."""
    index = min(range(len(loop)), key=lambda each: walks.starts[loop[each]])
    return walks.ranks[loop[index]] < walks.ranks[loop[index - 1] ^ 1]


def _corners(walks: _Walks, loop: Sequence[int]) -> Corners:
    """Give the nodes at which a loop turns."""
    return tuple(
        walks.starts[walk]
        for index, walk in enumerate(loop)
        if walks.ranks[loop[index - 1]] != walks.ranks[walk]
    )


def _from_the_top(net: Net, corners: Corners) -> Corners:
    """Begin a ring at its topmost corner, the leftmost of those."""
    top = corners.index(min(corners, key=lambda node: (net.rows[node], node)))
    return corners[top:] + corners[:top]
