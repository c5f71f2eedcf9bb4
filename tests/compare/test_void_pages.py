"""Which printed pages hold: by what stands on them, wherever, and never by their numbers."""

from pathlib import Path

import pytest

from cardrecipe.compare.changes import Comparison, Side
from cardrecipe.compare.of_pages import with_pages
from cardrecipe.render.pages import pictures_of
from cardrecipe.render.papers import Printing
from cardrecipe.render.printed.page_contents import Contents, page_contents
from cardrecipe.sheets import sheet_of
from tests.compare.versions import SHELF
from tests.recipes import compile_text

NIGHT = SHELF["night-market.recipe"]
NOBODY = Side("", "", None)


def pages_of(text: str) -> tuple[Contents, ...]:
    sheet = sheet_of(compile_text(text, SHELF))
    return page_contents(sheet, pictures_of(sheet), Printing())


def void(old: tuple[Contents, ...], new: tuple[Contents, ...]) -> tuple[str, str] | None:
    found = with_pages(Comparison(NOBODY, NOBODY, ()), old, new).changes
    return (found[0].old, found[0].new) if found else None


@pytest.fixture(scope="module")
def night() -> tuple[Contents, ...]:
    return pages_of(NIGHT)


def test_the_same_sheet_keeps_every_page(night: tuple[Contents, ...]) -> None:
    assert len(night) == 8 and all(night)
    assert void(night, pages_of(NIGHT)) is None


def test_an_ink_voids_the_list_and_the_page_of_its_step(night: tuple[Contents, ...]) -> None:
    other = pages_of(NIGHT.replace("ink edges with rust", "ink edges with coal"))
    assert void(night, other) == ("pages 1 and 5 of 8", "pages 1 and 5 of 8")


def test_words_of_the_last_step_void_its_page_alone(night: tuple[Contents, ...]) -> None:
    other = pages_of(NIGHT.replace("Slide the sash off, open", "Slide it off, open"))
    assert void(night, other) == ("page 6 of 8", "page 6 of 8")


def test_a_page_more_in_front_voids_no_page_that_follows(night: tuple[Contents, ...]) -> None:
    front = (("a page that was not there",),)
    assert void(night, (*front, *night)) == ("none of the 8 pages", "page 1 of 9")


def test_parts_that_flow_to_another_page_hold() -> None:
    old = (("guide", "legend"), ("step 1",))
    assert void(old, (("guide",), ("legend", "step 1"))) is None
    assert void(old, (("guide", "news"), ("legend", "step 1"))) == ("none of the 2 pages", "page 1 of 2")


def test_what_goes_with_a_void_page_is_printed_again() -> None:
    old = (("guide", "legend"), ("step 1",))
    assert void(old, (("guide 2",), ("legend",), ("step 1",))) == ("page 1 of 2", "pages 1 and 2 of 3")


def test_parts_in_another_order_are_another_page() -> None:
    assert void((("a", "1", "b", "2"),), (("a", "2", "b", "1"),)) == ("the one page", "the one page")


def test_the_pages_of_a_text_are_told_apart_from_where_they_stand(tmp_path: Path) -> None:
    """A tip more on step 7 pushes what follows on its page down; the rows below it are the same parts."""
    more = NIGHT.replace("  emboss", '  tip "Warm the folder in your hands before you begin."\n  emboss')
    old, new = pages_of(NIGHT), pages_of(more)
    assert len(set(old[4]) - set(new[4])) == 1
