"""Labels: one for each bag, each number once, and a grid that fits both papers."""

import pytest

from cardrecipe.render.class_pack.labels import label_grid, label_numbers, label_pages, labels
from cardrecipe.render.drawings.lettering import text_width
from cardrecipe.render.papers import PAGES, Printing
from cardrecipe.render.printed.fitted import fitted, fitted_list
from cardrecipe.render.printed.look import POINT
from tests.render.class_pack.hand_made_class import class_sheet

ONE_SEAT = (("night-market", None, 1, 0),)
MANY = (("night-market", None, 120, 3), ("night-market", "Harvest", 1, 0), ("market-tags", None, 30, 2))


@pytest.mark.parametrize("asked", [ONE_SEAT, MANY])
def test_a_label_for_each_kit_and_each_number_once(
    asked: tuple[tuple[str, str | None, int, int], ...],
) -> None:
    found = labels(class_sheet(asked))
    assert len(found) == sum(seats + spare for _, _, seats, spare in asked)
    assert len({label.number for label in found}) == len(found)
    for kit, (_, _, seats, spare) in zip(class_sheet(asked).kits, asked, strict=True):
        own = [label for label in found if label.kit == kit.letter]
        assert [label.is_spare for label in own] == [False] * seats + [True] * spare
        assert all(label.number.startswith(f"{kit.letter}-") and label.title == kit.title for label in own)


def test_numbers_have_as_many_digits_as_the_last_one_needs() -> None:
    many, one, _ = class_sheet(MANY).kits
    numbers = label_numbers(many)
    assert (numbers[0], numbers[-1]) == ("A-001", "A-123")
    assert label_numbers(one) == ["B-01"]


@pytest.mark.parametrize("across", [1, 2])
def test_each_kit_begins_a_row_and_nothing_else_is_left_free(across: int) -> None:
    every = labels(class_sheet(MANY))
    pages = label_pages(every, across, 5 * across)
    cells = [label for page in pages for label in page]
    assert [label for label in cells if label] == list(every)
    assert all(len(page) == 5 * across for page in pages[:-1])
    for at, label in enumerate(cells):
        before = cells[at - 1] if at else None
        if label is None:
            rest = across - 1 - at % across
            assert at % across and cells[at + 1 :][:rest] == [None] * rest
        elif before is None or before.kit != label.kit:
            assert at % across == 0


def test_a_label_says_what_is_inside() -> None:
    first = labels(class_sheet())[0]
    assert "2 × door paper" in first.inside and "sash" in first.inside


@pytest.mark.parametrize("unit", ["inch", "mm"])
@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("is_large", [False, True])
def test_the_grid_leaves_the_rim_that_printers_cannot_reach(unit: str, page: str, is_large: bool) -> None:
    """A quarter of an inch on every side: common practice, no published source."""
    paper = PAGES[page]
    grid = label_grid(unit, paper, Printing(page, is_large=is_large))
    assert paper.width - grid.across * grid.width >= 2 * 6.35
    assert paper.height - grid.down * grid.height >= 2 * 6.35
    assert grid.on_a_page == grid.across * grid.down


def test_a_long_title_is_cut_with_a_sign() -> None:
    lines = fitted("The evening when all lanterns hang along the old canal", 11.0, 40.0, 2, bold=True)
    assert len(lines) == 2 and lines[-1].endswith("…")
    assert all(text_width(line, 11.0 * POINT, True) <= 40.0 for line in lines)


def test_a_word_that_is_wider_than_the_label_is_broken() -> None:
    lines = fitted("W" * 60, 11.0, 40.0, 9)
    assert "".join(lines) == "W" * 60
    assert all(text_width(line, 11.0 * POINT) <= 40.0 for line in lines)


def test_a_short_text_stays_whole() -> None:
    assert fitted("Canal", 11.0, 40.0, 2) == ["Canal"]
    assert fitted("", 11.0, 40.0, 2) == []


def test_a_list_without_room_says_how_many_are_left_out() -> None:
    items = [f"panel number {number}" for number in range(1, 13)]
    lines = fitted_list(items, 9.5, 60.0, 3)
    text = " ".join(lines)
    left = int(text.rpartition(" and ")[2].removesuffix(" more"))
    assert len(lines) <= 3 and 0 < left < 12
    assert all(
        (item in text) == (at < 12 - left)
        for at, item in enumerate(f"{item}," for item in items[:-1])
        if at != 11 - left
    )
    assert fitted_list(items[:2], 9.5, 60.0, 3) == ["panel number 1, panel number 2"]
