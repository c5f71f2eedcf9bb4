"""What the preview says of a recipe: the same as the terminal, as data without markup."""

import json
from pathlib import Path

from cardrecipe.preview.notes import Note, notes_of, rows_of
from cardrecipe.preview.places import Place
from cardrecipe.report import MAX_SHOWN
from cardrecipe.syntax.diagnostics import error
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from tests.preview.previewing import BROKEN, GOOD, NOTE_LINE, rebuilt_of
from tests.recipes import run


def written(folder: Path, text: str) -> Path:
    path = folder / "a.recipe"
    path.write_text(text)
    return path


def test_a_note_has_place_reason_line_and_repair(tmp_path: Path) -> None:
    path = written(tmp_path, BROKEN)
    assert rebuilt_of(path).notes == (
        Note(
            "no section or piece is called `bakc`",
            "error[unknown-name]",
            Place(str(path), NOTE_LINE, 24),
            ("panel note from ink on ", "bakc", ""),
            "did you mean `back`?",
        ),
    )


def test_the_terminal_says_what_check_says(tmp_path: Path) -> None:
    for text in (BROKEN, GOOD, GOOD + 'paper tan is plain "Tan"\n', "x"):
        path = written(tmp_path, text)
        assert rebuilt_of(path).said == run("check", str(path)).err


def test_related_places_come_along(tmp_path: Path) -> None:
    path = written(tmp_path, GOOD + "  size 3 x 4\n  border 1 left\n  border 1 right\n")
    (note,) = rebuilt_of(path).notes
    assert note.related
    assert all(each.place is not None and each.line[1] for each in note.related)


def test_the_end_of_a_line_can_be_marked() -> None:
    source = Source("a.recipe", "first\nband\nlast\n")
    mistakes = [error("x", Span("a.recipe", *span), "") for span in ((10, 10), (6, 14), (15, 15))]
    lines = [note.line for note in notes_of(mistakes, {"a.recipe": source})]
    assert lines == [("band", " ", ""), ("", "band", ""), ("last", " ", "")]


def test_hostile_words_stay_words(tmp_path: Path) -> None:
    hostile = '<img src=x onerror="alert(1)">\u202e\x1b[31m</script>'
    path = written(tmp_path, GOOD + f"panel {hostile} from ink on back\n")
    rows = rows_of(rebuilt_of(path).notes)
    whole = "".join(str(part) for row in rows for part in [row["message"], *row["line"]])  # type: ignore[misc]
    assert "onerror" in whole
    assert "<U+202E>" in whole and "<U+001B>" in whole
    assert not {"\u202e", "\x1b"} & set(whole)
    assert "\n" not in json.dumps(rows)


def test_more_than_can_be_read_are_counted() -> None:
    def shown(number: int) -> list[object]:
        return [row["message"] for row in rows_of([Note("x")] * number)]

    assert shown(MAX_SHOWN) == ["x"] * MAX_SHOWN
    assert shown(MAX_SHOWN + 1) == ["x"] * MAX_SHOWN + ["… 1 more"]
