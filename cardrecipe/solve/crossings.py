"""Splits straight segments wherever they cross, touch or lie along each other, exactly.

Coordinates are ints where they are whole and Fractions elsewhere: the two mix without rounding, and
a drawing scaled to whole numbers is split several times faster than one of Fractions alone.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations, pairwise
from typing import NamedTuple

Number = Fraction | int
Place = tuple[Number, Number]
Segment = tuple[Place, Place]
Stretch = tuple[int, int]  # the lower and the higher of two nodes; nothing meets it between them


class Net(NamedTuple):
    """Segments split at every place where two of them meet.

    Nodes are counted by x, then by y, so that the nodes along any segment rise or fall.
    """

    nodes: tuple[Place, ...]
    columns: tuple[int, ...]  # for each node the rank of its x, the same for the same x
    rows: tuple[int, ...]  # for each node the rank of its y
    paths: tuple[tuple[int, ...], ...]  # for each segment its nodes, from its start to its end
    along: dict[Stretch, list[int]]  # the segments that share a stretch
    slopes: tuple[int, ...]  # for each segment the rank of its slope; an upright one ranks last

    def runs_up(self, segment: int) -> bool:
        """Tell whether a segment runs from its lower node to its higher one."""
        return self.paths[segment][0] < self.paths[segment][-1]

    def ring(self, nodes: Sequence[int]) -> tuple[Place, ...]:
        """Give the places of some nodes."""
        return tuple(self.nodes[node] for node in nodes)


def split(segments: Sequence[Segment]) -> Net:
    """Give the net of segments that each have two different ends."""
    found: dict[Place, int] = {}  # a place is looked up once where it is found: hashing Fractions is slow
    met: list[set[int]] = [{found.setdefault(end, len(found)) for end in segment} for segment in segments]
    for first, second in combinations(range(len(segments)), 2):
        for place in _meetings(segments[first], segments[second]):
            number = found.setdefault(place, len(found))
            met[first].add(number)
            met[second].add(number)
    places = list(found)
    columns, rows = (_ranks([place[axis] for place in places]) for axis in (0, 1))
    in_order = sorted(range(len(places)), key=lambda each: (columns[each], rows[each]))
    node_of = {each: node for node, each in enumerate(in_order)}
    paths = tuple(
        tuple(sorted(map(node_of.__getitem__, on_it), reverse=end < start))
        for on_it, (start, end) in zip(met, segments, strict=True)
    )
    along: dict[Stretch, list[int]] = {}
    for index, path in enumerate(paths):
        for start, end in pairwise(path):
            along.setdefault((start, end) if start < end else (end, start), []).append(index)
    return Net(
        tuple(places[each] for each in in_order),
        tuple(columns[each] for each in in_order),
        tuple(rows[each] for each in in_order),
        paths,
        along,
        _slopes(segments),
    )


def turn(origin: Place, first: Place, second: Place) -> Number:
    """Give the cross product of two arms from `origin`: over 0 if `second` is clockwise of `first`
    as one looks at the sheet (y runs down)."""
    return (first[0] - origin[0]) * (second[1] - origin[1]) - (first[1] - origin[1]) * (second[0] - origin[0])


def double_area(ring: Sequence[Place]) -> Number:
    """Give twice the area of a simple ring, over 0 when it runs clockwise (shoelace formula)."""
    return sum(before[0] * after[1] - after[0] * before[1] for before, after in _edges(ring))


def encloses(ring: Sequence[Place], place: Place) -> bool:
    """Tell whether a ring goes round a place that is not on it.

    Source: the even-odd count of the edges left of it; from memory.
    """
    inside, y = False, place[1]
    for before, after in _edges(ring):
        if (before[1] > y) != (after[1] > y):
            inside ^= (turn(before, after, place) < 0) == (after[1] > before[1])
    return inside


def _edges(ring: Sequence[Place]) -> Iterator[tuple[Place, Place]]:
    return zip((ring[-1], *ring[:-1]), ring, strict=True)


def _ranks(numbers: Sequence[Number]) -> list[int]:
    """Give the rank of each number among those that differ."""
    # The whole number in front settles most comparisons without Fractions.
    keys = [((number.numerator << 20) // number.denominator, number) for number in numbers]
    ranks, rank, before = [0] * len(keys), -1, None
    for index in sorted(range(len(keys)), key=keys.__getitem__):
        if keys[index] != before:
            rank, before = rank + 1, keys[index]
        ranks[index] = rank
    return ranks


def _slopes(segments: Sequence[Segment]) -> tuple[int, ...]:
    slopes = [
        Fraction(end[1] - start[1]) / (end[0] - start[0]) if end[0] != start[0] else None
        for start, end in segments
    ]
    ranks = {slope: rank for rank, slope in enumerate(sorted({each for each in slopes if each is not None}))}
    return tuple(len(ranks) if slope is None else ranks[slope] for slope in slopes)


def _meetings(first: Segment, second: Segment) -> Sequence[Place]:
    """Give the places where two segments must both be split: one, or the ends of an overlap."""
    (start, end), (other_start, other_end) = first, second
    if not (_spans_meet(first, second, 0) and _spans_meet(first, second, 1)):
        return ()
    before, after = turn(start, end, other_start), turn(start, end, other_end)
    if not before and not after:
        return [
            *(place for place in second if _is_within(place, first)),
            *(place for place in first if _is_within(place, second)),
        ]
    if _same_side(before, after):
        return ()
    own_before, own_after = turn(other_start, other_end, start), turn(other_start, other_end, end)
    if _same_side(own_before, own_after):
        return ()
    return (_share(other_start, other_end, before, before - after),)


def _spans_meet(first: Segment, second: Segment, axis: int) -> bool:
    low, high = first[0][axis], first[1][axis]
    other_low, other_high = second[0][axis], second[1][axis]
    if low > high:
        low, high = high, low
    if other_low > other_high:
        other_low, other_high = other_high, other_low
    return low <= other_high and other_low <= high


def _is_within(place: Place, segment: Segment) -> bool:
    """Tell whether a place on the line of a segment lies between its ends, or on one."""
    return segment[0] <= place <= segment[1] or segment[1] <= place <= segment[0]


def _same_side(before: Number, after: Number) -> bool:
    return (before > 0 and after > 0) or (before < 0 and after < 0)


def _share(start: Place, end: Place, part: Number, whole: Number) -> Place:
    """Give the place at `part` of `whole` of the way."""
    return (
        _quotient(start[0] * whole + (end[0] - start[0]) * part, whole),
        _quotient(start[1] * whole + (end[1] - start[1]) * part, whole),
    )


def _quotient(total: Number, divisor: Number) -> Number:
    quotient, rest = divmod(total, divisor)
    return Fraction(total, divisor) if rest else quotient
