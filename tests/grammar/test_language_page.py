"""Every example of the language page compiles, and it shows all of the language."""

import re
from collections.abc import Iterator

import pytest

from cardrecipe.syntax import tree
from cardrecipe.syntax.build import NodeBuilder
from cardrecipe.syntax.read_line import read_line
from cardrecipe.syntax.record import Record
from cardrecipe.syntax.words import FORMS, Form
from tests.recipes import ROOT, SAMPLES, checked, parsed

PAGE = (ROOT / "grammar" / "language.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"^```recipe\n(.*?)^```$", PAGE, re.DOTALL | re.MULTILINE)
SHELF = re.findall(r"^```recipe shelf\n(.*?)^```$", PAGE, re.DOTALL | re.MULTILINE)[0]
# What the examples use stands in the folder of the samples.
FILES = {path.name: path.read_text(encoding="utf-8") for path in SAMPLES.glob("*.recipe")}


def whole(example: str) -> str:
    """An example with the shelf before it, where it does not begin a file of its own."""
    begins = example.startswith(("recipe", "class", "use", "#"))
    return example if begins else SHELF + example


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda text: text.split("\n")[0])
def test_example_compiles_without_an_error(example: str) -> None:
    found = checked(whole(example), FILES)
    assert [str(each) for each in found if each.severity == "error"] == []


# ---- nothing of the language is missing -----------------------------------------------------------


def _statements(statements: tuple[tree.Statement, ...]) -> Iterator[tree.Statement]:
    for each in statements:
        yield each
        yield from _statements(each.block)


SHOWN = [each for text in (SHELF, *EXAMPLES) for each in _statements(parsed(text)[0].statements)]


def _records(value: object) -> Iterator[Record]:
    if isinstance(value, Record):
        yield value
        for name in value._fields:
            yield from _records(getattr(value, name))
    elif isinstance(value, tuple):
        for each in value:
            yield from _records(each)


def _node(form: Form) -> tree.Node:
    node: tree.Node = read_line(form.example, NodeBuilder("", 0))
    return node


def _has_form(statement: tree.Statement, form: Form) -> bool:
    """True where a line is of that form: of its word, with the parts that its example has."""
    example, node = _node(form), statement.node
    if statement.word != form.word or type(node) is not type(example):
        return False
    return all(bool(getattr(node, name)) or not getattr(example, name) for name in node._fields)


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.example)
def test_each_form_of_each_line_has_an_example(form: Form) -> None:
    assert any(_has_form(each, form) for each in SHOWN)


def test_each_part_that_a_line_can_have_has_an_example() -> None:
    shown = {(type(each).__name__, name) for statement in SHOWN for each in _records(statement.node)
             for name in each._fields if getattr(each, name)}  # fmt: skip
    parts = {(type(each).__name__, name) for form in FORMS for each in
             _records(_node(form)) for name in each._fields}  # fmt: skip
    assert sorted(parts - shown) == []


def test_each_line_can_be_looked_up() -> None:
    """The table of all lines has a row for each word, with the places where that may stand."""
    rows = re.findall(r"^\| `([a-z]+)[^|]*\|", PAGE, re.MULTILINE)
    assert sorted({form.word for form in FORMS} - set(rows)) == []
