"""The laws of the canonical text, on 5,000 generated recipes with other spaces, comments and line ends."""

from collections.abc import Iterator
from random import Random

import pytest

from cardrecipe.commands.formatting import says_the_same
from cardrecipe.syntax.formatter import formatted
from cardrecipe.syntax.line_words import words_of
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.statements import comments, in_order, meaning
from tests.generated.recipes import recipe
from tests.generated.spacing import comments_of, respaced
from tests.recipes import NAME

RECIPES, CHUNK = 5_000, 500


def source_of(text: str) -> Source:
    """As a file is read: without its byte-order mark, with line feeds alone."""
    return Source(NAME, text.removeprefix("\ufeff").replace("\r\n", "\n"))


def canonical(text: str) -> str:
    return formatted(source_of(text))


def without_blank_lines(text: str) -> list[str]:
    return [line for line in text.split("\n") if line.strip()]


def seeds(chunk: int) -> Iterator[int]:
    yield from range(chunk * CHUNK, (chunk + 1) * CHUNK)


@pytest.mark.parametrize("chunk", range(RECIPES // CHUNK))
def test_the_laws(chunk: int) -> None:
    """Twice is once; the tree stays, spans aside; the comments stay in number, words and order."""
    for seed in seeds(chunk):
        source = source_of(respaced(recipe(seed), Random(seed)))
        once = Source(NAME, formatted(source))
        before, (after, mistakes) = parse(source)[0], parse(once)
        assert mistakes == [], seed
        assert formatted(once) == once.text, seed
        assert meaning(before) == meaning(after), seed
        said = comments(source, before)
        assert said == comments(once, after) == comments_of(once.text), seed


@pytest.mark.parametrize("chunk", range(2))
def test_spaces_are_forgotten(chunk: int) -> None:
    """A canonical text of which only the spaces were changed comes back, but for its blank lines."""
    for seed in seeds(chunk):
        text = recipe(seed)
        assert canonical(text) == text, seed
        changed = canonical(respaced(text, Random(seed), comments=0))
        assert without_blank_lines(changed) == without_blank_lines(text), seed


def test_comments_and_blank_groups_are_all_that_a_canonical_text_remembers() -> None:
    """Two texts of one recipe with the same comments in the same places have one canonical text."""
    for seed in range(300):
        commented = canonical(respaced(recipe(seed), Random(seed)))
        again = canonical(respaced(commented, Random(seed + 1), comments=0))
        assert without_blank_lines(again) == without_blank_lines(commented), seed


def test_no_line_has_spaces_at_its_end_and_no_two_lines_are_blank() -> None:
    for seed in range(300):
        text = canonical(respaced(recipe(seed), Random(seed)))
        source = Source(NAME, text)
        outside = text
        for placed in in_order(parse(source)[0].statements):
            if '"""' in source.words_at(placed.statement.span):
                outside = outside.replace(source.words_at(placed.statement.span), "block")
        assert "\n\n\n" not in outside and not outside.startswith("\n"), seed
        assert all(line == line.rstrip() for line in outside.split("\n")), seed
        assert text.endswith("\n") and not text.endswith("\n\n"), seed


def test_the_sign_of_a_number_and_a_subtraction_are_told_apart() -> None:
    """As many words are signs as the tree has negative values."""
    for seed in range(500):
        source = Source(NAME, recipe(seed))
        for placed in in_order(parse(source)[0].statements):
            signs = [word for word in words_of(source.words_at(placed.statement.span))
                     if word.terminal == "MINUS" and word.begins_value]  # fmt: skip
            assert len(signs) == repr(placed.statement.node).count("Negative("), seed


# What slips into a line: signs of the language, and characters that are spaces or nothing to somebody else.
SLIPS = (
    "",
    "?",
    '"',
    "\t",
    " of ",
    '"""',
    "#",
    "\n",
    "\n \t",
    "½",
    "\u00a0",
    "\x0c",
    "\u2028",
    "\ufeff",
    "\x00",
)


def test_with_mistakes_too_twice_is_once_and_nothing_is_lost() -> None:
    """In an editor half of what is typed has mistakes; the lines around them are formatted all the same."""
    for seed in range(1000):
        chance = Random(seed)
        text = source_of(respaced(recipe(seed), chance)).text
        for _ in range(3):
            at = chance.randrange(len(text) + 1)
            text = text[:at] + chance.choice(SLIPS) + text[at + chance.choice((0, 0, 1)) :]
        source = Source(NAME, text)
        once = Source(NAME, formatted(source))
        assert formatted(once) == once.text, seed
        before, after = parse(source), parse(once)
        assert [each.code for each in before[1]] == [each.code for each in after[1]], seed
        assert meaning(before[0]) == meaning(after[0]), seed
        assert comments(source, before[0]) == comments(once, after[0]), seed


@pytest.mark.parametrize(
    "other",
    [
        "let a = 1\nlet b = 2\n",
        "let a = 1  # one\nlet b = 2.5\n",
        "let a = 1  # one\n",
        "# one\nlet b = 2\n",
        "let a = 1  # one\n  let b = 2\n",
        "let a = 1  # one\nlet b = 2 in\n",
        "let a = 1  # one two\nlet b = 2\n",
    ],
)
def test_what_would_not_be_the_same_is_seen(other: str) -> None:
    source = Source(NAME, "let a=1 # one\nlet  b = 2\n")
    assert says_the_same(source, "let a = 1  # one\nlet b = 2\n")
    assert not says_the_same(source, other)
