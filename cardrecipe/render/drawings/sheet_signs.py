"""The signs beside a sheet that is to be cut: which way its pattern stands, or its grain runs."""

from math import atan2

from cardrecipe.model.papers import Paper
from cardrecipe.render.drawings.colors import QUIET_INK
from cardrecipe.render.drawings.lettering import SMALL, Lettering, label, text_width
from cardrecipe.render.drawings.lines import LineStyle, arrow_head, stroke
from cardrecipe.render.drawings.marks import Box, Mark
from cardrecipe.render.drawings.svg import XY


def sheet_signs(paper: Paper, whole: Box, away: float) -> list[Mark]:
    """Which way the pattern stands, or the grain runs, at the left of the sheet and `away` mm from it."""
    x, middle = whole.left - away - 3.4, whole.middle[1]
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
    x, y = whole.middle[0], whole.top - away - 3.0
    half = text_width("grain", SMALL) / 2 + 0.8
    ends = [((x - half, y), (x - half - 5, y)), ((x + half, y), (x + half + 5, y))]
    return [label(x, y, "grain", look._replace(turned=0)), *(mark for end in ends for mark in _arrow(*end))]


def _arrow(start: XY, tip: XY) -> list[Mark]:
    style = LineStyle(0.25, color=QUIET_INK)
    angle = atan2(tip[1] - start[1], tip[0] - start[0])
    return [stroke((start, tip), style), arrow_head(tip, angle, QUIET_INK)]
