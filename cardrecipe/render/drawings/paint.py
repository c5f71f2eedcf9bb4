"""Paper as it looks in a drawing: its colour, a light pattern by kind, its edge and its shadow."""

from functools import lru_cache
from typing import NamedTuple

from cardrecipe.model.papers import Paper
from cardrecipe.model.remembered import once_for_each
from cardrecipe.render.drawings.colors import (
    PAGE,
    SHADOW,
    edge_on,
    mixed,
    motif_on,
    opacity,
    paper_color,
)
from cardrecipe.render.drawings.lines import EDGE, OUTLINE
from cardrecipe.render.drawings.marks import Box, Mark
from cardrecipe.render.drawings.shapes import KEPT
from cardrecipe.render.drawings.svg import XY, Markup, element
from cardrecipe.solve.sized import SizedCard

TILE = 4.0  # mm from one motif of a pattern to the next


class Look(NamedTuple):
    """A paper's `fill`, its `pattern` (None, "sprigs" that point up, "dots", "sheen") and opacity."""

    fill: str
    pattern: str | None = None
    opacity: float | None = None

    @property
    def seen(self) -> str:
        """The colour that is seen where it lies on the white page."""
        return self.fill if self.opacity is None else mixed(PAGE, self.fill, self.opacity)


def paper_look(card: SizedCard, name: str | None) -> Look:
    """How the paper called `name` is painted."""
    looks = _looks(card)
    return looks.get(name) or looks[None]


@once_for_each
def _looks(card: SizedCard) -> dict[str | None, Look]:
    """How every paper is painted, and what has none."""
    papers = card.papers
    return {
        name: Look(
            paper_color(papers, name), _pattern(papers.get(name) if name else None), opacity(papers, name)
        )
        for name in (*papers, None)
    }


@lru_cache(maxsize=256)  # a maker may write any colour
def pale(look: Look) -> Look:
    """A quieter version, for what is already there."""
    return look._replace(fill=mixed(look.fill, PAGE, 0.5))


def inside_of(look: Look) -> Look:
    """How the inside is drawn where both faces of one sheet are seen: much paler."""
    return Look(mixed(look.fill, PAGE, 0.74))


def tint(look: Look) -> Look:
    """A mere breath of the paper's colour, for plans that carry many lines and numbers."""
    return Look(mixed(look.fill, PAGE, 0.82), None, None)


def painted(
    path: str,
    box: Box,
    look: Look,
    pattern_id: str,
    turn: float = 0.0,
    strong: bool = False,
    lie: XY | None = None,
) -> Mark:
    """The shape `path` in paper; a pattern is turned by `turn` degrees with the piece. `lie` tells how far a
    mm down a slanted face goes to the right and down in the picture.

    `pattern_id` must be the picture's own and used once in it. `strong` edges mark the piece that
    the picture is about.
    """
    if look.pattern is None:
        return _plain(path, box, look, strong)
    style = OUTLINE if strong else EDGE
    flat = element("path", d=path, fill=look.fill, fill_rule="evenodd", fill_opacity=look.opacity)
    over = element(
        "path",
        d=path,
        fill=f"url(#{pattern_id})",
        fill_rule="evenodd",
        stroke=edge_on(look.fill),
        stroke_width=style.width,
        stroke_linejoin="round",
    )
    return Mark(Markup(_tile(look, pattern_id, box, turn, lie) + flat + over), box.grown(style.width / 2))


@lru_cache(maxsize=KEPT)
def _plain(path: str, box: Box, look: Look, strong: bool) -> Mark:
    """A shape in paper without a pattern."""
    style = OUTLINE if strong else EDGE
    shape = element(
        "path",
        d=path,
        fill=look.fill,
        fill_rule="evenodd",
        fill_opacity=look.opacity,
        stroke=edge_on(look.fill),
        stroke_width=style.width,
        stroke_linejoin="round",
    )
    return Mark(shape, box.grown(style.width / 2))


@lru_cache(maxsize=KEPT)
def shadow(path: str, box: Box, height: float, *, is_soft: bool = True) -> Mark:
    """What a piece throws that stands `height` mm above what is beneath: down and to the right. In a small
    picture it need not be soft."""
    move = 0.35 + 0.3 * min(height, 4.0)
    steps = [
        element(
            "path",
            d=path,
            fill=SHADOW,
            fill_rule="evenodd",
            fill_opacity=0.13 if is_soft else 0.25,
            transform=f"translate({move * share:.3f} {move * share:.3f})",
        )
        for share in ((1.0, 0.72, 0.45) if is_soft else (0.8,))
    ]
    return Mark(Markup("".join(steps)), Box(box.left, box.top, box.right + move, box.bottom + move))


def _pattern(paper: Paper | None) -> str | None:
    if paper is None:
        return None
    if paper.kind in ("vellum", "acetate"):
        return "sheen"
    if paper.kind != "patterned":
        return None
    return "sprigs" if paper.one_way else "dots"


def _tile(look: Look, pattern_id: str, box: Box, turn: float, lie: XY | None) -> Markup:
    """One repeat, starting at the shape's left top so that a piece looks the same wherever it lies."""
    color = motif_on(look.seen)
    place = f"translate({box.left:.3f} {box.top:.3f}) rotate({turn:.3f})"
    if lie is not None:
        place = f"matrix(1 0 {lie[0]:.3f} {lie[1]:.3f} {box.left:.3f} {box.top:.3f})"
    motif = {"sprigs": _sprig, "dots": _dots, "sheen": _sheen}[look.pattern or "dots"](color)
    pattern = element(
        "pattern",
        motif,
        id=pattern_id,
        width=TILE,
        height=TILE,
        patternUnits="userSpaceOnUse",
        patternTransform=place,
    )
    return element("defs", pattern)


def _sprig(color: str) -> Markup:
    """A stem with two leaves: it has a top and a bottom, like the paper."""
    return element(
        "path",
        d="M2 3.3V1M2 2.6L1 1.7M2 2.6L3 1.7M2 1.6L1.4 1M2 1.6L2.6 1",
        fill="none",
        stroke=color,
        stroke_width=0.28,
        stroke_linecap="round",
    )


def _dots(color: str) -> Markup:
    near = element("circle", cx=1, cy=1, r=0.38, fill=color)
    return Markup(near + element("circle", cx=3, cy=3, r=0.38, fill=color))


def _sheen(color: str) -> Markup:
    return element("path", d="M0.6 3.4L3.4 0.6", stroke=color, stroke_width=0.18, fill="none")
