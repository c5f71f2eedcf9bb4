"""The printed sheet read back: rows of steps, order, page fill, what is on the page and what is not."""

import re
from collections.abc import Iterator
from io import BytesIO
from itertools import pairwise
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import Destination, IndirectObject

from cardrecipe.library.folds import fold_names
from cardrecipe.render.papers import Printing
from cardrecipe.render.pdf import render_pdf
from cardrecipe.render.pdf_data import sheet_data
from tests.render.printed_samples import (
    HAS_POPPLER,
    NAMES,
    PAGES,
    Page,
    Word,
    meetings,
    pages,
    pages_of,
    printed,
    reader,
    sample,
    structure,
)

MM = 72 / 25.4
poppler = pytest.mark.skipif(not HAS_POPPLER, reason="needs pdftotext of poppler")
each_sample = pytest.mark.parametrize(("name", "page"), [(name, page) for name in NAMES for page in PAGES])
# The most pages before the true-scale ones, so that a change which wastes paper is seen.
MOST_PAGES = {
    "first-frost": 5,
    "harbour-morning": 6,
    "market-tags": 4,
    "mill-letter": 7,
    "night-market": 7,
    "orchard-walk": 6,
    "paper-kites": 7,
}


def _numbers(page: Page, count: int) -> dict[int, Word]:
    """The step numbers of a page, by their size: capitals of the type for sections, not bold titles."""
    found = {}
    for word in page.words:
        tall = word.bottom - word.top
        if word.text.isdigit() and 1 <= int(word.text) <= count and tall > 19:
            found[int(word.text)] = word
    return found


@poppler
@each_sample
def test_steps_stand_two_to_a_row(name: str, page: str) -> None:
    count = len(sample(name)[0].steps)
    seen: dict[int, Word] = {}
    for each in pages(name, Printing(page)):
        numbers = _numbers(each, count)
        for odd in (number for number in numbers if number % 2):
            if odd < count:
                left, right = numbers[odd], numbers[odd + 1]  # on the same page
                assert left.top == pytest.approx(right.top, abs=0.5)
                assert right.left - left.left > 80 * MM
        seen |= numbers
    assert sorted(seen) == list(range(1, count + 1))


@each_sample
def test_no_step_breaks_across_pages(name: str, page: str) -> None:
    """All that a step says stands on one page, in the order in which it is read."""
    sheet, _ = sample(name)
    texts = ["".join(each.extract_text().split()) for each in reader(name, Printing(page)).pages]
    for step in sheet.steps:
        parts = [f"{step.number}{step.title}", step.text, *([f"Check{step.check}"] if step.check else [])]
        if step.picks_up:
            parts.insert(1, f"With:{','.join(step.picks_up)}")
        wanted = ["".join(part.split()) for part in parts]
        assert any(_in_order(text, wanted) for text in texts), step.title


def _in_order(text: str, parts: list[str]) -> bool:
    at = 0
    for part in parts:
        at = text.find(part, at)
        if at < 0:
            return False
        at += len(part)
    return True


@each_sample
def test_each_section_and_step_has_its_bookmark(name: str, page: str) -> None:
    titles = list(_titles(reader(name, Printing(page)).outline))
    sheet, _ = sample(name)
    assert [title for title in titles if re.match(r"\d+[ \u00a0]", title)] == [
        f"{step.number} {step.title}" for step in sheet.steps
    ]
    sections = {title.partition(",")[0] for title in titles}
    assert {"What you need", "Cut list", "Cutting plan", "Steps"} < sections


def _titles(outline: object) -> list[str]:
    if isinstance(outline, Destination):
        return [str(outline.title)]
    return [title for part in outline for title in _titles(part)] if isinstance(outline, list) else []


@poppler
@each_sample
def test_no_text_leaves_the_page(name: str, page: str) -> None:
    for each in pages(name, Printing(page)):
        for word in each.words:
            assert word.left + 0.5 > 12 * MM and word.right < each.width - 12 * MM, word
            assert word.top > 8 * MM and word.bottom < each.height - 6 * MM, word


@poppler
@each_sample
def test_no_word_lies_on_another(name: str, page: str) -> None:
    for each in pages(name, Printing(page)):
        assert not meetings(each.words)


@each_sample
def test_as_few_pages_as_is_readable(name: str, page: str) -> None:
    texts = [each.extract_text() for each in reader(name, Printing(page)).pages]
    before = [text for text in texts if "actual size" not in text]
    assert len(before) <= MOST_PAGES[name]


@poppler
@each_sample
def test_no_page_is_forsaken_and_the_first_is_closed_by_the_cut_list(name: str, page: str) -> None:
    found = pages(name, Printing(page))
    first, *_, last = found
    foot = max(word.bottom for word in last.words if word.bottom < last.height - 17 * MM)
    assert foot > 55 * MM, "the last page holds next to nothing"
    assert "Cut list" in first.text, "the slip for the trimmer stands on the first page"
    cuts = [word for word in first.words if word.top > first.height * 0.8]
    assert max(word.bottom for word in cuts if word.text in ("mm", "in")) > first.height - 32 * MM


@poppler
@each_sample
def test_no_heading_stands_at_the_foot_of_a_page(name: str, page: str) -> None:
    """Beneath a section's heading (16 pt, so 21 pt from top to bottom) stands something of that section."""
    for each in pages(name, Printing(page)):
        body = [word for word in each.words if word.bottom < each.height - 16 * MM]
        lowest = max(body, key=lambda word: word.bottom)
        assert lowest.bottom - lowest.top < 19 or lowest.text.isdigit(), lowest


@each_sample
def test_the_slip_has_a_head_of_its_own(name: str, page: str) -> None:
    sheet, _ = sample(name)
    text = " ".join(reader(name, Printing(page)).pages[0].extract_text().split())
    unit = "inches" if sheet.folded.card.unit == "inch" else "millimetres"
    assert f"{sheet.title}: sizes in {unit}" in text
    for line in sheet.cuts:
        assert "".join(line.size.split()) in "".join(text.split())


@each_sample
def test_three_pages_would_take_at_most_80_kilobytes(name: str, page: str) -> None:
    pdf = printed(name, Printing(page))
    count = len(PdfReader(BytesIO(pdf)).pages)
    assert len(pdf) <= 80_000 * max(1.0, count / 3)


def test_a_step_without_its_picture_is_still_a_step() -> None:
    sheet, _ = sample("first-frost")
    text = "".join(
        "".join(page.extract_text().split())
        for page in PdfReader(BytesIO(render_pdf(sheet, {}, Printing("a4")))).pages
    )
    assert all("".join(step.text.split()) in text for step in sheet.steps)


def test_rows_are_steps_in_pairs_with_their_cautions_before_them() -> None:
    sheet, pictures = sample("night-market")
    rows = sheet_data(sheet, pictures, Printing("letter"))["rows"]
    assert isinstance(rows, list)
    numbers = [[step["number"] for step in row["steps"]] for row in rows]
    assert numbers == [[n, n + 1] for n in range(1, 17, 2)] + [[17]]
    told = [caution for row in rows for _, caution in row["cautions"]]
    assert told == [caution for step in sheet.steps for caution in step.cautions]
    assert len(set(told)) == len(told)


def test_a_meeting_of_words_is_seen() -> None:
    one = Word(10, 10, 60, 24, "harbour")
    assert not meetings([one, one._replace(top=22, bottom=36)])
    assert meetings([one, one._replace(left=40, right=90, top=18, bottom=32)])


@poppler
@pytest.mark.parametrize("name", fold_names()[::3])
def test_a_structure_is_printed_whole(name: str) -> None:
    sheet, pictures = structure(name)
    found = pages_of(render_pdf(sheet, pictures, Printing()))
    assert "Cut list" in found[0].text
    text = "".join("".join(page.text.split()) for page in found)
    for step in sheet.steps:
        assert all("".join(word.split()) in text for word in step.title.split())
    for page in (page for page in found if "actual size" not in page.text):
        assert not meetings(page.words)
        assert all(word.left > 36 and word.right < page.width - 36 for word in page.words)


def _tags(part: object) -> Iterator[tuple[str, Any]]:
    """The tags of a file in reading order."""
    part = part.get_object() if isinstance(part, IndirectObject) else part
    if isinstance(part, list):
        for each in part:
            yield from _tags(each)
    elif isinstance(part, dict):
        if "/S" in part and part.get("/Type") != "/Annot":
            yield str(part["/S"]), part
        yield from _tags(part.get("/K"))


@each_sample
def test_tags_are_what_the_parts_are(name: str, page: str) -> None:
    """Headings in order without a gap, lists as lists, heads of tables, a description for each picture."""
    root: Any = reader(name, Printing(page)).trailer["/Root"]
    tags = list(_tags(root["/StructTreeRoot"]))
    kinds = [kind for kind, _ in tags]
    levels = [int(kind[2:]) for kind in kinds if re.fullmatch(r"/H\d", kind)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert kinds.count("/H3") >= len(sample(name)[0].steps)
    assert kinds.count("/LI") >= len(sample(name)[0].supplies) + len(sample(name)[0].facts)
    assert {"/Table", "/THead", "/TH", "/L", "/LBody", "/Figure"} <= set(kinds)
    assert all(part.get("/Alt") for kind, part in tags if kind == "/Figure")


@each_sample
def test_each_step_has_its_picture_right_after_its_heading(name: str, page: str) -> None:
    sheet, pictures = sample(name)
    root: Any = reader(name, Printing(page)).trailer["/Root"]
    seen = [kind for kind, _ in _tags(root["/StructTreeRoot"]) if kind in ("/H2", "/H3", "/Figure")]
    drawn = [step for step in sheet.steps if step.picture in pictures]
    assert len(drawn) == len(sheet.steps)
    assert sum(pair == ("/H3", "/Figure") for pair in pairwise(seen)) >= len(drawn)
