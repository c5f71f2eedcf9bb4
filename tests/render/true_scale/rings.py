"""Rings of straight and round parts: their exact area and box, whatever file they were read from."""

from collections.abc import Sequence
from math import cos, hypot, pi, sin
from typing import NamedTuple

XY = tuple[float, float]


class Straight(NamedTuple):
    start: XY
    end: XY


class Round(NamedTuple):
    """A part of an upright ellipse from angle to angle; x = center + across cos, y = center + down sin."""

    center: XY
    across: float
    down: float
    first: float
    last: float

    def at(self, angle: float) -> XY:
        return self.center[0] + self.across * cos(angle), self.center[1] + self.down * sin(angle)


Ring = Sequence[Straight | Round]


def signed_area(ring: Ring) -> float:
    """Half the integral of x dy - y dx, in closed form (Green's theorem; from memory)."""
    return sum(_share(part) for part in ring) / 2


def _share(part: Straight | Round) -> float:
    if isinstance(part, Straight):
        (ax, ay), (bx, by) = part
        return ax * by - bx * ay
    (cx, cy), (ax, ay), (bx, by) = part.center, part.at(part.first), part.at(part.last)
    return part.across * part.down * (part.last - part.first) + cx * (by - ay) - cy * (bx - ax)


def points(ring: Ring, steps: int = 32) -> list[XY]:
    """The ring as a polygon, finely sampled where it is round."""
    found: list[XY] = []
    for part in ring:
        if isinstance(part, Straight):
            found.append(part.start)
        else:
            turn = (part.last - part.first) / steps
            found += [part.at(part.first + step * turn) for step in range(steps)]
    return found


def box(rings: Sequence[Ring]) -> tuple[float, float, float, float]:
    """Left, top, right, bottom; round parts reach out where they are level or upright."""
    places: list[XY] = []
    for ring in rings:
        places += points(ring)
        for part in ring:
            if isinstance(part, Round):
                low, high = sorted((part.first, part.last))
                places += [part.at(each * pi / 2) for each in range(-8, 9) if low <= each * pi / 2 <= high]
    across, down = [x for x, _ in places], [y for _, y in places]
    return min(across), min(down), max(across), max(down)


def gaps(ring: Ring) -> float:
    """How far the end of a part lies from the start of the next one, at most."""
    ends = [ends_of(part) for part in ring]
    return max(hypot(end[0] - start[0], end[1] - start[1])
               for (_, end), (start, _) in zip(ends, (*ends[1:], ends[0]), strict=True))  # fmt: skip


def ends_of(part: Straight | Round) -> tuple[XY, XY]:
    if isinstance(part, Straight):
        return part.start, part.end
    return part.at(part.first), part.at(part.last)


def paper_area(rings: Sequence[Ring]) -> float:
    """The first ring's area without that of the others, which are openings in it."""
    outline, *openings = [abs(signed_area(ring)) for ring in rings]
    return outline - sum(openings)
