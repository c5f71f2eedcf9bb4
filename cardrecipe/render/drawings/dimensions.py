"""Dimension lines: a number on a thin line with ends, outside the shape that it measures."""

from collections.abc import Sequence
from math import pi
from typing import NamedTuple

from cardrecipe.render.drawings.colors import INK
from cardrecipe.render.drawings.lettering import NORMAL, Lettering, label, text_width
from cardrecipe.render.drawings.lines import (
    DIMENSION,
    HEAD_LENGTH,
    arrow_head,
    dot,
    stroke,
)
from cardrecipe.render.drawings.marks import Mark, is_free
from cardrecipe.render.drawings.svg import XY

ROW = 4.0  # mm from one dimension line to the next
FIRST_ROW = 4.2  # mm from the shape to the nearest line
GAP = 0.9  # mm between a number and its line, and between a shape and its extension lines
PAST = 0.8  # mm that an extension line runs past the dimension line
MOST_MOVES = 12  # rows that a dimension moves out at most
SHORTEST = 0.3  # mm: what is left of a line that is cut off at a text
STUB = 2.6  # mm of line outside a gap that is too small for heads within


class Dimension(NamedTuple):
    """A measured stretch. All in mm of the picture.

    `axis` "x": the line runs left to right at height `at`; "y": top to bottom at `at` from the left.
    `reach` is where the extension lines begin. `heads` "both", or "end" for a distance that is
    measured from `start` (a dot stands there). `outside` says where a number goes that does not fit
    within: "start" or "end" on the line's own course, "beside" it on the far side of the shape.
    """

    axis: str
    start: float
    end: float
    at: float
    reach: float
    text: str
    heads: str = "both"
    outside: str = "beside"
    bold: bool = False
    end_reach: float | None = None  # where the extension line of `end` begins, if elsewhere


def dimension(measured: Dimension) -> list[Mark]:
    """The marks of one dimension: extension lines, line, heads, number."""
    wide = text_width(measured.text, NORMAL, measured.bold)
    length = abs(measured.end - measured.start)
    heads = HEAD_LENGTH * (2 if measured.heads == "both" else 1)
    extensions = _extensions(measured)
    if length >= wide + 2 * GAP + heads + 1.2:
        return [*extensions, *_number_within(measured, wide)]
    if length >= heads + 1.0:
        return [*extensions, *_number_beyond(measured)]
    return [*extensions, *_heads_from_outside(measured)]


def clear_dimension(measured: Dimension, marks: Sequence[Mark]) -> list[Mark]:
    """The dimension on its own line or, where its number would cover a text or a line among `marks`, further
    out; its own lines leave a gap where they would cross a text."""
    return stepped_out(measured, marks)[0]


def stepped_out(measured: Dimension, marks: Sequence[Mark]) -> tuple[list[Mark], float]:
    """The same, with how far from 0 its line came to lie: the next row goes on from there."""
    away = 1 if measured.at >= measured.reach else -1
    drawn = dimension(measured)
    for _ in range(MOST_MOVES):
        if not any(_is_hit(mark, marks) for mark in drawn if mark.is_label):
            break
        measured = measured._replace(at=measured.at + away * ROW)
        drawn = dimension(measured)
    return [part for mark in drawn for part in clear_of_texts(mark, marks)], abs(measured.at)


def clear_of_texts(line: Mark, marks: Sequence[Mark]) -> list[Mark]:
    """An upright or level thin line without the parts that would cross one of the texts among `marks`."""
    left, top, right, bottom = line.box
    texts = [mark.box.grown(GAP / 2) for mark in marks if mark.is_label and mark.box.meets(line.box)]
    if line.is_label or not _is_thin(line) or not texts:
        return [line]
    is_upright = right - left < bottom - top
    spans = [(box.top, box.bottom) if is_upright else (box.left, box.right) for box in texts]
    start, end = (top, bottom) if is_upright else (left, right)
    (x, y), parts = line.box.middle, []
    for low, high in [*sorted(spans), (end, end)]:
        if low - start > SHORTEST:
            parts.append(((x, start), (x, low)) if is_upright else ((start, y), (low, y)))
        start = max(start, high)
    return [stroke(part, DIMENSION) for part in parts]


def _is_hit(number: Mark, marks: Sequence[Mark]) -> bool:
    """True where a number would cover a text, or lie on a thin line."""
    box = number.box.grown(0.4)
    return not is_free(box, marks) or any(_is_thin(mark) and mark.box.meets(number.box) for mark in marks)


def _is_thin(mark: Mark) -> bool:
    """True for level and upright lines, whose boxes hold nothing else."""
    return min(mark.box.width, mark.box.height) <= DIMENSION.width + 1e-6


def _number_within(measured: Dimension, wide: float) -> list[Mark]:
    """The number in a break of the line: in the middle, or next to the head of a one-headed line."""
    way = 1 if measured.end >= measured.start else -1
    middle = (measured.start + measured.end) / 2
    if measured.heads == "end":
        middle = measured.end - way * (HEAD_LENGTH + 1.4 + wide / 2)
        middle = _between(middle, measured.start + way * (wide / 2 + GAP + 0.3), measured.end)
    near, far = middle - way * (wide / 2 + GAP), middle + way * (wide / 2 + GAP)
    line_ends = [(measured.start, near), (far, measured.end)]
    shafts = [
        stroke((_at(measured, a), _at(measured, b)), DIMENSION)
        for a, b in line_ends
        if way * (b - a) > 0
    ]
    return [
        *shafts,
        *_heads(measured),
        label(*_at(measured, middle), measured.text, _look(measured)),
    ]


def _number_beyond(measured: Dimension) -> list[Mark]:
    whole = stroke((_at(measured, measured.start), _at(measured, measured.end)), DIMENSION)
    return [whole, *_heads(measured), _number_outside(measured, 0.0)]


def _heads_from_outside(measured: Dimension) -> list[Mark]:
    """Two arrows that point at a narrow gap from both sides."""
    way = 1 if measured.end >= measured.start else -1
    before, after = measured.start - way * STUB, measured.end + way * STUB
    angle = _angle(measured)
    marks = [
        stroke((_at(measured, measured.end), _at(measured, after)), DIMENSION),
        arrow_head(_at(measured, measured.end), angle + pi, DIMENSION.color),
        stroke((_at(measured, before), _at(measured, measured.start)), DIMENSION),
        arrow_head(_at(measured, measured.start), angle, DIMENSION.color),
    ]
    return [*marks, _number_outside(measured, STUB)]


def _number_outside(measured: Dimension, stub: float) -> Mark:
    if measured.outside == "beside":
        return _number_beside(measured)
    at_start = measured.outside == "start"
    way = 1 if measured.end >= measured.start else -1
    place = measured.start if at_start else measured.end
    outward = -way if at_start else way
    place += outward * (stub + GAP)
    runs_forward = (outward > 0) == (measured.axis == "x")  # text turned by -90 runs upward
    look = _look(measured)._replace(anchor="start" if runs_forward else "end")
    return label(*_at(measured, place), measured.text, look)


def _number_beside(measured: Dimension) -> Mark:
    """Upright words next to the line, away from the shape: they read without turning the sheet."""
    away = 1 if measured.at >= measured.reach else -1
    middle = (measured.start + measured.end) / 2
    look = _look(measured)
    if measured.axis == "x":
        return label(middle, measured.at + away * (PAST + NORMAL * 0.75), measured.text, look)
    upright = look._replace(turned=0, anchor="start" if away > 0 else "end")
    return label(measured.at + away * (PAST + GAP), middle, measured.text, upright)


def _heads(measured: Dimension) -> list[Mark]:
    angle = _angle(measured)
    tip = arrow_head(_at(measured, measured.end), angle, DIMENSION.color)
    if measured.heads == "end":
        return [tip, dot(_at(measured, measured.start), 0.45)]
    return [tip, arrow_head(_at(measured, measured.start), angle + pi, DIMENSION.color)]


def _extensions(measured: Dimension) -> list[Mark]:
    away = 1 if measured.at >= measured.reach else -1
    last = measured.at + away * PAST
    end_reach = measured.reach if measured.end_reach is None else measured.end_reach
    begins = ((measured.start, measured.reach), (measured.end, end_reach))
    return [
        stroke(
            (
                _point(measured.axis, along, reach + away * GAP * 0.6),
                _point(measured.axis, along, last),
            ),
            DIMENSION,
        )
        for along, reach in begins
    ]


def _look(measured: Dimension) -> Lettering:
    return Lettering(NORMAL, measured.bold, color=INK, turned=0 if measured.axis == "x" else -90)


def _angle(measured: Dimension) -> float:
    turned = 0.0 if measured.axis == "x" else pi / 2
    return turned if measured.end >= measured.start else turned + pi


def _at(measured: Dimension, along: float) -> XY:
    return _point(measured.axis, along, measured.at)


def _point(axis: str, along: float, across: float) -> XY:
    return (along, across) if axis == "x" else (across, along)


def _between(value: float, one: float, other: float) -> float:
    return min(max(value, min(one, other)), max(one, other))
