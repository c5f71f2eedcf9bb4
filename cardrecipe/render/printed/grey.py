"""Colours to greys of the same luminance, so that every contrast stays.

Grey alone would not tell all papers apart: patterned ones keep their motif, and near greys are hatched.
"""

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING

from cardrecipe.render.drawings.colors import INK, PAGE, contrast, ink_on, mixed, paper_color, six_digits

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing
    from cardrecipe.solve.sized import SizedCard

HATCHINGS = (
    "",
    "M-1 1L1 -1M0 3L3 0M2 4L4 2",
    "M-1 2L1 4M0 0L3 3M2 -1L4 1",
    "M0 1.5H3",
    "M1.5 0V3",
    "M0 1.5H3M1.5 0V3",
)
"""Path data of one tile of 3 mm each: none, rising, falling, level, upright, crossed."""

TOLD_APART = (
    2.0  # the least contrast of two greys that are seen as two (WCAG 2.2 asks more of lines and letters)
)
_COLOR = re.compile("#(?:[0-9a-fA-F]{6}|[0-9a-fA-F]{3})(?=[\"';)])")
_FILLED = re.compile('<path [^<>]*?fill="(#[0-9a-fA-F]{6})"[^<>]*/>')
_LINES = re.compile(r' (?:stroke(?:-[a-z]+)?|fill-opacity)="[^"]*"')
_PALER = (0.0, 0.5, 0.74, 0.82)  # the shares of page colour in which drawings show a paper


def grey(color: str) -> str:
    """The grey with the luminance of `color` (`#rrggbb` or `#rgb`)."""
    return _grey(six_digits(color))


def grey_pictures(pictures: "Mapping[str, Drawing]", card: "SizedCard") -> "dict[str, Drawing]":
    """The drawings without colour, each paper hatched as `hatchings` says."""
    hatched = _hatched_fills(card)
    return {name: made._replace(svg=_in_grey(made.svg, hatched)) for name, made in pictures.items()}


def hatchings(card: "SizedCard") -> dict[str, int]:
    """For each paper by name the place of its hatching in `HATCHINGS`: the first that no other paper has
    whose motif is the same and whose grey is near."""
    from cardrecipe.render.drawings.paint import paper_look

    looks = {name: paper_look(card, name) for name in card.papers}
    found: dict[str, int] = {}
    for name, look in looks.items():
        near = {
            place
            for other, place in found.items()
            if looks[other].pattern == look.pattern and contrast(looks[other].fill, look.fill) < TOLD_APART
        }
        found[name] = next((place for place in range(len(HATCHINGS)) if place not in near), 0)
    return found


def _hatched_fills(card: "SizedCard") -> dict[str, int]:
    """The hatching of each fill that a drawing may show a paper in; one that two papers share has none."""
    fills: dict[str, set[int]] = {}
    for name, place in hatchings(card).items():
        own = paper_color(card.papers, name)
        for share in _PALER:
            fills.setdefault(mixed(own, PAGE, share), set()).add(place)
    return {fill: min(places) for fill, places in fills.items() if len(places) == 1 and min(places)}


def _in_grey(svg: str, hatched: Mapping[str, int]) -> str:
    used: dict[str, str] = {}

    def with_hatching(tag: re.Match[str]) -> str:
        fill = tag[1].lower()
        if fill not in hatched:
            return tag[0]
        used.setdefault(fill, f"hatching-{len(used)}")
        over = _LINES.sub("", tag[0]).replace(f'fill="{tag[1]}"', f'fill="url(#{used[fill]})"')
        return tag[0] + over

    marked = _FILLED.sub(with_hatching, svg)
    if used:
        tiles = "".join(_tile(fill, name, hatched[fill]) for fill, name in used.items())
        marked = marked.replace("</desc>", f"</desc><defs>{tiles}</defs>", 1)
    return _COLOR.sub(lambda color: grey(color[0]), marked)


def _tile(fill: str, name: str, place: int) -> str:
    away = PAGE if ink_on(fill) in (INK, "#000000") else INK
    # On a fill near the page's white only a darker line is seen; it stays light enough for words on it.
    color = mixed(fill, INK, 0.16) if _luminance(fill) > 0.6 else mixed(fill, away, 0.3)
    return (
        f'<pattern id="{name}" width="3" height="3" patternUnits="userSpaceOnUse">'
        f'<path d="{HATCHINGS[place]}" fill="none" stroke="{color}" stroke-width="0.3"/></pattern>'
    )


@lru_cache(maxsize=256)  # a maker may write any colour
def _grey(color: str) -> str:
    light = _luminance(color)
    channel = 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
    return f"#{round(255 * channel):02x}" + f"{round(255 * channel):02x}" * 2


def _luminance(color: str) -> float:
    """Relative luminance (WCAG 2.2)."""
    channels = (int(color[start : start + 2], 16) / 255 for start in (1, 3, 5))
    linear = (each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in channels)
    red, green, blue = linear
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
