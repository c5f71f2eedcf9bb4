"""The names of a piece's sections and the numbers of its scores, where they have room, in mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from math import dist
from typing import NamedTuple

from cardrecipe.model.lengths import MM_PER
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.lettering import text_width
from cardrecipe.render.drawings.marks import Box
from cardrecipe.render.drawings.name_place import Segment, crosses, free_middle
from cardrecipe.render.true_scale.outlines import TrueLine, end_of, ways_of_scores
from cardrecipe.render.true_scale.strokes import clipped
from cardrecipe.solve.sized import SizedPiece

AIR = 1.5  # mm between a word and a line
NUMBER_AIR = 0.7  # mm between a number and its line
PARTS = (0.06, 0.94, 0.12, 0.88, 0.2, 0.8, 0.35, 0.65, 0.5)  # of a line, at which its number is tried
HEIGHT = 1.3  # of a line of words, in parts of its letters


class Word(NamedTuple):
    """A text by its middle; `turned` reads from bottom to top."""

    text: str
    x: float
    y: float
    turned: bool
    size: float  # of its letters, in mm

    @property
    def box(self) -> Box:
        half, tall = text_width(self.text, self.size) / 2, self.size * HEIGHT / 2
        wide, high = (tall, half) if self.turned else (half, tall)
        return Box(self.x - wide, self.y - high, self.x + wide, self.y + high)


def section_words(
    piece: SizedPiece, lines: Sequence[TrueLine], unit: str, size: float, joins: Sequence[Segment] = ()
) -> tuple[Word, ...]:
    """A word for each section with room for it; `lines` are the piece's own, in mm, `joins` other lines."""
    return tuple(_words(piece, [*joins, *segments(lines)], float(MM_PER[unit]), size))


def score_words(
    piece: SizedPiece,
    unit: str,
    window: Box,
    in_the_way: Sequence[Segment],
    taken: Sequence[Word],
    size: float,
) -> tuple[Word, ...]:
    """The number of each score beside its line, in a window of the piece; none where it has no room."""
    scale, words = float(MM_PER[unit]), list(taken)
    for score, ways in ways_of_scores(piece):
        whole = [((float(ax) * scale, float(ay) * scale), (float(bx) * scale, float(by) * scale))
                 for (ax, ay), (bx, by) in ways]  # fmt: skip
        seen = [part for part in (clipped(*way, window) for way in whole) if part is not None]
        if score.number and seen:
            longest = max(seen, key=lambda way: dist(*way))
            words += _beside(str(score.number), longest, window, in_the_way, words, size)
    return tuple(words[len(taken) :])


def _beside(
    text: str, way: Segment, window: Box, in_the_way: Sequence[Segment], taken: Sequence[Word], size: float
) -> list[Word]:
    """A word at the first place along a line that is free: near its ends first, on either side of it."""
    (ax, ay), (bx, by) = way
    length = dist(*way)
    across, down = -(by - ay) / length, (bx - ax) / length
    away = (abs(across) * text_width(text, size) + abs(down) * size * HEIGHT) / 2 + NUMBER_AIR
    for part, side in product(PARTS, (1, -1)):
        x = ax + (bx - ax) * part + side * across * away
        y = ay + (by - ay) * part + side * down * away
        word = Word(text, x, y, False, size)
        is_free = window.holds(word.box) and not any(word.box.meets(each.box) for each in taken)
        if is_free and not any(crosses(line, word.box) for line in in_the_way):
            return [word]
    return []


def _words(
    piece: SizedPiece, in_the_way: Sequence[Segment], scale: float, size: float
) -> Iterator[Word]:
    holes = [[(float(x) * scale, float(y) * scale) for x, y in window] for window in piece.windows]
    for section in piece.sections:
        text = spoken(section.name).replace(" ", "\u00a0")
        outline = [(float(x) * scale, float(y) * scale) for x, y in section.outline]
        left, top = float(section.x) * scale, float(section.y) * scale
        room = Box(left, top, left + float(section.width) * scale, top + float(section.height) * scale)
        block = text_width(text, size) + 2 * AIR, size * HEIGHT + 2 * AIR
        for turned, needed in ((False, block), (True, block[::-1])):
            middle = free_middle(room, outline, in_the_way, needed, holes)
            if middle is not None:
                yield Word(text, *middle, turned, size)
                break


def segments(lines: Sequence[TrueLine]) -> list[Segment]:
    """Lines as straight stretches; a round corner as its chord."""
    return [each for line in lines for each in _stretches(line)]


def _stretches(line: TrueLine) -> Iterator[Segment]:
    here = line.start
    for move in line.moves:
        yield (float(here[0]), float(here[1])), (float(end_of(move)[0]), float(end_of(move)[1]))
        here = end_of(move)
