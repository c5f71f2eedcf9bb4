"""The numbers of the scores beside a flat piece, with the folded edge as a sign and as a word."""

from collections.abc import Sequence
from fractions import Fraction

from cardrecipe.render.drawings.colors import PAGE, fold_color
from cardrecipe.render.drawings.flat_sheet import Sheet, axis_point
from cardrecipe.render.drawings.lettering import NORMAL, SMALL, Lettering, label
from cardrecipe.render.drawings.lines import disc, fold_sign
from cardrecipe.render.drawings.marks import Box, Mark, room
from cardrecipe.render.drawings.sizes import scaled_line
from cardrecipe.render.drawings.svg import XY
from cardrecipe.solve.sized import SizedScore

BADGE = 2.3  # mm, radius of a score's number
STEP = 1.0  # mm by which a unit that has no room moves away from the sheet
NEXT = 2 * BADGE + 0.4  # mm from one number of a line to the next
ALONG_SLANTED = (0.5, 0.35, 0.65, 0.2, 0.8)  # parts of a line at which its number is tried
CLOSE_PAIRS = 0.5  # mm between two texts that stand side by side


def score_badges(sheet: Sheet, axis: str, edge: float) -> list[Mark]:
    """The numbers of the scores on each line with the folded edge as a sign; those of lines that are close
    step outward."""
    marks: list[Mark] = []
    scores = [s for s in sheet.piece.scores if s.axis == axis and s.direction != "slit"]
    for (at, _), group in _on_one_line(scores).items():
        along, across = float(at) * sheet.scale, edge + BADGE + 0.8
        while not _unit_is_free(axis, along, across, len(group), marks):
            across += STEP
        marks += _badges(axis, along, across, group)
    return [*marks, *_words(sheet, axis, scores, marks)]


def _on_one_line(scores: Sequence[SizedScore]) -> dict[tuple[Fraction, str], list[SizedScore]]:
    """The scores by where they lie and how they fold: one line may be scored in several parts."""
    found: dict[tuple[Fraction, str], list[SizedScore]] = {}
    for score in scores:
        found.setdefault((score.at, score.direction), []).append(score)
    return found


def slanted_badges(sheet: Sheet, marks: list[Mark]) -> list[Mark]:
    """The numbers of the slanted scores, each on its line where no name or other number is in the way."""
    drawn: list[Mark] = []
    for score in sheet.piece.scores:
        if score.axis == "slanted" and score.direction != "slit":
            taken = [mark.box for mark in (*marks, *drawn) if mark.is_label]
            center = _on_line(scaled_line(score.start, score.end, sheet.scale), taken)
            color = fold_color(score.direction, PAGE)
            drawn += [
                disc(center, BADGE, color),
                label(*center, str(score.number), Lettering(NORMAL, True, color=color)),
            ]
    return drawn


def _on_line(line: tuple[XY, XY], taken: list[Box]) -> XY:
    (ax, ay), (bx, by) = line
    places = [(ax + (bx - ax) * t, ay + (by - ay) * t) for t in ALONG_SLANTED]
    free = (
        (x, y)
        for x, y in places
        if not any(box.meets(Box(x - BADGE, y - BADGE, x + BADGE, y + BADGE)) for box in taken)
    )
    return next(free, places[0])


def _unit_is_free(axis: str, along: float, across: float, count: int, marks: list[Mark]) -> bool:
    x, y = axis_point(axis, along, across)
    more = (count - 1) * NEXT
    below, right = (BADGE + more + 3.6, BADGE + 0.3) if axis == "x" else (BADGE, BADGE + more + 5.6)
    unit = Box(x - BADGE - 0.3, y - BADGE, x + right, y + below)
    return not any(mark.box.meets(unit) for mark in marks)


def _badges(axis: str, along: float, across: float, scores: Sequence[SizedScore]) -> list[Mark]:
    """Numbers one after the other, away from the sheet, then one sign for all."""
    direction = scores[0].direction
    color = fold_color(direction, PAGE)
    marks: list[Mark] = []
    for score in scores:
        center = axis_point(axis, along, across)
        number = label(*center, str(score.number), Lettering(NORMAL, True, color=color))
        marks += [disc(center, BADGE, color), number]
        across += NEXT
    sign = across - NEXT + BADGE + (2.0 if axis == "x" else 3.0)
    return [*marks, *fold_sign(axis_point(axis, along, sign), direction)]


def _words(sheet: Sheet, axis: str, scores: list[SizedScore], badges: list[Mark]) -> list[Mark]:
    """`valley` or `mountain` in a row beyond the signs, where all the words have room."""
    if not badges:
        return []
    words: list[Mark] = []
    beyond = room(badges).bottom if axis == "x" else room(badges).right
    for score in scores:
        along = float(score.at) * sheet.scale
        look = _fold_word(score.direction)._replace(anchor="middle" if axis == "x" else "start")
        x, y = axis_point(axis, along, beyond + (2.2 if axis == "x" else 1.2))
        words.append(label(x, y, score.direction, look))
    return words if _apart(words) else []


def _fold_word(direction: str) -> Lettering:
    return Lettering(SMALL, color=fold_color(direction, PAGE))


def _apart(words: list[Mark]) -> bool:
    return all(
        not one.box.grown(CLOSE_PAIRS).meets(other.box)
        for place, one in enumerate(words)
        for other in words[place + 1 :]
    )
