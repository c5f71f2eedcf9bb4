"""A scored piece as it lies flat, inside up: paper, scores, slits and the names of its sections."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import product
from typing import NamedTuple

from cardrecipe.fold.folded import Outline
from cardrecipe.fold.openings import openings
from cardrecipe.fold.outlines import frame_outline
from cardrecipe.model.lengths import written
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.colors import ink_on
from cardrecipe.render.drawings.lettering import (
    NORMAL,
    SMALL,
    Lettering,
    label,
    text_width,
)
from cardrecipe.render.drawings.lines import fold_line
from cardrecipe.render.drawings.marks import Box, Mark
from cardrecipe.render.drawings.name_place import Segment, free_middle
from cardrecipe.render.drawings.paint import Look, painted
from cardrecipe.render.drawings.shapes import rectangle, shape_path
from cardrecipe.render.drawings.sizes import scaled, scaled_line
from cardrecipe.render.drawings.svg import XY, ring
from cardrecipe.solve.sized import SizedPiece, SizedSection

AIR = 0.8  # mm kept free round a word inside a section
LEADING = 1.15


class Sheet(NamedTuple):
    """A flat piece in the picture, its left top at (0, 0)."""

    piece: SizedPiece
    unit: str
    scale: float
    look: Look

    @property
    def width(self) -> float:
        return float(self.piece.width) * self.scale

    @property
    def height(self) -> float:
        return float(self.piece.height) * self.scale


def sheet_marks(sheet: Sheet, pattern_id: str, emphasised: Sequence[int] = ()) -> list[Mark]:
    """Paper and lines; scores whose numbers are `emphasised` are drawn bolder."""
    box = Box(0, 0, sheet.width, sheet.height)
    corner = float(sheet.piece.corner_radius or 0) * sheet.scale
    path = shape_path("base", rectangle(0, 0, sheet.width, sheet.height), corner)
    path += "".join(ring(scaled(window, sheet.scale)) for window in _windows(sheet.piece))
    paper = painted(path, box, sheet.look, pattern_id, strong=True)
    scores = [
        fold_line(
            *scaled_line(score.start, score.end, sheet.scale),
            score.direction,
            sheet.look.fill,
            score.number in emphasised,
        )
        for score in sheet.piece.scores
    ]
    return [paper, *scores]


def _windows(piece: SizedPiece) -> tuple[Outline, ...]:
    """What is cut out, also from the edge: clear of each other, for an even-odd fill."""
    return openings(frame_outline(piece), piece.windows)


def section_names(sheet: Sheet, axis: str) -> tuple[list[Mark], list[SizedSection]]:
    """Each section's name with its size along `axis`, and the sections that have no room for it."""
    marks: list[Mark] = []
    left_over: list[SizedSection] = []
    for section in sheet.piece.sections:
        named = _name_within(sheet, section, axis, _widest_of_its_size(sheet, section, axis))
        marks += named
        if not named:
            left_over.append(section)
    return marks, left_over


def axis_point(axis: str, along: float, across: float) -> XY:
    """A point by its distance along the measured direction and across it."""
    return (along, across) if axis == "x" else (across, along)


def _widest_of_its_size(sheet: Sheet, section: SizedSection, axis: str) -> float:
    """Sections of one size carry their names alike, so the widest name of them decides."""
    alike = [
        each
        for each in sheet.piece.sections
        if (each.width, each.height) == (section.width, section.height)
    ]
    sizes = [text_width(written(_measured(each, axis), sheet.unit), NORMAL, True) for each in alike]
    return max([text_width(spoken(each.name), NORMAL) for each in alike] + sizes)


def _name_within(sheet: Sheet, section: SizedSection, axis: str, widest: float) -> list[Mark]:
    """Name over size, lying or standing, in the larger or the smaller letters; else on one line."""
    k = sheet.scale
    room = Box(
        float(section.x) * k + AIR,
        float(section.y) * k + AIR,
        float(section.x + section.width) * k - AIR,
        float(section.y + section.height) * k - AIR,
    )
    outline, lines = scaled(section.outline, k), lines_in_the_way(sheet, section)
    holes = [scaled(window, k) for window in sheet.piece.windows]
    size_text = written(_measured(section, axis), sheet.unit)
    color, said = ink_on(sheet.look.fill), spoken(section.name)
    for size in (NORMAL, SMALL):
        name, number = Lettering(size, color=color), Lettering(size, True, color=color)
        drop, needed = size * LEADING / 2, widest * size / NORMAL
        middle = free_middle(room, outline, lines, (needed, 2 * size * LEADING), holes)
        if middle is not None:
            x, y = middle
            return [label(x, y - drop, said, name), label(x, y + drop, size_text, number)]
        middle = free_middle(room, outline, lines, (2 * size * LEADING, needed), holes)
        if middle is not None:
            x, y = middle
            standing = [(x - drop, said, name), (x + drop, size_text, number)]
            return [label(at, y, text, look._replace(turned=-90)) for at, text, look in standing]
    text = f"{said}  {size_text}"
    for size, turned in product((NORMAL, SMALL), (0, -90)):
        block = text_width(text, size), size * 1.1
        middle = free_middle(room, outline, lines, block if turned == 0 else block[::-1], holes)
        if middle is not None:
            return [label(*middle, text, Lettering(size, color=color, turned=turned))]
    return []


def lines_in_the_way(sheet: Sheet, section: SizedSection) -> list[Segment]:
    """The edges of a section, those of the openings, and the scores and slits."""
    rings = [section.outline, *sheet.piece.windows]
    edges = [pair for ring_of in rings for pair in zip(ring_of, (*ring_of[1:], *ring_of[:1]), strict=True)]
    scores = [(score.start, score.end) for score in sheet.piece.scores]
    return [scaled_line(start, end, sheet.scale) for start, end in (*edges, *scores)]


def _measured(section: SizedSection, axis: str) -> Fraction:
    return section.width if axis == "x" else section.height
