"""The printed pack read back: its words, its labels where the cuts are, its tags."""

import re
from functools import cache
from io import BytesIO

import pdfplumber
import pytest
from pypdf import PdfReader

from cardrecipe.render.class_pack.labels import label_grid, label_pages, labels
from cardrecipe.render.class_pack.pdf import render_class_pdf
from cardrecipe.render.class_pack.pictures import class_pictures
from cardrecipe.render.papers import PAGES, Printing
from tests.render.class_pack.hand_made_class import class_sheet
from tests.render.class_pack.hostile_class import hostile_class
from tests.render.hostile import TEXTS

MM = 72 / 25.4
PRINTINGS = (
    Printing("letter"),
    Printing("a4"),
    Printing("a4", in_grey=True),
    Printing("letter", is_large=True),
)


@cache
def pdf(printing: Printing) -> bytes:
    sheet = class_sheet()
    return render_class_pdf(sheet, class_pictures(sheet), printing)


def words(content: bytes) -> str:
    text = " ".join(page.extract_text() for page in PdfReader(BytesIO(content)).pages)
    return " ".join(text.split())


@pytest.mark.parametrize("printing", PRINTINGS)
def test_every_list_is_printed(printing: Printing) -> None:
    sheet, text = class_sheet(), words(pdf(printing))
    for said in (
        "The kits", "Shopping list", "Before the class", "Cutting plan", "What goes into each bag",
        "Labels for the bags", "12 seats and 1 spare kit", "13 bags", "31.40", "0:40",
        "On the table, for all",
        *sheet.cautions, *sheet.notes,
    ):  # fmt: skip
        assert said in text, said


@pytest.mark.parametrize("printing", PRINTINGS)
def test_each_label_is_printed_once_and_spare_ones_are_marked(printing: Printing) -> None:
    sheet, text = class_sheet(), words(pdf(printing))
    for label in labels(sheet):
        assert text.count(label.number) == 1
    assert re.findall(r"([A-Z]-\d+) spare", text) == [each.number for each in labels(sheet) if each.is_spare]


@pytest.mark.parametrize("printing", PRINTINGS)
def test_the_words_of_each_label_lie_between_its_cuts(printing: Printing) -> None:
    sheet = class_sheet()
    paper = PAGES[printing.page]
    grid = label_grid(sheet.unit, paper, printing)
    left, top = (paper.width - grid.across * grid.width) / 2, (paper.height - grid.down * grid.height) / 2
    expected = [label.number for label in labels(sheet)]
    found: list[str] = []
    with pdfplumber.open(BytesIO(pdf(printing))) as document:
        for page in document.pages[-len(label_pages(labels(sheet), grid.across, grid.on_a_page)) :]:
            for row in range(grid.down):
                for column in range(grid.across):
                    x, y = (left + column * grid.width) * MM, (top + row * grid.height) * MM
                    box = (x, y, x + grid.width * MM, y + grid.height * MM)
                    # What lies wholly within: a word that crossed a cut would be missing.
                    number = (page.within_bbox(box).extract_text() or "").split(" ")[0].split("\n")[0]
                    found += [number] if number else []
            assert _upright_lines(page) >= {
                round((left + at * grid.width) * MM) for at in range(grid.across + 1)
            }
    assert found == expected


def _upright_lines(page: pdfplumber.page.Page) -> set[int]:
    return {
        round(each["x0"])
        for each in (*page.lines, *page.rects, *page.curves)
        if abs(each["x1"] - each["x0"]) < 1
    }


@pytest.mark.parametrize("printing", PRINTINGS[:1])
def test_it_is_tagged_and_its_parts_are_bookmarks(printing: Printing) -> None:
    reader = PdfReader(BytesIO(pdf(printing)))
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] and root["/Lang"] == "en" and "/StructTreeRoot" in root
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert reader.metadata is not None and reader.metadata.title == "Saturday bench"
    titles = [each.title for each in reader.outline[0:1] if not isinstance(each, list)]
    assert titles == ["Saturday bench"]


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_text_is_only_text(name: str) -> None:
    sheet = hostile_class(TEXTS[name])
    content = render_class_pdf(sheet, class_pictures(sheet), Printing("letter"))
    assert TEXTS[name].split()[0] in words(content)


def test_the_same_class_is_the_same_file() -> None:
    sheet = class_sheet()
    assert render_class_pdf(sheet, class_pictures(sheet), Printing("letter")) == pdf(Printing("letter"))
