"""A layout as numbered settings of the trimmer: what is in hand, how far to set it, what comes off.

Cuts at one setting are made one after the other on all that is in hand at that depth, on all equal sheets.
Parts that are cut up further bear letters; equal ones bear the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from cardrecipe.plan.cutting.job import Part
from cardrecipe.plan.cutting.parts import is_offcut, length

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


class Off(NamedTuple):
    """What comes off: `kind` "blank" with its name, "part" with its letter, "offcut" without; how many."""

    kind: str
    name: str
    width: int
    height: int
    count: int  # type: ignore[assignment]  # a tuple has a method of that name
    turned: bool = False


class InHand(NamedTuple):
    """A part that is cut at a setting: its letter ("" for the sheet itself), its size, how many there are
    on one sheet, how often each is cut, and what comes off each; what is `left` at the last cut stays in hand
    until then."""

    letter: str
    width: int
    height: int
    count: int  # type: ignore[assignment]  # a tuple has a method of that name
    times: int
    off: tuple[Off, ...]
    left: tuple[Off, ...]


class Setting(NamedTuple):
    """One setting: cuts across `axis`, `size` from the edge. `is_turned`: the last one ran the other way."""

    number: int
    depth: int
    axis: str
    size: int
    is_turned: bool
    in_hand: tuple[InHand, ...]

    @property
    def strokes(self) -> int:
        """How many cuts it takes on one sheet."""
        return sum(each.count * each.times for each in self.in_hand)


def settings(root: Part) -> tuple[Setting, ...]:
    """Give the settings of a layout in the order in which they are made."""
    found: list[Setting] = []
    named, last_axis = letters(root), ""
    for depth, level in enumerate(_levels(root)):
        for axis in sorted({part.axis or "" for part, _ in level}, key=lambda each: each != last_axis):
            rows = [(part, count) for part, count in level if part.axis == axis]
            sizes = {length(each, axis) for part, _ in rows for each in part.parts[:-1]}
            for size in sorted(sizes, reverse=True):
                in_hand = tuple(
                    _in_hand(part, count, axis, size, named)
                    for part, count in rows
                    if any(length(each, axis) == size for each in part.parts[:-1])
                )
                is_turned = bool(found) and axis != last_axis
                found.append(Setting(len(found) + 1, depth, axis, size, is_turned, in_hand))
                last_axis = axis
    return tuple(found)


def letters(root: Part) -> dict[Part, str]:
    """Give the parts that are cut up further their letters, the sheet itself "", by depth."""
    found: dict[Part, str] = {root: ""}
    for level in _levels(root):
        for part, _ in level:
            for each in part.parts:
                if each.parts and each not in found:
                    number = len(found) - 1
                    found[each] = LETTERS[number % 26] + str(number // 26 + 1 if number >= 26 else "")
    return found


def _levels(root: Part) -> Iterator[list[tuple[Part, int]]]:
    """Give the parts that are cut at each depth, equal ones as one with their number."""
    level = {root: 1} if root.parts else {}
    while level:
        yield list(level.items())
        below: dict[Part, int] = {}
        for part, count in level.items():
            for each in part.parts:
                if each.parts:
                    below[each] = below.get(each, 0) + count
        level = below


def _in_hand(part: Part, count: int, axis: str, size: int, named: dict[Part, str]) -> InHand:
    off = [each for each in part.parts[:-1] if length(each, axis) == size]
    smallest = min(length(each, axis) for each in part.parts[:-1])
    left = _named((part.parts[-1],) if size == smallest else (), named)
    return InHand(named[part], part.width, part.height, count, len(off), _named(off, named), left)


def _named(parts: list[Part] | tuple[Part, ...], named: dict[Part, str]) -> tuple[Off, ...]:
    counted: dict[Part, int] = {}
    for part in parts:
        counted[part] = counted.get(part, 0) + 1
    return tuple(_off(part, count, named) for part, count in counted.items())


def _off(part: Part, count: int, named: dict[Part, str]) -> Off:
    if part.blank is not None:
        return Off("blank", part.blank, part.width, part.height, count, part.turned)
    if is_offcut(part):
        return Off("offcut", "", part.width, part.height, count)
    return Off("part", named[part], part.width, part.height, count)
