"""Edits from one text to another, line by line."""

from hypothesis import given
from hypothesis import strategies as st

from cardrecipe.editor.protocol.line_edits import line_edits
from cardrecipe.syntax.source import Source
from tests.recipes import NAME

LINE = st.sampled_from(["a\n", "b\n", "\n", "c d\n", "e\r\n", "\f\n", "😀"])
LINES = st.lists(LINE, max_size=8).map("".join)


@given(LINES, LINES)
def test_the_edits_make_the_new_text_of_the_old(old: str, new: str) -> None:
    text = old
    for edit in reversed(line_edits(Source(NAME, old), new)):
        text = text[: edit.span.start] + edit.text + text[edit.span.end :]
    assert text == new


def test_lines_that_stay_are_not_touched() -> None:
    [edit] = line_edits(Source(NAME, "a\nb  c\nd\n"), "a\nb c\nd\n")
    assert (edit.span.start, edit.span.end, edit.text) == (2, 7, "b c\n")
    assert line_edits(Source(NAME, "a\n"), "a\n") == ()
