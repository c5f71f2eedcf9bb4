"""Wrong lines among right ones: each costs exactly one diagnostic, and no right line costs any."""

import random
from collections.abc import Callable

import pytest

from cardrecipe.syntax.words import BLOCK_OF, FORMS, WORDS, Form
from tests.recipes import CASES, SAMPLES, STRUCTURES, diagnostics_of, mistakes_of_form, parsed, recipes_in

HEADERS = {
    "recipe": 'recipe "A"', "base": "base card", "panel": "panel note", "band": "band sash",
    "structure": "structure book", "variant": 'variant "B"', "class": 'class "C"', "pose": "pose standing",
    "shape": "oval plate",
}  # fmt: skip


def swapped_letters(line: str, chance: random.Random) -> str:
    """The first word misspelt so that it is none of the language."""
    word, _, rest = line.partition(" ")
    return f"{word[:-1]}q{word[-1]} {rest}"


def cut_short(line: str, chance: random.Random) -> str:
    """The first word alone."""
    return line.partition(" ")[0]


def a_word_too_many(line: str, chance: random.Random) -> str:
    return line + chance.choice([" please", " )", " = 3", ' "again" "and again"', " ; loose"])


def no_closing_quote(line: str, chance: random.Random) -> str:
    return line + ' "never closed'


def odd_sign(line: str, chance: random.Random) -> str:
    word, _, rest = line.partition(" ")
    return f"{word} {chance.choice('&%$!@;')} {rest}"


def capital(line: str, chance: random.Random) -> str:
    return line.capitalize()


KINDS: tuple[Callable[[str, random.Random], str], ...] = (
    swapped_letters, cut_short, a_word_too_many, no_closing_quote, odd_sign, capital,
)  # fmt: skip
WHOLE_LINES = ("loose", "overhangs")  # right lines of one word


def block(form: Form, chance: random.Random) -> str:
    """The header under which a form may stand; "" at the left edge."""
    place = chance.choice(form.places)
    return "" if place == "top" else HEADERS[place]


@pytest.mark.parametrize("seed", range(3))
def test_200_wrong_lines_among_1000_right_ones_give_200_diagnostics(seed: int) -> None:
    chance = random.Random(seed)
    lines: list[str] = []
    wrong: set[int] = set()
    number = 0
    while number < 1_200:
        form = chance.choice(FORMS)
        header, line = block(form, chance), form.example
        if header:
            lines.append(header)
        if len(wrong) < 200 and chance.random() < 1 / 5 and line not in WHOLE_LINES:
            line = chance.choice(KINDS)(line, chance)
            wrong.add(len(lines) + 1)
        number += 1
        lines.append(("  " if header else "") + line + chance.choice(["", "  # note", "   "]))
    assert len(wrong) == 200
    found = mistakes_of_form("\n".join(lines) + "\n")
    assert set(found) == wrong
    assert all(len(codes) == 1 for codes in found.values())


def test_a_right_line_in_a_wrong_place_costs_one_diagnostic_at_its_first_word() -> None:
    places = {*BLOCK_OF.values()}
    tried = 0
    for form in FORMS:
        for place in sorted(
            places - {place for each in FORMS if each.word == form.word for place in each.places}
        ):
            text = f"{HEADERS[place]}\n  {form.example}\n"
            _, diagnostics = parsed(text)
            assert [each.code for each in diagnostics] == ["wrong-place"], text
            assert text[diagnostics[0].span.start : diagnostics[0].span.end] == form.word
            tried += 1
    assert tried > 300


def test_every_form_is_right_in_its_places() -> None:
    for form in FORMS:
        for place in form.places:
            text = form.example if place == "top" else f"{HEADERS[place]}\n  {form.example}"
            assert mistakes_of_form(text) == {}, text


@pytest.mark.parametrize("word", WORDS)
def test_a_misspelt_first_word_is_answered_with_the_right_one(word: str) -> None:
    if len(word) < 4:
        return
    _, diagnostics = parsed(
        f"{word[0]}{word[2]}{word[1]}{word[3:]} a\n" if word[1] != word[2] else f"{word}e\n"
    )
    assert f"`{word}`" in diagnostics[0].hint


@pytest.mark.parametrize(("line", "hint"), [
    ("panel left_door from ink", "left-door"), ("panel Note", "note"), ("let a = 2 inches", "`in`"),
    ("let a = 2 – 1", "minus sign"), ("do “hello”", "straight quotes"), ("do 'hello'", "double quotes"),
    ("panel a on b outsid", "outside"), ('stamp "A" on coal', "stamp"),
])  # fmt: skip
def test_slips_are_answered_with_what_to_type(line: str, hint: str) -> None:
    _, diagnostics = parsed(("panel a\n  " if line.startswith(("do", "stamp")) else "") + line + "\n")
    assert len(diagnostics) == 1
    assert hint in diagnostics[0].hint, diagnostics[0].hint


# ---- no text breaks the compiler -----------------------------------------------------------------

CORPUS = [path.read_text(encoding="utf-8") for path in recipes_in(SAMPLES, STRUCTURES, CASES)]
SCRAPS = (
    '"', '"""', "#", "\n", "\t", "  ", "(", ")", "1/0", "½", "×", "x", "?",
    "min(", ",", "\r\n", "\0", "\u202e",
    "0" * 14, "é", "\ud7ff", " on ", " from ", "\n  ", "-", "1 1 1/2", "recipe", "base card\n", "fold gate",
)  # fmt: skip


def spoilt(chance: random.Random) -> str:
    text = chance.choice(CORPUS)
    for _ in range(chance.randint(1, 6)):
        at = chance.randrange(len(text) + 1)
        to = min(len(text), at + chance.randint(0, 12))
        kind = chance.randrange(4)
        if kind == 0:
            text = text[:at] + text[to:]
        elif kind == 1:
            text = text[:at] + chance.choice(SCRAPS) + text[at:]
        elif kind == 2:
            other = chance.choice(CORPUS)
            start = chance.randrange(len(other))
            text = text[:at] + other[start : start + chance.randint(1, 60)] + text[to:]
        else:
            lines = text.split("\n")
            chance.shuffle(lines)
            text = "\n".join(lines)
    return text


def test_the_parser_never_raises_and_its_places_lie_in_the_text() -> None:
    chance = random.Random(2)
    for _ in range(2_500):
        text = spoilt(chance)
        _, diagnostics = parsed(text)
        assert all(0 <= each.span.start <= each.span.end <= len(text) + 1 for each in diagnostics), text
        assert all(each.message and each.hint for each in diagnostics)


@pytest.mark.parametrize("seed", range(4))
def test_the_compiler_never_raises(seed: int) -> None:
    chance = random.Random(seed)
    for _ in range(250):
        text = spoilt(chance)
        try:
            diagnostics_of(text)
        except Exception as problem:
            raise AssertionError(text) from problem
