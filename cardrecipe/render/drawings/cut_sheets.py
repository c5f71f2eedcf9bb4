"""A sheet of the cutting plan: its pieces to scale, the cuts with the number of their setting, what is left.

Numbers stand where a cut begins; parts that are cut up further bear the letters of the cut list.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from cardrecipe.model.lengths import ABBREVIATION, with_unit, written
from cardrecipe.plan.cutting.card_plans import NumberedLayout, PaperPlan
from cardrecipe.plan.cutting.cut_list import letters, settings
from cardrecipe.plan.cutting.job import Part, blanks_in
from cardrecipe.plan.cutting.paper_jobs import has_margin
from cardrecipe.plan.cutting.parts import is_offcut, length
from cardrecipe.plan.cutting_sheets import is_kept
from cardrecipe.plan.words import a_count_of, spoken
from cardrecipe.render.drawings.changed import ringed
from cardrecipe.render.drawings.colors import INK, MARKED_AREA, PAGE, QUIET_INK, edge_on, ink_on
from cardrecipe.render.drawings.dimensions import FIRST_ROW, Dimension, dimension
from cardrecipe.render.drawings.free_places import (
    DOT,
    LedOut,
    around,
    first_free,
    free_within,
    led_out,
    places_within,
)
from cardrecipe.render.drawings.glue_zone import hatched
from cardrecipe.render.drawings.lettering import SMALL, Lettering, label, label_box, text_width
from cardrecipe.render.drawings.lines import LineStyle, disc, dot, stroke
from cardrecipe.render.drawings.marks import Box, Caption, Mark, picture
from cardrecipe.render.drawings.name_place import crosses
from cardrecipe.render.drawings.paint import painted, paper_look
from cardrecipe.render.drawings.shapes import piece_path, rectangle, turned_frame
from cardrecipe.render.drawings.sheet_signs import sheet_signs
from cardrecipe.render.drawings.sizes import COLUMN, fitted_marks, in_words, listed, scale_to_fit
from cardrecipe.render.drawings.svg import XY, Drawing, Markup, element, ring
from cardrecipe.solve.sized import SizedCard

# mm on the page for the sheet itself, up to so many parts: few parts need little room.
ROOMS = ((6, (36.0, 44.0)), (14, (50.0, 60.0)), (10_000, (60.0, 74.0)))
TALL = 92.0  # mm: the tallest of these pictures
BADGE = 1.95  # mm, radius of a setting's number
CUT = LineStyle(0.5)
AIR = 0.7  # mm round a text
# Parts of a cut at which its number is tried.
PLACES = (0.06, 0.94, 0.25, 0.75, 0.5, *(step / 24 for step in range(1, 24)))
LEAD = LineStyle(0.25, dash="0.25 0.75")
LEAD_STEPS = 60  # places along a lead that no name of an offcut may cover
PLACES_FOR_LEADS = 60  # in a part that is lettered
LEADS = 3  # equal cuts that a lead is tried to
KEY_LETTERS = "abcdefghijklmnopqrstuvwxyz"


def sheet_drawing(
    card: SizedCard,
    paper: PaperPlan,
    numbered: NumberedLayout,
    id_prefix: str = "",
    changed: frozenset[str] = frozenset(),
    widest: float = COLUMN,
) -> Drawing:
    """One layout with the size of its sheet; the pieces that have `changed` are marked."""
    name, root = f"sheet-{numbered.number}", numbered.layout.root
    stock = numbered.stock
    most = next(most for parts, most in ROOMS if _number_of_parts(root) <= parts)
    scale = scale_to_fit(card, stock.width, stock.height, *most) / paper.of.steps
    marks = fitted_marks(
        lambda k: _Picture(card, paper, root, k, f"{id_prefix}{name}", changed).marks(), scale, widest, TALL
    )
    held = listed(a_count_of(piece, count) for piece, count in blanks_in(root).items())
    size = in_words(stock.width, stock.height, card.unit)
    said = f"A sheet of {paper.of.paper.title}, {size}, cut into {held}."
    return picture(Caption(name, f"Sheet {numbered.number}: {paper.of.paper.title}", said, id_prefix), marks)


def _number_of_parts(part: Part) -> int:
    return sum(map(_number_of_parts, part.parts)) if part.parts else 1


class _Placed(NamedTuple):
    """A part where it lies on the sheet, in picture mm."""

    part: Part
    box: Box
    depth: int


class _Picture:
    def __init__(
        self,
        card: SizedCard,
        paper: PaperPlan,
        root: Part,
        scale: float,
        pattern: str,
        changed: frozenset[str],
    ) -> None:
        self.card, self.paper, self.root, self.scale, self.pattern = card, paper, root, scale, pattern
        self.changed = changed
        self.look = paper_look(card, paper.of.paper.name)
        self.placed = list(self._laid(root, 0.0, 0.0, 0))
        self.numbers = _numbers(root)
        self.labels: list[Mark] = []
        self.leads: list[Mark] = []
        self.on_leads: list[Mark] = []  # the room that leads take
        self.led: list[LedOut] = []
        self.grounds: list[Mark] = []  # of keys that overhang their pieces
        self.signs: list[Mark] = []  # numbers and letters with their grounds

    def marks(self) -> list[Mark]:
        whole = self.placed[0].box
        marks = [self._pieces(), *self._outlines()]
        marks += [mark for each in self.placed if is_offcut(each.part) for mark in self._left_over(each)]
        self.keys = self._names()
        style = CUT._replace(color=edge_on(self.look.fill))
        cuts = [stroke(line, style) for each in self.placed for _, line in _cut_lines(each, self.scale)]
        edge = stroke([*_corner_points(whole), (whole.left, whole.top)], LineStyle(0.35))
        self._badges()
        self._letters()
        offcuts = [each for each in self.placed if is_offcut(each.part)]
        left_over: list[Mark] = []
        told: set[Part] = set()
        for each in offcuts:
            if self._is_kept(each.part) or each.part not in told:
                left_over += self._name_left_over(each)
                told.add(each.part)
        self._clear_the_leads()
        marks += [*left_over, *cuts, edge, *self._changed()]
        marks += [*self.leads, *self.grounds, *self.labels, *self.signs]
        of = self.paper.of
        across = with_unit(of.length(self.root.width), self.card.unit)
        down = with_unit(of.length(self.root.height), self.card.unit)
        left, top, right, bottom = whole
        marks += dimension(Dimension("x", left, right, bottom + FIRST_ROW, bottom, across))
        marks += dimension(Dimension("y", bottom, top, right + FIRST_ROW, right, down))
        marks += sheet_signs(of.paper, whole, 2 * BADGE)
        return [*marks, *self._legend(whole)]

    def _laid(self, part: Part, left: float, top: float, depth: int) -> Iterator[_Placed]:
        k = self.scale
        yield _Placed(part, Box(left, top, left + part.width * k, top + part.height * k), depth)
        for each in part.parts:
            yield from self._laid(each, left, top, depth + 1)
            if part.axis == "x":
                left += each.width * k
            else:
                top += each.height * k

    def _pieces(self) -> Mark:
        """All pieces in their paper, as one shape: the pattern runs through as on the sheet."""
        boxes = [each.box for each in self.placed if each.part.blank is not None]
        path = "".join(ring(_corner_points(box)) for box in boxes)
        return painted(path, self.placed[0].box, self.look, f"{self.pattern}-paper")

    def _changed(self) -> Iterator[Mark]:
        """The marks of pieces that are not as they were, within the cuts round them."""
        for each in self.placed:
            if each.part.blank in self.changed:
                box = each.box.grown(-CUT.width)
                yield from ringed(ring(_corner_points(box)), box)

    def _outlines(self) -> Iterator[Mark]:
        """What is die-cut or trimmed later, within its margin."""
        for each in self.placed:
            piece = self.card.piece(each.part.blank) if each.part.blank is not None else None
            if piece is None or not has_margin(piece):
                continue
            k, (x, y) = self.scale * self.paper.of.steps, each.box.middle
            sides = (float(piece.width) * k, float(piece.height) * k)
            lies = (piece.width < piece.height) != (each.part.width < each.part.height)
            wide, tall = sides if not lies else sides[::-1]
            frame = rectangle(x - sides[0] / 2, y - sides[1] / 2, *sides)
            path = piece_path(piece, turned_frame(frame, 90) if lies else frame, k)
            line = edge_on(self.look.fill)
            shape = element("path", d=path, fill="none", stroke=line, stroke_width=0.18)
            yield Mark(shape, around((x, y), wide / 2, tall / 2))

    def _left_over(self, each: _Placed) -> Iterator[Mark]:
        """What is kept is bare, scrap is hatched."""
        x, y, box = each.box.left, each.box.top, each.box
        yield Mark(element("rect", x=x, y=y, width=box.width, height=box.height, fill=PAGE), box)
        if not self._is_kept(each.part):
            yield from hatched([_corner_points(box)], MARKED_AREA)

    def _is_kept(self, part: Part) -> bool:
        return is_kept(self.paper.of, part, self.card.unit)

    def _name_left_over(self, each: _Placed) -> list[Mark]:
        """Keep or scrap with the size, on a ground of its own, where there is room beside all the rest."""
        size, box = self._size(each.part), each.box.grown(-0.3)
        words = (f"keep {size}", size, "keep") if self._is_kept(each.part) else (f"scrap {size}", "scrap")
        for text in words:
            half = text_width(text, SMALL) / 2 + AIR
            for turned, across, down in ((0, half, SMALL * 0.6), (-90, SMALL * 0.6, half)):
                if 2 * across > box.width or 2 * down > box.height:
                    continue
                center = free_within(box, across, down, [*self.labels, *self.signs, *self.on_leads])
                if center is not None:
                    look = Lettering(SMALL, color=QUIET_INK, turned=turned)
                    return [_ground(around(center, across, down), PAGE), label(*center, text, look)]
        return []

    # ---- names -------------------------------------------------------------------------------------

    def _names(self) -> dict[str, str]:
        """Name the pieces; a piece too small for its name gets a key, told beneath."""
        keys: dict[str, str] = {}
        tight = [each for each in self.placed if each.part.blank and not self._name_piece(each)]
        for each in tight:
            self._give_key(each.box, keys, each.part.blank or "")
        return keys

    def _name_piece(self, each: _Placed) -> bool:
        name, color = spoken(each.part.blank or ""), ink_on(self.look.seen)
        size = self._size(each.part)
        if each.box.height > 2 * SMALL * 1.3 + 1 and self._two_lines(each.box, name, size, color):
            return True
        return self._first_that_fits(each.box, (name,), color)

    def _give_key(self, box: Box, keys: dict[str, str], blank: str) -> None:
        """A small letter on the piece; the first of its kind is led out where even that has no room."""
        is_new = blank not in keys
        key = keys.setdefault(blank, _key(len(keys)))
        if self._first_that_fits(box, (key,), ink_on(self.look.seen)):
            return
        half = text_width(key, SMALL) / 2 + 0.3
        center = free_within(box, half, SMALL / 2, self.labels)
        if center is None and is_new:
            center = self._led_out([box.middle], half, SMALL / 2)
        if center is not None:
            self.grounds.append(_ground(around(center, half, SMALL / 2), PAGE))
            self.labels.append(label(*center, key, Lettering(SMALL)))

    def _two_lines(self, box: Box, name: str, size: str, color: str) -> bool:
        if max(text_width(name, SMALL), text_width(size, SMALL)) > box.width - 2 * AIR:
            return False
        (x, y), look = box.middle, Lettering(SMALL, color=color)
        self.labels += [label(x, y - SMALL * 0.65, name, look), label(x, y + SMALL * 0.65, size, look)]
        return True

    def _first_that_fits(self, box: Box, texts: tuple[str, ...], color: str) -> bool:
        """Put the first text that has room in a box, upright or running up."""
        for text in texts:
            wide = text_width(text, SMALL) + 2 * AIR
            for turned, (across, down) in ((0, (box.width, box.height)), (-90, (box.height, box.width))):
                if wide <= across and down >= SMALL:
                    self.labels.append(label(*box.middle, text, Lettering(SMALL, color=color, turned=turned)))
                    return True
        return False

    def _size(self, part: Part) -> str:
        sides = (self.paper.of.length(part.width), self.paper.of.length(part.height))
        first, second = (written(side, self.card.unit) for side in sides)
        return f"{first} × {second}"

    def _clear_the_leads(self) -> None:
        """Where a sheet is too full for a lead to run between the texts, it passes behind one."""
        for mark in self.labels:
            is_met = any(
                crosses(each, mark.box) or around(each.target, DOT, DOT).meets(mark.box) for each in self.led
            )
            if is_met and not any(ground.box.meets(mark.box) for ground in self.grounds):
                self.grounds.append(_ground(mark.box.grown(0.2), self.look.seen))

    def _legend(self, whole: Box) -> list[Mark]:
        """What the keys mean, beneath the sheet."""
        y = whole.bottom + FIRST_ROW + 2 * SMALL
        marks = []
        for name, key in self.keys.items():
            part = next(each.part for each in self.placed if each.part.blank == name)
            text = f"{key}: {spoken(name)} {self._size(part)} {ABBREVIATION[self.card.unit]}"
            marks.append(label(whole.left, y, text, Lettering(SMALL, anchor="start")))
            y += SMALL * 1.4
        return marks

    # ---- numbers and letters -----------------------------------------------------------------------

    def _badges(self) -> None:
        """The number of each setting where its first cut begins, in every part that is not like another."""
        lines: dict[tuple[Part, int], list[tuple[XY, XY]]] = {}
        for each in self.placed:
            for size, line in _cut_lines(each, self.scale):
                number = self.numbers[each.depth, each.part.axis or "", size]
                lines.setdefault((each.part, number), []).append(line)
        for (_, number), found in lines.items():
            center = next(filter(None, (self._spot(line) for line in found)), None)
            if center is None:
                targets = [_along(line, share) for line in found[:LEADS] for share in PLACES[:5]]
                center = self._led_out(targets, BADGE, BADGE)
            if center is not None:
                self.signs.append(disc(center, BADGE, INK)._replace(is_label=True))
                self.signs.append(label(*center, str(number), Lettering(SMALL, True)))

    def _spot(self, line: tuple[XY, XY]) -> XY | None:
        """A place on a cut, or before its beginning at the sheet's edge, that covers no text."""
        (ax, ay), (bx, by) = line
        whole = self.placed[0].box
        tried = []
        if ax == bx and ay == whole.top:
            tried.append((ax, whole.top - BADGE - 0.5))
        if ay == by and ax == whole.left:
            tried.append((whole.left - BADGE - 0.5, ay))
        tried += [_along(line, share) for share in PLACES]
        return first_free(tried, BADGE + 0.3, BADGE + 0.3, [*self.labels, *self.signs])

    def _letters(self) -> None:
        """The letters of the parts that are cut further, once for each, in a corner or another place of the
        part that is free, else led out."""
        done: set[str] = set()
        named = letters(self.root)
        for is_last in (False, True):
            for each in self.placed:
                letter = named.get(each.part, "")
                if letter and letter not in done and self._letter(each.box, letter, is_last):
                    done.add(letter)

    def _letter(self, box: Box, letter: str, may_lead: bool) -> bool:
        fill = self.look.fill
        look = Lettering(SMALL, True, "middle", ink_on(fill))
        half, tall = text_width(letter, SMALL, True) / 2 + 1.3, SMALL / 2 + 1.0
        taken = [*self.labels, *self.signs]
        center = free_within(box, half, tall, taken, in_corner=True)
        if center is None and may_lead:
            targets = [*dict.fromkeys(places_within(box, 1.0, 1.0))][:PLACES_FOR_LEADS]
            center = self._led_out(targets, half, tall)
        if center is None:
            return False
        ground = _ground(label_box(*center, letter, look).grown(0.4), fill, edge_on(fill))
        self.signs += [ground._replace(is_label=True), label(*center, letter, look)]
        return True

    def _led_out(self, targets: list[XY], across: float, down: float) -> XY | None:
        """A place beyond the sheet's edge, with a lead that ends in a dot."""
        found = led_out(targets, self.placed[0].box, across, down, [*self.labels, *self.signs])
        if found is None:
            return None
        self.led.append(found)
        self.leads += [stroke((found.center, found.target), LEAD), dot(found.target, DOT, INK)]
        points = [_along(found, step / LEAD_STEPS) for step in range(LEAD_STEPS + 1)]
        self.on_leads += [Mark(Markup(""), around(point, DOT, DOT), True) for point in points]
        return found.center


def _key(number: int) -> str:
    """The letters in turn, then with a figure."""
    turn, at = divmod(number, len(KEY_LETTERS))
    return KEY_LETTERS[at] + (str(turn + 1) if turn else "")


def _along(line: tuple[XY, XY], share: float) -> XY:
    (ax, ay), (bx, by) = line
    return ax + (bx - ax) * share, ay + (by - ay) * share


def _ground(box: Box, fill: str, edge: str | None = None) -> Mark:
    """A plain ground for a text."""
    markup = element("rect", x=box.left, y=box.top, width=box.width, height=box.height, fill=fill,
                     stroke=edge, stroke_width=0.18 if edge else None)  # fmt: skip
    return Mark(markup, box)


def _corner_points(box: Box) -> list[XY]:
    return [(box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom)]


def _numbers(root: Part) -> dict[tuple[int, str, int], int]:
    """Give the number of the setting for each depth, direction and size."""
    return {(each.depth, each.axis, each.size): each.number for each in settings(root)}


def _cut_lines(each: _Placed, scale: float) -> Iterator[tuple[int, tuple[XY, XY]]]:
    """Give the cuts of a part with the size that each sets off."""
    box, at = each.box, 0
    for one in each.part.parts[:-1]:
        size = length(one, each.part.axis or "x")
        at += size
        if each.part.axis == "x":
            x = box.left + at * scale
            yield size, ((x, box.top), (x, box.bottom))
        else:
            y = box.top + at * scale
            yield size, ((box.left, y), (box.right, y))
