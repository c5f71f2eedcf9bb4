"""The editor's grammar against the parser: an independent engine colours each word for the part it plays."""

import importlib
import logging
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from typing import Any

import pytest

from cardrecipe.syntax.line_words import words_of
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.statements import gaps, in_order
from cardrecipe.syntax.tree import Broken
from tests.generated.recipes import recipe
from tests.generated.spacing import respaced
from tests.grammar import editor_grammar
from tests.recipes import NAME, SAMPLES, STRUCTURES, recipes_in

Colours = Callable[[str], list[str]]
# What a word is by its terminal; a word of the language has a terminal of its own.
OF_TERMINAL = {
    "NUMBER": editor_grammar.NUMBER, "STRING": editor_grammar.TEXT, "TEXT_BLOCK": editor_grammar.BLOCK,
    "LENGTH_UNIT": editor_grammar.UNIT, "WEIGHT_UNIT": editor_grammar.UNIT, "UNKNOWN": editor_grammar.UNKNOWN,
    "MIN": editor_grammar.FUNCTION, "MAX": editor_grammar.FUNCTION,
    **dict.fromkeys(("COMMA", "DOT", "LPAR", "RPAR"), editor_grammar.PUNCTUATION),
    **dict.fromkeys(("PLUS", "MINUS", "STAR", "SLASH", "EQUAL", "TIMES"), editor_grammar.OPERATOR),
}  # fmt: skip


@pytest.fixture(scope="module")
def colours(tmp_path_factory: pytest.TempPathFactory) -> Colours:
    """Gives the innermost scope of each character of a text, "" outside any."""
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(tmp_path_factory.mktemp("engine"))  # it makes a folder where it is imported
        engine: Any = importlib.import_module("textmate_grammar.parsers.base")
    logging.getLogger("textmate_grammar").setLevel(logging.ERROR)  # it reports each space between two words
    parser = engine.LanguageParser(editor_grammar.grammar())

    def scopes(text: str) -> list[str]:
        starts = [0]
        for line in text.split("\n"):
            starts.append(starts[-1] + len(line) + 1)
        found = [""] * len(text)
        # The engine stumbles over blank lines at the end.
        for (line, column), part, names in parser.parse_string(text.rstrip() + "\n").flatten():
            inner = names[-1].removesuffix(".recipe") if len(names) > 1 else ""
            at = starts[line] + column
            found[at : at + len(part)] = [inner] * len(part)
        return found

    return scopes


def expected(source: Source) -> Iterator[tuple[int, int, str]]:
    """Where each word and comment stands, and what it is to the parser."""
    placed = list(in_order(parse(source)[0].statements))
    for _, statement in placed:
        if isinstance(statement.node, Broken):
            continue
        words = words_of(source.words_at(statement.span))
        for at, word in enumerate(words):
            start = statement.span.start + word.token.start_pos
            yield start, start + len(word.token), _part(at, word.terminal, words[0].token)
    ends = [0, *(each.statement.span.end for each in placed)]
    for end, gap in zip(ends, gaps(source, placed), strict=True):
        for comment in filter(None, (gap.rest, *(line.strip() for line in gap.lines))):
            start = source.text.index(comment, end)
            end = start + len(comment)
            yield start, end, editor_grammar.COMMENT


def _part(at: int, terminal: str, first: str) -> str:
    if at == 0:
        return editor_grammar.FIRST
    if terminal == "NAME":
        declares = at == 1 and first in editor_grammar.DECLARING
        return editor_grammar.DECLARED if declares else editor_grammar.NAME
    return OF_TERMINAL.get(terminal, editor_grammar.FURTHER)


def disagreements(text: str, colours: Colours) -> list[tuple[str, str, set[str]]]:
    """Words that are coloured as something else; spaces have no colour that one could see."""
    found = colours(text)
    seen = [(text[start:end], part, {found[at] for at in range(start, end) if not text[at].isspace()})
            for start, end, part in expected(Source(NAME, text))]  # fmt: skip
    return [each for each in seen if each[2] != {each[1]}]


@pytest.mark.parametrize("path", recipes_in(SAMPLES, STRUCTURES), ids=lambda path: path.stem)
def test_what_is_shipped_is_coloured_as_it_is_read(path: Path, colours: Colours) -> None:
    assert disagreements(path.read_text(encoding="utf-8"), colours) == []


@pytest.mark.parametrize("chunk", range(4))
def test_generated_recipes_are_coloured_as_they_are_read(chunk: int, colours: Colours) -> None:
    for seed in range(chunk * 50, chunk * 50 + 50):
        text = respaced(recipe(seed), Random(seed)).removeprefix("\ufeff").replace("\r\n", "\n")
        assert disagreements(recipe(seed), colours) == [], seed
        assert disagreements(text, colours) == [], seed


def test_what_is_no_word_of_a_line_is_not_coloured_as_one(colours: Colours) -> None:
    text = "pannel a from b\n  size-b 3\npanel from-b from on-c\n"
    scopes = colours(text)
    assert set(scopes[:27]) == {""}
    assert scopes[text.index("from-b")] == editor_grammar.DECLARED
    assert scopes[text.index("from on-c")] == editor_grammar.FURTHER
    assert scopes[text.index("on-c")] == editor_grammar.NAME


def test_a_text_that_is_not_closed_ends_with_its_line(colours: Colours) -> None:
    text = 'recipe "open\n  makes 3\n'
    assert colours(text)[text.index("makes")] == editor_grammar.FIRST


@pytest.mark.parametrize("path", editor_grammar.files(), ids=lambda path: path.name)
def test_the_files_are_what_the_word_lists_make(path: Path) -> None:
    hint = "run `python -m tests.grammar.editor_grammar`"
    assert path.read_text(encoding="utf-8") == editor_grammar.files()[path], hint
