"""Every example of the language page compiles; the page and the grammar cannot drift apart unseen."""

import re
from pathlib import Path

import pytest

from cardrecipe.compile import compile_recipe
from cardrecipe.model.texts import NoTexts
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.words import FORMS

PAGE = (Path(__file__).parents[2] / "grammar" / "language.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"^```recipe\n(.*?)^```$", PAGE, re.DOTALL | re.MULTILINE)
SHELF = re.findall(r"^```recipe shelf\n(.*?)^```$", PAGE, re.DOTALL | re.MULTILINE)[0]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda text: text.split("\n")[0])
def test_example_compiles_without_an_error(example: str) -> None:
    text = example if example.startswith("recipe") else SHELF + example
    result = compile_recipe(Source("example.recipe", text), NoTexts())
    for variant in (None, *result.variants):
        again = compile_recipe(Source("example.recipe", text), NoTexts(), variant)
        assert [each for each in again.diagnostics if each.severity == "error"] == []


def test_every_word_of_the_language_is_on_the_page() -> None:
    missing = [form.word for form in FORMS if not re.search(rf"\b{form.word}\b", PAGE)]
    assert missing == []
