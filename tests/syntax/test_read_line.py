"""Our table-driven reading of a line against lark's own parser of the same grammar (the oracle).

lark is a general-purpose parser library. What it accepts must be accepted here with the same node, and
what it refuses must be refused, over every form of the language and thousands of spoilt lines.
"""

import random
import re
from collections.abc import Iterator

import lark
import pytest

from cardrecipe.syntax.build import LineProblem, NodeBuilder
from cardrecipe.syntax.grammar import grammar_text, tables
from cardrecipe.syntax.make_tables import made_tables, source_of
from cardrecipe.syntax.read_line import Misread, read_line
from cardrecipe.syntax.words import FORMS
from tests.recipes import NAME, ROOT, SAMPLES, STRUCTURES, recipes_in, shown
from tests.syntax.test_statements import EXPRESSIONS, NUMBERS, TOP, UNDER

LINES = (
    [form.example for form in FORMS] + [line for line, _ in TOP] + [line for _, line, _ in UNDER]
    + [f"let a = {text}" for text, _ in NUMBERS + EXPRESSIONS]
)  # fmt: skip
# lark's lexer would take `min` for a name, or else the beginning of `minor` for `min`.
ORACLE = lark.Lark(
    grammar_text().replace('FUNCTION: "min" | "max"', "FUNCTION.1: /(?:min|max)(?![a-z0-9-])/"),
    parser="lalr", lexer="contextual", maybe_placeholders=True,
)  # fmt: skip


class Lark(lark.Transformer):  # type: ignore[type-arg]
    """Calls the methods of a builder for lark's tree, as they are called for ours."""

    def __init__(self, builder: NodeBuilder) -> None:
        super().__init__()
        self.builder = builder

    def __default__(self, data: str, children: list[object], meta: object) -> object:
        method = getattr(self.builder, str(data), None)
        return method(children) if method else children


def by_lark(text: str) -> str:
    try:
        return shown(Lark(NodeBuilder(NAME, 0)).transform(ORACLE.parse(text)))
    except lark.UnexpectedInput:
        return "refused"
    except lark.exceptions.VisitError as problem:
        assert isinstance(problem.orig_exc, LineProblem)
        return problem.orig_exc.diagnostic.code
    except LineProblem as problem:
        return problem.diagnostic.code


def by_tables(text: str) -> str:
    try:
        return shown(read_line(text, NodeBuilder(NAME, 0)))
    except Misread:
        return "refused"
    except LineProblem as problem:
        return problem.diagnostic.code


@pytest.mark.parametrize("line", LINES)
def test_every_form_gives_the_node_that_lark_gives(line: str) -> None:
    assert by_tables(line) == by_lark(line) != "refused"


def test_spoilt_lines_are_taken_and_refused_as_lark_takes_and_refuses_them() -> None:
    both = {"refused": 0, "taken": 0}
    for text in spoilt(random.Random(11), 5_000):
        ours, oracle = by_tables(text), by_lark(text)
        assert ours == oracle, text
        both["refused" if ours == "refused" else "taken"] += 1
    assert min(both.values()) > 500, both


def test_every_line_of_the_samples_and_structures_agrees() -> None:
    for path in recipes_in(SAMPLES, STRUCTURES):
        for line in path.read_text(encoding="utf-8").splitlines():
            text = line.split("#")[0].strip()
            if text and '"' not in text:
                assert by_tables(text) == by_lark(text), text


def spoilt(chance: random.Random, number: int) -> Iterator[str]:
    """Lines with words left out, doubled, swapped or taken from another line."""
    words = [re.findall(r'"[^"]*"|[a-z0-9½.-]+|\S', line) for line in LINES]
    for _ in range(number):
        line = list(chance.choice(words))
        for _ in range(chance.randint(1, 2)):
            at = chance.randrange(len(line))
            kind = chance.randrange(4)
            if kind == 0 and len(line) > 1:
                del line[at]
            elif kind == 1:
                line.insert(at, line[at])
            elif kind == 2:
                line[at] = chance.choice(chance.choice(words))
            else:
                line.insert(at, chance.choice(chance.choice(words)))
        yield " ".join(line)


def test_the_saved_tables_are_those_of_the_grammar() -> None:
    saved = (ROOT / "cardrecipe" / "syntax" / "tables.py").read_text(encoding="utf-8")
    assert source_of(made_tables()) == saved, "run python -m cardrecipe.syntax.make_tables"
    assert tables() == made_tables()
