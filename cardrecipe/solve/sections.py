"""The scores and sections of a piece, from the solved places of its lines."""

from collections.abc import Mapping
from fractions import Fraction

from cardrecipe.model.card import LineOn, Piece, Scoped, SlantedLine
from cardrecipe.model.values import NotYet, Poisoned, Reader, Unreadable, Var
from cardrecipe.solve.sized import Point, SizedScore, SizedSection
from cardrecipe.solve.sizes import Solution

_ZERO = Fraction(0)


def scores_of(piece: Piece, solution: Solution, reader: Reader) -> tuple[SizedScore, ...]:
    """Scores and slits, numbered left to right and then top to bottom; slits have number 0."""
    found = [
        *(_across(piece, line, number, solution, reader) for number, line in enumerate(piece.lines)),
        *(_slanted(line, reader) for line in piece.slanted),
    ]
    lines = sorted((line for line in found if line is not None),
                   key=lambda line: (line.axis != "x", line.at, line.start))  # fmt: skip
    numbered, number = [], 0
    for line in lines:
        number += line.direction != "slit"
        numbered.append(line._replace(number=0 if line.direction == "slit" else number))
    return tuple(numbered)


def sections_of(piece: Piece, solution: Solution) -> tuple[SizedSection, ...]:
    """The rectangles between the lines that run right across; () where other lines make other shapes."""
    columns, rows = (_bounds(piece, axis, solution) for axis in ("x", "y"))
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


def _bounds(piece: Piece, axis: str, solution: Solution) -> list[Fraction] | None:
    """Where sections begin and end along an axis; None where a place is open."""
    size = solution.values.get((piece.name, "width" if axis == "x" else "height"))
    lines = solution.draft.lines.get((piece.name, axis), [])
    inner = [solution.values.get(var) for _, var in lines]
    bounds = [_ZERO, *inner, size]
    known = [each for each in bounds if each is not None]
    return known if len(known) == len(bounds) else None


def _across(
    piece: Piece, line: LineOn, number: int, solution: Solution, reader: Reader
) -> SizedScore | None:
    axis = "x" if line.edge in ("left", "right") else "y"
    far = "right" if axis == "x" else "bottom"
    along, across = ("width", "height") if axis == "x" else ("height", "width")
    size = solution.values.get((piece.name, along))
    reach = solution.values.get((piece.name, across))
    if size is None or reach is None:
        return None
    at = solution.values.get(_var_of(piece, line, axis, solution))
    if at is None:
        distance = _known(line.at, reader)
        if distance is None:
            return None
        at = size - distance * line.times if line.edge == far else distance * line.times
    first, last = _ZERO, reach
    if line.between is not None:
        ends = [_known(each, reader) for each in line.between]
        if ends[0] is None or ends[1] is None:
            return None
        first, last = ends[0], ends[1]
    start, end = ((at, first), (at, last)) if axis == "x" else ((first, at), (last, at))
    direction = "slit" if line.word == "cut" else line.direction
    return SizedScore(number, axis, at, line.edge, direction, start, end, line.span)


def _var_of(piece: Piece, line: LineOn, axis: str, solution: Solution) -> Var:
    for other, var in solution.draft.lines.get((piece.name, axis), []):
        if other is line:
            return var
    return (piece.name, "")


def _slanted(line: SlantedLine, reader: Reader) -> SizedScore | None:
    points = [tuple(_known(each, reader) for each in point) for point in (line.start, line.end)]
    (x0, y0), (x1, y1) = points
    if x0 is None or y0 is None or x1 is None or y1 is None:
        return None
    start: Point = (x0, y0)
    end: Point = (x1, y1)
    direction = "slit" if line.word == "cut" else line.direction
    return SizedScore(0, "slanted", x0, "left", direction, start, end, line.span)


def _known(scoped: Scoped, reader: Reader) -> Fraction | None:
    try:
        value = reader.length(scoped)
        known: Mapping[Var, Fraction] = reader.known
        return value.constant + sum((c * known[v] for v, c in value.terms.items()), _ZERO)
    except (Unreadable, NotYet, Poisoned, KeyError):
        return None
