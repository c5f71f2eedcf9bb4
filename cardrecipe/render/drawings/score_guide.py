"""The score guide: a flat piece with every score numbered and measured, and the short way to do it.

On the near side stand the distances from one end, the longest outermost, for a reader who slides
the sheet once against the stop. On the far side stand numbers, signs and words of the scores and,
where the piece is symmetrical, the few distances that serve from both ends.
"""

from collections.abc import Sequence
from fractions import Fraction
from itertools import groupby, pairwise
from math import pi

from cardrecipe.model.lengths import with_unit, written
from cardrecipe.plan.window_words import window_lines
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.colors import QUIET_INK
from cardrecipe.render.drawings.dimensions import (
    FIRST_ROW,
    ROW,
    Dimension,
    clear_dimension,
    clear_of_texts,
    dimension,
    stepped_out,
)
from cardrecipe.render.drawings.flat_sheet import Sheet, axis_point, section_names, sheet_marks
from cardrecipe.render.drawings.lettering import (
    NORMAL,
    SMALL,
    Lettering,
    fitted,
    label,
    text_width,
)
from cardrecipe.render.drawings.lines import (
    DIMENSION,
    arrow_head,
    dot,
    fold_sign,
    stroke,
)
from cardrecipe.render.drawings.marks import Caption, Mark, picture, room
from cardrecipe.render.drawings.paint import paper_look, tint
from cardrecipe.render.drawings.score_badges import score_badges, slanted_badges
from cardrecipe.render.drawings.sizes import (
    WIDE,
    counted,
    fitted_marks,
    in_words,
    lengths_listed,
    scale_to_fit,
)
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.solve.sized import SizedCard, SizedPiece, SizedScore, SizedSection

MOST_WIDE = 130.0  # mm on the page, of a piece scored from left to right
HEIGHT_AND_ROWS = (32.0, 4.0)  # mm it may be high: more for each score, whose names need room
MOST_STANDING = (50.0, 48.0)  # of one scored from top to bottom
MOST_TALL = 95.0  # mm, of the whole guide
KEY_WIDTH = 78.0  # mm that the key may take under a narrow sheet
MOST_NARROW = 3  # narrow sections that are told one by one
MOST_ROWS = 4  # distances that get a row each; more share one line


def score_guide(card: SizedCard, piece: SizedPiece, id_prefix: str = "") -> Drawing:
    """The guide for `piece`, which has at least one score or slit."""
    most = _most_lying(piece) if _axes(piece)[0] == "x" else MOST_STANDING
    scale = scale_to_fit(card, piece.width, piece.height, *most)
    name = f"score-{piece.name}"
    pattern = f"{id_prefix}{name}-paper"
    marks = fitted_marks(lambda k: _guide(card, piece, k, pattern), scale, WIDE, MOST_TALL)
    title = f"Score guide for {spoken(piece.name)}"
    return picture(Caption(name, title, _described(card, piece), id_prefix), marks)


def _most_lying(piece: SizedPiece) -> tuple[float, float]:
    high, row = HEIGHT_AND_ROWS
    return MOST_WIDE, high + row * min(len(piece.scores), 4)


def _guide(card: SizedCard, piece: SizedPiece, scale: float, pattern: str) -> list[Mark]:
    sheet = Sheet(piece, card.unit, scale, tint(paper_look(card, piece.paper)))
    axes = _axes(piece)
    named, narrow = section_names(sheet, axes[0])
    marks = [*sheet_marks(sheet, pattern), *named]
    marks += slanted_badges(sheet, marks)
    for axis in axes:
        marks += _rows_from_one_end(sheet, axis, marks)
        marks += _far_side(sheet, axis, marks)
    if "y" not in axes:
        marks += _whole_height(sheet)
    if "x" not in axes:
        marks += _whole_width(sheet)
    lines = [*_narrow_words(sheet, narrow, axes[0]), *window_lines(sheet.piece, card.unit)]
    return [*marks, *_key(sheet, room(marks).bottom, lines)]


def _narrow_words(sheet: Sheet, sections: list[SizedSection], axis: str) -> list[str]:
    """Sections too narrow for their names, told by the scores beside them or as one run."""
    sizes = {section.width if axis == "x" else section.height for section in sections}
    if len(sections) > MOST_NARROW and len(sizes) == 1:
        first, last = spoken(sections[0].name), spoken(sections[-1].name)
        return [f"{first} to {last}: {written(sizes.pop(), sheet.unit)} each"]
    return [_beside_scores(sheet, section, axis) for section in sections]


def _beside_scores(sheet: Sheet, section: SizedSection, axis: str) -> str:
    """`between 1 and 2: left-flap, 1⁄4`."""
    before, after = ("left of", "right of") if axis == "x" else ("above", "below")
    start, wide = (section.x, section.width) if axis == "x" else (section.y, section.height)
    ours = [s for s in sheet.piece.scores if s.axis == axis and s.direction != "slit"]
    first = [score.number for score in ours if score.at == start]
    last = [score.number for score in ours if score.at == start + wide]
    place = f"{before} {last[0]}: " if last else ""
    if first:
        place = f"between {first[0]} and {last[0]}: " if last else f"{after} {first[0]}: "
    return f"{place}{spoken(section.name)}, {written(wide, sheet.unit)}"


def _axes(piece: SizedPiece) -> list[str]:
    """The directions that are measured; slanted lines are told by their ends in the step's text."""
    return sorted({score.axis for score in piece.scores} & {"x", "y"}) or ["x"]


def _lines(sheet: Sheet, axis: str) -> list[SizedScore]:
    """The scores of one direction, one for each distance."""
    ours = sorted((s for s in sheet.piece.scores if s.axis == axis), key=lambda s: s.at)
    return [next(group) for _, group in groupby(ours, key=lambda score: score.at)]


def _whole(sheet: Sheet, axis: str) -> Fraction:
    return sheet.piece.width if axis == "x" else sheet.piece.height


def _depth(sheet: Sheet, axis: str) -> float:
    """How far the far side lies from the near one, across the measured direction."""
    return sheet.height if axis == "x" else sheet.width


def _rows_from_one_end(sheet: Sheet, axis: str, taken: Sequence[Mark]) -> list[Mark]:
    """All distances from the left (or the top), one row each, the nearest score innermost."""
    distances = [score.at for score in _lines(sheet, axis)]
    if len(distances) > MOST_ROWS and stand_apart(sheet, distances):
        return running(sheet, axis, distances)
    return rows_from_one_end(sheet, axis, distances, taken)


def rows_from_one_end(
    sheet: Sheet, axis: str, distances: Sequence[Fraction], taken: Sequence[Mark]
) -> list[Mark]:
    """A row for each distance; a number that would meet one of another side stands farther out."""
    marks: list[Mark] = []
    row = FIRST_ROW
    for distance in distances:
        far, text = float(distance) * sheet.scale, written(distance, sheet.unit)
        line = Dimension(axis, 0.0, far, -row, 0.0, text, heads="end", outside="start", bold=True)
        drawn, row = stepped_out(line, [*taken, *marks])
        marks, row = [*marks, *drawn], row + ROW
    return marks


def stand_apart(sheet: Sheet, distances: Sequence[Fraction]) -> bool:
    """True where numbers that stand over their scores do not touch."""
    places = [float(distance) * sheet.scale for distance in distances]
    return all(after - before > NORMAL * 1.15 for before, after in pairwise(places))


def running(sheet: Sheet, axis: str, distances: Sequence[Fraction]) -> list[Mark]:
    """For many scores: one line from the end, with each distance standing over its score."""
    at, last = -FIRST_ROW, float(distances[-1]) * sheet.scale
    marks = [
        stroke((axis_point(axis, 0.0, at), axis_point(axis, last, at)), DIMENSION),
        dot(axis_point(axis, 0.0, at), 0.45),
    ]
    angle, turned = (0.0, -90) if axis == "x" else (pi / 2, 0)
    look = Lettering(NORMAL, True, anchor="start" if axis == "x" else "end", turned=turned)
    for distance in distances:
        along = float(distance) * sheet.scale
        ends = axis_point(axis, along, -0.5), axis_point(axis, along, at - 0.8)
        marks += [
            stroke(ends, DIMENSION),
            arrow_head(axis_point(axis, along, at), angle, QUIET_INK),
        ]
        marks.append(label(*axis_point(axis, along, at - 1.6), written(distance, sheet.unit), look))
    return marks


def _far_side(sheet: Sheet, axis: str, marks: Sequence[Mark]) -> list[Mark]:
    """Numbers and signs of the scores, then the short way, then the whole."""
    edge = _depth(sheet, axis)
    badges = score_badges(sheet, axis, edge)
    taken = room(badges) if badges else None
    reach = edge if taken is None else max(edge, taken.bottom if axis == "x" else taken.right)
    short = _short_way(sheet, axis, reach, [*marks, *badges])
    if short:
        reach = room(short).bottom if axis == "x" else room(short).right
    text = with_unit(_whole(sheet, axis), sheet.unit)
    length = float(_whole(sheet, axis)) * sheet.scale
    whole = Dimension(axis, 0.0, length, reach + FIRST_ROW * 0.8, edge, text)
    return [*badges, *short, *clear_dimension(whole, [*marks, *badges, *short])]


def _short_way(sheet: Sheet, axis: str, beyond: float, taken: Sequence[Mark]) -> list[Mark]:
    """The same numbers from each end, longest outermost; nothing where the scores differ."""
    near = short_distances(sheet.piece, axis)
    if not near:
        return []
    whole = float(_whole(sheet, axis)) * sheet.scale
    edge, at = _depth(sheet, axis), beyond + FIRST_ROW * 0.9
    marks: list[Mark] = []
    last = at
    for distance in near:
        length, text = float(distance) * sheet.scale, written(distance, sheet.unit)
        middle = abs(2 * length - whole) < 0.01
        for start, end in ((0.0, length), (whole, whole - length))[: 1 if middle else 2]:
            line = Dimension(axis, start, end, at, beyond, text, "end", "start", bold=True)
            drawn, at = stepped_out(line, [*taken, *marks])
            marks += drawn
        last, at = at, at + ROW
    outer = [
        part
        for x in (0.0, whole)
        for part in clear_of_texts(
            stroke((axis_point(axis, x, edge + 0.5), axis_point(axis, x, beyond)), DIMENSION), taken
        )
    ]
    inner = whole - 2 * float(near[-1]) * sheet.scale
    return [*outer, *marks, *_short_way_words(axis, whole, inner, last)]


def _short_way_words(axis: str, whole: float, inner: float, last: float) -> list[Mark]:
    """Between the innermost heads where they leave room, else on a row of its own."""
    look = Lettering(SMALL, color=QUIET_INK, turned=0 if axis == "x" else -90)
    for words in SHORT_WAY_WORDS:
        if text_width(words, SMALL) + 3.0 <= inner:
            return [label(*axis_point(axis, whole / 2, last), words, look)]
    for words in SHORT_WAY_WORDS:
        if text_width(words, SMALL) <= whole:
            return [label(*axis_point(axis, whole / 2, last + ROW), words, look)]
    return []


def short_distances(piece: SizedPiece, axis: str) -> list[Fraction]:
    """The distances up to the middle, where the scores lie alike from both ends; else none.

    Directions do not matter here: every score is made on the inside, whichever way it folds. A
    single score is its own short way and gets none.
    """
    whole = piece.width if axis == "x" else piece.height
    ours = [score for score in piece.scores if score.axis == axis]
    lines = {(score.at, score.start[_ACROSS[axis]], score.end[_ACROSS[axis]]) for score in ours}
    mirrored = {(whole - at, start, end) for at, start, end in lines}
    near = sorted({at for at, _, _ in lines if 2 * at <= whole})
    return near if len(lines) > 1 and mirrored == lines else []


def _whole_height(sheet: Sheet) -> list[Mark]:
    text = with_unit(sheet.piece.height, sheet.unit)
    at = sheet.width + FIRST_ROW
    return dimension(Dimension("y", 0.0, sheet.height, at, sheet.width, text))


def _whole_width(sheet: Sheet) -> list[Mark]:
    text = with_unit(sheet.piece.width, sheet.unit)
    at = sheet.height + FIRST_ROW
    return dimension(Dimension("x", 0.0, sheet.width, at, sheet.height, text))


def _key(sheet: Sheet, bottom: float, narrow: list[str]) -> list[Mark]:
    """What the signs mean, and the names of narrow sections, in lines under the sheet."""
    most = max(sheet.width, KEY_WIDTH)
    y = bottom + 4.2
    look = Lettering(SMALL, anchor="start")
    marks = [label(0.0, y, "Inside faces up.", look._replace(bold=True))]
    x = text_width("Inside faces up.", SMALL, True) + 3.0
    used = [d for d in ("valley", "mountain") if any(s.direction == d for s in sheet.piece.scores)]
    for direction in used:
        text = KEY_WORDS[direction]
        wide = 6.0 + text_width(text, SMALL) + 3.0
        if x + wide > most:
            x, y = 0.0, y + SMALL * 1.5
        marks += fold_sign((x + 2.3, y), direction)
        marks.append(label(x + 5.6, y, text, look))
        x += wide
    for text in narrow:
        y += SMALL * 1.5
        marks.append(label(0.0, y, fitted(text, most, SMALL), look))
    return marks


_ACROSS = {"x": 1, "y": 0}  # the coordinate that runs along a score
SHORT_WAY_WORDS = (
    "the short way: the same numbers from each end",
    "the short way: same from each end",
    "same from each end",
    "from each end",
)
KEY_WORDS = {
    "valley": "valley: fold towards you",
    "mountain": "mountain: fold away from you",
}


def _described(card: SizedCard, piece: SizedPiece) -> str:
    scores = [score for score in piece.scores if score.direction != "slit"]
    size, many = in_words(piece.width, piece.height, card.unit), counted(len(scores), "score")
    said = [f"Flat {spoken(piece.name)} {size}, lying inside up, with {many}."]
    for score in scores:
        end = "left" if score.axis == "x" else "top"
        said.append(
            f"Score {score.number}: {lengths_listed([score.at], card.unit)} from the {end}, "
            f"{score.direction}."
        )
    for axis in _axes(piece):
        near = short_distances(piece, axis)
        if near:
            pair = "left and right" if axis == "x" else "top and bottom"
            said.append(f"The short way: {lengths_listed(near, card.unit)} from {pair}.")
    return " ".join(said)
