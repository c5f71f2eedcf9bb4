"""Lines and windows lie on their piece.

What runs right across has a place in the equations; short lines, slanted ones and windows are worked out here
from what is written.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.card import Piece
from cardrecipe.model.lengths import size_written, with_unit
from cardrecipe.solve.sections import Solved, scores_of, windows_of
from cardrecipe.solve.sized import Point, SizedScore
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax.diagnostics import Diagnostic, error
from cardrecipe.syntax.spans import Span

FROM_THE_EDGE = "measure it from an edge of the flat piece"


class Flat(NamedTuple):
    """A piece as it lies flat, with the unit that is spoken in."""

    name: str
    width: Fraction
    height: Fraction
    unit: str


def at_no_place(flat: Flat, word: str, axis: str, at: Fraction, span: Span) -> Diagnostic | None:
    """Tell of a line that lies at an edge of its piece or beyond."""
    whole = flat.width if axis == "x" else flat.height
    if 0 < at < whole:
        return None
    ends = "0 and the other edge" if whole <= 0 else f"0 and {with_unit(whole, flat.unit)}"
    return error("score-off-sheet", span, f"this {word} would lie at {with_unit(at, flat.unit)} from the "
                 f"{'left' if axis == 'x' else 'top'} of `{flat.name}`, which must be between {ends}",
                 FROM_THE_EDGE)  # fmt: skip


def off_their_piece(solution: Solution) -> Iterator[Diagnostic]:
    """Short and slanted lines along an edge, beyond one or of no length; windows beside their piece."""
    known = solution.placed()
    for piece in solution.card.pieces:
        if piece.has_plain_sections or piece.name in solution.parts.skipped:
            continue
        width, height = (solution.values.get((piece.name, side)) for side in ("width", "height"))
        if width is not None and height is not None and min(width, height) > 0:
            flat = Flat(piece.name, width, height, solution.unit)
            yield from _lines(piece, flat, known)
            yield from _windows(piece, flat, known)


def _lines(piece: Piece, flat: Flat, known: Solved) -> Iterator[Diagnostic]:
    words = {each.span: each.word for each in piece.lines if each.between is not None}
    words |= {each.span: each.word for each in piece.slanted}
    for score in scores_of(piece, known):
        found = _line(flat, score, words[score.span]) if score.span in words else None
        if found is not None:
            del words[score.span]  # the others of a row of lines are the same mistake
            yield found


def _line(flat: Flat, score: SizedScore, word: str) -> Diagnostic | None:
    if score.start == score.end:
        return error("size-not-positive", score.span, f"this {word} of `{flat.name}` begins and ends in one "
                     "place", "let it run on to another")  # fmt: skip
    if score.axis != "slanted":
        found = at_no_place(flat, word, score.axis, score.at, score.span)
        if found is not None:
            return found
    beyond = next((place for place in (score.end, score.start) if not _is_on(flat, place)), None)
    if beyond is not None:
        return error("score-off-sheet", score.span, f"this {word} would run to "
                     f"{_place(flat, score, beyond)}, beyond the edge of `{flat.name}`, "
                     f"{size_written(*flat[1:])}",
                     "end it at an edge of the flat piece, or before")  # fmt: skip
    (x, y), (to_x, to_y) = score.start, score.end
    if (x == to_x and x in (0, flat.width)) or (y == to_y and y in (0, flat.height)):
        return error("score-off-sheet", score.span, f"this {word} would lie along an edge of `{flat.name}`",
                     FROM_THE_EDGE)  # fmt: skip
    return None


def _is_on(flat: Flat, place: Point) -> bool:
    return 0 <= place[0] <= flat.width and 0 <= place[1] <= flat.height


def _place(flat: Flat, score: SizedScore, place: Point) -> str:
    """The end of a line as it is written: how far it runs, or both coordinates."""
    if score.axis == "slanted":
        return f"({', '.join(with_unit(at, flat.unit) for at in place)})"
    return with_unit(place[1 if score.axis == "x" else 0], flat.unit)


def _windows(piece: Piece, flat: Flat, known: Solved) -> Iterator[Diagnostic]:
    for window in piece.windows:
        for (left, top), _, (right, bottom), _ in windows_of(piece.replace(windows=(window,)), known.reader):
            is_beside = left >= flat.width or right <= 0 or top >= flat.height or bottom <= 0
            if is_beside and left < right and top < bottom:
                yield error("window-off-sheet", window.span, "this window would lie beyond the edge of "
                            f"`{flat.name}`, {size_written(*flat[1:])}",
                            "measure to its left top corner, from that of the flat piece")  # fmt: skip
