"""Two cards drawn to be laid side by side: at one scale, and with what is not as before marked.

A mark is a heavy dashed line round a piece and its number on a disc, so that it is seen without colour.
"""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.folded import FoldedCard, SeenPart, View
from cardrecipe.model.lengths import MM_PER, size_written, to_mm, with_unit
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.changed import CHANGED, HALO, ringed
from cardrecipe.render.drawings.colors import INK, PAGE
from cardrecipe.render.drawings.dimensions import FIRST_ROW, Dimension, dimension
from cardrecipe.render.drawings.lettering import SMALL, Lettering, label
from cardrecipe.render.drawings.lines import LineStyle, disc
from cardrecipe.render.drawings.marks import Box, Caption, Mark, box_of, picture, room
from cardrecipe.render.drawings.paint import paper_look
from cardrecipe.render.drawings.pieces import piece_marks
from cardrecipe.render.drawings.shapes import piece_path, rectangle
from cardrecipe.render.drawings.sizes import in_words, listed, scaled
from cardrecipe.render.drawings.svg import XY, Drawing, element, ring
from cardrecipe.render.drawings.views import TITLES, sheet_box, view_marks
from cardrecipe.solve.sized import SizedCard, SizedPiece

MOST_VIEW = (62.0, 50.0)  # mm on the page, of the larger of two cards
MOST_PIECE = (44.0, 30.0)
BADGE = 2.3  # mm, radius of a number
AS_BEFORE = LineStyle(0.35, "0.01 0.9", color=INK, round_ends=True)
# Where on a piece's edge its number is tried: corners, then middles; across and down, as shares.
PLACES = ((0, 0), (1, 0), (0, 1), (1, 1), (0.5, 0), (0.5, 1), (0, 0.5), (1, 0.5), (0.5, 0.5))


class Seen(NamedTuple):
    """A card with one of its views, and the scale in picture mm for one mm of the card that both share."""

    folded: FoldedCard
    view: View
    scale_mm: float


def common_scale(sizes: Sequence[tuple[float, float]], most: tuple[float, float]) -> float:
    """Picture mm for one mm of a card at which each of `sizes` (in mm) has room; never larger than life."""
    widest, highest = max(wide for wide, _ in sizes), max(high for _, high in sizes)
    return min(1.0, most[0] / widest, most[1] / highest)


def size_in_mm(card: SizedCard, width: Fraction, height: Fraction) -> tuple[float, float]:
    """A width and a height of the card's unit in mm."""
    return float(to_mm(width, card.unit)), float(to_mm(height, card.unit))


def compared_view(seen: Seen, numbers: Mapping[str, int], id_prefix: str) -> Drawing:
    """A view with its size, and the pieces of `numbers` marked where they are seen."""
    card, view = seen.folded.card, seen.view
    scale = seen.scale_mm * float(MM_PER[card.unit])
    pattern = f"{id_prefix}{view.name}"
    marks = _view(card, view, scale, numbers, pattern)
    shown = [name for name in numbers if any(part.piece == name for part in _seen_parts(view))]
    told = f" Marked: {listed(map(spoken, shown))}." if shown else ""
    _, _, width, height = sheet_box(view)
    said = f"{TITLES[view.name]}, {in_words(width, height, card.unit)}.{told}"
    return picture(Caption(view.name, TITLES[view.name], said, id_prefix), marks)


def compared_piece(
    card: SizedCard, piece: SizedPiece, before: SizedPiece | None, scale_mm: float, id_prefix: str
) -> Drawing:
    """A piece with its size; where it had another one `before`, that outline dotted on it."""
    scale = scale_mm * float(MM_PER[card.unit])
    name = f"piece-{piece.name}"
    pattern = f"{id_prefix}{name}"
    marks = _piece(card, piece, before, scale, pattern)
    size = in_words(piece.width, piece.height, card.unit)
    ghost = f" Dotted: as before, {size_written(before.width, before.height, card.unit)}." if before else ""
    said = f"{piece.kind.capitalize()} {spoken(piece.name)}, {size}.{ghost}"
    return picture(Caption(name, f"{spoken(piece.name)}, {size}", said, id_prefix), marks)


def _view(card: SizedCard, view: View, scale: float, numbers: Mapping[str, int], pattern: str) -> list[Mark]:
    left, top, width, height = (float(each) * scale for each in sheet_box(view))
    sheet = Box(left, top, left + width, top + height)
    marks = _parts(card, view, scale, numbers, pattern)
    signs: list[Mark] = []
    for name, _, box in _outlines(view, scale, numbers):
        signs += _badge(numbers[name], box, signs)
    whole = room([*marks, *signs])
    _, _, wide, high = sheet_box(view)
    low, far = max(sheet.bottom, whole.bottom), max(sheet.right, whole.right)
    across, down = with_unit(wide, card.unit), with_unit(high, card.unit)
    marks += dimension(Dimension("x", sheet.left, sheet.right, low + FIRST_ROW, low, across))
    marks += dimension(Dimension("y", sheet.top, sheet.bottom, far + FIRST_ROW, far, down))
    return [*marks, *signs]


def _parts(card: SizedCard, view: View, scale: float, numbers: Mapping[str, int], pattern: str) -> list[Mark]:
    """The view with each marked piece's line right on it, so that what lies above covers the line too."""
    sheets = [number for number, part in enumerate(view.parts) if part.section is not None]
    # An open sheet is drawn as a whole, with its scores; of a closed one every section is a part.
    together = sheets[-1] + 1 if sheets and view.name.startswith("open") else 0
    marks = view_marks(card, view._replace(parts=view.parts[:together]), scale, pattern)
    for number, part in enumerate(view.parts[together:]):
        own = view._replace(parts=(part,))
        marks += view_marks(card, own, scale, f"{pattern}-{number}")
        if part.section is None and part.piece in numbers:
            points = scaled(part.outline, scale)
            marks += ringed(piece_path(card.piece(part.piece), points, scale), box_of(points))
    for _, path, box in _outlines(view, scale, numbers):
        marks += ringed(path, box) if path else []
    return marks


def _outlines(view: View, scale: float, numbers: Mapping[str, int]) -> Iterator[tuple[str, str, Box]]:
    """Each marked piece where it is seen: its name and its room; of a sheet with several sections the box
    round all of them, as a path too, "" for the other pieces."""
    sheets: dict[str, list[XY]] = {}
    for part in _seen_parts(view):
        if part.piece in numbers:
            points = scaled(part.outline, scale)
            if part.section is None:
                yield part.piece, "", box_of(points)
            else:
                sheets.setdefault(part.piece, []).extend(points)
    for name, points in sheets.items():
        box = box_of(points).grown(HALO / 2)
        yield name, ring(_corners(box)), box


def _seen_parts(view: View) -> list[SeenPart]:
    """The parts that no other one covers wholly, as far as their boxes tell."""
    boxes = [box_of([(float(x), float(y)) for x, y in part.outline]) for part in view.parts]
    return [
        part
        for number, part in enumerate(view.parts)
        if not any(above.holds(boxes[number]) for above in boxes[number + 1 :] if above != boxes[number])
    ]


def _badge(number: int, box: Box, taken: Sequence[Mark]) -> list[Mark]:
    """The number on the edge of its piece, where no other number stands if there is such a place."""
    spots = [(box.left + right * box.width, box.top + down * box.height) for right, down in PLACES]
    rooms = [Box(x - BADGE, y - BADGE, x + BADGE, y + BADGE) for x, y in spots]
    free = [
        spot for spot, here in zip(spots, rooms, strict=True)
        if not any(here.meets(other.box) for other in taken)
    ]  # fmt: skip
    center = (free or spots)[0]
    text = label(*center, str(number), Lettering(SMALL, True, color=INK))
    return [disc(center, BADGE, CHANGED.color), text._replace(is_label=True)]


def _piece(
    card: SizedCard, piece: SizedPiece, before: SizedPiece | None, scale: float, pattern: str
) -> list[Mark]:
    wide, high = float(piece.width) * scale, float(piece.height) * scale
    frame = rectangle(0, 0, wide, high)
    marks = piece_marks(piece, frame, paper_look(card, piece.paper), pattern, scale)
    if before is not None:
        marks += _as_before(before, scale)
    whole = room(marks)
    across, down = with_unit(piece.width, card.unit), with_unit(piece.height, card.unit)
    marks += dimension(Dimension("x", 0, wide, whole.bottom + FIRST_ROW, high, across, bold=True))
    marks += dimension(Dimension("y", 0, high, whole.right + FIRST_ROW, wide, down, bold=True))
    return marks


def _as_before(piece: SizedPiece, scale: float) -> list[Mark]:
    """The outline that a piece had, from the same left top corner."""
    frame = rectangle(0, 0, float(piece.width) * scale, float(piece.height) * scale)
    path = piece_path(piece, frame, scale)
    halo = element("path", d=path, fill="none", stroke=PAGE, stroke_width=0.7, stroke_opacity=0.8)
    dots = element(
        "path", d=path, fill="none", stroke=AS_BEFORE.color, stroke_width=AS_BEFORE.width,
        stroke_dasharray=AS_BEFORE.dash, stroke_linecap="round",
    )  # fmt: skip
    return [Mark(halo, box_of(frame)), Mark(dots, box_of(frame))]


def _corners(box: Box) -> list[XY]:
    return [(box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom)]
