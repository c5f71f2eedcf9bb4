"""`cardrecipe format`: which files are written, with which bytes, and that nothing is lost."""

import io
import os
import sys
from pathlib import Path

import pytest

from cardrecipe.commands import formatting
from cardrecipe.syntax.source import Source
from tests.recipes import run
from tests.test_cli import FOLDS, assert_calm, files, in_folder, write

__all__ = ["in_folder"]  # each test runs in a folder of its own

ROUGH = "panel  a from ink   # mine\n    size 5½×3\n    loose"
NEAT = "panel a from ink  # mine\n  size 5 1/2 x 3\n  loose\n"
WRONG = "panel  a\n  sise 3 x 4\n"


def as_input(content: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(content)))


def test_a_file_is_written_in_its_canonical_form() -> None:
    assert run("format", write("a.recipe", ROUGH)) == (0, "formatted a.recipe\n", "")
    assert files() == {"a.recipe": NEAT.encode()}


def test_a_canonical_file_is_not_touched() -> None:
    path = write("a.recipe", NEAT)
    os.utime(path, ns=(1, 1))
    assert run("format", path) == (0, "", "")
    assert os.stat(path).st_mtime_ns == 1


def test_check_writes_nothing_and_names_what_would_change() -> None:
    names = [write("a.recipe", ROUGH), write("b.recipe", NEAT), write("c.recipe", ROUGH)]
    before = files()
    assert run("format", "--check", *names) == (1, "a.recipe\nc.recipe\n", "")
    assert files() == before
    assert run("format", *names).status == 0
    assert run("format", "--check", *names) == (0, "", "")


def test_standard_input_to_standard_output(monkeypatch: pytest.MonkeyPatch) -> None:
    as_input(ROUGH.encode(), monkeypatch)
    assert run("format", "-") == (0, NEAT, "")
    as_input(NEAT.encode(), monkeypatch)
    assert run("format", "-") == (0, NEAT, "")
    as_input(ROUGH.encode(), monkeypatch)
    assert run("format", "--check", "-") == (1, "-\n", "")
    assert files() == {}


def test_standard_input_with_mistakes_gives_no_output(monkeypatch: pytest.MonkeyPatch) -> None:
    as_input(WRONG.encode(), monkeypatch)
    ran = run("format", "-")
    assert (ran.status, ran.out) == (1, "")
    assert ran.err.startswith("-:2:3: error[unknown-word]")


def test_a_file_with_mistakes_of_form_is_left_and_the_others_are_formatted() -> None:
    ran = run("format", write("a.recipe", WRONG), write("b.recipe", ROUGH))
    assert (ran.status, ran.out) == (1, "formatted b.recipe\n")
    assert ran.err.startswith("a.recipe:2:3: error[unknown-word]: ")
    assert ran.err.endswith("cardrecipe: a.recipe: left as it is: what cannot be read is not formatted\n")
    assert files() == {"a.recipe": WRONG.encode(), "b.recipe": NEAT.encode()}
    assert run("format", "--check", "a.recipe").status == 1


def test_mistakes_of_meaning_are_no_hindrance() -> None:
    assert run("format", write("a.recipe", "panel  a on nowhere\n")).status == 0
    assert files() == {"a.recipe": b"panel a on nowhere\n"}


@pytest.mark.parametrize("fold", FOLDS)
def test_what_new_writes_is_canonical(fold: str) -> None:
    assert run("new", fold, "-o", "a.recipe").status == 0
    assert run("format", "--check", "a.recipe") == (0, "", "")


# ---- line ends and encoding ----------------------------------------------------------------------


@pytest.mark.parametrize(("typed", "wanted"), [
    ("let  a = 1\r\nlet b = 2\r\n", "let a = 1\r\nlet b = 2\r\n"),
    ("let a = 1\r\nlet b = 2", "let a = 1\r\nlet b = 2\r\n"),
    ("let a = 1\r\nlet b = 2\r\nlet c = 3\n", "let a = 1\r\nlet b = 2\r\nlet c = 3\r\n"),
    ("let a = 1\r\nlet b = 2\nlet c = 3\n", "let a = 1\nlet b = 2\nlet c = 3\n"),
    ("let a = 1\r\nlet b = 2\n", "let a = 1\nlet b = 2\n"),
    ("let a = 1", "let a = 1\n"),
    ('tip on a """\r\n  b\r\n\r\n  c\r\n"""\r\n', 'tip on a """\r\nb\r\n\r\nc\r\n"""\r\n'),
    ("\ufefflet a = 1\n", "let a = 1\n"),
    ("", ""),
])  # fmt: skip
def test_line_ends_are_those_of_most_lines(typed: str, wanted: str) -> None:
    assert run("format", write("a.recipe", typed)).status == 0
    assert files() == {"a.recipe": wanted.encode()}
    assert run("format", "--check", "a.recipe") == (0, "", "")


def test_a_file_with_carriage_returns_that_is_canonical_is_not_touched() -> None:
    write("a.recipe", NEAT.replace("\n", "\r\n"))
    assert run("format", "--check", "a.recipe") == (0, "", "")


def test_standard_output_keeps_carriage_returns(
    monkeypatch: pytest.MonkeyPatch, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    as_input(ROUGH.replace("\n", "\r\n").encode(), monkeypatch)
    assert formatting.format_files(["-"], check=False) == 0
    assert capsysbinary.readouterr().out == NEAT.replace("\n", "\r\n").encode()


def test_a_file_that_is_no_utf_8_is_left() -> None:
    content = 'recipe "Für später"\n'.encode("latin-1")
    ran = run("format", write("a.recipe", content))
    assert (ran.status, ran.out) == (2, "")
    assert "byte 9 is not UTF-8" in ran.err
    assert files() == {"a.recipe": content}


# ---- files of all kinds --------------------------------------------------------------------------


def test_a_link_stays_a_link() -> None:
    write("shelf/a.recipe", ROUGH)
    os.symlink("shelf/a.recipe", "a.recipe")
    assert run("format", "a.recipe") == (0, "formatted a.recipe\n", "")
    assert os.path.islink("a.recipe")
    assert Path("shelf/a.recipe").read_text() == NEAT
    assert sorted(os.listdir("shelf")) == ["a.recipe"]


def test_a_file_keeps_its_mode() -> None:
    os.chmod(write("a.recipe", ROUGH), 0o640)
    assert run("format", "a.recipe").status == 0
    assert os.stat("a.recipe").st_mode & 0o777 == 0o640


def test_a_read_only_file_is_left() -> None:
    os.chmod(write("a.recipe", ROUGH), 0o444)
    ran = run("format", "a.recipe", write("b.recipe", ROUGH))
    assert (ran.status, ran.out) == (2, "formatted b.recipe\n")
    assert ran.err == "cardrecipe: a.recipe: it is read-only; it was left as it is\n"
    assert files()["a.recipe"] == ROUGH.encode()


def test_a_full_disk_leaves_the_old_file(monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(formatting, "write_whole", full)
    ran = run("format", write("a.recipe", ROUGH))
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == "cardrecipe: a.recipe: No space left on device; it was left as it is\n"
    assert files() == {"a.recipe": ROUGH.encode()}


def test_what_is_no_file_is_said() -> None:
    os.mkdir("folder")
    ran = run("format", "folder", "nowhere.recipe", write("a.recipe", ROUGH))
    assert (ran.status, ran.out) == (2, "formatted a.recipe\n")
    assert [line.split(":")[1].strip() for line in ran.err.splitlines()] == ["folder", "nowhere.recipe"]
    assert_calm(ran)


# ---- the last safeguard --------------------------------------------------------------------------


@pytest.mark.parametrize("spoilt", [
    NEAT.replace("5 1/2", "51/2"), NEAT.replace("  # mine", ""), NEAT.replace("  loose", "loose"),
    NEAT.replace("a from", "b from"),
])  # fmt: skip
def test_a_text_that_would_say_something_else_is_not_written(
    spoilt: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(source: Source) -> str:
        return spoilt

    monkeypatch.setattr(formatting, "formatted", broken)
    ran = run("format", write("a.recipe", ROUGH))
    assert (ran.status, ran.out) == (1, "")
    assert ran.err == (
        "cardrecipe: a.recipe: left as it is: its canonical text would not be read as the same recipe\n"
    )
    assert files() == {"a.recipe": ROUGH.encode()}


def test_a_line_that_would_grow_too_long_is_not_written() -> None:
    text = f"let a = {'+'.join(['1'] * 190)}{' ' * 0}  # {'x' * 9_500}\n"
    ran = run("format", write("a.recipe", text))
    assert (ran.status, ran.out) == (1, "")
    assert files() == {"a.recipe": text.encode()}
