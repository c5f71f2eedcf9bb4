"""What stands beside a class: papers and supplies say what its `have` lines mean, and no `let` does."""

import pytest

from tests.recipes import HEAD, checked

FILES = {
    "tag.recipe": f'{HEAD}supply coal is ink "Coal black"\nrectangle tag from ink\n  size 2 x 3\n  loose\n'
    '  stamp "A star" in coal\n',
    "shelf.recipe": 'paper moss is cardstock "Moss" 12 x 12\nlet wide = 3\n',
}


def told(beside: str, haves: str = "") -> list[tuple[int, str]]:
    text = f'class "Bench"\n  make 3 of "tag.recipe"\n{haves}{beside}'
    return [(each.line, each.code) for each in checked(text, FILES)]


@pytest.mark.parametrize("name", ["ink", '"Ink"'])
def test_a_paper_serves_the_line_that_says_how_much_of_it_there_is(name: str) -> None:
    paper = 'paper ink is cardstock "Ink" 12 x 12\n'
    assert told(paper, f"  have {name} 3 sheets\n") == []
    assert told(paper) == [(3, "unused-paper")]


@pytest.mark.parametrize("name", ["coal", '"coal BLACK"'])
def test_a_supply_serves_the_line_that_says_that_it_is_there(name: str) -> None:
    supply = 'supply coal is ink "Coal black"\n'
    assert told(supply, f"  have {name}\n") == []
    assert told(supply) == [(3, "unused-supply")]


def test_a_shelf_that_a_class_uses_may_hold_more_than_it_needs() -> None:
    assert told('use "shelf.recipe"\n') == []


def test_each_let_is_refused() -> None:
    assert told("let wide = 3\nlet tall = 2\n") == [(3, "class-alone"), (4, "class-alone")]


def test_papers_of_a_recipe_in_the_same_file_are_not_judged() -> None:
    recipe = f"{HEAD}rectangle tag from ink\n  size 2 x 3\n  loose\n"
    assert told(recipe) == [(3, "class-alone")]
