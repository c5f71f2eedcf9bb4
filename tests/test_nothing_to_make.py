"""A recipe without pieces is told, and a variant that drops them all; a shelf and a class are not."""

from pathlib import Path

from tests.recipes import HEAD, checked, codes_of, diagnostics_of, run, words_of

BASE = "base card from ink\n  flat 9 x 5\n  score 4 1/2 from left\n"


def test_a_recipe_without_pieces_makes_nothing_yet() -> None:
    (found,) = diagnostics_of(HEAD)
    assert (found.code, found.severity) == ("no-pieces", "warning")
    assert words_of(HEAD, found) == 'recipe "Evening walk"'
    assert codes_of(HEAD + BASE) == []


def test_it_is_not_told_beside_a_mistake_that_may_be_the_piece() -> None:
    assert "no-pieces" not in codes_of(f"{HEAD}bass card from ink\n  flat 9 x 5\n")


def test_a_variant_that_drops_all_is_told_by_its_own_line() -> None:
    text = f'{HEAD}{BASE}variant "Bare"\n  drop card\n'
    assert [str(each) for each in checked(text)] == [
        'card.recipe:8: warning[no-pieces]: nothing is left to make'
    ]


def test_a_shelf_of_papers_and_a_class_need_none() -> None:
    assert codes_of('paper ink is cardstock "Ink" 12 x 12\n') == []
    assert codes_of('class "Bench"\n  make 2 of "card-2.recipe"\n', {"card-2.recipe": HEAD + BASE}) == []


def test_the_sheet_of_a_recipe_that_is_only_begun_has_no_empty_lists(tmp_path: Path) -> None:
    recipe = tmp_path / "begun.recipe"
    recipe.write_text(f'{HEAD}{BASE}variant "Bare"\n  drop card\n', "utf-8")
    assert run("build", str(recipe), "--variant", "Bare", "--to", "md", "-o", str(tmp_path)).status == 0
    written = (tmp_path / "begun-bare.md").read_text("utf-8")
    assert [line for line in written.split("\n") if line.startswith("## ")] == ["## Take care", "## Notes"]
    assert "Nothing is left to make" in written
    assert run("build", str(recipe), "--variant", "all", "--to", "md", "-o", str(tmp_path)).status == 0
    together = (tmp_path / "begun-variants.md").read_text("utf-8")
    assert "### Cut list: Bare" not in together and "### Steps: Bare" not in together
    assert "**Left out:** card." in together
