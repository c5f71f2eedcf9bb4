"""Dimensions read back from a drawing: the number that is written, and how far its ends are apart.

A dimension is told by what is painted: thin quiet lines, slim arrow heads, a dot where a distance begins, and
then its number.
"""

import re
from collections.abc import Iterator
from fractions import Fraction
from math import hypot
from typing import NamedTuple

from tests.render.drawings.read_back import XY, Area, Reading, Stroke, Words

QUIET = "#5d5850"
THIN = 0.18
LEVEL = 0.01  # mm by which the two ends of a level line may differ in height

_NUMBER = re.compile(
    r"(?P<about>≈|once round, about |overlap, about )?"
    r"(?P<number>[0-9.]+(\u202f[0-9]+\u2044[0-9]+)?|[0-9]+\u2044[0-9]+)"
    r"(\u00a0(?P<unit>in|mm))?( over)?"
)


class Measured(NamedTuple):
    """One dimension: `drawn` in mm of the picture along `axis`, `value` in the card's unit."""

    text: str
    value: Fraction
    is_about: bool
    axis: str
    drawn: float
    ends: tuple[XY, XY]


def value_of(text: str) -> tuple[Fraction, bool] | None:
    """The length that a text says, and whether it is only about that; None for other words."""
    found = _NUMBER.fullmatch(text)
    if found is None:
        return None
    parts = found["number"].replace("\u2044", "/").split("\u202f")
    return sum((Fraction(part) for part in parts), Fraction(0)), bool(found["about"])


def dimensions(reading: Reading) -> Iterator[Measured]:
    """Every number on a dimension line."""
    marks: dict[int, Words | Stroke | Area] = {}
    for group in (reading.words, reading.strokes, reading.areas):
        marks |= {mark.at: mark for mark in group}
    start: XY | None = None
    ends: list[XY] = []
    for at in sorted(marks):
        mark = marks[at]
        if isinstance(mark, Words):
            said = value_of(mark.text)
            if said is not None and ends:
                yield _measured(mark.text, said, ends, start)
            ends = []
        elif _is_part(mark):
            end = _end_of(mark)
            if end is not None:
                ends.append(end)
                start = end if isinstance(mark, Area) and len(mark.rings[0]) > 3 else start
        else:
            ends = []


def _measured(text: str, said: tuple[Fraction, bool], ends: list[XY], start: XY | None) -> Measured:
    """Between two ends; a number of a running row has one, and counts from the dot where the row begins."""
    if len(ends) == 1 and start is not None:
        ends = [start, *ends]
    assert len(ends) == 2, (text, ends)
    (ax, ay), (bx, by) = ends
    axis = "x" if abs(ay - by) < LEVEL else "y"
    assert axis == "x" or abs(ax - bx) < LEVEL, (text, ends)
    return Measured(text, said[0], said[1], axis, hypot(ax - bx, ay - by), (ends[0], ends[1]))


def _is_part(mark: Stroke | Area) -> bool:
    if isinstance(mark, Stroke):
        return mark.color == QUIET and mark.width == THIN and mark.dash is None
    return mark.fill == QUIET


def _end_of(mark: Stroke | Area) -> XY | None:
    """The point of a head (the corner across its shortest side), or the middle of a dot."""
    if isinstance(mark, Stroke):
        return None
    ring = mark.rings[0]
    if len(ring) > 3:
        return mark.room.middle
    pairs = {at: (ring[at - 1], ring[at - 2]) for at in range(3)}
    sides = {hypot(ax - bx, ay - by): at for at, ((ax, ay), (bx, by)) in pairs.items()}
    return ring[sides[min(sides)]]
