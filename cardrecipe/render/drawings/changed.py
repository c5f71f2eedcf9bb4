"""How a drawing marks what is not as it was: a heavy dashed line, seen on any paper and without colour."""

from cardrecipe.render.drawings.colors import MOUNTAIN, PAGE
from cardrecipe.render.drawings.lines import LineStyle
from cardrecipe.render.drawings.marks import Box, Mark
from cardrecipe.render.drawings.svg import element

CHANGED = LineStyle(0.5, "1.4 0.9", color=MOUNTAIN)
HALO = 0.9  # mm, of the page's white beneath the dashes


def ringed(path: str, box: Box) -> list[Mark]:
    """The heavy dashed line along `path`, on a line of the page's white."""
    halo = element("path", d=path, fill="none", stroke=PAGE, stroke_width=HALO)
    dashes = element(
        "path", d=path, fill="none", stroke=CHANGED.color, stroke_width=CHANGED.width,
        stroke_dasharray=CHANGED.dash,
    )  # fmt: skip
    return [Mark(halo, box.grown(HALO / 2)), Mark(dashes, box)]
