"""The shipped type against its own tables."""

from importlib.resources import files
from pathlib import Path

import pytest

from cardrecipe.render.page_style import CORE

FONTS = Path(str(files("cardrecipe.render") / "fonts"))
NEEDED = "\u202f\u00a0\u2044\u00d7\u2212\u2013\u2014\u2019\u201c\u201d\u2026\u00b0\u00bd\u00e9\u0159"


def _characters(name: str) -> set[int]:
    fonttools = pytest.importorskip("fontTools.ttLib")
    return set(fonttools.TTFont(FONTS / name).getBestCmap())


def test_coverage_is_what_all_three_fonts_have() -> None:
    styles = ("Regular", "Bold", "Italic")
    common = set.intersection(*(_characters(f"Nunito-{style}.ttf") for style in styles))
    listed: set[int] = set()
    for line in (FONTS / "coverage.txt").read_text("ascii").split():
        first, last = (int(number, 16) for number in line.split("-"))
        listed |= set(range(first, last + 1))
    assert listed == {code for code in common if code >= 0x20}


@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_subset_has_what_a_page_needs(style: str) -> None:
    pytest.importorskip("brotli")
    name = f"Nunito-{style}.subset.woff2"
    assert {ord(character) for character in NEEDED} <= _characters(name)
    assert (FONTS / name).stat().st_size < 20_000


@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_subset_keeps_fractions(style: str) -> None:
    pytest.importorskip("brotli")
    fonttools = pytest.importorskip("fontTools.ttLib")
    font = fonttools.TTFont(FONTS / f"Nunito-{style}.subset.woff2")
    features = {record.FeatureTag for record in font["GSUB"].table.FeatureList.FeatureRecord}
    assert {"frac", "numr", "dnom"} <= features


@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_the_core_of_the_type_is_what_the_page_takes_it_for(style: str) -> None:
    pytest.importorskip("brotli")
    fonttools = pytest.importorskip("fontTools.ttLib")
    name = f"Nunito-{style}.core.woff2"
    assert _characters(name) == set(map(ord, CORE))
    assert (FONTS / name).stat().st_size < 10_000
    font = fonttools.TTFont(FONTS / name)
    features = {record.FeatureTag for record in font["GSUB"].table.FeatureList.FeatureRecord}
    assert {"frac", "numr", "dnom"} <= features
    assert ("GPOS" in font) == (style == "Bold")  # kerning where it is seen: in headings
