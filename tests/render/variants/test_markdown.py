"""The one sheet as Markdown, parsed by markdown-it (a library of its own): tables, headings, the way."""

import re

import pytest
from markdown_it import MarkdownIt

from cardrecipe.render.variants.columns import tables
from cardrecipe.render.variants.markdown import anchor
from tests.render.variants.one_sheets import markdown
from tests.variant_recipes import NAMES, TEXTS, together


def parsed(name: str) -> tuple[list[tuple[int, str]], list[list[list[str]]]]:
    """The headings with their levels, and the tables as rows of cells."""
    headings: list[tuple[int, str]] = []
    found: list[list[list[str]]] = []
    level = 0
    for token in MarkdownIt("commonmark").enable("table").parse(markdown(name)):
        if token.type == "heading_open":
            level = int(token.tag[1])
        elif token.type == "heading_close":
            level = 0
        elif token.type == "table_open":
            found.append([])
        elif token.type == "tr_open":
            found[-1].append([])
        elif token.type == "inline" and level:
            headings.append((level, plain(token)))
        elif token.type == "inline" and found and found[-1] and len(found[-1][-1]) < 20:
            found[-1][-1].append(plain(token))
    return headings, found


def plain(token: object) -> str:
    children = getattr(token, "children", None) or []
    return "".join(
        "\n" if "br" in each.content and each.type == "html_inline" else each.content for each in children
    )


@pytest.mark.parametrize("name", [name for name in NAMES if name != "none"])
def test_the_tables_say_what_the_rows_say(name: str) -> None:
    sheet = together(TEXTS[name])
    _, found = parsed(name)
    compared = [table for table in found if table[0][1:2] == ["Main card"]]
    assert len(compared) == len(tables(sheet))
    for table, expected in zip(compared, tables(sheet), strict=True):
        assert table[0][1:] == list(expected.titles)
        for line, row in zip(table[2:], expected.rows, strict=True):
            assert line[0] == row.label
            cells = line[1 : len(expected.titles) + 1]
            assert [cell.split("\n") for cell in cells] == [list(cell.lines) for cell in row.cells]


@pytest.mark.parametrize("name", [name for name in NAMES if name != "none"])
def test_the_steps_that_differ_have_headings(name: str) -> None:
    headings, _ = parsed(name)
    sheet = together(TEXTS[name])
    assert headings[0] == (1, sheet.plain.title)
    for variant in sheet.variants:
        assert (2, variant.title) in headings
        for detour in variant.way.detours:
            assert (4, f"{detour.number}. {detour.step.title}") in headings
            assert f"*{detour.place}*" in markdown(name)
            for said in detour.before:
                assert said in re.sub(r"\*\*|\[|\]\(#[^)]*\)", "", markdown(name))


@pytest.mark.parametrize("name", [name for name in NAMES if name != "none"])
def test_a_link_goes_to_a_heading(name: str) -> None:
    headings, _ = parsed(name)
    places = {anchor(title) for _, title in headings}
    links = re.findall(r"\]\(#([^)]*)\)", markdown(name))
    assert links and places.issuperset(links)
    assert anchor("12. Glue the \u201csash\u201d to a door-paper") == "12-glue-the-sash-to-a-door-paper"


def test_what_must_not_be_cut_is_struck() -> None:
    said = markdown("night-market").replace("\u202f", " ").replace("\u00a0", " ")
    assert "**new size**, instead of ~~4 × 5 1⁄4 in (102 × 134 mm)~~" in said


def test_a_recipe_without_variants_says_so() -> None:
    assert "This recipe has no variants: what follows is its one card." in markdown("none")
