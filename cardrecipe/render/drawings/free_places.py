"""Where a number, letter or key of a cut-up sheet finds room: on its part, or led out over the sheet's edge.

Nothing may cover a text; lines may be covered, and a lead runs between the texts.
"""

from collections.abc import Iterable, Iterator, Sequence
from math import hypot
from typing import NamedTuple

from cardrecipe.render.drawings.marks import Box, Mark
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
    texts = _texts(taken)
    return next((each for each in centers if _is_bare(around(each, across, down), texts)), None)


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
    texts = _texts(taken)
    over_edge = [box for box in texts if box.left < whole.left or box.top < whole.top]
    bare = [target for target in targets if _is_bare(around(target, DOT, DOT), texts)] or targets
    boxes = ((center, around(center, across, down).grown(CLEAR)) for center in _beyond(whole, across, down))
    free = [center for center, box in boxes if _is_bare(box, over_edge)]
    found = sorted((LedOut(center, target) for target in bare for center in free), key=_length)
    kept_free = [box.grown(CLEAR) for box in texts]
    return next((each for each in found[:TRIED] if _is_clear(each, kept_free)), next(iter(found), None))


def _beyond(whole: Box, across: float, down: float) -> Iterator[XY]:
    """Places in the row above the sheet and in the column left of it."""
    for step in range(int(whole.width / AWAY) + 1):
        yield whole.left + step * AWAY, whole.top - down - 0.5
    for step in range(int(whole.height / AWAY) + 1):
        yield whole.left - across - 0.5, whole.top + step * AWAY


def _length(each: LedOut) -> float:
    (ax, ay), (bx, by) = each
    return hypot(ax - bx, ay - by)


def _texts(marks: Iterable[Mark]) -> list[Box]:
    return [mark.box for mark in marks if mark.is_label]


def _is_bare(box: Box, texts: Sequence[Box]) -> bool:
    return not any(map(box.meets, texts))


def _is_clear(each: LedOut, kept_free: Sequence[Box]) -> bool:
    """What lies beside the box round the lead is left out first: most does."""
    (ax, ay), (bx, by) = each
    low_x, high_x, low_y, high_y = min(ax, bx), max(ax, bx), min(ay, by), max(ay, by)
    return not any(
        left < high_x
        and low_x < right
        and top < high_y
        and low_y < bottom
        and crosses(each, Box(left, top, right, bottom))
        for left, top, right, bottom in kept_free
    )
