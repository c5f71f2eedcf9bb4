"""Where the name of a section has room: as near its middle as no line and no opening is in the way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from cardrecipe.render.drawings.marks import Box
from cardrecipe.render.drawings.svg import XY

Segment = tuple[XY, XY]
STEPS = 16  # places tried across a section and down it; finer steps find hardly more room


def free_middle(
    room: Box,
    outline: Sequence[XY],
    lines: Sequence[Segment],
    block: XY,
    holes: Sequence[Sequence[XY]] = (),
) -> XY | None:
    """The middle for a block (width, height) inside an outline, outside its `holes` and clear of `lines`;
    None without room."""
    wide, high = block
    if wide > room.width or high > room.height:
        return None
    for x, y in _middles(room):
        box = Box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
        if not room.holds(box) or not is_inside((x, y), outline):
            continue
        if any(crosses(line, box) for line in lines) or any(is_inside((x, y), hole) for hole in holes):
            continue
        return x, y
    return None


def crosses(line: Segment, box: Box) -> bool:
    """True where some of a line lies inside a box (the clipping of Liang and Barsky)."""
    (ax, ay), (bx, by) = line
    first, last = 0.0, 1.0
    for start, way, low, high in ((ax, bx - ax, box.left, box.right), (ay, by - ay, box.top, box.bottom)):
        if way == 0:
            if not low < start < high:
                return False
            continue
        near, far = sorted(((low - start) / way, (high - start) / way))
        first, last = max(first, near), min(last, far)
    return first < last


def _middles(room: Box) -> Iterator[XY]:
    """The middle of a box, then others by their distance from it."""
    middle_x, middle_y = room.middle
    offsets = [step / STEPS for step in range(-STEPS // 2, STEPS // 2 + 1)]
    found = [(across * room.width, down * room.height) for across, down in product(offsets, offsets)]
    for across, down in sorted(found, key=lambda each: (each[0] ** 2 + each[1] ** 2, each)):
        yield middle_x + across, middle_y + down


def is_inside(point: XY, outline: Sequence[XY]) -> bool:
    x, y = point
    inside = False
    for (ax, ay), (bx, by) in zip(outline, (*outline[1:], *outline[:1]), strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            inside = not inside
    return inside
