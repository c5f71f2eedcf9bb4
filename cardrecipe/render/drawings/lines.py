"""The line styles of all drawings: the folding literature's dashes, with colour as a second sign.

Valley dashed and mountain dash-dot follow the convention of folding diagrams (Yoshizawa and
Randlett); widths are from the series 0.18, 0.25, 0.35, 0.5 mm of ISO 128 (from memory).
"""

from collections.abc import Sequence
from math import atan2, cos, sin
from typing import NamedTuple

from cardrecipe.render.drawings.colors import ARROW, INK, PAGE, QUIET_INK, fold_color
from cardrecipe.render.drawings.marks import Box, Mark, box_of
from cardrecipe.render.drawings.svg import XY, element, line, number, ring


class LineStyle(NamedTuple):
    """`width` in mm; `dash` as SVG writes it, in mm, or None for a solid line."""

    width: float
    dash: str | None = None
    color: str = INK
    round_ends: bool = False


EDGE = LineStyle(0.25)
OUTLINE = LineStyle(0.35)
SLIT = LineStyle(0.7)
HIDDEN = LineStyle(0.35, "0.01 0.9", round_ends=True)
DIMENSION = LineStyle(0.18, color=QUIET_INK)
ZONE = LineStyle(0.25, "0.9 0.7", color=QUIET_INK)
MOTION = LineStyle(0.7, color=ARROW, round_ends=True)
FOLDS = {
    "valley": LineStyle(0.35, "2.2 1.1"),
    "mountain": LineStyle(0.35, "4 1 0.5 1"),
    "slit": SLIT,
}
EMPHASIS = 2.0  # how much wider the score of the present step is drawn
HEAD_LENGTH = 1.8
HEAD_HALF_WIDTH = 0.42


def stroke(points: Sequence[XY], style: LineStyle) -> Mark:
    """An open line through `points`."""
    markup = element(
        "path",
        d=line(points),
        fill="none",
        stroke=style.color,
        stroke_width=style.width,
        stroke_dasharray=style.dash,
        stroke_linecap="round" if style.round_ends else None,
    )
    return Mark(markup, box_of(points).grown(style.width / 2))


def fold_line(
    start: XY,
    end: XY,
    direction: str,
    fill: str = PAGE,
    emphasised: bool = False,
    width: float | None = None,
) -> Mark:
    """A score (or slit) on paper of colour `fill`, in the style of its direction."""
    style = FOLDS[direction]
    wide = (width or style.width) * (EMPHASIS if emphasised else 1)
    return stroke((start, end), style._replace(width=wide, color=fold_color(direction, fill)))


def arrow_head(
    tip: XY, angle: float, color: str, size: float = 1.0, edge: str | None = None
) -> Mark:
    """A slim filled head with its point at `tip`, pointing along `angle` (radians)."""
    back = tip[0] - HEAD_LENGTH * size * cos(angle), tip[1] - HEAD_LENGTH * size * sin(angle)
    side = HEAD_HALF_WIDTH * size * -sin(angle), HEAD_HALF_WIDTH * size * cos(angle)
    corners = (tip, (back[0] + side[0], back[1] + side[1]), (back[0] - side[0], back[1] - side[1]))
    markup = element(
        "path",
        d=ring(corners),
        fill=color,
        stroke=edge,
        stroke_width=0.3 if edge else None,
        stroke_linejoin="round" if edge else None,
    )
    return Mark(markup, box_of(corners).grown(0.15 if edge else 0.0))


def motion_arrow(points: Sequence[XY], style: LineStyle = MOTION) -> list[Mark]:
    """The path that paper travels, from the first point to a bold head at the last."""
    (x, y), (before_x, before_y) = points[-1], points[-2]
    angle = atan2(y - before_y, x - before_x)
    head = arrow_head((x, y), angle, style.color, 1.9)
    inset = HEAD_LENGTH * 1.5
    shaft = [*points[:-1], (x - inset * cos(angle), y - inset * sin(angle))]
    return [stroke(_without_overrun(shaft), style), head]


def arrow_behind(points: Sequence[XY]) -> list[Mark]:
    """What is seen of such a path through the paper that hides it: dotted, its head hollow."""
    (x, y), (before_x, before_y) = points[-1], points[-2]
    angle = atan2(y - before_y, x - before_x)
    size = 1.9
    head = arrow_head((x, y), angle, PAGE, size, edge=MOTION.color)
    inset = HEAD_LENGTH * size
    shaft = [*points[:-1], (x - inset * cos(angle), y - inset * sin(angle))]
    style = MOTION._replace(width=0.6, dash="0.01 1.3")
    return [stroke(_without_overrun(shaft), style), head]


def fold_sign(center: XY, direction: str, width: float = 4.2) -> list[Mark]:
    """The edge of the paper as one sees it from the end: a V for valley, a roof for mountain.

    A short bar under the bend marks the table; the wings point where the paper goes.
    """
    x, y = center
    half, rise = width / 2, 1.1
    bend, wing = (y + rise, y - rise) if direction == "valley" else (y - rise, y + rise)
    style = LineStyle(0.5, color=fold_color(direction, PAGE), round_ends=True)
    return [stroke(((x - half, wing), (x, bend), (x + half, wing)), style)]


def dot(center: XY, radius: float, color: str = QUIET_INK) -> Mark:
    """A small filled disc."""
    x, y = center
    markup = element("circle", cx=x, cy=y, r=radius, fill=color)
    return Mark(markup, Box(x - radius, y - radius, x + radius, y + radius))


def disc(center: XY, radius: float, color: str) -> Mark:
    """A ring with a white ground, for a number to stand in."""
    x, y = center
    markup = element(
        "circle", cx=x, cy=y, r=radius, fill=PAGE, stroke=color, stroke_width=number(0.35)
    )
    return Mark(markup, Box(x - radius, y - radius, x + radius, y + radius).grown(0.18))


def _without_overrun(points: list[XY]) -> list[XY]:
    """Drop the points that the shortened last one has passed, so that no shaft doubles back."""
    last = points[-1]
    kept = list(points[:-1])
    while len(kept) > 1 and _distance(kept[-1], last) < 0.8:
        kept.pop()
    return [*kept, last]


def _distance(one: XY, other: XY) -> float:
    return float(((one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2) ** 0.5)
