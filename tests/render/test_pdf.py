"""The PDF: page sizes, type, text, true scale, sameness, and what cannot be set."""

import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PageObject, PdfReader

from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.papers import Printing
from cardrecipe.render.pdf import MISSING_SIGN, missing_characters, render_pdf, typeset
from cardrecipe.render.pdf_data import sheet_data
from tests.render.hand_made_sheet import pictures, sheet
from tests.render.hostile import TEXTS, with_text

# Page sizes in points: 8.5 x 11 in, and 210 x 297 mm at 72/25.4 points a mm.
SIZES = {"letter": (612.0, 792.0), "a4": (595.2756, 841.8898)}


def read(of: Sheet, page: str = "letter") -> PdfReader:
    return PdfReader(BytesIO(render_pdf(of, pictures(of), Printing(page))))


def text(reader: PdfReader) -> str:
    """All text, without spaces: where a line breaks is not the point here."""
    return "".join("".join(page.extract_text().split()) for page in reader.pages)


def hand_made(**changes: object) -> Sheet:
    return sheet()._replace(**changes)  # type: ignore[arg-type]


@pytest.mark.parametrize("page", SIZES)
def test_page_size(page: str) -> None:
    for each in read(sheet(), page).pages:
        sizes = sorted((float(each.mediabox.width), float(each.mediabox.height)))
        assert sizes == pytest.approx(SIZES[page], abs=0.01)
        assert "/UserUnit" not in each


def test_only_our_fonts_and_all_of_them_embedded() -> None:
    found = {}
    for page in read(sheet()).pages:
        resources: Any = page["/Resources"].get_object()
        for font in resources.get("/Font", {}).values():
            base = font.get_object()
            inner = base["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
            found[str(base["/BaseFont"]).split("+")[-1]] = any(
                key in inner for key in ("/FontFile2", "/FontFile3")
            )
    assert found
    assert all(found.values())
    assert all(name.startswith("Nunito-") for name in found), found


def test_fractions_are_text() -> None:
    assert "17\u20448\u00d751\u20444in" in text(read(sheet()))


def test_is_tagged_and_has_title_and_language() -> None:
    reader = read(sheet())
    catalog: Any = reader.trailer["/Root"]
    assert catalog["/Lang"] == "en"
    assert catalog["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in catalog
    assert reader.metadata is not None and reader.metadata.title == "Harbour lights"
    assert "pdfuaid:part" in (catalog["/Metadata"].get_object().get_data().decode())


def test_every_picture_has_its_description() -> None:
    raw = sheet_data(sheet(), pictures(sheet()), Printing("letter"))
    assert isinstance(raw["finished"], dict)
    assert raw["finished"]["alt"] == "finished. A placeholder for finished."


def test_no_date() -> None:
    metadata = read(sheet()).metadata
    assert metadata is not None
    assert metadata.creation_date is None and metadata.modification_date is None


MAKE = """
import sys
from cardrecipe.render.papers import Printing
from cardrecipe.render.pdf import render_pdf
from tests.render.hand_made_sheet import pictures, sheet
sys.stdout.buffer.write(render_pdf(sheet(), pictures(sheet()), Printing("a4")))
"""


def _made_in(folder: Path, **environment: str) -> bytes:
    root = str(Path(__file__).parents[2])
    settings = {**os.environ, "PYTHONPATH": root, "TMPDIR": str(folder), **environment}
    command = [sys.executable, "-c", MAKE]
    return subprocess.run(command, cwd=folder, env=settings, capture_output=True, check=True).stdout


def test_same_bytes_in_another_folder_zone_locale_and_hash_seed(tmp_path: Path) -> None:
    one, other = tmp_path / "one", tmp_path / "another place"
    one.mkdir()
    other.mkdir()
    first = _made_in(one, TZ="UTC", PYTHONHASHSEED="1", LC_ALL="C")
    second = _made_in(
        other, TZ="Pacific/Auckland", PYTHONHASHSEED="2", LC_ALL="C.UTF-8", SOURCE_DATE_EPOCH="9"
    )
    assert first == second
    assert not list(one.iterdir())


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_text_is_text(name: str) -> None:
    assert "".join(TEXTS[name].split()) in text(read(with_text(sheet(), TEXTS[name])))


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_markdown_is_harmless(name: str) -> None:
    steps = tuple(step._replace(tips=(TEXTS[name],)) for step in sheet().steps)
    reader = read(hand_made(about_markdown=TEXTS[name], steps=steps))
    links = [
        str(note.get_object()["/A"]["/URI"])
        for page in reader.pages
        for note in page.get("/Annots", [])
        if "/URI" in note.get_object().get("/A", {})
    ]
    assert all(link.startswith(("http://", "https://")) for link in links)


def test_markdown_of_every_kind_is_set() -> None:
    about = (
        "# h\n\n- a\n  1. b\n\n> q `c` ~~s~~ **b *i***\n\n```\nx < y\n```\n\n---\n\n"
        "|a|b|\n|-|-|\n|c|\n\ntwo  \nlines [](https://example.org/empty)"
    )
    assert "x<y" in text(read(hand_made(about_markdown=about)))


@pytest.mark.parametrize(
    "about", ["- - - - a", "#", "# \u200b", "# ![](x)", "# [](https://example.org)", "a\u00adb\u2028c"]
)
def test_what_an_accessible_file_may_not_hold_is_left_out_or_replaced(about: str) -> None:
    """PDF/UA-1 allows no empty heading and no sign without a shape."""
    assert read(hand_made(about_markdown=about))


@pytest.mark.parametrize("title", ["", " ", "\u200b"])
def test_a_recipe_without_a_title_has_one_on_the_page(title: str) -> None:
    reader = read(hand_made(title=title))
    assert reader.metadata is not None and reader.metadata.title == "Untitled"
    assert text(reader).startswith("Untitled")


def test_cyrillic_is_set() -> None:
    assert "\u041b\u043e\u0434\u043a\u0438" in text(read(hand_made(title="\u041b\u043e\u0434\u043a\u0438")))


def test_a_character_the_font_lacks_is_shown_and_named() -> None:
    words = text(read(hand_made(title="A \u706f \U0001f3ee", notes=())))
    assert f"A{MISSING_SIGN}{MISSING_SIGN}" in words
    assert "U+706F,U+1F3EE." in words


def test_control_characters_are_shown_too() -> None:
    assert f"a{MISSING_SIGN}b" in text(read(hand_made(notes=("a\x00b",))))


def test_the_metadata_keeps_a_title_that_the_font_cannot_set() -> None:
    metadata = read(hand_made(title="\u706f\u7c60")).metadata
    assert metadata is not None and metadata.title == "\u706f\u7c60"


def test_missing_characters_each_once_in_order() -> None:
    assert missing_characters("a\u706fb\u4e2d\u706f") == ("\u706f", "\u4e2d")


def test_a_sheet_with_nothing_in_it_is_still_a_sheet() -> None:
    card = sheet().folded.card._replace(pieces=())
    empty = Sheet(sheet().folded._replace(card=card), "Empty", "", (), (), (), (), (), (), (), (), None)
    assert "Empty" in text(PdfReader(BytesIO(render_pdf(empty, {}, Printing("letter")))))


def test_many_cuts_and_steps_run_over_pages() -> None:
    of = sheet()
    steps = tuple(step._replace(number=index + 1) for index, step in enumerate(of.steps * 8))
    reader = read(of._replace(cuts=of.cuts * 12, steps=steps, notes=of.notes * 30))
    words = text(reader)
    assert f"Page{len(reader.pages)}of{len(reader.pages)}" in words
    assert words.count("pennant") == 12 and "96" in words


# ---- true scale ----


def _moves(page: PageObject) -> list[tuple[float, float]]:
    """The stroked straight lines of a page as (width, height) in points."""
    scale = 1.0
    stack: list[float] = []
    lines, start = [], (0.0, 0.0)
    from pypdf.generic import ContentStream

    contents = page.get_contents()
    assert contents is not None
    for operands, operator in ContentStream(contents, page.pdf).operations:
        if operator == b"q":
            stack.append(scale)
        elif operator == b"Q":
            scale = stack.pop()
        elif operator == b"cm":
            scale *= max(abs(float(operands[0])), abs(float(operands[1])))
        elif operator == b"m":
            start = (float(operands[0]), float(operands[1]))
        elif operator == b"l":
            end = (float(operands[0]), float(operands[1]))
            lines.append((abs(end[0] - start[0]) * scale, abs(end[1] - start[1]) * scale))
            start = end
        elif operator == b"re":
            lines.append((float(operands[2]) * scale, abs(float(operands[3])) * scale))
    return lines


def _metric() -> Sheet:
    other = sheet().other
    assert other is not None
    return other


def _has(lines: list[tuple[float, float]], width: float, height: float) -> bool:
    return any(line == pytest.approx((width, height), abs=0.05) for line in lines)


def test_check_bars_and_template_are_true_to_scale() -> None:
    """1 in is 72 pt and 100 mm are 283.4646 pt (standards.md, section 8)."""
    lines = _moves(read(_metric(), "a4").pages[-1])
    assert _has(lines, 283.4646, 0)
    assert _has(lines, 288, 0)
    mm = 72 / 25.4
    assert _has(lines, 268 * mm, 140 * mm) or (_has(lines, 268 * mm, 0) and _has(lines, 0, 140 * mm))
    assert sum(line == pytest.approx((0, 140 * mm), abs=0.05) for line in lines) >= 4


@pytest.mark.parametrize(("page", "way"), [("letter", []), ("a4", ["landscape"])])
def test_template_turns_the_page_where_it_must(page: str, way: list[str]) -> None:
    templates = sheet_data(_metric(), {}, Printing(page))["templates"]
    assert isinstance(templates, list)
    assert [each["way"] for each in templates] == way


def test_sheets_that_are_set_at_the_same_time_come_out_as_they_do_alone() -> None:
    """There is one typesetter, which takes one text at a time."""
    texts = [f"#set document(title: sys.inputs.title)\nSheet {number}".encode() for number in range(4)]
    alone = [typeset(text, {}, "A sheet", "svg") for text in texts]
    with ThreadPoolExecutor(4) as pool:
        together = list(pool.map(lambda text: typeset(text, {}, "A sheet", "svg"), texts * 5))
    assert together == alone * 5
