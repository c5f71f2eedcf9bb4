"""`use`: what other files give, which wins, and what may not be read."""

import pytest

from cardrecipe.syntax.source import Source
from tests.recipes import Texts, codes_of, compile_recipe, cut, sized, words_of

RECIPE = (
    'recipe "Borrowed"\n  units inch nearest 1/16\n  border 1/8\n{use}\nbase card from ink\n'
    "  fold side-fold, width 4, height 5\n"
)
SHELF = 'paper ink is cardstock "Shelf ink" 12 x 12\nlet reveal = 1/4\n'


def test_a_used_file_gives_papers_supplies_lets_and_structures() -> None:
    shelf = (
        SHELF + 'supply coal is ink "Coal black"\n'
        "structure wrap\n  ask width, height\n  flat 2 * width + reveal x height\n  score width from left\n"
        "  sections front, back\n"
    )
    text = RECIPE.format(use='use "shelf.recipe"').replace("side-fold", "wrap")
    text += 'panel a from ink on back\n  border reveal\n  stamp "Gull" in coal\n'
    card = sized(text, {"shelf.recipe": shelf})
    assert card.papers["ink"].title == "Shelf ink"
    assert card.piece("card").width == 8 + 1 / 4
    assert card.piece("a").width == 4 + 1 / 4 - 1 / 2
    assert card.piece("a").works[0].using == ("Coal black",)


def test_the_recipes_own_declaration_wins_over_a_used_one() -> None:
    text = RECIPE.format(use='use "shelf.recipe"\npaper ink is plain "Own ink" 12 x 12\nlet reveal = 1/2')
    text += "panel a from ink on back\n  border reveal\n"
    card = sized(text, {"shelf.recipe": SHELF})
    assert card.papers["ink"].title == "Own ink"
    assert card.piece("a").width == 3


def test_a_used_file_may_use_another_beside_it() -> None:
    files = {"shelf/all.recipe": 'use "paper/ink.recipe"\n', "shelf/paper/ink.recipe": SHELF}
    assert codes_of(RECIPE.format(use='use "shelf/all.recipe"'), files) == []


def test_a_whole_recipe_may_be_used_for_its_papers() -> None:
    other = f'recipe "Another"\n  border 1\n{SHELF}rectangle a from ink\n  size 1 x 1\n'
    card = sized(RECIPE.format(use='use "other.recipe"'), {"other.recipe": other})
    assert [piece.name for piece in card.pieces] == ["card"]
    assert card.title == "Borrowed"


def test_a_file_that_is_used_twice_is_read_once() -> None:
    files = {"a.recipe": 'use "ink.recipe"\n', "b.recipe": 'use "ink.recipe"\n', "ink.recipe": SHELF}
    texts = Texts(files)
    text = RECIPE.format(use='use "a.recipe"\nuse "b.recipe"\nuse "./ink.recipe"')
    assert compile_recipe(Source("card.recipe", text), texts).diagnostics == []
    assert texts.asked.count("ink.recipe") == 1


@pytest.mark.parametrize("path", [
    "../ink.recipe", "/ink.recipe", "~/ink.recipe", "a/../../ink.recipe", "C:/ink.recipe", "C:ink.recipe",
    "shelf/../ink.recipe", "file:ink.recipe", "https://cards.example/ink.recipe", "//shelf/ink.recipe",
    "\\\\\\\\shelf\\\\ink.recipe", "a\\\\..\\\\ink.recipe",
])  # fmt: skip
def test_no_file_outside_the_folder_is_even_asked_for(path: str) -> None:
    assert refused(path)[0] == "use-outside"


@pytest.mark.parametrize(("path", "reason", "repair"), [
    ("", "names no file", 'use "papers.recipe"'), ("./", "names no file", 'use "papers.recipe"'),
    ("a\\\\ink.recipe", "`\\` parts folders on one system only", 'write "a/ink.recipe"'),
    ("ink.recipe ", "ends with a space", 'rename it to "ink.recipe"'),
    ("shelf /ink.recipe", '"shelf " begins or ends', 'rename it to "shelf"'),
    ("ink.", "ends with a dot", 'rename it to "ink"'),
    ("shelf/ink.recipe:2", "no file's name may have `:`", "letters, digits"),
    ("ink?.recipe", "no file's name may have `?`", "letters, digits"),
    ("i\u00adnk.recipe", "a sign in it that cannot be seen", "letters, digits"),
    ("shelf/NUL.recipe", "the name of a device", "another name"),
    ("com1", "the name of a device", "another name"),
    ("é" * 128, "more than 255 bytes", "shorten it"),
])  # fmt: skip
def test_a_name_is_that_of_one_file_on_every_system(path: str, reason: str, repair: str) -> None:
    code, message, hint = refused(path)
    assert code == "use-name"
    assert reason in message and repair in hint


@pytest.mark.parametrize("path", [
    "ink.recipe", "./ink.recipe", "a/b/ink.recipe", "my ink.recipe", "..ink.recipe", ".shelf/ink",
    "tinte-schön", "console.recipe", "é" * 127, "a~b.recipe",
])  # fmt: skip
def test_other_names_are_looked_for(path: str) -> None:
    texts = Texts()
    found = compile_recipe(Source("folder/card.recipe", RECIPE.format(use=f'use "{path}"')), texts)
    assert [each.code for each in found.diagnostics] == ["use-missing"]
    assert texts.asked == [f"folder/{path.removeprefix('./')}"]


def refused(path: str) -> tuple[str, str, str]:
    """The one thing that is said of a `use` line, under the words of which it is said; nothing is read."""
    texts = Texts()
    text = RECIPE.format(use=f'use "{path}"')
    (found,) = compile_recipe(Source("folder/card.recipe", text), texts).diagnostics
    assert words_of(text, found) == f'"{path}"'
    assert texts.asked == []
    return found.code, found.message, found.hint or ""


def test_a_file_that_gives_nothing_counts_as_often_as_it_is_named() -> None:
    """Or a recipe could have the same large file read thousands of times."""
    texts = Texts()
    text = RECIPE.format(use='use "none.recipe"\n' * 51)
    found = compile_recipe(Source("card.recipe", text), texts).diagnostics
    assert [each.code for each in found] == ["use-missing"] * 50 + ["use-too-many"]
    assert len(texts.asked) == 50


@pytest.mark.parametrize(("number", "codes"), [(50, []), (51, ["use-too-many"])])
def test_at_most_50_files(number: int, codes: list[str]) -> None:
    files = {f"s{at}.recipe": f"let wide-{at} = {at}\n" for at in range(number)} | {"s0.recipe": SHELF}
    text = RECIPE.format(use="\n".join(f'use "s{at}.recipe"' for at in range(number)))
    assert codes_of(text, files) == codes


@pytest.mark.parametrize(("depth", "codes"), [(16, []), (17, ["use-too-deep"])])
def test_at_most_16_deep(depth: int, codes: list[str]) -> None:
    files = {f"s{at}.recipe": f'use "s{at + 1}.recipe"\n' for at in range(1, depth)} | {
        f"s{depth}.recipe": SHELF
    }
    assert codes_of(RECIPE.format(use='use "s1.recipe"'), files) == codes


def test_mistakes_of_a_used_file_point_into_it() -> None:
    files = {"shelf.recipe": SHELF + "papr white\n"}
    text = RECIPE.format(use='use "shelf.recipe"')
    result = compile_recipe(Source("card.recipe", text), Texts(files))
    assert [(each.code, each.span.file) for each in result.diagnostics] == [("unknown-word", "shelf.recipe")]
    assert result.sources["shelf.recipe"].text == files["shelf.recipe"]


def test_units_of_a_borrowed_let_are_the_recipes() -> None:
    text = RECIPE.format(use='use "shelf.recipe"') + "panel a from ink on back\n  border 5.08 mm\n"
    assert cut(text.replace('use "shelf.recipe"', SHELF), "a") == "3 3/5 x 4 3/5".replace("3/5", "9/16")
