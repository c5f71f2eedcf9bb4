"""What is shown of many mistakes, long lines and long messages, and how much is read of a file."""

from pathlib import Path

import pytest

from cardrecipe.files import MAX_BYTES, read_source
from cardrecipe.report import MAX_BEFORE, MAX_LETTERS, MAX_SAID, MAX_SHOWN, as_text
from cardrecipe.syntax.diagnostics import error
from cardrecipe.syntax.lines import MAX_FILE
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from tests.recipes import run


def _shown(number: int, message: str = "so", line: str = "panel", at: int = 0) -> list[str]:
    source = Source("a.recipe", line + "\n")
    found = [error("unknown-word", Span("a.recipe", at, at + 1), message) for _ in range(number)]
    return as_text(found, {"a.recipe": source}).split("\n")


@pytest.mark.parametrize(("number", "last"), [(MAX_SHOWN, []), (MAX_SHOWN + 1, ["… 1 more"]),
                                              (MAX_SHOWN + 900, ["… 900 more"])])  # fmt: skip
def test_mistakes_beyond_the_limit_are_counted(number: int, last: list[str]) -> None:
    lines = _shown(number)
    assert len([line for line in lines if line.startswith("a.recipe:")]) == MAX_SHOWN
    assert [line for line in lines if line.startswith("…")] == last


def test_the_command_counts_them_too(tmp_path: Path) -> None:
    recipe = tmp_path / "a.recipe"
    recipe.write_text('recipe "A"\n' + "paiper\n" * (MAX_SHOWN + 3), encoding="utf-8")
    said = run("check", str(recipe)).err
    assert said.count("error[unknown-word]") == MAX_SHOWN and said.endswith("… 3 more\n")


@pytest.mark.parametrize(("more", "is_cut"), [(0, False), (1, True)])
def test_a_message_is_cut_at_its_limit(more: int, is_cut: bool) -> None:
    head, place = "error[unknown-word]: ", "a.recipe:1:1: "
    first = _shown(1, "m" * (MAX_SAID - len(head) + more))[0]
    assert first.endswith("…") == is_cut
    assert len(first.removesuffix("…").removeprefix(place)) == MAX_SAID


def test_a_long_path_hides_no_message() -> None:
    path = "/".join(["folder"] * 200) + "/a.recipe"
    found = [error("unknown-word", Span(path, 0, 1), "so it is", "do so")]
    first, *_, hint = as_text(found, {path: Source(path, "panel\n")}).splitlines()
    assert (first, hint) == (f"{path}:1:1: error[unknown-word]: so it is", "  hint: do so")


@pytest.mark.parametrize(("more", "is_cut"), [(0, False), (1, True)])
def test_a_line_is_cut_at_its_limit(more: int, is_cut: bool) -> None:
    line = _shown(1, line="x" * (MAX_LETTERS + more))[1]
    assert line.count("x") == MAX_LETTERS and line.endswith("…") == is_cut


@pytest.mark.parametrize(("at", "before"), [(MAX_BEFORE, 0), (MAX_BEFORE + 1, 1), (500, 440)])
def test_so_much_of_a_long_line_stands_before_the_mark(at: int, before: int) -> None:
    text = "".join(chr(ord("a") + n % 26) for n in range(1_000))
    _, line, mark, *_ = _shown(1, line=text, at=at)
    shown = text[before : before + MAX_LETTERS]
    assert line == f"  1 | {'…' if before else ''}{shown}…"
    assert line[mark.index("^")] == text[at]


@pytest.mark.parametrize("letter", ["a", "é", "€", "𝄞"])
def test_a_file_that_is_too_long_is_told_so_whatever_its_letters(tmp_path: Path, letter: str) -> None:
    """A file is read as far as the limit alone, which may end within a letter."""
    recipe = tmp_path / "a.recipe"
    start = 'recipe "A"\n# '
    for mark in ("", "\ufeff"):
        recipe.write_text(mark + start + letter * (MAX_BYTES // len(letter.encode())), encoding="utf-8")
        said = run("check", str(recipe))
        assert said.status == 1 and "error[file-too-long]" in said.err, said.err[:200]


@pytest.mark.parametrize("letter", ["a", "𝄞"])
def test_a_file_of_just_so_many_letters_is_read_whole(tmp_path: Path, letter: str) -> None:
    recipe = tmp_path / "a.recipe"
    recipe.write_text("\ufeff# " + letter * (MAX_FILE - 2), encoding="utf-8")
    assert len(read_source(str(recipe)).text) == MAX_FILE
