"""The one sheet as a PDF, read back by other libraries: every variant, its sizes, its outline, its layout."""

import re
from io import BytesIO
from typing import Any

import pdfplumber
import pytest

from cardrecipe.plan.variant_way import named_steps
from cardrecipe.render.pages import pictures_of
from cardrecipe.render.papers import Printing
from cardrecipe.render.variants.columns import tables
from cardrecipe.render.variants.pdf_data import variants_data
from cardrecipe.render.variants.views import own_views
from tests.render.printed_samples import HAS_POPPLER, meetings, pages_of
from tests.render.variants.one_sheets import pdf, reader
from tests.variant_recipes import NAMES, TEXTS, together

WITH_VARIANTS = [name for name in NAMES if name != "none"]
USUAL = Printing("letter")
PRINTINGS = (USUAL, Printing("a4", in_grey=True), Printing("letter", is_large=True))


def text(name: str, printing: Printing = USUAL) -> str:
    """All that is written, without blanks: typst sets a size close."""
    with pdfplumber.open(BytesIO(pdf(name, printing))) as found:
        return "".join("".join((page.extract_text() or "").split()) for page in found.pages)


def tight(said: str) -> str:
    return "".join(said.split())


@pytest.mark.parametrize("name", WITH_VARIANTS)
def test_every_variant_is_told(name: str) -> None:
    sheet, printed = together(TEXTS[name]), text(name)
    for title in sheet.titles:
        assert tight(title) in printed
    for variant in sheet.variants:
        for cut in variant.cuts:
            assert tight(cut.line.size) in printed and tight(cut.line.other_size) in printed
        for detour in variant.way.detours:
            for said in (*detour.before, detour.place, detour.step.title):
                assert tight(said) in printed, said
        for said in (*variant.way.after, *variant.notes):
            assert tight(said) in printed, said


@pytest.mark.skipif(not HAS_POPPLER, reason="needs pdftotext")
@pytest.mark.parametrize("printing", PRINTINGS)
@pytest.mark.parametrize("name", WITH_VARIANTS)
def test_a_sentence_names_the_pages_of_the_steps_that_it_sends_to(name: str, printing: Printing) -> None:
    """The step's heading stands on the page that is named."""
    sheet = together(TEXTS[name])
    pages = [tight(page.text) for page in pages_of(pdf(name, printing))]
    printed, seen = "".join(pages), 0
    for variant in sheet.variants:
        sentences = [said for each in variant.way.detours for said in each.before] + [*variant.way.after]
        for said in sentences:
            steps = named_steps(said)
            found = re.search(re.escape(tight(said)) + r"pages?(\d+)(?:to(\d+))?(?!\d)", printed)
            assert bool(found) == bool(steps), said
            named = (found[1], found[2] or found[1]) if found else ()
            for number, page in zip(steps or (), named, strict=True):
                title = next(step.title for step in sheet.plain.steps if step.number == number)
                assert tight(title) in pages[int(page) - 1], said
                seen += 1
    assert seen > len(sheet.variants)


def test_the_sheet_of_a_card_and_two_variants_is_of_fourteen_pages() -> None:
    assert len(reader("night-market", USUAL).pages) == 14


def test_what_must_not_be_cut_is_struck() -> None:
    """A line across the old size."""
    with pdfplumber.open(BytesIO(pdf("night-market", USUAL))) as found:
        (page,) = (page for page in found.pages if "Cut list: Harvest" in (page.extract_text() or ""))
        words = [word for word in page.extract_words() if word["text"].startswith("glow")]
        struck = [
            word for word in words for line in (*page.lines, *page.rects, *page.curves)
            if line["x0"] <= word["x0"] + 1 and line["x1"] >= word["x1"] - 1
            and word["top"] + 2 < line["top"] < word["bottom"] - 2
        ]  # fmt: skip
        assert len(struck) == 2  # of the door papers and of the flap papers; not in what is not needed


def test_a_variant_shows_what_is_otherwise_inside() -> None:
    """Harvest has a mat inside, and with it three layers; Plain has the main card's inside."""
    sheet = together(TEXTS["night-market"])
    shown = [[name for name, _ in own_views(sheet.plain, each.sheet)] for each in sheet.variants]
    assert shown[0] == ["open-inside", "layers-inside"]
    assert "open-inside" not in shown[1]
    assert tight("The finished card: Harvest") in text("night-market")


@pytest.mark.parametrize("name", WITH_VARIANTS)
def test_the_steps_are_those_of_the_way(name: str) -> None:
    """With a word more where the sheet shows an outline at true size."""
    sheet = together(TEXTS[name])
    cards = [pictures_of(each) for each in (sheet.plain, *(one.sheet for one in sheet.variants))]
    shown: Any = variants_data(sheet, cards, USUAL)["variants"]
    for one, variant in zip(shown, sheet.variants, strict=True):
        rows = [row for group in one["groups"] for row in group["rows"]]
        steps = [step for row in rows for step in row["steps"]]
        heads = [(head["number"], head["place"]) for row in rows for head in row["heads"]]
        assert heads == [(detour.number, detour.place) for detour in variant.way.detours]
        for step, detour in zip(steps, variant.way.detours, strict=True):
            assert step["title"] == detour.step.title and step["picture"] is not None
            assert step["text"].startswith(detour.step.text)
            rest = step["text"].removeprefix(detour.step.text)
            assert not rest or rest.endswith("at true size at the end of this sheet.")


def titles(outline: list[Any], level: int = 1) -> list[tuple[int, str]]:
    found = []
    for each in outline:
        if isinstance(each, list):
            found += titles(each, level + 1)
        else:
            found.append((level, str(each.title)))
    return found


@pytest.mark.parametrize("name", WITH_VARIANTS)
def test_bookmarks_lead_to_the_cards_and_their_parts(name: str) -> None:
    sheet = together(TEXTS[name])
    found = titles(reader(name, USUAL).outline)
    first = [title for level, title in found if level == 1 and not title.startswith("Template")]
    assert first == [sheet.plain.title, *sheet.titles]
    assert (2, "The cards side by side") in found
    for variant in sheet.variants:
        for part in ("Cut list", "Cutting plan", "Steps"):
            assert (2, f"{part}: {variant.title}") in found
        for detour in variant.way.detours:
            assert (3, f"{detour.number} {detour.step.title}") in found


@pytest.mark.parametrize("name", ["night-market"])
def test_is_tagged_with_a_description_for_each_picture(name: str) -> None:
    found = reader(name, USUAL)
    root = found.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] and root["/Lang"] == "en"
    figures = list(_figures(root["/StructTreeRoot"]))
    sheet = together(TEXTS[name])
    assert len(figures) > 20
    assert all(str(each.get("/Alt", "")).strip() for each in figures)
    assert sum("The finished card" in str(each["/Alt"]) for each in figures) >= 2 * len(sheet.titles)


def _figures(part: Any) -> Any:
    part = part.get_object()
    if not isinstance(part, dict):
        return
    if part.get("/S") == "/Figure":
        yield part
    kids = part.get("/K", [])
    for kid in kids if isinstance(kids, list) else [kids]:
        if not isinstance(kid, int):
            yield from _figures(kid)


@pytest.mark.skipif(not HAS_POPPLER, reason="no poppler on this machine: apt-get install poppler-utils")
@pytest.mark.parametrize("printing", PRINTINGS)
def test_no_words_meet_or_leave_the_page(printing: Printing) -> None:
    for name in ("night-market", "ferry"):
        for number, page in enumerate(pages_of(pdf(name, printing)), start=1):
            if "actual size" in page.text:
                continue  # a page of templates has tests of its own
            assert not meetings(page.words), (name, number)
            for word in page.words:
                assert word.left >= 0 and word.right <= page.width, (name, number, word)
                assert word.top >= 0 and word.bottom <= page.height, (name, number, word)


def test_the_table_of_three_cards_takes_one_page() -> None:
    pages = pages_of(pdf("night-market", USUAL))
    assert "side by side" in pages[0].text and "25 minutes" in pages[0].text.replace("\u00a0", " ")
    assert pages[1].text.startswith("Main card")


def test_in_large_print_a_table_has_one_variant() -> None:
    sheet = together(TEXTS["ferry"])
    assert [len(table.titles) for table in tables(sheet, 1)] == [2, 2, 2, 2]
    sizes = set()
    with pdfplumber.open(BytesIO(pdf("ferry", PRINTINGS[2]))) as found:
        for page in found.pages[:3]:
            sizes |= {round(char["size"], 1) for char in page.chars if char["text"].isalpha()}
    assert min(sizes) >= 17.9


def test_in_grey_there_is_no_colour() -> None:
    with pdfplumber.open(BytesIO(pdf("ferry", PRINTINGS[1]))) as found:
        for page in found.pages:
            for kind in ("chars", "rects", "curves", "lines"):
                for each in getattr(page, kind):
                    for color in (each.get("non_stroking_color"), each.get("stroking_color")):
                        assert not isinstance(color, tuple) or len(set(color)) <= 1


def test_templates_are_those_that_differ() -> None:
    """The main card's plate and Harvest's wider one; nothing else of a variant has another outline."""
    found = titles(reader("night-market", USUAL).outline)
    at = found.index((1, "Templates"))
    assert found[at + 1 :] == [(2, "Plate, face up, Harvest"), (2, "Plate, face up, Main card")]
    assert not [title for _, title in found[:at] if title.startswith("Template")]


def test_templates_of_several_cards_share_a_page_without_touching() -> None:
    """A dozen suns of all sizes, the largest first; each is named with its card."""
    oval = TEXTS["dozen"].replace("circle sun", "oval sun").replace("  diameter 2", "  size 2 x 1")
    sheet = together(oval.replace("sun.diameter", "sun.width"))
    sheets = [sheet.plain, *(one.sheet for one in sheet.variants)]
    pages: Any = variants_data(sheet, [pictures_of(each) for each in sheets], USUAL)["templates"]
    suns = [item for page in pages for item in page["items"] if item["piece"] == "sun"]
    widths = {each.folded.card.piece("sun").width for each in sheets}
    assert len(suns) >= len(widths) and len(pages) < len(suns)
    for page in pages:
        boxes = [(it["x"], it["y"], it["x"] + it["width"], it["y"] + it["height"]) for it in page["items"]]
        for place, one in enumerate(boxes):
            assert not any(
                one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
                for other in boxes[place + 1 :]
            )
        if len(page["items"]) > 1:
            assert all(item["label"] for item in page["items"])


def test_a_recipe_without_variants_says_so() -> None:
    printed = text("none")
    assert tight("This recipe has no variants: what follows is its one card.") in printed
    assert "sidebyside" not in printed
    assert not re.search("Maincard", printed)


def test_same_bytes_every_time() -> None:
    from cardrecipe.render.pages import render_variants

    again = render_variants(together(TEXTS["night-market"]), ["pdf"], [USUAL])[".pdf"]
    assert again == pdf("night-market", USUAL)
