"""Places as clients count them, against an oracle that encodes and splits the text anew for each question."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardrecipe.editor.desk.positions import UTF8, UTF16, UTF32, ClientText, Position

ENCODINGS = (UTF8, UTF16, UTF32)
# Umlauts composed and not, characters beyond the basic plane, every line end, what only looks like one.
RAW = st.text(st.sampled_from("ab ½ÄäßéA\u0301😀🂡\n\r\t\f\x0b\x85\u2028\u2029\ufeff\0日"), max_size=40)
PLACES = st.tuples(st.integers(0, 9), st.integers(0, 30))
LAWS = settings(max_examples=1_500)


def client_lines(raw: str) -> list[str]:
    """The lines of a text by the protocol's rule, without their ends."""
    return re.split("\r\n|\n|\r", raw)


def units(text: str, encoding: str) -> int:
    size = {UTF8: 1, UTF16: 2, UTF32: 4}[encoding]
    return len(text.encode(encoding if encoding == UTF8 else f"{encoding}-le")) // size


def raw_index(raw: str, position: Position, encoding: str) -> int:
    """Where a position is in the client's own text, by walking through it."""
    ends = [*re.finditer("\r\n|\n|\r", raw)]
    if position.line > len(ends):
        return len(raw)
    start = ends[position.line - 1].end() if position.line else 0
    line = client_lines(raw)[position.line]
    fitting = [n for n in range(len(line) + 1) if units(line[:n], encoding) <= position.character]
    return start + fitting[-1]


def core(raw: str) -> str:
    return raw.removeprefix("\ufeff").replace("\r\n", "\n")


@LAWS
@given(RAW, st.integers(0, 12), st.integers(0, 60), st.sampled_from(ENCODINGS))
def test_a_position_is_the_character_that_the_client_means(
    raw: str, line: int, character: int, encoding: str
) -> None:
    at = raw_index(raw, Position(line, character), encoding)
    assert ClientText(raw, encoding).offset(Position(line, character)) == len(core(raw[:at]))


@LAWS
@given(RAW, st.sampled_from(ENCODINGS))
def test_there_and_back_is_the_same_character(raw: str, encoding: str) -> None:
    text = ClientText(raw, encoding)
    for offset in range(len(text.text) + 1):
        position = text.position(offset)
        line = client_lines(raw)[position.line]
        assert position.character <= units(line, encoding)
        between = text.text[text.offset(position) : offset]
        assert between in ("", "\r")  # `\r\r\n` is two line ends of the client's, and two characters of ours


@LAWS
@given(RAW, PLACES, PLACES, RAW, st.sampled_from(ENCODINGS))
def test_an_edit_is_the_same_for_the_client_and_for_the_core(
    raw: str, one: tuple[int, int], other: tuple[int, int], new: str, encoding: str
) -> None:
    start, end = sorted((Position(*one), Position(*other)))
    text = ClientText(raw, encoding)
    after, change = text.edited(start, end, new)
    first, last = raw_index(raw, start, encoding), raw_index(raw, end, encoding)
    assert after.raw == raw[:first] + new + raw[last:]
    assert text.text[: change.start] + change.new + text.text[change.end :] == after.text == core(after.raw)


def test_an_edit_that_says_its_end_first_is_read_as_meant() -> None:
    after, change = ClientText("abcd").edited(Position(0, 3), Position(0, 1), "X")
    assert (after.raw, change) == ("aXd", (1, 3, "X"))


@pytest.mark.parametrize(("encoding", "after_smile"), [(UTF8, 5), (UTF16, 3), (UTF32, 2)])
def test_a_smile_is_as_wide_as_the_encoding_says(encoding: str, after_smile: int) -> None:
    text = ClientText('"😀"', encoding)
    assert text.position(2) == (0, after_smile)
    assert text.offset(Position(0, after_smile)) == 2
    assert text.offset(Position(0, after_smile - 1)) == 1  # in the middle of it


@pytest.mark.parametrize(("raw", "line_end"), [("a\nb", "\n"), ("a\r\nb", "\r\n"), ("", "\n")])
def test_the_line_end_of_the_text(raw: str, line_end: str) -> None:
    assert ClientText(raw).line_end == line_end


def test_half_a_character_that_some_client_sends() -> None:
    text = ClientText("a\ud83dz")
    assert text.position(2) == (0, 2)
    assert text.offset(Position(0, 3)) == 3
