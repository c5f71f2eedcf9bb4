"""The scores and sections of a piece, from the solved places of its lines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from cardrecipe.model.card import LineOn, Piece, Scoped, SlantedLine
from cardrecipe.model.values import NotYet, Poisoned, Reader, Unreadable, Var
from cardrecipe.solve.sized import Point, SizedScore, SizedSection

if TYPE_CHECKING:
    from cardrecipe.solve.subdivision import Subdivision

_ZERO = Fraction(0)


class Solved(NamedTuple):
    """What is known of a card when its sections are worked out: sizes, and its lines in their order."""

    values: Mapping[Var, Fraction]
    lines: Mapping[tuple[str, str], Sequence[tuple[LineOn, Var]]]
    reader: Reader


def scores_of(piece: Piece, solved: Solved) -> tuple[SizedScore, ...]:
    """Scores and slits, numbered left to right and then top to bottom; slits have number 0."""
    reader = solved.reader
    found = [
        *(_across(piece, line, number, solved) for number, line in enumerate(piece.lines)),
        *(_slanted(line, reader) for line in piece.slanted),
    ]
    lines = sorted((line for line in found if line is not None),
                   key=lambda line: (line.axis != "x", line.at, line.start))  # fmt: skip
    numbered, number = [], 0
    for line in lines:
        number += line.direction != "slit"
        numbered.append(line._replace(number=0 if line.direction == "slit" else number))
    return tuple(numbered)


def sections_of(piece: Piece, solved: Solved) -> tuple[SizedSection, ...]:
    """The parts between scores and slits, in reading order; () where some line is still open."""
    if not piece.has_plain_sections:
        return _shapes(piece, solved)
    columns, rows = (_bounds(piece, axis, solved) for axis in ("x", "y"))
    if columns is None or rows is None or not piece.sections:
        return ()
    if len(piece.sections) != (len(columns) - 1) * (len(rows) - 1):
        return ()
    sections = []
    for number, name in enumerate(piece.sections):
        row, column = divmod(number, len(columns) - 1)
        left, right = columns[column], columns[column + 1]
        top, bottom = rows[row], rows[row + 1]
        outline = ((left, top), (right, top), (right, bottom), (left, bottom))
        sections.append(SizedSection(name, left, top, right - left, bottom - top, outline))
    return tuple(sections)


def windows_of(piece: Piece, reader: Reader) -> tuple[tuple[Point, ...], ...]:
    """The openings that are cut into a piece, as rings."""
    rings = []
    for window in piece.windows:
        sizes = [known_length(each, reader) for each in (window.x, window.y, window.width, window.height)]
        x, y, width, height = sizes
        if x is None or y is None or not width or not height:
            continue  # open, or of nothing: that is told
        rings.append(((x, y), (x + width, y), (x + width, y + height), (x, y + height)))
    return tuple(rings)


def has_dangling_score(piece: Piece, solved: Solved) -> bool:
    """True where some score has one face on both sides, as it stops too soon: folding tells that."""
    scores = scores_of(piece, solved)
    dangling = _divided(piece, scores, solved).dangling
    return any(scores[run.line].direction != "slit" for run in dangling)


def _shapes(piece: Piece, solved: Solved) -> tuple[SizedSection, ...]:
    scores = scores_of(piece, solved)
    size = [solved.values.get((piece.name, quantity)) for quantity in ("width", "height")]
    if None in size or len(scores) < len(piece.lines) + len(piece.slanted):
        return ()
    faces = _divided(piece, scores, solved).faces
    names = [*piece.sections, *(f"section-{at + 1}" for at in range(len(piece.sections), len(faces)))]
    return tuple(_section(name, face) for name, face in zip(names, faces, strict=False))


def _section(name: str, outline: tuple[Point, ...]) -> SizedSection:
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return SizedSection(name, min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys), outline)


def _divided(piece: Piece, scores: Sequence[SizedScore], solved: Solved) -> Subdivision:
    from cardrecipe.solve.subdivision import DrawnLine, subdivide  # most cards have plain sections

    width, height = (solved.values[piece.name, quantity] for quantity in ("width", "height"))
    outline = ((_ZERO, _ZERO), (width, _ZERO), (width, height), (_ZERO, height))
    lines = [DrawnLine("slit" if score.direction == "slit" else "score", score.start, score.end, at)
             for at, score in enumerate(scores)]  # fmt: skip
    return subdivide(outline, lines, windows_of(piece, solved.reader))


def _bounds(piece: Piece, axis: str, solved: Solved) -> list[Fraction] | None:
    """Where sections begin and end along an axis; None where a place is open."""
    size = solved.values.get((piece.name, "width" if axis == "x" else "height"))
    lines = solved.lines.get((piece.name, axis), [])
    inner = [solved.values.get(var) for _, var in lines]
    bounds = [_ZERO, *inner, size]
    known = [each for each in bounds if each is not None]
    return known if len(known) == len(bounds) else None


def _across(piece: Piece, line: LineOn, number: int, solved: Solved) -> SizedScore | None:
    reader = solved.reader
    axis = "x" if line.edge in ("left", "right") else "y"
    far = "right" if axis == "x" else "bottom"
    along, across = ("width", "height") if axis == "x" else ("height", "width")
    size = solved.values.get((piece.name, along))
    reach = solved.values.get((piece.name, across))
    if size is None or reach is None:
        return None
    at = solved.values.get(_var_of(piece, line, axis, solved))
    if at is None:
        distance = known_length(line.at, reader)
        if distance is None:
            return None
        at = size - distance * line.times if line.edge == far else distance * line.times
    first, last = _ZERO, reach
    if line.between is not None:
        ends = [known_length(each, reader) for each in line.between]
        if ends[0] is None or ends[1] is None:
            return None
        first, last = ends[0], ends[1]
    start, end = ((at, first), (at, last)) if axis == "x" else ((first, at), (last, at))
    direction = "slit" if line.word == "cut" else line.direction
    return SizedScore(number, axis, at, line.edge, direction, start, end, line.span)


def _var_of(piece: Piece, line: LineOn, axis: str, solved: Solved) -> Var:
    for other, var in solved.lines.get((piece.name, axis), []):
        if other is line:
            return var
    return (piece.name, "")


def _slanted(line: SlantedLine, reader: Reader) -> SizedScore | None:
    points = [tuple(known_length(each, reader) for each in point) for point in (line.start, line.end)]
    (x0, y0), (x1, y1) = points
    if x0 is None or y0 is None or x1 is None or y1 is None:
        return None
    start: Point = (x0, y0)
    end: Point = (x1, y1)
    direction = "slit" if line.word == "cut" else line.direction
    return SizedScore(0, "slanted", x0, "left", direction, start, end, line.span)


def known_length(scoped: Scoped, reader: Reader) -> Fraction | None:
    """What an expression comes to; None where it means nothing, or hangs on what is not known."""
    try:
        value = reader.length(scoped)
        known: Mapping[Var, Fraction] = reader.known
        return value.constant + sum((c * known[v] for v, c in value.terms.items()), _ZERO)
    except (Unreadable, NotYet, Poisoned, KeyError):
        return None


def known_number(scoped: Scoped, reader: Reader) -> Fraction | None:
    """What an expression comes to as a number by itself; None where it means nothing."""
    try:
        return reader.number(scoped)
    except (Unreadable, NotYet, Poisoned):
        return None
