"""The true-scale pages of a sheet as plain data for the typst template, in mm from the room on each page."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.lengths import size_written, to_mm
from cardrecipe.plan.sheet import Sheet
from cardrecipe.plan.words import capital, counted, listed, spoken
from cardrecipe.render.drawings.lettering import POINT_MM, fitted, text_width
from cardrecipe.render.drawings.marks import Box
from cardrecipe.render.drawings.svg import XY
from cardrecipe.render.papers import Paper
from cardrecipe.render.prose import title_shown
from cardrecipe.render.true_scale.drawn import side_up
from cardrecipe.render.true_scale.joins import join_words, joins, kept_free
from cardrecipe.render.true_scale.outlines import (
    KINDS,
    TrueLine,
    enlarged,
    kinds_of_scores,
    lines_of,
    straight_edges,
)
from cardrecipe.render.true_scale.packing import Item, TemplatePage, packed
from cardrecipe.render.true_scale.rooms import (
    EDGE,
    LARGE,
    USUAL,
    WAYS,
    PageWords,
    Rooms,
    rooms_on,
    way_to_lie,
)
from cardrecipe.render.true_scale.strokes import Stroke, shifted, stroke_of, strokes_within
from cardrecipe.render.true_scale.tiling import Tile, Tiling, tiling
from cardrecipe.render.true_scale.wanted import is_by_the_way, is_measured_from_edges, wants_template
from cardrecipe.render.true_scale.words_inside import Word, score_words, section_words, segments
from cardrecipe.solve.sized import SizedCard, SizedPiece

Data = dict[str, object]

TITLE = {"portrait": 42.0, "landscape": 100.0}  # mm for the sheet's title beside the check bars
BESIDE = 4.0  # mm between the heading, the note and the key at the top of a page
KEY_LINE = 16.4  # mm: a line of the key with the room round it
KEY_WORDS = dict(zip(KINDS, ("cut", "valley", "mountain", "slit"), strict=True))


class Template(NamedTuple):
    """A piece with its size and its lines in mm."""

    piece: SizedPiece
    width: float
    height: float
    lines: tuple[TrueLine, ...]


class _Heading(NamedTuple):
    """The line at the top of a page: only its `name` may be shortened; `note` stands beside it."""

    level: int
    before: str
    name: str = ""
    after: str = ""
    note: str = ""


class _Setting(NamedTuple):
    card: SizedCard
    words: PageWords
    rooms: Rooms
    title: str
    copies: int
    of: str  # the card that they are for, where the sheet holds several

    @property
    def letters(self) -> float:
        """The size of the small letters in mm."""
        return self.words.small * POINT_MM

    @property
    def narrowest(self) -> float:
        """The room across that a page has whichever way it lies."""
        return min(across for across, _ in self.rooms.values())


class OfCard(NamedTuple):
    """A card whose templates are shown. `of` names it where the sheet holds several; `without` are pieces
    that another card's templates show."""

    sheet: Sheet
    of: str = ""
    without: Collection[str] = ()


def templates(sheet: Sheet, paper: Paper, is_large: bool = False) -> list[Data]:
    """The pages: those with whole templates first, then those with the parts of large ones."""
    return templates_together([OfCard(sheet)], paper, is_large)


def templates_together(cards: Sequence[OfCard], paper: Paper, is_large: bool = False) -> list[Data]:
    """The pages of several cards; small templates share one, whichever card they are for."""
    words = LARGE if is_large else USUAL
    whole: list[tuple[_Setting, Template]] = []
    parts: list[Data] = []
    for sheet, of, without in cards:
        card, title = sheet.folded.card, title_shown(sheet.title)
        setting = _Setting(card, words, rooms_on(paper, words), title, sheet.copies, f", {of}" if of else "")
        pieces = [piece for piece in card.pieces if piece.name not in without]
        for each in (_template(card, piece) for piece in pieces if wants_template(piece)):
            if way_to_lie(setting.rooms, (each.width, each.height)) is not None:
                whole.append((setting, each))
            elif not is_measured_from_edges(each.piece):
                parts += _in_parts(setting, each)
    items = [
        Item(key, *_room_of(setting, each), words.label, is_by_the_way(each.piece))
        for key, (setting, each) in enumerate(whole)
    ]
    return [*(_page(page, whole) for page in packed(items, rooms_on(paper, words))), *parts]


def _template(card: SizedCard, piece: SizedPiece) -> Template:
    width, height = float(to_mm(piece.width, card.unit)), float(to_mm(piece.height, card.unit))
    return Template(piece, width, height, enlarged(lines_of(piece), to_mm(Fraction(1), card.unit)))


def _room_of(setting: _Setting, template: Template) -> XY:
    """The room that a template takes beside others: its name may be wider than the piece."""
    piece, body = template.piece, setting.words.body * POINT_MM
    label = _label(piece) + setting.of
    widths = text_width(label, body, True), text_width(_note(setting, piece), setting.letters)
    return max(template.width, min(setting.narrowest, max(widths))), template.height


# ---- pages ---------------------------------------------------------------------------------------


def _page(page: TemplatePage, of: Sequence[tuple[_Setting, Template]]) -> Data:
    """A page names the card that all its templates are for; else each of them does."""
    shown = [(*of[place.key], (place.x, place.y)) for place in page.places]
    setting, first, _ = shown[0]
    is_of_one = len({each.of for each, _, _ in shown}) == 1
    items = [
        _item(own, each, place, page.is_shared, "" if is_of_one else own.of) for own, each, place in shown
    ]
    alone = _Heading(2, "Template: ", _label(first.piece), setting.of, _note(setting, first.piece))
    shared = _Heading(2, "Templates", "", setting.of if is_of_one else "")
    return _data(setting, page.way, shared if page.is_shared else alone, items)


def _data(
    setting: _Setting, way: str, heading: _Heading, items: list[Data], parts: Data | None = None
) -> Data:
    key = [[kind, KEY_WORDS[kind]] for kind in KINDS if any(kind in _kinds(each) for each in items)]
    room = setting.rooms[way][0] - sum(KEY_LINE + text_width(said, setting.letters) for _, said in key)
    words, note = _in_room(setting, heading, room)
    return {
        "way": way,
        "title": fitted(setting.title, TITLE[way], setting.letters),
        "edge": EDGE,
        "words": {**setting.words._asdict(), "foot": setting.words.foot[way]},
        "level": heading.level,
        "heading": words,
        "note": note,
        "key": key,
        "items": items,
        "parts": parts,
    }


def _in_room(setting: _Setting, heading: _Heading, room: float) -> tuple[str, str]:
    """The heading and the note beside it; without room first the note is left out, then some of the name."""
    size = setting.words.heading * POINT_MM
    beside = BESIDE + text_width(heading.note, setting.letters)
    whole = heading.before + heading.name + heading.after
    if text_width(whole, size, bold=True) + beside + BESIDE <= room:
        return whole, heading.note
    frame = text_width(heading.before + heading.after, size, bold=True)
    name = fitted(heading.name, max(0.0, room - BESIDE - frame), size, bold=True)
    return heading.before + name + heading.after, ""


def _kinds(item: Data) -> set[str]:
    strokes = item["strokes"]
    return {each["kind"] for each in strokes} if isinstance(strokes, list) else set()


def _item(setting: _Setting, template: Template, place: XY, is_named: bool, of: str = "") -> Data:
    piece, card = template.piece, setting.card
    names = section_words(piece, template.lines, card.unit, setting.letters)
    strokes = [stroke_of(line) for line in template.lines]
    window = Box(0.0, 0.0, template.width, template.height)
    lines = segments(template.lines)
    numbers = score_words(piece, card.unit, window, lines, names, setting.letters)
    found = _drawn(piece, window, place, strokes, (*names, *numbers), f"{_said(card, template)}.")
    if not is_named:
        return found
    label = fitted(_label(piece) + of, setting.narrowest, setting.words.body * POINT_MM, bold=True)
    return {**found, "label": label, "note": _note(setting, piece)}


def _drawn(
    piece: SizedPiece, window: Box, place: XY, strokes: Sequence[Stroke], words: Sequence[Word], alt: str
) -> Data:
    """What is seen of a piece through `window`, with its left top at `place`."""
    return {
        "piece": piece.name,
        "window": list(window),
        "x": place[0],
        "y": place[1],
        "width": window.width,
        "height": window.height,
        "strokes": [{"kind": each.kind, "ways": list(each.ways)} for each in strokes],
        "words": [
            {"text": word.text, "x": word.x - window.left, "y": word.y - window.top, "turned": word.turned}
            for word in words
        ],
        "alt": alt,
        "label": "",
        "note": "",
    }


# ---- parts of what no page holds -----------------------------------------------------------------


def _in_parts(setting: _Setting, template: Template) -> Iterator[Data]:
    """A page for each part, all lying the way that takes fewer."""
    size = template.width, template.height
    edges = [edge for line in template.lines for edge in straight_edges(line)]
    lines = [((float(a[0]), float(a[1])), (float(b[0]), float(b[1]))) for a, b in edges]
    found = [(way, tiling(size, setting.rooms[way], lines)) for way in WAYS]
    possible = [(len(each.tiles), way, each) for way, each in found if each is not None]
    if not possible:
        return
    _, way, parts = min(possible, key=lambda each: each[0])
    unit, pages, letters = setting.card.unit, kept_free(parts), setting.letters
    names = section_words(template.piece, template.lines, unit, letters, pages)
    in_the_way = [*segments(template.lines), *pages]
    for tile in parts.tiles:
        shown = [word for word in names if tile.window.holds(word.box)]
        numbers = score_words(template.piece, unit, tile.window, in_the_way, shown, letters)
        yield _part(setting, template, way, parts, tile, (*shown, *numbers))


def _part(
    setting: _Setting, template: Template, way: str, parts: Tiling, tile: Tile, words: Sequence[Word]
) -> Data:
    count, window = counted(len(parts.tiles), "part"), tile.window
    level = 2 if tile == parts.tiles[0] else 3
    name = capital(spoken(template.piece.name))
    note = f"{side_up(template.piece)}, {_note(setting, template.piece)}, in {count}"
    strokes = [part for line in template.lines for part in strokes_within(line, window)]
    seen = [shifted(each, window.left, window.top) for each in (*strokes, *joins(tile))]
    joined = join_words(tile, parts)
    alt = f"Part {tile.name} of {count}. {_said(setting.card, template)}. {joined}"
    item = _drawn(template.piece, window, (0.0, 0.0), seen, words, alt)
    shown = {"rows": parts.rows, "columns": parts.columns, "row": tile.row, "column": tile.column,
             "names": [each.name for each in parts.tiles], "words": joined}  # fmt: skip
    heading = _Heading(level, "Template: ", name, f", part {tile.name}{setting.of}", note)
    return _data(setting, way, heading, [item], shown)


# ---- words ---------------------------------------------------------------------------------------


def _label(piece: SizedPiece) -> str:
    return f"{capital(spoken(piece.name))}, {side_up(piece)}"


def _note(setting: _Setting, piece: SizedPiece) -> str:
    """`3 × 2 1⁄4 in, cut 2`: of all the copies."""
    size, times = size_written(piece.width, piece.height, setting.card.unit), piece.count * setting.copies
    return f"{size}, cut {times}" if times > 1 else size


def _said(card: SizedCard, template: Template) -> str:
    """The template for those who cannot see it: what it is, and its lines."""
    piece = template.piece
    kinds = kinds_of_scores(piece)
    nouns = zip(KINDS[1:], ("valley score", "mountain score", "slit"), strict=True)
    lines = [counted(kinds.count(kind), noun) for kind, noun in nouns if kind in kinds]
    has = f", with {listed(lines)}" if lines else ""
    size = size_written(piece.width, piece.height, card.unit)
    return f"Template of the {spoken(piece.name)} at true scale, {side_up(piece)}, {size}{has}"
