"""The one sheet as an HTML page, taken apart: what is where, and that it is the same as the data."""

import re
from itertools import pairwise

import pytest

from cardrecipe.plan.variant_sheet import VariantSheet
from cardrecipe.render.pages import render_variants
from cardrecipe.render.prose import plain_text, prose
from cardrecipe.render.variants.columns import MOST_VARIANTS, tables
from tests.render.hostile import TEXTS as HOSTILE
from tests.render.hostile import with_text
from tests.render.the_page import Page, with_the_other
from tests.render.variants.one_sheets import html
from tests.render.variants.parts import Parts, every, words
from tests.variant_recipes import NAMES, TEXTS, together

WITH_VARIANTS = [name for name in NAMES if name != "none"]


def shown(name: str) -> tuple[VariantSheet, object]:
    return together(TEXTS[name]), Parts(html(name)).root


def rows_of(table: object) -> list[object]:
    """The rows of a comparison; a maker's own text in one of them may have a table too."""
    lines = every(next(every(table, "tbody")), "tr")
    return [line for line in lines if [each for each in every(line, "th") if each[1].get("scope") == "row"]]


@pytest.mark.parametrize("name", WITH_VARIANTS)
def test_the_tables_say_what_the_rows_say(name: str) -> None:
    sheet, page = shown(name)
    found = list(every(page, "table", "cards"))
    assert len(found) == len(tables(sheet))
    for table, expected in zip(found, tables(sheet), strict=True):
        heads = [words(each) for each in every(next(every(table, "thead")), "th")]
        assert heads == list(expected.titles)
        lines = rows_of(table)
        assert [words(next(every(line, "th"))) for line in lines] == [
            "Finished", "About", *(row.label for row in expected.rows)
        ]  # fmt: skip
        for line, row in zip(lines[2:], expected.rows, strict=True):
            for cell, own in zip(every(line, "td"), row.cells, strict=True):
                assert [words(each) for each in every(cell, "span", "line")] == [
                    " ".join(text.split()) for text in own.lines
                ]
                assert (cell[1].get("class") == "otherwise") == own.differs
                bold = [words(each) for each in every(cell, "strong")]
                assert bold == [" ".join(text.split()) for text in own.lines if text not in own.known]
                assert len(list(every(cell, "svg", "swatch"))) == len(own.papers)


@pytest.mark.parametrize("name", WITH_VARIANTS)
def test_each_card_has_its_finished_picture(name: str) -> None:
    sheet, page = shown(name)
    for table, expected in zip(every(page, "table", "cards"), tables(sheet), strict=True):
        first = next(every(next(every(table, "tbody")), "tr"))
        assert len(list(every(first, "svg"))) == len(expected.titles)
    parts = list(every(page, "section", "variant-part"))
    assert len(parts) == len(sheet.variants)
    for part in parts:
        pictures = [each[1].get("data-picture") for each in every(part, "div", "picture")]
        assert pictures[0] == "finished"


@pytest.mark.parametrize("name", WITH_VARIANTS)
def test_each_variant_is_told_as_far_as_it_is_otherwise(name: str) -> None:
    sheet, page = shown(name)
    for part, variant in zip(every(page, "section", "variant-part"), sheet.variants, strict=True):
        assert words(next(every(part, "h2"))) == variant.title
        cuts = next(every(part, "section", "cuts"))
        lines = [
            line for body in every(cuts, "tbody") for line in every(body, "tr") if list(every(line, "input"))
        ]
        assert len(lines) == len(variant.cuts)
        marked = [words(line) for line in lines if "otherwise" in (line[1]["class"] or "").split()]
        assert len(marked) == sum(bool(cut.mark) for cut in variant.cuts)
        for cut in variant.cuts:
            (own,) = (
                line for line in lines if f"/cut/{cut.line.piece}/" in str(next(every(line, "input"))[1])
            )
            assert [words(each).lower() for each in every(own, "span", "mark")] == (
                [" ".join(cut.mark.lower().split())] if cut.mark else []
            )
            assert [words(each) for each in every(own, "del")] == (
                [" ".join(cut.was.split())] if cut.was else []
            )
            assert words(next(every(own, "span", "size"))) == " ".join(cut.line.size.split())
        plan = next(every(part, "section", "plan"))
        assert len(list(every(plan, "article"))) == len(variant.layouts)
        detours = [each for one in every(part, "ol", "detours") for each in every(one, "li")]
        assert len(detours) == len(variant.way.detours)
        for shown_step, detour in zip(detours, variant.way.detours, strict=True):
            assert words(next(every(shown_step, "p", "place"))) == detour.place
            title = f"{detour.number} {detour.step.title}"
            assert words(next(every(shown_step, "h4"))) == " ".join(title.split())
            assert list(every(shown_step, "svg")), detour.step.title
        said = [text for detour in variant.way.detours for text in detour.before] + [*variant.way.after]
        onward = [words(each) for each in every(part, "p", "onward")]
        assert onward == [" ".join(text.split()) for text in said]


@pytest.mark.parametrize("name", WITH_VARIANTS)
def test_a_link_goes_to_the_step_that_it_names(name: str) -> None:
    _, page = shown(name)
    ids = {each[1].get("id") for tag in ("li", "h3") for each in every(page, tag)}
    seen = 0
    for part in every(page, "section", "variant-part"):
        for link in every(part, "a"):
            target = link[1].get("href") or ""
            assert target.startswith("#") and target[1:] in ids
            assert re.search(r"\d+", words(link))[0] == target.rpartition("-")[2]  # type: ignore[index]
            seen += 1
    assert seen > len(together(TEXTS[name]).variants)


@pytest.mark.parametrize("name", NAMES)
def test_ids_are_unique_and_headings_skip_no_level(name: str) -> None:
    page = Page(with_the_other(html(name)))
    ids = [a["id"] for tag, a in page.elements if "id" in a and tag not in ("title", "desc")]
    assert len(ids) == len(set(ids))
    labels = [a["aria-labelledby"] for _, a in page.elements if "aria-labelledby" in a]
    assert set(labels) <= set(ids)
    levels = [int(tag[1]) for tag, _ in page.elements if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


@pytest.mark.parametrize("name", NAMES)
def test_every_tick_has_a_key_of_its_own(name: str) -> None:
    keys = [a["data-tick"] for tag, a in Page(html(name)).elements if tag == "input" and "data-tick" in a]
    assert len(keys) == len(set(keys))


def test_no_piece_of_a_variant_is_lit_up() -> None:
    """What is lit, and its sums, are the main card's."""
    _, page = shown("ferry")
    for part in every(page, "section", "variant-part"):
        assert not [each for tag in ("path", "g", "rect") for each in every(part, tag) if "data-p" in each[1]]
    assert [each for each in every(page, "path") if "data-p" in each[1]]


def test_both_unit_systems_are_whole() -> None:
    page = Parts(with_the_other(html("ferry"))).root
    versions = list(every(page, "div", "version"))
    assert [each[1]["data-unit"] for each in versions] == ["inch", "mm"]
    for version in versions:
        assert len(list(every(version, "section", "variant-part"))) == 4
        assert len(list(every(version, "table", "cards"))) == 2
    assert "96 × 127 mm" in words(next(every(versions[1], "table", "cards")))


def test_a_recipe_without_variants_says_so() -> None:
    page = Parts(html("none")).root
    text = words(page)
    assert "This recipe has no variants" in text and "side by side" not in text
    assert not list(every(page, "table", "cards")) and not list(every(page, "section", "variant-part"))
    assert list(every(page, "section", "steps"))


def test_a_dozen_variants_are_shared_out_evenly() -> None:
    found = tables(together(TEXTS["dozen"]))
    assert [len(table.titles) - 1 for table in found] == [3, 3, 3, 3]
    assert [len(table.titles) - 1 for table in tables(together(TEXTS["ferry"]))] == [2, 2]
    told = [place for table in found for place in table.places[1:]]
    assert told == list(range(1, 13))
    assert all(len(table.titles) <= MOST_VARIANTS + 1 for table in found)


def test_nothing_that_differs_is_left_out_of_a_later_table() -> None:
    sheet = together(TEXTS["dozen"])
    for table in tables(sheet):
        labels = {row.label for row in table.rows}
        for row in sheet.rows:
            if any(row.cells[place].differs for place in table.places):
                assert row.label in labels


def test_about_is_each_cards_own() -> None:
    sheet, page = shown("ferry")
    first = next(every(page, "table", "cards"))
    about = list(every(next(every(first, "tbody")), "tr"))[1]
    told = [words(cell, ("whose",)) for cell in every(about, "td")]
    own = " ".join(plain_text(block.runs) for block in prose(sheet.plain.about_markdown))
    assert told == [own, "For a small envelope.", "as the main card"]


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_text_is_text(name: str) -> None:
    sheet = together(TEXTS["ferry"])
    variant = sheet.variants[0]
    texts = {each: hostile(sheet, HOSTILE[each]) for each in (name, "script") if each in HOSTILE}
    page = Page(with_the_other(texts[name]))
    plain = Page(with_the_other(hostile(sheet, "x")))
    assert page.shape == plain.shape
    assert page.text.count("".join(HOSTILE[name].split())) > 50 and variant.title


def hostile(sheet: VariantSheet, text: str) -> str:
    """The page in which each title, and each text of the variants' sheets, is `text`."""
    from cardrecipe.plan.variant_sheet import variant_sheet

    others = [with_text(variant.sheet, text) for variant in sheet.variants[:1]]
    others = [
        each._replace(
            folded=each.folded._replace(card=each.folded.card._replace(variant=text)),
            other=each.other and each.other._replace(
                folded=each.other.folded._replace(card=each.other.folded.card._replace(variant=text))
            ),
        )
        for each in others
    ]  # fmt: skip
    changed = variant_sheet(with_text(sheet.plain, text), others)
    return render_variants(changed, ["html"])[".html"].decode()


def test_same_bytes_every_time() -> None:
    first = render_variants(together(TEXTS["ferry"]), ["html", "md"])
    assert first == render_variants(together(TEXTS["ferry"]), ["html", "md"])
