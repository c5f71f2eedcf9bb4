"""The picture of scoring a piece: lying flat, with the numbers at which it is scored from one end and, where
it is turned round for the others, how it is turned."""

from collections.abc import Sequence
from fractions import Fraction
from math import cos, pi, sin

from cardrecipe.model.lengths import written
from cardrecipe.plan.score_runs import score_runs, slit_runs
from cardrecipe.plan.scores import turned_round
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.colors import PAGE, QUIET_INK, fold_color
from cardrecipe.render.drawings.flat_sheet import Sheet, axis_point, sheet_marks
from cardrecipe.render.drawings.lettering import NORMAL, SMALL, Lettering, label
from cardrecipe.render.drawings.lines import disc
from cardrecipe.render.drawings.marks import Box, Caption, Mark, picture, room
from cardrecipe.render.drawings.paint import paper_look, tint
from cardrecipe.render.drawings.pieces_marked import of_piece
from cardrecipe.render.drawings.score_badges import BADGE, slanted_badges
from cardrecipe.render.drawings.score_guide import rows_from_one_end, running, stand_apart
from cardrecipe.render.drawings.sizes import COLUMN, fitted_marks, lengths_listed, listed, scale_to_fit
from cardrecipe.render.drawings.so_far import small_arrow
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.solve.sized import SizedCard, SizedPiece, SizedScore

MOST_SCORED = (44.0, 26.0)  # mm on the page
MOST_ROWS = 3  # distances that get a row each
TURN = 3.4  # mm, radius of the arrow that turns the piece round
ENDS = {"x": "left", "y": "top"}


def score_step_drawing(card: SizedCard, piece: SizedPiece, id_prefix: str = "") -> Drawing:
    """`piece`, which has at least one score, as it lies on the board."""
    name = f"step-score-{piece.name}"
    scale = scale_to_fit(card, piece.width, piece.height, *MOST_SCORED)
    marks = fitted_marks(lambda k: _scored(card, piece, k, f"{id_prefix}{name}"), scale, COLUMN)
    said = f"{spoken(piece.name).capitalize()} flat, inside up. {_described(card, piece)}"
    return picture(Caption(name, f"Scoring {spoken(piece.name)}", said, id_prefix), marks)


def _scored(card: SizedCard, piece: SizedPiece, scale: float, pattern: str) -> list[Mark]:
    sheet = Sheet(piece, card.unit, scale, tint(paper_look(card, piece.paper)))
    axes = sorted({score.axis for score in piece.scores} & {"x", "y"})
    first = {axis: first_distances(card, piece, axis) for axis in axes}
    acted = [score.number for score in piece.scores if score.at in first.get(score.axis, ()) and score.number]
    paper, *lines = sheet_marks(sheet, pattern, acted)
    marks = [of_piece(paper, piece.name), *lines]
    marks += slanted_badges(sheet, marks)
    for axis in axes:
        marks += _rows(sheet, axis, first[axis], marks)
    for axis in axes:
        marks += _numbers(sheet, axis, marks)
    turns = [axis for axis in axes if turned_round(card, piece, axis)]
    if turns:
        again = {axis: turned_round(card, piece, axis) for axis in turns}
        marks += _turn(room(marks), sheet, _then(sheet, first, again))
    look = Lettering(SMALL, True, anchor="start")
    return [*marks, label(0.0, room(marks).bottom + SMALL, "Inside faces up.", look)]


def first_distances(card: SizedCard, piece: SizedPiece, axis: str) -> tuple[Fraction, ...]:
    """What is scored, and cut as slits, before the piece is turned round."""
    every = {run.at for run in (*score_runs(piece, axis), *slit_runs(piece, axis))}
    later = turned_round(card, piece, axis)
    whole = piece.width if axis == "x" else piece.height
    return tuple(sorted(every - {whole - at for at in later}))


def _rows(sheet: Sheet, axis: str, distances: Sequence[Fraction], taken: Sequence[Mark]) -> list[Mark]:
    """The distances from one end, the nearest innermost; many of them on one line."""
    if len(distances) > MOST_ROWS and stand_apart(sheet, distances):
        return running(sheet, axis, distances)
    return rows_from_one_end(sheet, axis, distances, taken)


def _numbers(sheet: Sheet, axis: str, taken: Sequence[Mark]) -> list[Mark]:
    """Each score's number beyond its far end; those that would touch step outward."""
    marks: list[Mark] = []
    edge = sheet.height if axis == "x" else sheet.width
    for score in sheet.piece.scores:
        if score.axis != axis or score.direction == "slit":
            continue
        along, across = float(score.at) * sheet.scale, edge + BADGE + 0.8
        badge = _around(axis, along, across)
        while any(mark.box.meets(badge) for mark in (*taken[1:], *marks)):
            across += 2 * BADGE + 0.4
            badge = _around(axis, along, across)
        marks += _number(axis, along, across, score)
    return marks


def _around(axis: str, along: float, across: float) -> Box:
    x, y = axis_point(axis, along, across)
    return Box(x - BADGE, y - BADGE, x + BADGE, y + BADGE)


def _number(axis: str, along: float, across: float, score: SizedScore) -> list[Mark]:
    center, color = axis_point(axis, along, across), fold_color(score.direction, PAGE)
    look = Lettering(NORMAL, True, color=color)
    return [disc(center, BADGE, color), label(*center, str(score.number), look)]


def _then(
    sheet: Sheet, first: dict[str, tuple[Fraction, ...]], again: dict[str, tuple[Fraction, ...]]
) -> tuple[str, ...]:
    """What is done once the piece has been turned: `same again`, or `then 3 1⁄2` and more."""
    if all(set(later) <= set(first[axis]) for axis, later in again.items()):
        return ("turn round,", "same again")
    told = [
        f"{written(at, sheet.unit)} from {ENDS[axis]}"
        for axis, later in again.items()
        for at in sorted(later)
    ]
    return ("turn round,", *told)


def _turn(taken: Box, sheet: Sheet, words: Sequence[str]) -> list[Mark]:
    """An arrow once round half a circle, and what is done then."""
    x, y = taken.right + TURN + 2.0, sheet.height / 2 - SMALL
    points = [(x + TURN * cos(pi * step / 8), y - TURN * sin(pi * step / 8)) for step in range(-1, 9)]
    look = Lettering(SMALL, anchor="start", color=QUIET_INK)
    marks = small_arrow(points[::-1])
    for line, text in enumerate(words):
        marks.append(label(taken.right + 1.4, y + TURN + SMALL * (0.6 + 1.3 * line), text, look))
    return marks


def _described(card: SizedCard, piece: SizedPiece) -> str:
    said = []
    for axis, end in ENDS.items():
        first = first_distances(card, piece, axis)
        if first:
            said.append(f"Measured from the {end}: {lengths_listed(first, card.unit)}.")
        later = turned_round(card, piece, axis)
        if later:
            said.append(f"Then it is turned round and scored at {lengths_listed(sorted(later), card.unit)}.")
    numbers = [str(score.number) for score in piece.scores if score.axis == "slanted" and score.number]
    if numbers:
        said.append(f"Score {listed(numbers)} is slanted.")
    return " ".join(said)
