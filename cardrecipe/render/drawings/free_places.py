"""Where a number, letter or key of a cut-up sheet finds room: on its part, or led out over the sheet's edge.

Nothing may cover a text; lines may be covered, and a lead runs between the texts.
"""

from collections.abc import Iterable, Iterator, Sequence
from math import hypot
from typing import NamedTuple

from cardrecipe.render.drawings.marks import Box, Mark, is_free
from cardrecipe.render.drawings.name_place import crosses
from cardrecipe.render.drawings.svg import XY

STEPS = 8  # in which a place in a part is looked for, each way
AWAY = 1.0  # mm between two places along an edge of the sheet
DOT = 0.6  # mm, radius of the dot at the end of a lead
TRIED = 2000  # leads, the shortest first
CLEAR = 0.3  # mm round a text that a lead keeps free


class LedOut(NamedTuple):
    """A place beyond the sheet's edge, and the point on the sheet that a lead runs to."""

    center: XY
    target: XY


def around(center: XY, across: float, down: float) -> Box:
    """The box of a mark by its middle and half its size."""
    x, y = center
    return Box(x - across, y - down, x + across, y + down)


def first_free(centers: Iterable[XY], across: float, down: float, taken: Sequence[Mark]) -> XY | None:
    """The first of some places at which a mark of half that size covers no text."""
    return next((each for each in centers if is_free(around(each, across, down), taken)), None)


def free_within(
    box: Box, across: float, down: float, taken: Sequence[Mark], *, in_corner: bool = False
) -> XY | None:
    """The first free place in a part, from its middle or from its corners on."""
    near = [mark for mark in taken if mark.box.meets(box.grown(max(across, down)))]
    first = () if in_corner else (box.middle,)
    return first_free((*first, *places_within(box, across, down)), across, down, near)


def places_within(box: Box, across: float, down: float) -> Iterator[XY]:
    """Places for a mark in a box, its corners first; where the box is too narrow, on its middle line."""
    left, right = _ends(box.left, box.right, across)
    top, bottom = _ends(box.top, box.bottom, down)
    yield from ((x, y) for y in (top, bottom) for x in (left, right))
    for row in range(STEPS + 1):
        y = top + (bottom - top) * row / STEPS
        yield from ((left + (right - left) * column / STEPS, y) for column in range(STEPS + 1))


def _ends(start: float, end: float, half: float) -> tuple[float, float]:
    if end - start < 2 * half:
        return (start + end) / 2, (start + end) / 2
    return start + half, end - half


def led_out(
    targets: Sequence[XY], whole: Box, across: float, down: float, taken: Sequence[Mark]
) -> LedOut | None:
    """The nearest place above or left of the sheet from which a lead reaches a target past all texts; where
    none does, the nearest place."""
    bare = [target for target in targets if is_free(around(target, DOT, DOT), taken)] or targets
    boxes = ((center, around(center, across, down).grown(CLEAR)) for center in _beyond(whole, across, down))
    free = [center for center, box in boxes if is_free(box, taken)]
    found = sorted((LedOut(center, target) for target in bare for center in free), key=_length)
    return next((each for each in found[:TRIED] if _is_clear(each, taken)), next(iter(found), None))


def _beyond(whole: Box, across: float, down: float) -> Iterator[XY]:
    """Places in the row above the sheet and in the column left of it."""
    for step in range(int(whole.width / AWAY) + 1):
        yield whole.left + step * AWAY, whole.top - down - 0.5
    for step in range(int(whole.height / AWAY) + 1):
        yield whole.left - across - 0.5, whole.top + step * AWAY


def _length(each: LedOut) -> float:
    (ax, ay), (bx, by) = each
    return hypot(ax - bx, ay - by)


def _is_clear(each: LedOut, taken: Sequence[Mark]) -> bool:
    return not any(mark.is_label and crosses(each, mark.box.grown(CLEAR)) for mark in taken)
