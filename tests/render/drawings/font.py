"""The shipped fonts as fontTools reads them: how far a text runs and how high and deep its ink reaches.

What the drawing code knows of widths is its own table; nothing of it is used here.
"""

import re
from functools import cache
from pathlib import Path
from typing import NamedTuple

from fontTools.ttLib import TTFont

import cardrecipe.render

FOLDER = Path(cardrecipe.render.__file__).parent / "fonts"
UNKNOWN = 700  # thousandths, of a sign that this font has not: the drawings leave as much room
_FRACTION = re.compile("([0-9]+)\u2044([0-9]+)")


class Extent(NamedTuple):
    """In text sizes: the run of a text, and how far its ink reaches above and below the line."""

    width: float
    rise: float
    fall: float


class _Glyphs(NamedTuple):
    names: dict[int, str]
    advances: dict[str, float]
    heights: dict[str, tuple[float, float]]
    above: dict[str, str]  # the small digits over a fraction's bar
    below: dict[str, str]


@cache
def extent(text: str, style: str = "Regular") -> Extent:
    """A text set in Nunito of a style, with the small digits that U+2044 brings out by itself."""
    glyphs = _glyphs(style)
    names = list(_shaped(text, glyphs))
    width = sum(glyphs.advances.get(name, UNKNOWN / 1000) for name in names)
    reach = [glyphs.heights[name] for name in names if name in glyphs.heights]
    rise = max((high for _, high in reach), default=0.0)
    return Extent(width, rise, max((-low for low, _ in reach), default=0.0))


def _shaped(text: str, glyphs: _Glyphs) -> list[str]:
    names = [glyphs.names.get(ord(character), "") for character in text]
    for found in _FRACTION.finditer(text):
        for group, small in ((1, glyphs.above), (2, glyphs.below)):
            for at in range(*found.span(group)):
                names[at] = small[names[at]]
    return names


@cache
def _glyphs(style: str) -> _Glyphs:
    font = TTFont(FOLDER / f"Nunito-{style}.ttf")
    unit = font["head"].unitsPerEm
    outlines = font["glyf"]
    heights = {
        name: (outlines[name].yMin / unit, outlines[name].yMax / unit)
        for name in font.getGlyphOrder()
        if outlines[name].numberOfContours
    }
    advances = {name: width / unit for name, (width, _) in font["hmtx"].metrics.items()}
    return _Glyphs(font.getBestCmap(), advances, heights, _single(font, "numr"), _single(font, "dnom"))


def _single(font: TTFont, feature: str) -> dict[str, str]:
    """The glyphs that a feature puts in the place of others."""
    table = font["GSUB"].table
    numbers = {
        number
        for record in table.FeatureList.FeatureRecord
        if record.FeatureTag == feature
        for number in record.Feature.LookupListIndex
    }
    found: dict[str, str] = {}
    for number in sorted(numbers):
        for part in table.LookupList.Lookup[number].SubTable:
            found |= getattr(part, "ExtSubTable", part).mapping
    return found
