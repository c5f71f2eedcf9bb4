"""A sheet of the cutting plan: its pieces to scale, the cuts with the number of their setting, what is left.

Numbers stand where a cut begins; parts that are cut up further bear the letters of the cut list.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2
from typing import NamedTuple

from cardrecipe.model.lengths import ABBREVIATION, with_unit, written
from cardrecipe.model.papers import Paper
from cardrecipe.plan.cutting.card_plans import NumberedLayout, PaperPlan
from cardrecipe.plan.cutting.cut_list import letters, settings
from cardrecipe.plan.cutting.job import Part, blanks_in
from cardrecipe.plan.cutting.parts import is_offcut, length
from cardrecipe.plan.words import a_count_of, spoken
from cardrecipe.render.drawings.colors import INK, PAGE, QUIET_INK, edge_on, ink_on
from cardrecipe.render.drawings.dimensions import FIRST_ROW, Dimension, dimension
from cardrecipe.render.drawings.lettering import SMALL, Lettering, label, label_box, text_width
from cardrecipe.render.drawings.lines import LineStyle, arrow_head, disc, stroke
from cardrecipe.render.drawings.marks import Box, Caption, Mark, is_free, picture
from cardrecipe.render.drawings.paint import painted, paper_look
from cardrecipe.render.drawings.sizes import COLUMN, fitted_marks, in_words, listed, scale_to_fit
from cardrecipe.render.drawings.svg import XY, Drawing, element, ring
from cardrecipe.solve.sized import SizedCard

# mm on the page for the sheet itself, up to so many parts: few parts need little room.
ROOMS = ((6, (36.0, 44.0)), (14, (50.0, 60.0)), (10_000, (60.0, 74.0)))
TALL = 92.0  # mm: the tallest of these pictures
BADGE = 1.95  # mm, radius of a setting's number
CUT = LineStyle(0.5)
AIR = 0.7  # mm round a text
PLACES = (0.06, 0.94, 0.25, 0.75, 0.5)  # parts of a cut at which its number is tried
LETTER_PLACES = 12  # steps in which a place for a letter is looked for, each way
KEY_LETTERS = "abcdefghijklmnopqrstuvwxyz"


def sheet_drawing(
    card: SizedCard, paper: PaperPlan, numbered: NumberedLayout, id_prefix: str = ""
) -> Drawing:
    """One layout with the size of its sheet."""
    name, root = f"sheet-{numbered.number}", numbered.layout.root
    stock = numbered.stock
    most = next(most for parts, most in ROOMS if _number_of_parts(root) <= parts)
    scale = scale_to_fit(card, stock.width, stock.height, *most) / paper.of.steps
    marks = fitted_marks(
        lambda k: _Picture(card, paper, root, k, f"{id_prefix}{name}").marks(), scale, COLUMN, TALL
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
    def __init__(self, card: SizedCard, paper: PaperPlan, root: Part, scale: float, pattern: str) -> None:
        self.card, self.paper, self.root, self.scale, self.pattern = card, paper, root, scale, pattern
        self.look = paper_look(card, paper.of.paper.name)
        self.placed = list(self._laid(root, 0.0, 0.0, 0))
        self.numbers = _numbers(root)
        self.labels: list[Mark] = []

    def marks(self) -> list[Mark]:
        whole = self.placed[0].box
        marks = [self._pieces(), *(self._left_over(each) for each in self.placed if is_offcut(each.part))]
        self.keys = self._names()
        style = CUT._replace(color=edge_on(self.look.fill))
        cuts = [stroke(line, style) for each in self.placed for _, line in _cut_lines(each, self.scale)]
        edge = stroke([*_corner_points(whole), (whole.left, whole.top)], LineStyle(0.35))
        badges = list(self._badges())
        tags = list(self._letters(badges))
        marks += [*cuts, edge, *self.labels, *badges, *tags]
        of = self.paper.of
        across = with_unit(of.length(self.root.width), self.card.unit)
        down = with_unit(of.length(self.root.height), self.card.unit)
        left, top, right, bottom = whole
        marks += dimension(Dimension("x", left, right, bottom + FIRST_ROW, bottom, across))
        marks += dimension(Dimension("y", bottom, top, right + FIRST_ROW, right, down))
        marks += _signs(of.paper, whole)
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

    def _left_over(self, each: _Placed) -> Mark:
        """What is left over is bare."""
        x, y, box = each.box.left, each.box.top, each.box
        return Mark(element("rect", x=x, y=y, width=box.width, height=box.height, fill=PAGE), box)

    # ---- names -------------------------------------------------------------------------------------

    def _names(self) -> dict[str, str]:
        """Name the pieces and what is kept; a piece too small for its name gets a key, told beneath."""
        keys: dict[str, str] = {}
        for each in self.placed:
            part = each.part
            if part.blank is not None:
                self._name_piece(each, part.blank, keys)
            elif is_offcut(part):
                self._first_that_fits(each.box, (f"left: {self._size(part)}", self._size(part)), QUIET_INK)
        return keys

    def _name_piece(self, each: _Placed, blank: str, keys: dict[str, str]) -> None:
        name, color = spoken(blank), ink_on(self.look.fill)
        size = self._size(each.part)
        if each.box.height > 2 * SMALL * 1.3 + 1 and self._two_lines(each.box, name, size, color):
            return
        if self._first_that_fits(each.box, (name,), color):
            return
        key = keys.setdefault(blank, KEY_LETTERS[len(keys) % len(KEY_LETTERS)])
        self._first_that_fits(each.box, (key,), color)

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

    def _badges(self) -> Iterator[Mark]:
        """The number of each setting where its first cut begins, in every part that is not like another."""
        taken: list[Mark] = list(self.labels)
        seen: set[tuple[Part, int]] = set()
        for each in self.placed:
            for size, line in _cut_lines(each, self.scale):
                number = self.numbers.get((each.depth, each.part.axis or "", size))
                if number is None or (each.part, number) in seen:
                    continue
                center = self._spot(each, line, taken)
                if center is None:
                    continue
                seen.add((each.part, number))
                made = [disc(center, BADGE, INK), label(*center, str(number), Lettering(SMALL, True))]
                taken += [made[0]._replace(is_label=True), made[1]]
                yield from made

    def _spot(
        self, each: _Placed, line: tuple[XY, XY], taken: list[Mark]
    ) -> XY | None:
        """A place on a cut, or before its beginning at the sheet's edge, that covers no text."""
        (ax, ay), (bx, by) = line
        whole = self.placed[0].box
        tried = []
        if each.part.axis == "x" and ay == whole.top:
            tried.append((ax, whole.top - BADGE - 0.5))
        if each.part.axis == "y" and ax == whole.left:
            tried.append((whole.left - BADGE - 0.5, ay))
        tried += [(ax + (bx - ax) * share, ay + (by - ay) * share) for share in PLACES]
        for x, y in tried:
            if is_free(Box(x - BADGE, y - BADGE, x + BADGE, y + BADGE).grown(0.3), taken):
                return x, y
        return None

    def _letters(self, badges: list[Mark]) -> Iterator[Mark]:
        """The letters of the parts that are cut further, once for each, in a corner or another place of the
        part that is free."""
        taken = [*self.labels, *(mark._replace(is_label=True) for mark in badges)]
        done: set[str] = set()
        named = letters(self.root)
        look = Lettering(SMALL, True, "middle", ink_on(self.look.fill))
        for each in self.placed:
            letter = named.get(each.part, "")
            if not letter or letter in done:
                continue
            half = text_width(letter, SMALL, True) / 2 + 0.9
            for x, y in _corners(each.box, half, SMALL / 2 + 0.6):
                box = label_box(x, y, letter, look).grown(0.4)
                if each.box.holds(box) and is_free(box, taken):
                    fill = self.look.fill
                    ground = element("rect", x=box.left, y=box.top, width=box.width, height=box.height,
                                     fill=fill, stroke=edge_on(fill), stroke_width=0.18)  # fmt: skip
                    made = [Mark(ground, box), label(x, y, letter, look)]
                    taken += [made[0]._replace(is_label=True)]
                    done.add(letter)
                    yield from made
                    break


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


def _corners(box: Box, across: float, down: float) -> Iterator[XY]:
    """Give places for a letter in a box: its corners first, then rows of places all over it."""
    left, right, top, bottom = box.left + across, box.right - across, box.top + down, box.bottom - down
    yield from ((x, y) for y in (top, bottom) for x in (left, right))
    for row in range(LETTER_PLACES + 1):
        for column in range(LETTER_PLACES + 1):
            yield (
                left + (right - left) * column / LETTER_PLACES,
                top + (bottom - top) * row / LETTER_PLACES,
            )


def _signs(paper: Paper, whole: Box) -> list[Mark]:
    """Which way the pattern stands, or the grain runs, at the left of the sheet."""
    x, middle = whole.left - 2 * BADGE - 3.4, whole.middle[1]
    look = Lettering(SMALL, color=QUIET_INK, turned=-90)
    if paper.one_way:
        text = "pattern up"
        half = text_width(text, SMALL) / 2 + 0.8
        return [label(x, middle, text, look), *_arrow((x, middle - half), (x, middle - half - 6))]
    if paper.grain is None:
        return []
    is_upright = (whole.height >= whole.width) == (paper.grain == "long")
    if is_upright:
        half = text_width("grain", SMALL) / 2 + 0.8
        ends = [((x, middle - half), (x, middle - half - 5)), ((x, middle + half), (x, middle + half + 5))]
        return [label(x, middle, "grain", look), *(mark for end in ends for mark in _arrow(*end))]
    x, y = whole.middle[0], whole.top - 2 * BADGE - 3.0
    half = text_width("grain", SMALL) / 2 + 0.8
    ends = [((x - half, y), (x - half - 5, y)), ((x + half, y), (x + half + 5, y))]
    return [label(x, y, "grain", look._replace(turned=0)), *(mark for end in ends for mark in _arrow(*end))]


def _arrow(start: XY, tip: XY) -> list[Mark]:
    style = LineStyle(0.25, color=QUIET_INK)
    angle = atan2(tip[1] - start[1], tip[0] - start[0])
    return [stroke((start, tip), style), arrow_head(tip, angle, QUIET_INK)]
