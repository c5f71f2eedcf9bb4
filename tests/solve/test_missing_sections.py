"""A piece whose windows, slits or slanted scores make fewer sections than are named or used."""

import pytest

from tests.recipes import HEAD, diagnostics_of, words_of

BASE = f"{HEAD}base card from ink\n  flat 9 x 5\n"
TWO = f"{BASE}  score 4 from left\n  window 1 x 1/2 at (1 1/2, {{}})\n  sections {{}}\n"
SLANTED = f"{BASE}  score from (0, 0) to (9, 5)\n  sections {{}}\n"


def told(text: str) -> list[tuple[str, str, str]]:
    return [(each.code, words_of(text, each), each.message) for each in diagnostics_of(text)
            if each.severity == "error"]  # fmt: skip


@pytest.mark.parametrize(
    "text", [TWO.format("0", "{}"), TWO.format("2", "{}"), SLANTED], ids=["notch", "window", "slanted"]
)
def test_more_names_than_sections_are_an_error(text: str) -> None:
    assert told(text.format("front, back")) == []
    line = "sections front, back, tab"
    expected = [("section-count", line, "`card` has 2 sections but 3 names")]
    assert told(text.format("front, back, tab")) == expected


@pytest.mark.parametrize("section", ["section-3", "section-4"])
def test_nothing_is_put_on_a_section_that_is_not_there(section: str) -> None:
    text = TWO.format("0", "front, back") + f"panel tag from ink on {section}\n  size 1 x 1\n"
    (found,) = [each for each in diagnostics_of(text) if each.code == "unknown-name"]
    assert found.message == f"`card` has no section called `{section}`"
    assert found.hint == "its sections are front, back"


def test_a_name_that_is_nearly_right_is_offered() -> None:
    text = TWO.format("0", "front") + "panel tag from ink on section-3\n  size 1 x 1\n"
    (found,) = [each for each in diagnostics_of(text) if each.code == "unknown-name"]
    assert found.hint == "did you mean `section-2`?"


def test_nothing_is_glued_by_a_section_that_is_not_there() -> None:
    text = TWO.format("0", "front, back") + "  glue section-3 on front\n"
    message = "`card` has no section called `section-3`"
    assert told(text) == [("unknown-name", "section-3", message)]


def test_nothing_is_glued_on_a_section_that_is_not_there() -> None:
    text = TWO.format("0", "front, back") + "  glue front on section-3\n"
    message = "`card` has no section called `section-3`"
    assert told(text) == [("unknown-name", "section-3", message)]


def test_a_score_that_stops_too_soon_is_told_instead() -> None:
    text = f"{BASE}  score 4 from left, between 0 and 3\n  sections front, back\n"
    assert [code for code, _, _ in told(text)] == ["score-dangles"]


def test_names_that_are_made_up_need_no_section() -> None:
    """A window in the middle might part a piece: more names are kept ready than come to be used."""
    text = TWO.format("2", "front") + "panel tag from ink on section-2\n  size 1 x 1\n"
    assert told(text) == []
