"""Rows of parts: how they are put together, what is cut away beside them, and what they cost to cut."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from cardrecipe.plan.cutting.job import Job, Part, blanks_in

# More blanks than this nobody cuts from a sheet, nor looks for in a drawing of it: quarter inches on 12 x 12.
MOST_BLANKS = 2_304
# So many cuts one after the other lead to a piece at the most; card.json holds one inside the other.
MOST_BEHIND = 240


class Effort(NamedTuple):
    """What a layout costs to cut, least first: `settings` are the different sizes the trimmer is set to at
    each depth, `strokes` the cuts, `offcut` the area of the largest piece left over, as a negative number."""

    settings: int
    strokes: int
    offcut: int


def row(axis: str, width: int, height: int, parts: Sequence[Part]) -> Part:
    """Give parts side by side in a rectangle; rows along the same axis become one, offcuts one at its end."""
    flat = [each for part in parts for each in (part.parts if part.axis == axis else (part,))]
    kept = [each for each in flat if not is_offcut(each)]
    if not kept:
        return Part(width, height)
    left = (width if axis == "x" else height) - sum(length(each, axis) for each in kept)
    if left:
        kept.append(Part(left, height) if axis == "x" else Part(width, left))
    return kept[0] if len(kept) == 1 else Part(width, height, None, False, axis, tuple(kept))


def trimmed(part: Part, width: int, height: int, axis: str | None = None) -> Part:
    """Give a part in the left top corner of a rectangle; what is left over is cut away, along `axis` first.

    Without an axis the first cut is the one that leaves the larger offcut whole.
    """
    if axis is None:
        axis = "x" if (width - part.width) * height >= (height - part.height) * width else "y"
    if axis == "x":
        return row("x", width, height, [row("y", part.width, height, [part])])
    return row("y", width, height, [row("x", width, part.height, [part])])


def is_offcut(part: Part) -> bool:
    """Tell whether a part is left over whole."""
    return part.blank is None and not part.parts


def length(part: Part, axis: str) -> int:
    """Give how long a part is along a row."""
    return part.width if axis == "x" else part.height


def in_order(part: Part) -> Part:
    """Give the same cuts in the order that takes the fewest settings: equal parts together, the larger
    first; at the end of a full row stands a part that is alone of its size, which then needs no setting."""
    return _in_order(part, {})


def _in_order(part: Part, known: dict[int, Part]) -> Part:
    """`known`: what came of parts by their identity; a layout holds the same row many times over."""
    if part.axis is None:
        return part
    if id(part) not in known:
        known[id(part)] = part._replace(parts=_ordered(part, [_in_order(each, known) for each in part.parts]))
    return known[id(part)]


def _ordered(part: Part, parts: Sequence[Part]) -> tuple[Part, ...]:
    kept = [each for each in parts if not is_offcut(each)]
    kept.sort(key=lambda each: -length(each, part.axis or "x"))
    offcuts = [each for each in parts if is_offcut(each)]
    if not offcuts:
        lengths = [length(each, part.axis or "x") for each in kept]
        sizes = Counter(lengths)
        alone = [at for at, size in enumerate(lengths) if sizes[size] == 1]
        kept += [kept.pop(at) for at in alone[-1:]]
    return (*kept, *offcuts)


class Cuts(NamedTuple):
    """What is known of a layout or a part of one: its settings, each by depth, direction and size; its
    strokes, its largest offcut, its stages.

    Stages are how many times the direction of cuts changes, the first counted; the last trimming cut of a
    blank is free.
    """

    settings: frozenset[tuple[int, str, int]]
    strokes: int
    offcut: int
    stages: int

    @property
    def effort(self) -> Effort:
        return Effort(len(self.settings), self.strokes, -self.offcut)


def cuts_of(part: Part) -> Cuts:
    """Give what is known of a layout's cuts."""
    return _cuts(part, {})


def effort(part: Part) -> Effort:
    """Give what a layout costs to cut."""
    return cuts_of(part).effort


def _cuts(part: Part, known: dict[int, Cuts]) -> Cuts:
    """The last part of a row is what is left of it: nothing is cut off.

    `known`: what is known of parts by their identity; a layout holds the same row many times over.
    """
    if part.axis is None:
        return _BLANK if part.blank is not None else _BLANK._replace(offcut=part.width * part.height)
    found = known.get(id(part))
    if found is None:
        found = known[id(part)] = _cuts_of(part, part.axis, known)
    return found


_BLANK = Cuts(frozenset(), 0, 0, 0)


def _cuts_of(part: Part, axis: str, known: dict[int, Cuts]) -> Cuts:
    inside = [_cuts(each, known) for each in part.parts]
    settings = {(0, axis, length(each, axis)) for each in part.parts[:-1]}
    for each in {id(each): each for each in inside if each.settings}.values():
        settings |= {(depth + 1, axis, size) for depth, axis, size in each.settings}
    used = [each for each in part.parts if not is_offcut(each)]
    is_trimmed = len(used) == 1 and used[0].blank is not None
    return Cuts(
        frozenset(settings),
        len(inside) - 1 + sum(each.strokes for each in inside),
        max(each.offcut for each in inside),
        0 if is_trimmed else 1 + max(each.stages for each in inside),
    )


def cuts_before(part: Part) -> int:
    """Give the most cuts that are made, one after the other, before a piece of a layout is free."""
    return _cuts_before(part, {})


def _cuts_before(part: Part, known: dict[int, int]) -> int:
    if part.axis is None:
        return 0
    if id(part) not in known:
        last = len(part.parts) - 1
        behind = (min(at, last) + _cuts_before(each, known) for at, each in enumerate(part.parts, 1))
        known[id(part)] = max(behind)
    return known[id(part)]


def is_allowed(job: Job, part: Part) -> bool:
    """Tell whether a layout keeps to the stages of a job and to its first cut; that may also be left out."""
    if job.stages is None:
        return True
    used = cuts_of(part).stages
    return used < job.stages or (used == job.stages and job.first_cut in (None, part.axis))


def without(part: Part, blank: str, number: int = 1) -> Part:
    """Give a layout without so many of its blanks of a name, the last ones: their places are offcuts."""
    done, left = _without(part, blank, number)
    assert not left, "the blank is not there"
    return done


def _without(part: Part, blank: str, number: int) -> tuple[Part, int]:
    """Give what is left of a part, and how many blanks are still to be taken out."""
    if part.blank == blank and number:
        return Part(part.width, part.height), number - 1
    if part.axis is None or not number:
        return part, number
    parts, wanted = list(part.parts), number
    for at in reversed(range(len(parts))):
        parts[at], number = _without(parts[at], blank, number)
    if number == wanted:
        return part, number
    return row(part.axis, part.width, part.height, parts), number


def in_reason(part: Part) -> Part:
    """Give a layout with no more blanks, and no more of them behind each other, than one can be cut from;
    where there are more, the places of the last ones are offcuts."""
    if sum(blanks_in(part).values()) > MOST_BLANKS:
        part = _first_of(part, MOST_BLANKS)[0]
    return part if cuts_before(part) <= MOST_BEHIND else _near_the_edge(part, MOST_BEHIND)


def _near_the_edge(part: Part, cuts: int) -> Part:
    """Leave out what lies behind more than so many cuts."""
    if part.axis is None:
        return part
    kept = [_near_the_edge(each, cuts - at - 1) for at, each in enumerate(part.parts[:cuts])]
    return row(part.axis, part.width, part.height, kept)


def _first_of(part: Part, most: int) -> tuple[Part, int]:
    """Give a layout with so many of its blanks at most, and how many more it could hold."""
    number = sum(blanks_in(part).values())
    if number <= most:
        return part, most - number
    kept = []
    for each in part.parts:
        if most:
            held, most = _first_of(each, most)
            kept.append(held)
    return row(part.axis or "x", part.width, part.height, kept), most
