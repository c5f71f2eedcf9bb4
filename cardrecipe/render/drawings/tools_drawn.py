"""Things that a hand takes up, as small signs: a stamp, a pencil, a gem, a cord; and where they go."""

from math import cos, pi, sin

from cardrecipe.render.drawings.colors import INK, PAGE, QUIET_INK
from cardrecipe.render.drawings.lines import LineStyle, stroke
from cardrecipe.render.drawings.marks import Box, Mark, box_of
from cardrecipe.render.drawings.so_far import small_arrow
from cardrecipe.render.drawings.svg import XY, element, ring

LINE = 0.35
AWAY = 6.0  # mm from a piece to a thing beside it
CLOCK = 1.7  # mm, radius
TIED = ("ribbon", "cord")


def stamp_block(edge: XY, target: XY) -> list[Mark]:
    """A stamp above the middle of a piece's upper edge, and the way it goes."""
    x, y = edge
    bottom = y - 5.2
    block = ((x - 4, bottom - 1.6), (x + 4, bottom - 1.6), (x + 4, bottom), (x - 4, bottom))
    top, low = bottom - 4.4, bottom - 1.6
    handle = ((x - 0.9, top), (x + 0.9, top), (x + 1.6, low), (x - 1.6, low))
    arrow = small_arrow(((x, bottom + 0.8), (x, min(y + 1.2, target[1]))))
    return [_outlined(block), _outlined(handle), *arrow]


def pencil(corner: XY) -> list[Mark]:
    """A pencil that comes from the right above, its point on the piece."""
    x, y = corner[0] - 3.0, corner[1] + 2.6
    along, across = (cos(-pi / 4), sin(-pi / 4)), (sin(pi / 4), cos(pi / 4))

    def at(far: float, aside: float) -> XY:
        return x + along[0] * far + across[0] * aside, y + along[1] * far + across[1] * aside

    body = (at(2.2, -0.8), at(9.0, -0.8), at(9.0, 0.8), at(2.2, 0.8))
    return [_outlined((at(0, 0), at(2.2, -0.8), at(2.2, 0.8))), _outlined(body)]


def item_beside(item: str, box: Box, target: XY) -> list[Mark]:
    """A thing on the right of a piece, and an arrow from it to where it goes; without one the arrow alone."""
    x, y = box.right + AWAY, min(max(target[1], box.top + 2.0), box.bottom)
    start = (x - 1.8, y) if item else (box.right + 4.6, y)
    arrow = small_arrow((start, ((start[0] + target[0]) / 2, y), (max(target[0] + 1.6, box.left), y)))
    return [*_thing(item, (x, y)), *arrow] if item else arrow


def clock(center: XY) -> list[Mark]:
    """A clock: wait here."""
    x, y = center
    face = element("circle", cx=x, cy=y, r=CLOCK, fill=PAGE, stroke=INK, stroke_width=LINE)
    hands = stroke(((x, y - CLOCK * 0.7), (x, y), (x + CLOCK * 0.5, y)), LineStyle(LINE))
    return [Mark(face, Box(x - CLOCK, y - CLOCK, x + CLOCK, y + CLOCK).grown(LINE / 2)), hands]


def _thing(item: str, center: XY) -> list[Mark]:
    x, y = center
    if item in TIED:
        waves = [(x + step * 0.5, y + 1.2 * sin(step * pi / 3)) for step in range(17)]
        width = 0.9 if item == "ribbon" else 0.5
        return [stroke(waves, LineStyle(width, color=QUIET_INK, round_ends=True))]
    if item == "gem":
        return [_outlined(((x, y - 1.5), (x + 1.5, y), (x, y + 1.5), (x - 1.5, y)))]
    markup = element("circle", cx=x, cy=y, r=1.4, fill=PAGE, stroke=INK, stroke_width=LINE)
    return [Mark(markup, Box(x - 1.6, y - 1.6, x + 1.6, y + 1.6))]


def _outlined(points: tuple[XY, ...]) -> Mark:
    look = {"fill": PAGE, "stroke": INK, "stroke_linejoin": "round"}
    markup = element("path", d=ring(points), stroke_width=LINE, **look)
    return Mark(markup, box_of(points).grown(LINE / 2))
