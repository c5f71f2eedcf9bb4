"""Each piece by itself with its cut size, and a paper's pieces in a row."""

from cardrecipe.fold.openings import openings
from cardrecipe.fold.outlines import frame_outline
from cardrecipe.model.lengths import size_written, with_unit
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.colors import ink_on
from cardrecipe.render.drawings.dimensions import FIRST_ROW, Dimension, dimension
from cardrecipe.render.drawings.inner_box import inner_box, name_ratio
from cardrecipe.render.drawings.lettering import (
    NORMAL,
    SMALL,
    Lettering,
    fitted,
    label,
    text_width,
)
from cardrecipe.render.drawings.lines import ZONE, fold_line, stroke
from cardrecipe.render.drawings.marks import Box, Caption, Mark, box_of, picture, room
from cardrecipe.render.drawings.paint import Look, painted, paper_look
from cardrecipe.render.drawings.shapes import Frame, frame_turn, in_frame, piece_path, rectangle
from cardrecipe.render.drawings.sizes import (
    COLUMN,
    counted,
    fitted_marks,
    in_words,
    listed,
    scale_to_fit,
)
from cardrecipe.render.drawings.svg import Drawing, ring
from cardrecipe.solve.sized import SizedCard, SizedPiece

MOST_PIECE = (40.0, 25.0)  # mm on the page: text stands beside it
MOST_IN_ROW = (21.0, 16.0)  # mm, of the largest piece of a paper in its row
BETWEEN = 3.0  # mm from one piece of a row to the next
DUPLICATE_SHIFT = 1.1  # mm by which a second copy peeps out
SHOWN_COPIES = 3
ROW = 50.0  # mm: text stands beside it


def piece_drawing(card: SizedCard, piece: SizedPiece, id_prefix: str = "") -> Drawing:
    """The piece with its width beneath and its height at the right; its name where it has room."""
    name = f"piece-{piece.name}"
    scale = scale_to_fit(card, piece.width, piece.height, *MOST_PIECE)
    marks = fitted_marks(
        lambda k: _with_size(card, piece, k, f"{id_prefix}{name}-0"), scale, COLUMN
    )
    size = in_words(piece.width, piece.height, card.unit)
    copies = f" Cut {counted(piece.count, 'piece')}." if piece.count > 1 else ""
    said = f"{piece.kind.capitalize()} {spoken(piece.name)}, {size}.{copies}"
    return picture(Caption(name, f"{spoken(piece.name)}, {size}", said, id_prefix), marks)


def cut_row(card: SizedCard, paper: str, id_prefix: str = "") -> Drawing:
    """All sizes to cut from `paper` at one scale, each with its name, size and count.

    What is trimmed along an outline later is cut as the rectangle round it first.
    """
    pieces = [
        piece._replace(kind="rectangle") if piece.kind == "cutout" else piece
        for piece in card.pieces
        if piece.paper == paper
    ]
    name, title = f"cut-{paper}", card.papers[paper].title
    widest, highest = max(p.width for p in pieces), max(p.height for p in pieces)
    scale = scale_to_fit(card, widest, highest, *MOST_IN_ROW)
    marks = fitted_marks(lambda k: _row(card, pieces, k, f"{id_prefix}{name}"), scale, COLUMN)
    said = listed(
        f"{piece.count} × {spoken(piece.name)} {in_words(piece.width, piece.height, card.unit)}"
        for piece in pieces
    )
    return picture(Caption(name, f"Pieces to cut from {title}", f"{said}.", id_prefix), marks)


def piece_marks(
    piece: SizedPiece, frame: Frame, look: Look, pattern: str, scale: float, strong: bool = True
) -> list[Mark]:
    """Paper and the piece's own scores; `scale` is picture mm for one unit."""
    path = piece_path(piece, frame, scale)
    for window in openings(frame_outline(piece), piece.windows):
        path += ring(in_frame(point, piece, frame) for point in window)
    scores = [
        fold_line(
            in_frame(score.start, piece, frame),
            in_frame(score.end, piece, frame),
            score.direction,
            look.fill,
        )
        for score in piece.scores
    ]
    paper = painted(path, box_of(frame), look, pattern, frame_turn(frame), strong)
    return [paper, *scores]


def _with_size(card: SizedCard, piece: SizedPiece, scale: float, pattern: str) -> list[Mark]:
    wide, high = float(piece.width) * scale, float(piece.height) * scale
    look = paper_look(card, piece.paper)
    marks = piece_marks(piece, rectangle(0, 0, wide, high), look, pattern, scale)
    across, down = with_unit(piece.width, card.unit), with_unit(piece.height, card.unit)
    marks += _worked_middle(piece, scale, look)
    marks += dimension(Dimension("x", 0, wide, high + FIRST_ROW, high, across, bold=True))
    marks += dimension(Dimension("y", 0, high, wide + FIRST_ROW, wide, down, bold=True))
    return [*marks, *_name(card, piece, scale, look, marks)]


def _name(
    card: SizedCard, piece: SizedPiece, scale: float, look: Look, marks: list[Mark]
) -> list[Mark]:
    """The name in the middle, of a scored piece in its largest section; above it where it is narrow."""
    part = max(piece.sections, key=lambda one: one.width * one.height, default=None)
    x, y, wide, high = (
        float(value) * scale
        for value in (
            (part.x, part.y, part.width, part.height)
            if part is not None
            else (0, 0, piece.width, piece.height)
        )
    )
    text = _with_count(card, piece)
    box = Box(x, y, x + wide, y + high)
    if part is None:
        box = inner_box(piece, box, name_ratio(text))
    middle, wide, high = box.middle, box.width, box.height
    inside = 0.66 if piece.kind in ("circle", "oval", "tag", "banner", "cutout") else 1.0
    room_x, room_y = inside * wide - 3, inside * high - 2
    long = text_width(text, NORMAL)
    style = Lettering(NORMAL, color=ink_on(look.fill))
    if long <= room_x and room_y >= NORMAL:
        return [label(*middle, text, style)]
    if long <= room_y and room_x >= NORMAL:
        return [label(*middle, text, style._replace(turned=-90))]
    short = fitted(text, max(float(piece.width) * scale, ROW * 0.9), NORMAL)
    taken = room(marks)
    return [label(taken.left, taken.top - NORMAL, short, Lettering(NORMAL, anchor="start"))]


def _worked_middle(piece: SizedPiece, scale: float, look: Look) -> list[Mark]:
    """The part of a strip that is embossed or stamped, where only its middle is, with its length."""
    marks: list[Mark] = []
    wide, high = float(piece.width) * scale, float(piece.height) * scale
    for work in piece.works:
        if work.middle is None:
            continue
        half, along = float(work.middle) * scale / 2, wide >= high
        style = ZONE._replace(color=ink_on(look.fill))
        for place in ((wide if along else high) / 2 - half, (wide if along else high) / 2 + half):
            ends = ((place, 0.0), (place, high)) if along else ((0.0, place), (wide, place))
            marks.append(stroke(ends, style))
    return marks


def _row(card: SizedCard, pieces: list[SizedPiece], scale: float, pattern: str) -> list[Mark]:
    """Pieces from left to right, a new line where the column is full, their captions beneath."""
    marks: list[Mark] = []
    x = top = line_bottom = 0.0
    for place, piece in enumerate(pieces):
        wide = float(piece.width) * scale
        texts = _caption(card, piece)
        needed = max(wide + _shift(piece), *(text_width(text, SMALL) for text in texts))
        if x > 0 and x + needed > ROW:
            x, top = 0.0, line_bottom + BETWEEN
        one = _in_row(card, piece, (x, top, scale), needed, f"{pattern}-{place}")
        marks += one
        line_bottom = max(line_bottom, room(one).bottom)
        x += needed + BETWEEN
    return marks


def _in_row(
    card: SizedCard,
    piece: SizedPiece,
    place: tuple[float, float, float],
    needed: float,
    pattern: str,
) -> list[Mark]:
    x, top, scale = place
    wide, high = float(piece.width) * scale, float(piece.height) * scale
    left, look = x + (needed - wide - _shift(piece)) / 2, paper_look(card, piece.paper)
    marks: list[Mark] = []
    copies = min(piece.count, SHOWN_COPIES)
    for copy in reversed(range(copies)):
        move = copy * DUPLICATE_SHIFT
        frame = rectangle(left + move, top + (copies - 1) * DUPLICATE_SHIFT - move, wide, high)
        marks += piece_marks(piece, frame, look, f"{pattern}-{copy}", scale, strong=False)
    y = top + high + _shift(piece) + SMALL * 1.1
    for text in _caption(card, piece):
        marks.append(label(x + needed / 2, y, text, Lettering(SMALL)))
        y += SMALL * 1.3
    return marks


def _caption(card: SizedCard, piece: SizedPiece) -> tuple[str, str]:
    name = fitted(_with_count(card, piece), ROW - 3, SMALL)
    return name, size_written(piece.width, piece.height, card.unit)


def _with_count(card: SizedCard, piece: SizedPiece) -> str:
    """The name with how many a card needs; where several cards are made that would mislead."""
    name = spoken(piece.name)
    return name if piece.count == 1 or card.makes > 1 else f"{name}  × {piece.count}"


def _shift(piece: SizedPiece) -> float:
    return (min(piece.count, SHOWN_COPIES) - 1) * DUPLICATE_SHIFT
