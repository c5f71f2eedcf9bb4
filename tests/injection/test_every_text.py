"""No text of the language is left out: the places of these tests are those of the grammar and of the tree."""

import inspect
import re
from collections import Counter
from collections.abc import Iterator

from cardrecipe.syntax import tree
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.record import Record
from cardrecipe.syntax.source import Source
from tests.injection.every_text import CLASS, FREE, IN_BLOCKS, RECIPE, filled, places, texts_of
from tests.recipes import ROOT

SAID = texts_of("words", "words")
_TEXT = re.compile(r"\b(text|STRING)\b")


def rules_with_texts() -> dict[str, str]:
    """The rules of the grammar that hold a text, with what each consists of."""
    grammar = re.sub(r"//[^\n]*", "", (ROOT / "grammar" / "recipe.lark").read_text("utf-8"))
    rules = re.findall(r"^\??([a-z_]+) *:((?:[^\n]|\n[ |]+)*)", grammar, re.M)
    return {name: inside for name, inside in rules if _TEXT.search(inside) and name != "text"}


def test_each_text_of_the_grammar_has_a_place() -> None:
    here = Counter(name.split()[0] for name in places())
    for rule, inside in rules_with_texts().items():
        assert here[rule] >= len(_TEXT.findall(inside)), rule
    assert set(here) == set(rules_with_texts())


def test_a_place_may_be_a_block_where_the_grammar_says_so() -> None:
    in_blocks = {name for name, inside in rules_with_texts().items() if "text" in _TEXT.findall(inside)}
    assert {name.split()[0] for name in IN_BLOCKS} == in_blocks


def fields_with_texts() -> set[tuple[str, str]]:
    """The fields of the tree's nodes that hold a text, as `(WorkLine, text)`."""
    records = (each for _, each in inspect.getmembers(tree, inspect.isclass) if issubclass(each, Record))
    return {(each.__name__, name) for each in records for name, kind in inspect.get_annotations(each).items()
            if re.search(r"\bText\b", str(kind))}  # fmt: skip


def test_each_text_of_the_tree_is_filled() -> None:
    found = {(type(node).__name__, name) for node in nodes() for name, value in fields(node)
             if isinstance(value, tree.Text)}  # fmt: skip
    assert found == fields_with_texts()


def test_each_word_with_a_text_stands_in_the_recipe_with_it() -> None:
    verbs = {node.verb for node in nodes() if isinstance(node, tree.WorkLine) and node.text is not None}
    assert verbs == {"stamp", "emboss", "die", "punch", "foil", "write", "add", "do"}


def test_each_text_is_read_as_it_was_put() -> None:
    found = [value.text for node in nodes() for _, value in fields(node) if isinstance(value, tree.Text)]
    assert set(SAID.values()) <= set(found)
    assert len({SAID[name] for name in FREE}) == len(FREE)


def nodes() -> Iterator[Record]:
    """Every node of the recipe and of the class, the nodes within nodes too."""
    for text in (RECIPE, CLASS):
        found, mistakes = parse(Source("a", filled(text, SAID)))
        assert mistakes == []
        for statement in found.statements:
            yield from _within(statement)


def _within(value: object) -> Iterator[Record]:
    if isinstance(value, Record):
        yield value
        for _, each in fields(value):
            yield from _within(each)
    elif isinstance(value, tuple) and not hasattr(value, "_fields"):
        for each in value:
            yield from _within(each)


def fields(node: Record) -> list[tuple[str, object]]:
    return [(name, getattr(node, name)) for name in inspect.get_annotations(type(node))]
