"""What a wrong line is answered with, where a wrong answer would send a maker to the next mistake."""

import pytest

from cardrecipe.syntax.formatter import formatted
from cardrecipe.syntax.mistakes import reads
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.trade_words import LINES
from cardrecipe.syntax.words import WORDS
from tests.recipes import HEAD, NAME, checked, compile_text, parsed


@pytest.mark.parametrize(("line", "hint"), [
    ("class A", 'class "A"'), ("recipe Evening walk", 'recipe "Evening walk"'),
    ("variant big", 'variant "big"'), ("use papers.recipe", 'use "papers.recipe"'),
    ("paper glow is cardstock Glow", 'paper glow is cardstock "Glow"'),
])  # fmt: skip
def test_a_text_without_quotes_is_answered_with_quotes(line: str, hint: str) -> None:
    (found,) = parsed(f"{line}\n")[1]
    assert found.code == "not-understood"
    assert found.hint == f"texts stand in quotes: {hint}"


@pytest.mark.parametrize(("word", "line"), LINES.items())
def test_a_word_of_the_trade_is_answered_with_the_line_for_it(word: str, line: str) -> None:
    assert word not in WORDS
    (found,) = parsed(f"{word.capitalize()} 3\n")[1]
    assert (found.code, found.hint) == (
        "unknown-word", f"that is a `{line.split()[0]}` line here, for instance: {line}",
    )  # fmt: skip
    assert reads(line)


@pytest.mark.parametrize("between", ["is ", "= ", "to ", "with ", "from ", ""])
def test_a_paper_that_is_set_is_answered_with_its_exchange(between: str) -> None:
    (found,) = parsed(f'variant "Cold"\n  set ink {between}cardstock "Ice" 12 x 12, 250 gsm\n')[1]
    assert found.hint == 'a paper is exchanged by: replace ink with cardstock "Ice" 12 x 12, 250 gsm'


def test_other_lines_of_set_are_answered_with_how_set_is_written() -> None:
    (found,) = parsed('variant "Cold"\n  set plate.width 3 wide\n')[1]
    assert found.hint == "it is written like: set plate.width 3 1/4"


@pytest.mark.parametrize("line", ["panel Note from ink", "let Wide = 3", "paper Ink is cardstock \"Ink\""])
def test_a_name_in_capitals_is_still_a_name(line: str) -> None:
    (found,) = parsed(f"{line}\n")[1]
    assert found.hint.startswith("names are written in lower case")


def test_a_line_that_belongs_into_a_block_is_not_sent_to_the_left_edge() -> None:
    (found,) = parsed('class "A"\nuse "shelf.recipe"\n  make 3 of "tag.recipe"\n')[1]
    assert found.code == "wrong-place"
    assert "in a class" in found.hint
    assert "spaces" not in found.hint
    (found,) = parsed('use "shelf.recipe"\n  use "shelf.recipe"\n')[1]
    assert "take away the spaces before it" in found.hint


@pytest.mark.parametrize(("sign", "name"), [
    ("\u00a0", "a no-break space (U+00A0)"), ("\u200b", "a zero width space (U+200B)"),
    ("\u3000", "an ideographic space (U+3000)"), ("\ufeff", "a zero width no-break space (U+FEFF)"),
    ("\u200e", "a left-to-right mark (U+200E)"),
])  # fmt: skip
@pytest.mark.parametrize("line", ["  size{}3 x 2", "  size 3 x{}2 1/4", "{} size 3 x 2", "  {}size 3 x 2"])
def test_a_sign_that_cannot_be_seen_is_named(sign: str, name: str, line: str) -> None:
    text = f"oval plate from ink\n{line.format(sign)}\n"
    found = [each for each in parsed(text)[1] if each.code in ("not-understood", "unknown-word")]
    (only,) = found
    assert name in only.message
    assert "plain space" in only.hint
    assert text[only.span.start] == sign


PLATE = (
    f"{HEAD}base card from ink\n  flat 10 x 7\n  score 5 from left\n  sections front, back\n"
    "base inner from ink\n  flat 4 x 4\n  score 2 from left\n  sections left-leaf, right-leaf\n"
    "oval plate from ink on back\n  size 3 x 2\n"
)


@pytest.mark.parametrize(("lines", "dropped"), [
    ("circle star from ink on plate\n  diameter 1\n", "plate"),
    ("circle star from ink on back\n  diameter plate.width / 2\n", "plate"),
    ("circle star from ink on left-leaf\n  diameter 1\n", "inner"),
    ("circle star from ink on inner.left-leaf\n  diameter 1\n", "inner"),
    ("band sash from ink around inner\n  width 1\n", "inner"),
])  # fmt: skip
def test_a_name_that_a_variant_drops_is_said_to_be_dropped(lines: str, dropped: str) -> None:
    text = f'{PLATE}{lines}variant "Small"\n  drop {dropped}\n'
    assert [each for each in checked(text) if each.severity == "error"] != []
    found = [each for each in compile_text(text, variant="Small").diagnostics if each.code == "unknown-name"]
    assert found
    for each in found:
        assert each.hint == f"this variant drops `{dropped}`: drop what needs it too, or keep it"
        assert [text[one.span.start :].split("\n")[0] for one in each.related] == [dropped]


def test_a_misspelt_name_in_a_variant_is_misspelt() -> None:
    text = f'{PLATE}variant "Small"\n  drop plate\n  set inenr.width 3\n'
    (found,) = compile_text(text, variant="Small").diagnostics
    assert found.hint == "did you mean `inner`?"


def test_format_leaves_numbers_as_the_guide_says() -> None:
    text = "let a = 5½\nlet b = 2/32\nlet c = 0.125\nlet d = 10/4\n"
    assert formatted(Source(NAME, text)) == text.replace("5½", "5 1/2")


def test_neither_the_piece_itself_nor_parts_that_there_may_be_are_told_as_places() -> None:
    text = (
        f"{HEAD}base card from ink\n  fold pocket-folder, width 5, height 7\n"
        "oval plate from ink on the-back\n  size 3 x 2\noval other from ink on back\n  size 1 x 2\n"
    )
    (found,) = compile_text(text).diagnostics
    assert found.hint == "there is front, back, front-pocket, back-pocket, card, other"
    (found,) = compile_text(text.replace("the-back", "section5")).diagnostics
    assert "section-5" not in found.hint
