"""The laws of every drawing, each a function from what was read back to the sentences of what breaks it."""

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import combinations, pairwise

from cardrecipe.render.drawings import Drawing
from tests.render.drawings.read_back import (
    POINT_MM,
    SVG,
    XY,
    Area,
    Reading,
    Rectangle,
    Stroke,
    Words,
    picture,
    read,
    root,
)

FLOOR_PT = 7.8
OVERLAP_MM = 0.05  # less than the pen's width
READABLE = 4.5  # WCAG 2.2, success criterion 1.4.3
PAGE = "#ffffff"
ACROSS, DOWN = (0.06, 0.3, 0.5, 0.7, 0.94), (0.12, 0.5, 0.88)  # of a text, where its ground is looked at
INSIDE_MM = 0.2  # a line that touches a text by less than this does not cross it


def broken(drawing: Drawing, print_scale: float = 1.0) -> list[str]:
    """What is wrong with one drawing that is printed at that share of its own size."""
    reading = read(drawing.svg)
    found = [
        *_not_told(drawing),
        *_overlapping(reading.words),
        *_outside(reading.words, picture(drawing.svg)),
        *_too_small(reading.words, print_scale),
        *_hard_to_read(reading),
        *_crossed(reading),
    ]
    return [f"{drawing.name}: {each}" for each in found]


def _not_told(drawing: Drawing) -> Iterator[str]:
    whole = root(drawing.svg)
    title, desc = whole.find(f"{SVG}title"), whole.find(f"{SVG}desc")
    if title is None or not title.text or whole.attrib["aria-labelledby"] != title.attrib["id"]:
        yield "has no title"
    if desc is None or not desc.text or whole.attrib["aria-describedby"] != desc.attrib["id"]:
        yield "has no description"
    elif not desc.text.endswith("."):
        yield f"its description is no sentence: {desc.text!r}"


def _overlapping(words: Sequence[Words]) -> Iterator[str]:
    for one, other in combinations(words, 2):
        if one.room.overlap(other.room) > OVERLAP_MM:
            yield f"{one.text!r} and {other.text!r} overlap by {one.room.overlap(other.room):.2f} mm"


def _outside(words: Sequence[Words], box: Rectangle) -> Iterator[str]:
    for each in words:
        left, top, right, bottom = each.room
        if left < box.left or top < box.top or right > box.right or bottom > box.bottom:
            yield f"{each.text!r} leaves the picture"


def _too_small(words: Sequence[Words], print_scale: float) -> Iterator[str]:
    for each in words:
        points = each.size * print_scale / POINT_MM
        if points < FLOOR_PT - 1e-6:
            yield f"{each.text!r} is printed at {points:.2f} pt"


def _hard_to_read(reading: Reading) -> Iterator[str]:
    for each in reading.words:
        worst = min((contrast(each.fill, ground), ground) for ground in grounds(each, reading.areas))
        if worst[0] < READABLE:
            yield f"{each.text!r} in {each.fill} on {worst[1]} has a contrast of {worst[0]:.2f}"


def grounds(word: Words, areas: Sequence[Area]) -> set[str]:
    """The colours that are behind a text, at some places all over it."""
    left, top, right, bottom = word.room
    before = [area for area in areas if area.at < word.at and area.room.overlap(word.room) > 0]
    points = [(left + (right - left) * x, top + (bottom - top) * y) for x in ACROSS for y in DOWN]
    return {color for point in points for color in _colors_at(point, before)}


def _colors_at(point: XY, areas: Sequence[Area]) -> set[str]:
    """What is seen at a point: one colour, or two where a pattern is."""
    seen, last = {PAGE}, None
    for area in areas:
        if area.opacity == 0 or not area.holds(point):
            continue
        if area.is_pattern:
            seen = seen | {area.fill}
        else:
            seen = {_mixed(color, area.fill, area.opacity) for color in seen}
        last = area
    return seen if last is not None else {PAGE}


def _crossed(reading: Reading) -> Iterator[str]:
    for each in reading.words:
        room = each.room.shrunk(INSIDE_MM)
        for line in reading.strokes:
            is_met = any(_enters(ends, room) for ends in pairwise(line.points))
            if is_met and not _is_covered(line, each, reading.areas):
                yield f"{each.text!r} is crossed by a line ({line.dash or 'solid'}, {line.width} mm)"


def _is_covered(line: Stroke, word: Words, areas: Sequence[Area]) -> bool:
    """True where the text stands on a ground of its own, painted over the line."""
    left, top, right, bottom = word.room.shrunk(INSIDE_MM)
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    between = [area for area in areas if line.at < area.at < word.at and area.opacity == 1]
    return any(all(area.holds(corner) for corner in corners) for area in between)


def _enters(line: Sequence[XY], box: Rectangle) -> bool:
    """True where some of a segment lies inside a box."""
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


@cache
def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours (WCAG 2.2, definitions of contrast ratio and relative luminance)."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


@cache
def luminance(color: str) -> float:
    shares = (int(color[at : at + 2], 16) / 255 for at in (1, 3, 5))
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _mixed(below: str, above: str, share: float) -> str:
    if share == 1:
        return above
    pairs = [(int(below[at : at + 2], 16), int(above[at : at + 2], 16)) for at in (1, 3, 5)]
    return "#" + "".join(f"{round(low + (high - low) * share):02x}" for low, high in pairs)
