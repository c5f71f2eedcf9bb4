"""Ids, colours and names of files that come from a recipe: none meets another, and none carries anything."""

import re
from pathlib import Path

import pytest

from cardrecipe.commands.output_names import names_of_variants
from cardrecipe.render.pages import render
from cardrecipe.sheets import sheet_of
from tests.injection.hostile_texts import FIRST, HOSTILE, LONG, MARKS
from tests.recipes import HEAD, codes_of, compile_text
from tests.render.the_page import Page, with_the_other

# Names that the page's own ids, classes and pictures are made of.
ODD_NAMES = (
    "main", "packed", "finished", "legend", "layers", "card", "card-title", "card-desc", "cut-card", "step-1",
    "inch-steps", "mm-steps", "sheet-1", "p0", "s1", "motif-0", "told-name", "closed-front", "other-card",
    "extra-1", "folding-view", "constructor", "proto", "tostring", "all", "true-card",
)  # fmt: skip


def test_names_of_pieces_meet_no_id_of_the_page() -> None:
    pieces = "".join(f"rectangle {name} from ink\n  size 1 x 1\n  loose\n" for name in ODD_NAMES)
    found = compile_text(f"{HEAD}base sheet from ink\n  fold side-fold, width 4, height 5\n{pieces}")
    assert found.folded is not None
    files = render(sheet_of(found), ("html", "svg"))
    elements = Page(with_the_other(files[".html"].decode())).elements
    ids = [attributes["id"] for _, attributes in elements if "id" in attributes]
    assert len(ids) == len(set(ids))
    links = {attributes["href"] or "" for tag, attributes in elements if tag in ("a", "use", "pattern")
             and "href" in attributes}  # fmt: skip
    assert {link.removeprefix("#") for link in links} <= set(ids)
    drawn = [name for name in files if name.endswith(".svg")]
    assert len(drawn) == len({name.casefold() for name in drawn})


COLORS = (
    "red", "#22304", "#22304a;x:y", "#22304a}", "#22304a\\", "#22304a'", " #22304a", "#22304a ", "url(#p0)",
    "var(--ink)", "expression(1)", "#２２３０４ａ", "#٢٢٣٠٤٥", "#22304a/**/", "</style>", "rgb(1,2,3)", "",
    "#", "#gggggg", "22304a", "#22304a4a",
)  # fmt: skip


TAG = "rectangle tag from ink\n  size 1 x 1\n  loose\n"


def in_color(color: str) -> str:
    return HEAD.replace("12 x 12", f'12 x 12, color "{color}"') + TAG


@pytest.mark.parametrize("color", COLORS)
def test_a_color_is_six_digits_and_nothing_else(color: str) -> None:
    assert "not-a-color" in codes_of(in_color(color))


@pytest.mark.parametrize("color", ["#22304a", "#ABCDEF"])
def test_a_color_that_is_one_is_drawn(color: str) -> None:
    drawings = render(sheet_of(compile_text(in_color(color))), ("svg",))
    assert color.lower() in b"".join(drawings.values()).decode()


TITLES = (HOSTILE, MARKS, LONG, "../../up", "/root", "..", ".", "a/b", "a\\b", "c:d", "~", "-o", "$(x)",
          "`x`", "a b", "\u00e4", "con", "variants", *FIRST)  # fmt: skip


def test_a_title_in_a_files_name_is_letters_and_digits_with_hyphens() -> None:
    names = list(names_of_variants(TITLES).values())
    for name in names:
        assert all(sign.isalnum() or sign == "-" for sign in name)
        assert re.match(r"\w", name) and len(name.encode()) <= 64
        assert Path(f"card-{name}").name == f"card-{name}"
    assert len(names) == len({name.casefold() for name in names}) == len(set(TITLES))
