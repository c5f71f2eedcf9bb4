"""Rows of parts: how they are put together, what is cut away beside them, and what they cost to cut."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from cardrecipe.plan.cutting.job import Job, Part


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
    if part.axis is None:
        return part
    parts = [in_order(each) for each in part.parts]
    kept = [each for each in parts if not is_offcut(each)]
    kept.sort(key=lambda each: -length(each, part.axis or "x"))
    offcuts = [each for each in parts if is_offcut(each)]
    if not offcuts:
        sizes = Counter(length(each, part.axis) for each in kept)
        alone = [each for each in kept if sizes[length(each, part.axis)] == 1]
        kept = [each for each in kept if each not in alone[-1:]] + alone[-1:]
    return part._replace(parts=(*kept, *offcuts))


def effort(part: Part) -> Effort:
    """Give what a layout costs to cut."""
    cuts = list(_cuts(part, 0))
    largest = max((each.width * each.height for each in _offcuts(part)), default=0)
    return Effort(len(set(cuts)), len(cuts), -largest)


def _cuts(part: Part, depth: int) -> Iterator[tuple[int, str, int]]:
    """Give depth, direction and size of each part that is cut off; the last of a row is what is left."""
    for each in part.parts[:-1]:
        yield depth, part.axis or "x", length(each, part.axis or "x")
    for each in part.parts:
        yield from _cuts(each, depth + 1)


def _offcuts(part: Part) -> Iterator[Part]:
    if is_offcut(part):
        yield part
    for each in part.parts:
        yield from _offcuts(each)


def stages(part: Part) -> int:
    """Give how many times the direction of cuts changes, the first counted; the last trimming cut of a
    blank is free."""
    if part.axis is None:
        return 0
    used = [each for each in part.parts if not is_offcut(each)]
    if len(used) == 1 and used[0].blank is not None:
        return 0
    return 1 + max(map(stages, part.parts))


def is_allowed(job: Job, part: Part) -> bool:
    """Tell whether a layout keeps to the stages of a job and to its first cut; that may also be left out."""
    if job.stages is None:
        return True
    used = stages(part)
    return used < job.stages or (used == job.stages and job.first_cut in (None, part.axis))


def without(part: Part, blank: str) -> Part:
    """Give a layout without one of its blanks of a name, the last one: its place is an offcut."""
    done, left = _without(part, blank)
    assert left, "the blank is not there"
    return done


def _without(part: Part, blank: str) -> tuple[Part, bool]:
    if part.blank == blank:
        return Part(part.width, part.height), True
    if part.axis is None:
        return part, False
    for at in reversed(range(len(part.parts))):
        inner, is_gone = _without(part.parts[at], blank)
        if is_gone:
            parts = [*part.parts[:at], inner, *part.parts[at + 1 :]]
            return row(part.axis, part.width, part.height, parts), True
    return part, False
