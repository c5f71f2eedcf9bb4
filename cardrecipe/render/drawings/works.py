"""The picture of working on a piece: where each work goes on it, numbered where there are several."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from cardrecipe.model.lengths import with_unit
from cardrecipe.model.work import Work
from cardrecipe.plan.order import finishing_works
from cardrecipe.plan.words import bought_length, quoted, spoken
from cardrecipe.plan.words import number as number_word
from cardrecipe.plan.work_steps import WET
from cardrecipe.render.drawings.colors import PAGE, QUIET_INK, ink_on, mixed
from cardrecipe.render.drawings.dimensions import FIRST_ROW, Dimension, clear_dimension
from cardrecipe.render.drawings.glue_zone import hatched
from cardrecipe.render.drawings.lettering import NORMAL, SMALL, Lettering, fitted, label, text_width
from cardrecipe.render.drawings.lines import HIDDEN, OUTLINE, ZONE, LineStyle, disc, dot, stroke
from cardrecipe.render.drawings.marks import Box, Caption, Mark, box_of, picture, room
from cardrecipe.render.drawings.paint import Look, paper_look
from cardrecipe.render.drawings.pieces import piece_marks
from cardrecipe.render.drawings.pieces_marked import of_piece
from cardrecipe.render.drawings.shapes import Frame, piece_path, rectangle
from cardrecipe.render.drawings.sizes import COLUMN, fitted_marks, in_words, listed, scale_to_fit
from cardrecipe.render.drawings.svg import XY, Drawing, element
from cardrecipe.render.drawings.tools_drawn import CLOCK, clock, item_beside, pencil, stamp_block
from cardrecipe.solve.sized import SizedCard, SizedPiece

MOST_WORKED = (40.0, 25.0)  # mm on the page
WORDS_WIDE = 68.0  # mm of the lines beneath
INSET = 0.14  # of the shorter side: what a stamp leaves free
BLANK = 1.6  # mm round a piece that is cut out of a larger one
INKED = 1.3  # mm, how far inked edges reach in
BADGE = 1.9  # mm, radius of a work's number
SCRIBBLE = 2.6  # mm from one stroke of colour to the next
DRY = "let it dry"
VERBS = {
    "stamp": "stamp",
    "emboss": "emboss",
    "color": "colour",
    "die": "cut with the die",
    "punch": "punch",
    "trim": "draw the outline and cut along it",
    "foil": "foil",
    "ink-edges": "ink the edges",
    "write": "write",
    "add": "add",
    "do": "",
}


class _Worked(NamedTuple):
    """A piece in the picture and the part of it that a work goes on."""

    card: SizedCard
    piece: SizedPiece
    scale: float
    look: Look
    frame: Frame
    area: Box
    is_part: bool


def work_drawing(card: SizedCard, piece: SizedPiece, id_prefix: str = "") -> Drawing:
    """All that is done to a piece while it lies flat."""
    name = f"work-{piece.name}"
    works = piece.works[: len(piece.works) - finishing_works(piece)]
    scale = scale_to_fit(card, piece.width, piece.height, *MOST_WORKED)
    marks = fitted_marks(lambda k: _worked(card, piece, works, k, f"{id_prefix}{name}"), scale, COLUMN)
    size = in_words(piece.width, piece.height, card.unit)
    said = f"{spoken(piece.name).capitalize()}, {size}: {listed(work_words(card, work) for work in works)}."
    return picture(Caption(name, f"Working on {spoken(piece.name)}", said, id_prefix), marks)


def work_words(card: SizedCard, work: Work) -> str:
    """A work in few words: `stamp “Three boats” in Mast brown`."""
    text = quoted(work.text) if work.text and work.verb not in ("do", "trim") else ""
    if work.verb == "do":
        return work.text
    item = f"{work.item} " if work.verb == "add" and work.item else ""
    long = f", {bought_length(work.long, card.unit)}" if work.long else ""
    using = ""
    if work.using and work.verb != "add":
        using = f" {'in' if work.verb in ('stamp', 'write') else 'with'} {listed(work.using)}"
    return f"{VERBS.get(work.verb, work.verb)} {item}{text}".rstrip() + long + using


def _worked(
    card: SizedCard, piece: SizedPiece, works: Sequence[Work], scale: float, pattern: str
) -> list[Mark]:
    wide, high = float(piece.width) * scale, float(piece.height) * scale
    look, frame = paper_look(card, piece.paper), rectangle(0, 0, wide, high)
    paper, *scores = piece_marks(piece, frame, look, pattern, scale)
    marks = [of_piece(paper, piece.name), *scores]
    led: list[Mark] = []
    for number, work in enumerate(works):
        area, is_part = _area(piece, work, Box(0, 0, wide, high), scale)
        draw = DRAWN.get(work.verb)
        if draw is not None:
            marks += draw(_Worked(card, piece, scale, look, frame, area, is_part), work, marks)
        if is_part:
            marks += _limits(_Worked(card, piece, scale, look, frame, area, is_part), work, marks)
        if len(works) > 1 and work.verb != "do":
            led += _led_number(area, (number + 1) / (len(works) + 1), str(number + 1), wide, work.verb)
    marks += led
    return [*marks, *_words(card, piece, works, room(marks))]


def _led_number(area: Box, share: float, text: str, right: float, verb: str) -> list[Mark]:
    """The number of a work at the right of the piece, with a lead to where it goes."""
    y, x = area.top + area.height * share, right + 4.0
    target = area.right - (0.6 if verb in ("ink-edges", "die", "trim") else area.width * 0.2)
    lead = stroke(((target, y), (x - BADGE, y)), LineStyle(0.25, color=QUIET_INK))
    return [lead, dot((target, y), 0.5, QUIET_INK), *_badge((x, y), text)]


def _badge(center: XY, text: str) -> list[Mark]:
    return [disc(center, BADGE, QUIET_INK), label(*center, text, Lettering(SMALL, True))]


def _area(piece: SizedPiece, work: Work, whole: Box, scale: float) -> tuple[Box, bool]:
    """The part that is worked on: all of the piece, or the middle of a strip."""
    if work.middle is None:
        return whole, False
    half = float(work.middle) * scale / 2
    x, y = whole.middle
    if piece.width >= piece.height:
        return Box(max(0.0, x - half), whole.top, min(whole.right, x + half), whole.bottom), True
    return Box(whole.left, max(0.0, y - half), whole.right, min(whole.bottom, y + half)), True


def _limits(at: _Worked, work: Work, marks: Sequence[Mark]) -> list[Mark]:
    """The two lines between which a work keeps, and their distances."""
    assert work.middle is not None
    style = ZONE._replace(color=ink_on(at.look.fill))
    box, whole = at.area, box_of(at.frame)
    axis = "x" if at.piece.width >= at.piece.height else "y"
    text = with_unit(work.middle, at.card.unit)
    if axis == "x":
        lines = [stroke(((x, whole.top), (x, whole.bottom)), style) for x in (box.left, box.right)]
        size = Dimension("x", box.left, box.right, whole.bottom + FIRST_ROW, whole.bottom, text, bold=True)
    else:
        lines = [stroke(((whole.left, y), (whole.right, y)), style) for y in (box.top, box.bottom)]
        size = Dimension("y", box.top, box.bottom, whole.right + FIRST_ROW, whole.right, text, bold=True)
    return [*lines, *clear_dimension(size, marks)]


def _words(card: SizedCard, piece: SizedPiece, works: Sequence[Work], taken: Box) -> list[Mark]:
    """Under the picture a line for each work, in their order, and how many copies are worked on."""
    lines = [work_words(card, work) for work in works]
    y = taken.bottom + SMALL * 1.4
    marks: list[Mark] = []
    for number, text in enumerate(lines, 1):
        left = 0.0
        if len(lines) > 1:
            marks += _badge((BADGE, y), str(number))
            left = 5.0
        look = Lettering(SMALL, anchor="start")
        marks.append(label(left, y, fitted(text, WORDS_WIDE - left, SMALL), look))
        y += 4.6
    if piece.count > 1:
        look = Lettering(SMALL, True, anchor="start")
        marks.append(label(0.0, y, f"each of the {number_word(piece.count)}", look))
        y += 4.6
    if any(work.verb in WET for work in works):
        marks += [*clock((CLOCK, y)), label(5.0, y, DRY, Lettering(SMALL, anchor="start"))]
    return marks


# ---- one for each kind of work ----


def _stamped(at: _Worked, work: Work, marks: Sequence[Mark]) -> list[Mark]:
    """The frame that the print fills, with the design's name in it, and the stamp above."""
    frame = _within(at.area, INSET)
    ink = ink_on(at.look.fill)
    ring = [*rectangle(frame.left, frame.top, frame.width, frame.height)]
    text = quoted(work.text)
    drawn = [stroke([*ring, ring[0]], ZONE._replace(color=ink))]
    drawn += _fitting_label(text, frame, ink)
    return [*drawn, *stamp_block((at.area.middle[0], at.area.top), at.area.middle)]


def _written(at: _Worked, work: Work, marks: Sequence[Mark]) -> list[Mark]:
    """The words where they are written, on lines, with a pencil at their end."""
    frame = _within(at.area, INSET)
    ink = ink_on(at.look.fill)
    lines = _in_lines(work.text, frame)
    drawn = []
    step = NORMAL * 1.5
    y = frame.middle[1] - step * (len(lines) - 1) / 2
    for text in lines:
        drawn.append(label(frame.middle[0], y, text, Lettering(NORMAL, color=ink)))
        y += step
    under = [stroke(((frame.left, frame.middle[1] + offset), (frame.right, frame.middle[1] + offset)),
                    LineStyle(0.18, color=ink)) for offset in ((-2.0, 2.0) if not lines else ())]  # fmt: skip
    return [*under, *drawn, *pencil((at.area.right, at.area.top))]


def _coloured(at: _Worked, work: Work, marks: Sequence[Mark]) -> list[Mark]:
    """Strokes of colour to and fro over the worked part."""
    frame = _within(at.area, 0.08)
    color = mixed(at.look.fill, ink_on(at.look.fill), 0.28)
    count = max(2, round(frame.width / SCRIBBLE))
    points: list[XY] = []
    for step in range(count + 1):
        x = frame.left + frame.width * step / count
        points.append((x, frame.bottom if step % 2 == 0 else frame.top))
    if at.piece.kind in ("circle", "oval"):
        points = [_into_round(point, at.area) for point in points]
    style = LineStyle(0.7, color=color, round_ends=True)
    return [stroke(points, style)]


def _into_round(point: XY, area: Box) -> XY:
    """A point on the border of a box, drawn in to the round that fills it."""
    x, y = area.middle
    across = (point[0] - x) / (area.width / 2)
    reach = max(0.0, 1 - across * across) ** 0.5 * area.height / 2 * 0.84
    return point[0], y + (reach if point[1] > y else -reach)


def _embossed(at: _Worked, work: Work, marks: Sequence[Mark]) -> list[Mark]:
    """The worked part hatched."""
    box = at.area
    return hatched([rectangle(box.left, box.top, box.width, box.height)], ink_on(at.look.fill))


def _foiled(at: _Worked, work: Work, marks: Sequence[Mark]) -> list[Mark]:
    frame = _within(at.area, INSET)
    ink = ink_on(at.look.fill)
    ring = [*rectangle(frame.left, frame.top, frame.width, frame.height)]
    limit = stroke([*ring, ring[0]], ZONE._replace(color=ink))
    return [limit, *_fitting_label(quoted(work.text), frame, ink)]


def _cut_out(at: _Worked, work: Work, marks: Sequence[Mark]) -> list[Mark]:
    """The larger piece that it is cut from, dotted, and the outline bold."""
    whole = box_of(at.frame).grown(BLANK)
    ring = [*rectangle(whole.left, whole.top, whole.width, whole.height)]
    path = piece_path(at.piece, at.frame, at.scale)
    bold = element("path", d=path, fill="none", stroke=ink_on(PAGE), stroke_width=OUTLINE.width * 2)
    return [stroke([*ring, ring[0]], HIDDEN), Mark(bold, box_of(at.frame).grown(OUTLINE.width))]


def _punched(at: _Worked, work: Work, marks: Sequence[Mark]) -> list[Mark]:
    """A punch for a whole shape cuts it out; on a piece that is cut already it makes a hole."""
    if at.piece.kind in ("circle", "oval", "cutout", "banner") or at.piece.outline is not None:
        return _cut_out(at, work, marks)
    if "corner" in work.text.lower():
        return _at_corners(at)
    return _hole(at)


def _hole(at: _Worked) -> list[Mark]:
    """A hole near the end at which a tag hangs, else in the middle of the top edge."""
    box = box_of(at.frame)
    short = min(box.width, box.height)
    stands = box.height >= box.width
    x, y = (box.middle[0], box.top + short * 0.16) if stands else (box.left + short * 0.16, box.middle[1])
    return [disc((x, y), max(0.8, min(1.4, short * 0.06)), ink_on(PAGE)), *item_beside("", box, (x, y))]


def _at_corners(at: _Worked) -> list[Mark]:
    """A quarter of a circle at each corner."""
    box = box_of(at.frame)
    reach = min(box.width, box.height) * 0.18
    style = LineStyle(0.6, color=ink_on(at.look.fill))
    corners = (
        ((box.left + reach, box.top), (box.left, box.top + reach)),
        ((box.right - reach, box.top), (box.right, box.top + reach)),
        ((box.left + reach, box.bottom), (box.left, box.bottom - reach)),
        ((box.right - reach, box.bottom), (box.right, box.bottom - reach)),
    )
    return [stroke(pair, style) for pair in corners]


def _edges_inked(at: _Worked, work: Work, marks: Sequence[Mark]) -> list[Mark]:
    """A broad line along the inner side of every edge."""
    box = box_of(at.frame)
    thick = min(INKED, min(box.width, box.height) / 4)
    inner = rectangle(box.left + thick / 2, box.top + thick / 2, box.width - thick, box.height - thick)
    path = piece_path(at.piece, inner, at.scale)
    color = mixed(at.look.fill, ink_on(at.look.fill), 0.45)
    inked = element("path", d=path, fill="none", stroke=color, stroke_width=thick, stroke_linejoin="round")
    return [Mark(inked, box), *_fitting_label(spoken(at.piece.name), _within(box, 0.2), ink_on(at.look.fill))]


def _added(at: _Worked, work: Work, marks: Sequence[Mark]) -> list[Mark]:
    """The thing beside the piece, and an arrow to it: where it goes is the maker's choice."""
    box = box_of(at.frame)
    return item_beside(work.item or "piece", room(marks)._replace(top=box.top, bottom=box.bottom), box.middle)


Draw = Callable[[_Worked, Work, Sequence[Mark]], list[Mark]]
DRAWN: dict[str, Draw] = {
    "stamp": _stamped,
    "write": _written,
    "color": _coloured,
    "emboss": _embossed,
    "foil": _foiled,
    "die": _cut_out,
    "trim": _cut_out,
    "punch": _punched,
    "ink-edges": _edges_inked,
    "add": _added,
}


def _within(box: Box, share: float) -> Box:
    return box.grown(-min(box.width, box.height) * share)


def _fitting_label(text: str, box: Box, color: str) -> list[Mark]:
    """A text in a box where it has room, lying or standing."""
    long = text_width(text, SMALL)
    if long + 1.0 <= box.width and box.height > SMALL:
        return [label(*box.middle, text, Lettering(SMALL, color=color))]
    if long + 1.0 <= box.height and box.width > SMALL:
        return [label(*box.middle, text, Lettering(SMALL, color=color, turned=-90))]
    return []


def _in_lines(text: str, box: Box) -> list[str]:
    """Words in as many lines as they need; [] where they have no room."""
    lines: list[str] = []
    for word in text.split():
        if lines and text_width(f"{lines[-1]} {word}", NORMAL) <= box.width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    fits = all(text_width(each, NORMAL) <= box.width for each in lines)
    return lines if fits and len(lines) * NORMAL * 1.5 <= box.height else []
