"""Large print: the least size of type, pictures as large as their text, one column, no clipped word."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from cardrecipe.render.papers import Printing
from cardrecipe.render.pdf import render_pdf
from cardrecipe.render.pdf_data import sheet_data
from cardrecipe.render.printed.look import LARGE_LETTERS, LARGE_TYPE, USUAL_TYPE
from tests.render.hand_made_sheet import pictures, sheet
from tests.render.hostile import TEXTS, with_text
from tests.render.printed_samples import HAS_POPPLER, meetings, pages, reader, sample

NAMES = ("first-frost", "harbour-morning", "market-tags", "night-market")
BOX = 1.364  # a box of poppler over the size of its type: ascent 1.011 and descent 0.353 of the font
LEAST = 18.0  # pt; from memory: what guidelines of print for low vision commonly ask for
LEAST_IN_PICTURES = 11.9  # where a picture is as wide as the page and grows no further
poppler = pytest.mark.skipif(not HAS_POPPLER, reason="needs pdftotext of poppler")
each_sample = pytest.mark.parametrize("name", NAMES)


def large(page: str) -> Printing:
    return Printing(page, is_large=True)


def test_the_type_scale_is_large_throughout() -> None:
    assert min(LARGE_TYPE) >= LEAST
    assert pytest.approx(LARGE_TYPE.body / USUAL_TYPE.body) == LARGE_LETTERS


@poppler
@each_sample
def test_all_words_of_the_sheet_are_large(name: str) -> None:
    """Every word of the steps, read back; the letters of pictures have their own floor."""
    of, drawn = sample(name)
    lettering = " ".join(each.svg for each in drawn.values())
    spoken = {word for step in of.steps for word in step.text.split() if len(word) > 4 and word.isalpha()}
    spoken = {word for word in spoken if word not in lettering}
    words = [word for page in pages(name, large("a4")) for word in page.words if len(word.text) > 3]
    sizes = {word.text: (word.bottom - word.top) / BOX for word in words}
    assert spoken & set(sizes)
    assert min(sizes[word] for word in spoken & set(sizes)) >= LEAST - 0.1
    assert min(sizes.values()) >= LEAST_IN_PICTURES


@each_sample
@pytest.mark.parametrize("page", ["letter", "a4"])
def test_pictures_grow_with_the_text_where_the_page_has_room(name: str, page: str) -> None:
    of, drawn_once = sample(name)
    data = sheet_data(of, drawn_once, large(page))
    width = float(str(data["width"]))
    rows = data["rows"]
    assert isinstance(rows, list)
    for row in rows:
        (step,) = row["steps"]  # one column of steps
        drawn = drawn_once[next(each.picture for each in of.steps if each.number == step["number"])]
        growth = step["picture"]["width"] / drawn.width_mm
        assert growth == pytest.approx(min(LARGE_LETTERS, width / drawn.width_mm), rel=1e-3)
        assert 8.0 * growth >= LEAST_IN_PICTURES


@poppler
@each_sample
def test_no_word_is_clipped(name: str) -> None:
    """Each word lies on its page, and every step is read whole."""
    for page in pages(name, large("letter")):
        for word in page.words:
            assert word.left > 0 and word.right < page.width - 36, word
            assert word.top > 0 and word.bottom < page.height - 18, word
        assert not meetings(page.words)
    printed_sheet, _ = sample(name)
    text = "".join("".join(page.extract_text().split()) for page in reader(name, large("letter")).pages)
    for step in printed_sheet.steps:
        assert "".join(step.text.split()) in text


@poppler
@each_sample
def test_nothing_runs_into_the_foot(name: str) -> None:
    """The running foot stands alone in its line."""
    for page in pages(name, large("letter")):
        foot = next(word for word in reversed(page.words) if word.text == "Page")
        assert all(word.bottom < foot.top + 6 or word.top >= foot.top - 1 for word in page.words), page.words[
            -9:
        ]


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_text_is_text_in_large_grey_print_too(name: str) -> None:
    pdf = render_pdf(with_text(sheet(), TEXTS[name]), pictures(sheet()), Printing("a4", True, True))
    text = "".join("".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages)
    assert "".join(TEXTS[name].split()) in text
