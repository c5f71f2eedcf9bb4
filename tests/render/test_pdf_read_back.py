"""The PDF of every sample, read back by independent libraries: boxes, fonts, tags, reading order, settings.

Facts are from standards.md, section 8: Letter is 612 x 792 pt, A4 595.2756 x 841.8898 pt, a page has no unit
of its own; PrintScaling None asks for no scaling; a tagged file has MarkInfo, Lang, StructTreeRoot and Alt.
"""

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from io import BytesIO
from itertools import pairwise
from typing import Any

import pdfplumber
import pikepdf
import pytest
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject, NumberObject

from cardrecipe.cli import compiled
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.pages import render
from cardrecipe.render.papers import Printing
from cardrecipe.sheets import sheet_of
from tests.recipes import ROOT, SAMPLES, sample_cards

SIZES = {"letter": (612.0, 792.0), "a4": (595.2756, 841.8898)}
NAMES = [path.stem for path in sample_cards()]
ALL = [(name, page) for name in NAMES for page in SIZES]
MOST_BYTES = 80_000  # of three pages


@cache
def sheet(name: str) -> Sheet:
    return sheet_of(compiled(str(SAMPLES / f"{name}.recipe")))


@cache
def pdfs(name: str) -> dict[str, bytes]:
    made = render(sheet(name), ("pdf",), [Printing(page) for page in SIZES])
    return {ending.removeprefix("-").removesuffix(".pdf"): content for ending, content in made.items()}


@cache
def reader(name: str, page: str) -> PdfReader:
    return PdfReader(BytesIO(pdfs(name)[page]))


def root(name: str, page: str) -> Any:
    return reader(name, page).trailer["/Root"]


@pytest.mark.parametrize(("name", "page"), ALL)
def test_page_boxes(name: str, page: str) -> None:
    for each in reader(name, page).pages:
        box = each.mediabox
        assert (float(box.left), float(box.bottom)) == (0, 0)
        assert sorted((float(box.width), float(box.height))) == pytest.approx(SIZES[page], abs=0.001)
        assert each.cropbox == each.mediabox and "/UserUnit" not in each and not each.rotation


@pytest.mark.parametrize(("name", "page"), ALL)
def test_the_file_asks_for_its_own_size_and_shows_its_title(name: str, page: str) -> None:
    preferences = root(name, page)["/ViewerPreferences"]
    assert preferences["/PrintScaling"] == "/None" and preferences["/DisplayDocTitle"].value is True
    assert reader(name, page).pdf_header >= "%PDF-1.6"  # the first version with PrintScaling


@pytest.mark.parametrize(("name", "page"), ALL)
def test_every_font_is_embedded_as_a_subset(name: str, page: str) -> None:
    all_fonts = [each for each in _objects(name, page) if each.get("/Type") == "/Font"]
    fonts = [each for each in all_fonts if "/FontDescriptor" in each]
    assert fonts
    for font in fonts:
        inner = font["/FontDescriptor"]
        assert "/FontFile2" in inner or "/FontFile3" in inner
        assert re.match(r"/[A-Z]{6}\+Nunito-", str(font["/BaseFont"])), font["/BaseFont"]
    assert all(each["/Subtype"] == "/Type0" for each in all_fonts if each not in fonts)


def _objects(name: str, page: str) -> Iterator[DictionaryObject]:
    found = reader(name, page)
    for number in range(1, int(found.trailer["/Size"])):
        each = found.get_object(IndirectObject(number, 0, found))
        if isinstance(each, DictionaryObject):
            yield each


# ---- tags ----------------------------------------------------------------------------------------


def _elements(node: Any) -> Iterator[DictionaryObject]:
    """The elements of the structure tree in reading order."""
    node = node.get_object()
    if isinstance(node, ArrayObject):
        for each in node:
            yield from _elements(each)
    elif isinstance(node, DictionaryObject):
        if "/S" in node:
            yield node
        if "/K" in node:
            yield from _elements(node["/K"])


@pytest.mark.parametrize(("name", "page"), ALL)
def test_is_tagged(name: str, page: str) -> None:
    catalog = root(name, page)
    assert catalog["/Lang"] == "en" and catalog["/MarkInfo"]["/Marked"].value is True
    assert all(each["/Tabs"] == "/S" for each in reader(name, page).pages if "/Annots" in each)
    metadata = catalog["/Metadata"].get_object().get_data().decode()
    assert re.search(r"pdfuaid:part\W+1\b", metadata)


@pytest.mark.parametrize(("name", "page"), ALL)
def test_every_figure_says_what_it_shows(name: str, page: str) -> None:
    figures = [each for each in _elements(root(name, page)["/StructTreeRoot"]) if each["/S"] == "/Figure"]
    assert len(figures) > 2 and all(str(each.get("/Alt", "")).strip() for each in figures)


@pytest.mark.parametrize(("name", "page"), ALL)
def test_no_level_of_heading_is_left_out(name: str, page: str) -> None:
    words = [str(each["/S"]) for each in _elements(root(name, page)["/StructTreeRoot"])]
    levels = [int(word[2:]) for word in words if re.fullmatch(r"/H[1-6]", word)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


@pytest.mark.parametrize(("name", "page"), ALL)
def test_bookmarks_name_the_parts_of_the_sheet(name: str, page: str) -> None:
    titles = list(_titles(reader(name, page).outline))
    assert titles[0] == sheet(name).title
    for part in ("What you need", "Cut list", "Steps"):
        assert any(title.startswith(part) for title in titles)
    templates = [each for each in titles if each.startswith("Template")]
    headed = [words for words in _headings(name, page) if words.startswith("Template")]
    assert templates == headed


def _titles(outline: list[Any]) -> Iterator[str]:
    for each in outline:
        if isinstance(each, list):
            yield from _titles(each)
        else:
            yield str(each["/Title"])


# ---- text ----------------------------------------------------------------------------------------


@cache
def _letters(name: str, page: str) -> dict[tuple[int, int], str]:
    """The text of each marked part of each page, as pdfplumber finds it on the page."""
    found: dict[tuple[int, int], str] = {}
    with pdfplumber.open(BytesIO(pdfs(name)[page])) as document:
        for number, each in enumerate(document.pages):
            for char in each.chars:
                if char["mcid"] is not None:
                    key = (number, char["mcid"])
                    found[key] = found.get(key, "") + char["text"]
    return found


def _read_aloud(name: str, page: str, of: Any = None) -> str:
    """The text in the order in which the tags give it."""
    document = reader(name, page)
    numbers = {each.indirect_reference.idnum: at for at, each in enumerate(document.pages)}  # type: ignore[union-attr]
    letters = _letters(name, page)
    top = document.trailer["/Root"]["/StructTreeRoot"] if of is None else of  # type: ignore[index]

    def spoken(node: Any, on: int | None) -> Iterator[str]:
        if isinstance(node, IndirectObject):
            node = node.get_object()
        if isinstance(node, NumberObject):
            yield letters.get((on if on is not None else -1, int(node)), "")
        elif isinstance(node, ArrayObject):
            for each in node:
                yield from spoken(each, on)
        elif isinstance(node, DictionaryObject):
            if "/Pg" in node:
                on = numbers[node.raw_get("/Pg").idnum]
            if "/MCID" in node:
                yield letters.get((on if on is not None else -1, int(node["/MCID"])), "")
            elif "/K" in node:
                yield from spoken(node["/K"], on)

    return "".join(spoken(top, None))


def _headings(name: str, page: str) -> list[str]:
    tree = root(name, page)["/StructTreeRoot"]
    return [_read_aloud(name, page, each) for each in _elements(tree) if str(each["/S"]).startswith("/H")]


def _close(text: str) -> str:
    """Text without spaces: where a line breaks is not the point."""
    return "".join(text.split())


@pytest.mark.parametrize(("name", "page"), ALL)
def test_the_text_is_in_reading_order(name: str, page: str) -> None:
    words, of = _close(_read_aloud(name, page)), sheet(name)
    place = words.index(_close(of.title))
    for heading in ("What you need", "Cut list", "Steps"):
        place = words.index(_close(heading), place)
    for step in of.steps:
        place = words.index(_close(step.title), place)
        place = words.index(_close(step.text), place)


@pytest.mark.parametrize(("name", "page"), ALL)
def test_fractions_can_be_read(name: str, page: str) -> None:
    """A size is found as it is written: whole, U+2044 between the digits of the fraction."""
    words = _close(_read_aloud(name, page))
    sizes = [_close(line.size) for line in sheet(name).cuts]
    assert sizes and all(size in words for size in sizes)
    if sheet(name).folded.card.unit == "inch":
        assert re.search(r"\d\u2044\d", words)


# ---- the file ------------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "page"), ALL)
def test_the_file_is_sound(name: str, page: str) -> None:
    with pikepdf.open(BytesIO(pdfs(name)[page])) as document:
        assert document.check_pdf_syntax() == []


@pytest.mark.skipif(shutil.which("qpdf") is None, reason="the program qpdf is not installed")
@pytest.mark.parametrize(("name", "page"), ALL)
def test_qpdf_finds_nothing_wrong(name: str, page: str, tmp_path) -> None:  # type: ignore[no-untyped-def]
    path = tmp_path / "sheet.pdf"
    path.write_bytes(pdfs(name)[page])
    found = subprocess.run(["qpdf", "--check", str(path)], capture_output=True, text=True, check=False)
    assert found.returncode == 0 and "WARNING" not in found.stdout + found.stderr, found.stdout + found.stderr


@pytest.mark.parametrize(("name", "page"), ALL)
def test_size(name: str, page: str) -> None:
    """At most 80 KB for three pages, and for each three pages of a longer sheet."""
    pages = max(3, len(reader(name, page).pages))
    assert len(pdfs(name)[page]) <= MOST_BYTES * pages / 3


@pytest.mark.parametrize(("name", "page"), ALL)
def test_no_dates(name: str, page: str) -> None:
    information = reader(name, page).metadata
    assert information is not None
    assert information.creation_date is None and information.modification_date is None
    metadata = root(name, page)["/Metadata"].get_object().get_data()
    assert not re.search(rb"(Create|Modify|Metadata)Date", metadata)


MAKE = """
import sys
from cardrecipe.sheets import sheet_of
from cardrecipe.cli import compiled
from cardrecipe.render.pages import render
from cardrecipe.render.papers import Printing
sheet = sheet_of(compiled(sys.argv[1]))
for content in render(sheet, ("pdf",), [Printing("letter"), Printing("a4")]).values():
    sys.stdout.buffer.write(content)
"""


def test_the_same_bytes_whatever_the_hash_seed_and_the_zone() -> None:
    path, made = str(SAMPLES / "night-market.recipe"), []
    for seed, zone in (("1", "UTC"), ("99", "Asia/Kolkata")):
        settings = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONHASHSEED": seed, "TZ": zone}
        command = [sys.executable, "-c", MAKE, path]
        made.append(subprocess.run(command, cwd=ROOT, env=settings, capture_output=True, check=True).stdout)
    assert made[0] == made[1] == b"".join(pdfs("night-market").values())
