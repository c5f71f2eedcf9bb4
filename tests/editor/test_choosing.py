"""What there is to choose from where a name has two owners or none, and where a file is missing."""

import pytest

from cardrecipe.editor.offering.completing import completions
from tests.editor.marked import at_cursor
from tests.recipes import HEAD

BOOK = HEAD + "base book from ink\n  fold side-fold, width 4, height 5\n"
TWO = BOOK + "base other from ink\n  fold side-fold, width 3, height 4\npanel note from ink on book.front\n"
TAG = HEAD + 'supply coal is ink "Coal"\nvariant "Harvest"\n  about "A"\n'


def offered(text: str, files: dict[str, str] | None = None) -> list[str]:
    found, offset = at_cursor(text, files)
    return [each.label for each in completions(found, offset)]


def test_of_two_sections_of_one_name_no_size_is_offered_without_its_piece() -> None:
    both, one = offered(f"{TWO}let a = 2 * ‸"), offered(f"{BOOK}let a = 2 * ‸")
    assert "front.width" in one and "front.width" not in both
    assert "book.width" in both and "other.width" in both
    assert {"book.front", "other.front"} <= set(offered(f"{TWO}panel a from ink on ‸"))


def test_after_the_other_name_of_the_one_base_stand_its_closed_sizes() -> None:
    assert offered(f"{BOOK}let a = card.‸") == ["finished-width", "finished-height", "thickness"]
    assert offered(f"{TWO}let a = card.‸") == []
    assert offered(f"{BOOK}let a = nosuch.‸") == []


def test_a_fold_that_nobody_has_asks_for_nothing() -> None:
    assert offered(f"{BOOK}base b from ink\n  fold nosuch, ‸") == []
    assert offered(f"{BOOK}base b from ink\n  fold side-fold, ‸") == ["width", "height"]


@pytest.mark.parametrize("before", ["", "3 + "])
def test_what_a_variant_sets_is_a_size(before: str) -> None:
    found = offered(f'{BOOK}let reveal = 1/8\nvariant "A"\n  set book.width {before}‸')
    assert {"reveal", "book.height", "front.width"} <= set(found)
    assert "book" not in found and "border" not in found


def test_a_glue_line_that_belongs_to_no_piece_may_hold_to_any() -> None:
    under_a_piece = offered(f"{TWO}  glue with tape only on ‸")
    alone = offered(f"{TWO}glue with tape only on ‸")
    assert "note" in alone and "note" not in under_a_piece
    assert set(under_a_piece) | {"note"} == set(alone)


def test_a_recipe_that_is_not_there_has_no_variants_and_no_papers() -> None:
    files = {"tag.recipe": TAG}
    assert offered('class "B"\n  make 3 of "tag.recipe" variant "‸', files) == ["Harvest"]
    assert offered('class "B"\n  make 3 of "gone.recipe" variant "‸', files) == []
    both = 'class "B"\n  make 3 of "gone.recipe"\n  make 2 of "tag.recipe"\n  have ‸'
    assert offered(both, files) == ["ink", "coal"]
    assert offered('class "B"\n  make 3 of "gone.recipe"\n  have ‸', files) == []


def test_after_the_sheets_that_a_class_has_stands_a_size_and_no_paper() -> None:
    found = offered('class "B"\n  make 2 of "tag.recipe"\n  have ink 3 sheets ‸', {"tag.recipe": TAG})
    assert "ink" not in found and "coal" not in found and "max" in found
