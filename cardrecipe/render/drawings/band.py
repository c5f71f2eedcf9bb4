"""A band: where it goes round the closed card, and the strip with its overlap."""

from fractions import Fraction
from math import pi, sin

from cardrecipe.fold.folded import FoldedCard, View
from cardrecipe.model.lengths import round_near, with_unit, written
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.colors import ink_on
from cardrecipe.render.drawings.dimensions import (
    FIRST_ROW,
    Dimension,
    clear_dimension,
    dimension,
)
from cardrecipe.render.drawings.lettering import NORMAL, Lettering, text_width
from cardrecipe.render.drawings.lines import ZONE, LineStyle, arrow_behind, stroke
from cardrecipe.render.drawings.marks import Box, Caption, Mark, picture, room
from cardrecipe.render.drawings.named import name_on
from cardrecipe.render.drawings.paint import Look, painted, paper_look
from cardrecipe.render.drawings.pieces_marked import of_piece
from cardrecipe.render.drawings.shapes import rectangle, shape_path
from cardrecipe.render.drawings.sizes import (
    COLUMN,
    fitted_marks,
    in_words,
    scale_to_fit,
)
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.render.drawings.views import sheet_box, view_marks
from cardrecipe.solve.sized import Around, SizedCard, SizedPiece

MOST_CARD = (40.0, 30.0)  # mm on the page, of the closed card
MOST_STRIP = 50.0  # mm, of the strip beneath it
HATCH = 1.3  # mm between the lines over the overlap
BULGE = 4.4  # mm, how far the arrows swing out that go round the edges
BEND = tuple(step / 12 for step in range(13))


def band_drawing(folded: FoldedCard, band: SizedPiece, id_prefix: str = "") -> Drawing:
    """`band`, whose `around` is set, on the closed card and as a flat strip."""
    around = band.around
    assert around is not None
    card, name = folded.card, f"band-{band.name}"
    view = folded.view("closed-front", around.base)
    scale = scale_to_fit(card, view.width, view.height, *MOST_CARD)
    pattern = f"{id_prefix}{name}"
    marks = fitted_marks(lambda k: _both(folded, band, around, view, k, pattern), scale, COLUMN)
    title = f"Band {spoken(band.name)} around {spoken(around.base)}"
    return picture(Caption(name, title, _described(card, band, around), id_prefix), marks)


def _both(
    folded: FoldedCard, band: SizedPiece, around: Around, view: View, scale: float, pattern: str
) -> list[Mark]:
    card = folded.card
    later = _from_the_band_on(card, band)
    marks = view_marks(card, view, scale, f"{pattern}-card", later, quiet=True)
    marks += _round_the_card(card, band, around, view, scale, f"{pattern}-band")
    strip = scale_to_fit(card, max(band.width, band.height), Fraction(1), MOST_STRIP, MOST_STRIP)
    return [*marks, *_strip(card, band, around, strip, room(marks).bottom + 10.0, pattern)]


def _from_the_band_on(card: SizedCard, band: SizedPiece) -> set[str]:
    """The band and all that is glued to it, directly or not."""
    names = {band.name}
    for piece in card.pieces * 2:
        if any(place.host_piece in names for place in piece.placements):
            names.add(piece.name)
    return names


def _round_the_card(
    card: SizedCard, band: SizedPiece, around: Around, view: View, scale: float, pattern: str
) -> list[Mark]:
    size = sheet_box(view)
    left, top, wide, high = (float(length) * scale for length in size)
    start, thick = float(around.at) * scale, float(_across(band)) * scale
    box = (
        Box(left + start, top, left + start + thick, top + high)
        if around.downward
        else Box(left, top + start, left + wide, top + start + thick)
    )
    frame = rectangle(box.left, box.top, box.width, box.height)
    look = paper_look(card, band.paper)
    arrows = _round_the_back(box, around.downward)
    strip = painted(shape_path("band", frame), box, look, pattern, strong=True)
    marks = [*arrows, of_piece(strip, band.name)]
    axis, reach = ("x", room(arrows).bottom) if around.downward else ("y", room(arrows).right)
    at, (first, whole) = reach + FIRST_ROW, ((left, wide) if around.downward else (top, high))
    rest = (size[2] if around.downward else size[3]) - around.at - _across(band)
    ends = (
        (first, first + start, around.at),
        (first + start, first + start + thick, _across(band)),
        (first + start + thick, first + whole, rest),
    )
    for near, far, length in ends:
        if length > 0:
            text = written(length, card.unit)
            marks += clear_dimension(
                Dimension(axis, near, far, at, reach, text, bold=True), marks
            )
    return [*marks, *_band_name(band, box, look)]


def _round_the_back(box: Box, downward: bool) -> list[Mark]:
    """Both ends go round the edges of the card and on behind it."""
    x, y = box.middle
    if downward:
        turns = [[(x - BULGE * (2 * t - 1) / 2, end + way * BULGE * sin(pi * t)) for t in BEND]
                 for end, way in ((box.top, -1), (box.bottom, 1))]  # fmt: skip
    else:
        turns = [[(end + way * BULGE * sin(pi * t), y - BULGE * (2 * t - 1) / 2) for t in BEND]
                 for end, way in ((box.left, -1), (box.right, 1))]  # fmt: skip
    return [mark for turn in turns for mark in arrow_behind(turn)]


def _band_name(band: SizedPiece, box: Box, paper: Look) -> list[Mark]:
    name = spoken(band.name)
    long = text_width(name, NORMAL)
    if long + 2 <= box.width and box.height >= NORMAL:
        return name_on(paper, *box.middle, name, Lettering(NORMAL))
    if long + 2 <= box.height and box.width >= NORMAL:
        return name_on(paper, *box.middle, name, Lettering(NORMAL, turned=-90))
    return []


def _strip(
    card: SizedCard, band: SizedPiece, around: Around, scale: float, top: float, pattern: str
) -> list[Mark]:
    """The band laid out: once round, then the overlap, hatched."""
    long, thick = float(around.wrap + around.overlap) * scale, float(_across(band)) * scale
    look = paper_look(card, band.paper)
    box = Box(0, top, long, top + thick)
    frame = rectangle(0, top, long, thick)
    wrap = float(around.wrap) * scale
    once = f"once round, about {_near(card, around.wrap)}"
    over = f"overlap, about {_near(card, around.overlap)}"
    whole = with_unit(around.wrap + around.overlap, card.unit)
    low = box.bottom
    around_once = dimension(Dimension("x", 0, wrap, low + FIRST_ROW, low, once))
    return [
        painted(shape_path("band", frame), box, look, f"{pattern}-strip", strong=True),
        *_hatched(Box(wrap, top, long, box.bottom), ink_on(look.fill)),
        *around_once,
        *clear_dimension(Dimension("x", wrap, long, low + FIRST_ROW, low, over), around_once),
        *dimension(Dimension("x", 0, long, top - FIRST_ROW, top, whole, bold=True)),
    ]


def _hatched(box: Box, color: str) -> list[Mark]:
    """Slanted lines over a part of a strip, cut off at its edges."""
    style = LineStyle(0.18, color=color)
    marks = [stroke(((box.left, box.top), (box.left, box.bottom)), ZONE._replace(color=color))]
    start = box.left - box.height
    while start < box.right:
        first = (max(start, box.left), box.bottom - max(0.0, box.left - start))
        last_x = min(start + box.height, box.right)
        last = (last_x, box.bottom - (last_x - start))
        if last[0] > first[0]:
            marks.append(stroke((first, last), style))
        start += HATCH
    return marks


def _across(band: SizedPiece) -> Fraction:
    """The band's own width, across its length."""
    return min(band.width, band.height)


def _near(card: SizedCard, length: Fraction) -> str:
    """A length that no ruler shows exactly, to the nearest mark: a wrap is no truer than its card."""
    return with_unit(round_near(length, card.nearest), card.unit)


def _described(card: SizedCard, band: SizedPiece, around: Around) -> str:
    edge = "left" if around.downward else "top"
    return (
        f"Band {spoken(band.name)}, {in_words(band.width, band.height, card.unit)}, goes round the closed "
        f"{spoken(around.base)}, {with_unit(around.at, card.unit)} from the {edge}: once round is "
        f"about {_near(card, around.wrap)}, the rest, about {_near(card, around.overlap)}, overlaps."
    )
