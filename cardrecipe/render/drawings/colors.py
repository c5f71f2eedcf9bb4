"""The one set of colours: ink on paper, two fold colours, and what a maker's own papers look like.

No colour is ever the only sign of a meaning; the line styles say the same without it.
"""

from collections.abc import Mapping
from functools import lru_cache

from cardrecipe.model.papers import Paper

PAGE = "#ffffff"
INK = "#2b2926"
QUIET_INK = "#5d5850"  # dimensions and small notes
VALLEY = "#12607f"
MOUNTAIN = "#a23c1c"
VALLEY_ON_DARK = "#a9dcf0"
MOUNTAIN_ON_DARK = "#ffc9ad"
INK_ON_DARK = "#fdfaf4"
ARROW = "#8c4a00"  # what moves
SHADOW = "#2b2926"
MARKED_AREA = "#8a8378"  # hatching over a part that is meant

READABLE = 4.5  # WCAG 2.2, 1.4.3, for text of any size
VISIBLE = 3.0  # WCAG 2.2, 1.4.11, for lines that carry a meaning
BY_KIND = {
    "cardstock": ("#e8dcc4", "#cfdccf", "#d9cfe0", "#efd3c6"),
    "patterned": ("#d5e3d3", "#f1dfb8", "#e6d2dc", "#cfe0ea"),
    "plain": ("#f6f1e6", "#ece9e2", "#f3ebe8", "#e9eeea"),
    "vellum": ("#eef0ec", "#e6ebee", "#f0ebe6", "#ebeff0"),
    "acetate": ("#e3eef0", "#e3eef0", "#e3eef0", "#e3eef0"),
}
NO_PAPER = "#f3eee3"
SEE_THROUGH = {"vellum": 0.72, "acetate": 0.4}


def paper_color(papers: Mapping[str, Paper], name: str | None) -> str:
    """The paper's own colour, else one of ours by its kind and its place among those of that kind."""
    paper = papers.get(name) if name else None
    if paper is None:
        return NO_PAPER
    if paper.color:
        return six_digits(paper.color)
    ours = BY_KIND.get(paper.kind, BY_KIND["plain"])
    alike = [each.name for each in papers.values() if each.kind == paper.kind and not each.color]
    return ours[alike.index(paper.name) % len(ours)] if paper.name in alike else ours[0]


def opacity(papers: Mapping[str, Paper], name: str | None) -> float | None:
    """How much of what lies beneath a paper hides; None for all of it."""
    paper = papers.get(name) if name else None
    return SEE_THROUGH.get(paper.kind) if paper else None


def ink_on(fill: str) -> str:
    """A label ink that reaches 4.5:1 on `fill`; on middle tones only black or white does."""
    best = max((INK, INK_ON_DARK), key=lambda ink: contrast(ink, fill))
    if contrast(best, fill) >= READABLE:
        return best
    return max(("#000000", "#ffffff"), key=lambda ink: contrast(ink, fill))


def fold_color(direction: str, fill: str) -> str:
    """The line colour of a valley, a mountain or anything else on `fill`, at least 3:1."""
    pairs = {"valley": (VALLEY, VALLEY_ON_DARK), "mountain": (MOUNTAIN, MOUNTAIN_ON_DARK)}
    own = pairs.get(direction, (INK, INK_ON_DARK))
    best = max(own, key=lambda color: contrast(color, fill))
    return best if contrast(best, fill) >= VISIBLE else ink_on(fill)


def edge_on(fill: str) -> str:
    """The colour of a shape's own edge: ink on light papers, a lighter tone on dark ones."""
    return INK if contrast(INK, fill) >= VISIBLE else mixed(fill, PAGE, 0.5)


def motif_on(fill: str) -> str:
    """A pattern's colour: away from the label ink, so that words on a pattern stay readable."""
    if contrast(fill, PAGE) < 1.3:
        return mixed(fill, INK, 0.14)
    away = PAGE if ink_on(fill) in (INK, "#000000") else INK
    return mixed(fill, away, 0.42)


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two #rrggbb colours (WCAG 2.2, definition of contrast ratio)."""
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def mixed(color: str, other: str, share: float) -> str:
    """`color` with `share` (0 to 1) of `other` stirred in."""
    pairs = zip(_channels(color), _channels(other), strict=True)
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in pairs)


def six_digits(color: str) -> str:
    """`#rgb` or `#rrggbb` as `#rrggbb`."""
    digits = color.lstrip("#").lower()
    return "#" + ("".join(2 * digit for digit in digits) if len(digits) == 3 else digits)


def _channels(color: str) -> tuple[int, int, int]:
    return int(color[1:3], 16), int(color[3:5], 16), int(color[5:7], 16)


@lru_cache(maxsize=256)  # a maker may write any colour
def _luminance(color: str) -> float:
    red, green, blue = (_linear(channel / 255) for channel in _channels(color))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else float(((channel + 0.055) / 1.055) ** 2.4)
