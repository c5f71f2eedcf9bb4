"""A shelf of papers is no card: nothing is written for it, and that is said."""

from pathlib import Path

import pytest

from tests.recipes import HEAD, run

SHELF = 'paper ink is cardstock "Ink" 12 x 12\n'
BASE = "base card from ink\n  flat 9 x 5\n  score 4 1/2 from left\n"
SAID = "is a shelf of papers without a card; nothing is written for it"


@pytest.fixture(autouse=True)
def _in_an_empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("papers.recipe").write_text(SHELF, "utf-8")
    Path("card.recipe").write_text(HEAD + BASE, "utf-8")


def test_a_shelf_alone_is_no_sheet() -> None:
    ran = run("build", "papers.recipe", "-o", "out")
    assert (ran.status, ran.err) == (2, f"cardrecipe: papers.recipe {SAID}\n")
    assert not Path("out").exists()


def test_a_shelf_among_recipes_is_passed_over() -> None:
    ran = run("build", "card.recipe", "papers.recipe", "-o", "out", "--to", "md")
    assert ran.status == 0 and SAID in ran.err
    assert [each.name for each in Path("out").iterdir()] == ["card.md"]


def test_a_recipe_without_pieces_is_a_sheet_yet() -> None:
    """Its maker has only begun, and is told so."""
    Path("begun.recipe").write_text(HEAD, "utf-8")
    ran = run("build", "begun.recipe", "-o", "out", "--to", "md")
    assert ran.status == 0 and "warning[no-pieces]" in ran.err
    assert [each.name for each in Path("out").iterdir()] == ["begun.md"]
