"""Each piece by itself with its cut size, and a paper's pieces in a row."""

from cardrecipe.fold.openings import openings
from cardrecipe.fold.outlines import frame_outline
from cardrecipe.model.lengths import size_written, with_unit
from cardrecipe.plan.cutting.paper_jobs import MARGIN, has_margin
from cardrecipe.plan.step_pictures import ANY_PAPER
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.colors import ink_on
from cardrecipe.render.drawings.dimensions import FIRST_ROW, Dimension, dimension
from cardrecipe.render.drawings.flat_sheet import Sheet, lines_in_the_way
from cardrecipe.render.drawings.inner_box import inner_box, name_ratio
from cardrecipe.render.drawings.lettering import (
    NORMAL,
    SMALL,
    Lettering,
    fitted,
    label,
    text_width,
)
from cardrecipe.render.drawings.lines import HIDDEN, fold_line, stroke
from cardrecipe.render.drawings.marks import Box, Caption, Mark, box_of, picture, room
from cardrecipe.render.drawings.name_place import free_middle
from cardrecipe.render.drawings.paint import Look, painted, paper_look
from cardrecipe.render.drawings.pieces_marked import of_piece
from cardrecipe.render.drawings.shapes import Frame, frame_turn, in_frame, piece_path, rectangle
from cardrecipe.render.drawings.sizes import (
    COLUMN,
    counted,
    fitted_marks,
    in_words,
    listed,
    scale_to_fit,
    scaled,
)
from cardrecipe.render.drawings.svg import XY, Drawing, ring
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
    """All sizes to cut from `paper` ("" for none) at one scale, each with its name, size and count.

    What is trimmed along an outline later is cut as the rectangle round it first.
    """
    pieces = [
        piece._replace(kind="rectangle") if piece.kind == "cutout" else piece
        for piece in card.pieces
        if (piece.paper or "") == paper
    ]
    name = f"cut-{paper}" if paper else ANY_PAPER
    title = card.papers[paper].title if paper else "any paper"
    widest, highest = max(p.width for p in pieces), max(p.height for p in pieces)
    scale = scale_to_fit(card, widest, highest, *MOST_IN_ROW)
    marks = fitted_marks(lambda k: _row(card, pieces, k, f"{id_prefix}{name}"), scale, COLUMN)
    said = listed(
        f"{piece.count} × {spoken(piece.name)} {in_words(piece.width, piece.height, card.unit)}"
        for piece in pieces
    )
    return picture(Caption(name, f"Pieces to cut from {title}", f"{said}.", id_prefix), marks)


def piece_marks(
    piece: SizedPiece,
    frame: Frame,
    look: Look,
    pattern: str,
    scale: float,
    strong: bool = True,
    is_scored: bool = True,
) -> list[Mark]:
    """Paper and, unless they are still to be made, the piece's own scores; `scale` is picture mm for one
    unit."""
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
        for score in (piece.scores if is_scored else ())
    ]
    paper = painted(path, box_of(frame), look, pattern, frame_turn(frame), strong)
    return [of_piece(paper, piece.name), *scores]


def _with_size(card: SizedCard, piece: SizedPiece, scale: float, pattern: str) -> list[Mark]:
    wide, high = float(piece.width) * scale, float(piece.height) * scale
    look = paper_look(card, piece.paper)
    frame = rectangle(0, 0, wide, high)
    paper = piece_marks(piece, frame, look, pattern, scale, is_scored=False)
    marks = [*_margin(card, piece, frame, scale), *paper]
    across, down = with_unit(piece.width, card.unit), with_unit(piece.height, card.unit)
    right, low = (room(marks).right, room(marks).bottom) if has_margin(piece) else (wide, high)
    marks += dimension(Dimension("x", 0, wide, low + FIRST_ROW, low, across, bold=True))
    marks += dimension(Dimension("y", 0, high, right + FIRST_ROW, right, down, bold=True))
    return [*marks, *_name(card, piece, scale, look, marks)]


def _name(
    card: SizedCard, piece: SizedPiece, scale: float, look: Look, marks: list[Mark]
) -> list[Mark]:
    """The name in the middle, of a piece with windows in its largest section; above it where it is narrow."""
    text = _with_count(card, piece)
    size = (text_width(text, NORMAL), NORMAL)
    style = Lettering(NORMAL, color=ink_on(look.seen))
    whole = Box(0, 0, float(piece.width) * scale, float(piece.height) * scale)
    box = inner_box(piece, whole, name_ratio(text))
    is_cut_out = bool(piece.sections and piece.windows)  # else its scores, still to be made, stop no name
    for block, turned in ((size, 0), (size[::-1], -90)):
        middle = place_in_section(card, piece, scale, look, block) if is_cut_out else None
        if not is_cut_out and _has_room(piece, box, block):
            middle = box.middle
        if middle is not None:
            return [label(*middle, text, style._replace(turned=turned))]
    short = fitted(text, max(float(piece.width) * scale, ROW * 0.9), NORMAL)
    taken = room(marks)
    return [label(taken.left, taken.top - NORMAL, short, Lettering(NORMAL, anchor="start"))]


def place_in_section(
    card: SizedCard, piece: SizedPiece, scale: float, look: Look, block: XY
) -> XY | None:
    """Where a name of that size has room in the largest section, clear of scores, slits and openings."""
    part = max(piece.sections, key=lambda one: one.width * one.height)
    left, top, right, bottom = (
        float(value) * scale for value in (part.x, part.y, part.x + part.width, part.y + part.height)
    )
    room_in = Box(left, top, right, bottom).grown(-1.0)
    lines = lines_in_the_way(Sheet(piece, card.unit, scale, look), part)
    holes = [scaled(window, scale) for window in piece.windows]
    return free_middle(room_in, scaled(part.outline, scale), lines, block, holes)


def _has_room(piece: SizedPiece, box: Box, block: XY) -> bool:
    inside = 0.66 if piece.kind in ("circle", "oval", "tag", "banner", "cutout") else 1.0
    along, across = (3, 2) if block[0] >= block[1] else (2, 3)
    return block[0] <= inside * box.width - along and block[1] <= inside * box.height - across


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
        marks += piece_marks(piece, frame, look, f"{pattern}-{copy}", scale, strong=False, is_scored=False)
    marks += _margin(card, piece, rectangle(left, top + _shift(piece), wide, high), scale)
    y = max(room(marks).bottom, top + high + _shift(piece)) + SMALL * 1.1
    for text in _caption(card, piece):
        marks.append(label(x + needed / 2, y, text, Lettering(SMALL)))
        y += SMALL * 1.3
    return marks


def _margin(card: SizedCard, piece: SizedPiece, frame: Frame, scale: float) -> list[Mark]:
    """The rectangle that a shape comes out of, dotted."""
    if not has_margin(piece):
        return []
    box = box_of(frame).grown(float(MARGIN[card.unit]) * scale)
    ring = rectangle(box.left, box.top, box.width, box.height)
    return [stroke([*ring, ring[0]], HIDDEN)]


def _caption(card: SizedCard, piece: SizedPiece) -> tuple[str, str]:
    name = fitted(_with_count(card, piece), ROW - 3, SMALL)
    return name, size_written(piece.width, piece.height, card.unit)


def _with_count(card: SizedCard, piece: SizedPiece) -> str:
    """The name with how many a card needs; where several cards are made that would mislead."""
    name = spoken(piece.name)
    return name if piece.count == 1 or card.makes > 1 else f"{name}  × {piece.count}"


def _shift(piece: SizedPiece) -> float:
    return (min(piece.count, SHOWN_COPIES) - 1) * DUPLICATE_SHIFT
