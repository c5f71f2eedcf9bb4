"""Every file in `tests/cases` says in its comments which diagnostics fall where; a new file is a new test."""

from pathlib import Path

import pytest

from tests.recipes import CASES, disagreements, files_in, notes_in, recipes_in


@pytest.mark.parametrize("path", recipes_in(CASES), ids=lambda path: path.stem)
def test_a_case_gives_the_diagnostics_it_says_and_no_others(path: Path) -> None:
    assert disagreements(path.read_text(encoding="utf-8")) == []


def test_a_diagnostic_without_its_note_fails() -> None:
    assert disagreements('recipe "A"\n  flat 3 x 4\n') == [
        "without a note: card.recipe:2: error[wrong-place]: `flat` does not belong under `recipe`"
    ]


def test_a_note_without_its_diagnostic_fails() -> None:
    assert disagreements('let a = 1  # error[conflict]: wide\n') == [
        "did not come: card.recipe:1: error[conflict]: …wide…"
    ]


def test_a_note_with_other_words_or_on_another_line_fails() -> None:
    text = 'recipe "A"  # error[wrong-place]\n  flat 3 x 4  # error[wrong-place]: other words\n'
    assert len(disagreements(text)) == 3


def test_a_note_counts_once() -> None:
    text = 'recipe "A"\nbase b\n  flat ? x ?  # error[unsolved] # error[unsolved]\n'
    assert any(line.startswith("did not come") for line in disagreements(text))


def test_further_files_of_a_case_keep_their_own_line_numbers() -> None:
    files = files_in('use "b.recipe"\n### b.recipe\nlet a = 1\npiece  # error[unknown-word]\n')
    assert list(files) == ["card.recipe", "b.recipe"]
    assert [(note.file, note.line) for note in notes_in(files)] == [("b.recipe", 2)]


def test_every_case_has_something_to_say() -> None:
    quiet = [path.stem for path in recipes_in(CASES)
             if not notes_in(files_in(path.read_text(encoding="utf-8")))]  # fmt: skip
    assert all(stem.startswith("quiet-") for stem in quiet), quiet
