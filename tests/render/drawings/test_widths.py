"""The table of widths against the fonts that are shipped."""

import json
from pathlib import Path

import pytest

import cardrecipe.render
from cardrecipe.render.drawings.lettering import FRACTION_DIGIT

FONTS = Path(cardrecipe.render.__file__).parent / "fonts"


@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_every_width_is_the_font_s_own(style: str) -> None:
    ttlib = pytest.importorskip("fontTools.ttLib")
    font = ttlib.TTFont(FONTS / f"Nunito-{style}.ttf")
    table = json.loads((FONTS / "advances.json").read_text("utf-8"))[style]
    glyphs, widths = font.getBestCmap(), font["hmtx"]
    assert table == {chr(code): widths[name][0] for code, name in glyphs.items()}
    for digit in ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"):
        assert widths[f"{digit}.numr"][0] == widths[f"{digit}.dnom"][0] == FRACTION_DIGIT
