"""What becomes of files and of what is printed: nothing is lost unsaid, hangs, or ends in a traceback."""

import os
import signal
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from cardrecipe import arguments, cli, files
from cardrecipe.commands.output_names import MOST_BYTES, names_of_variants
from cardrecipe.report import MAX_LETTERS, MAX_SAID
from tests.recipes import ROOT, SAMPLES, run
from tests.test_cli import GOOD, WRONG, in_folder, write
from tests.test_cli import files as written

__all__ = ["in_folder"]  # each test runs in a folder of its own

VARIANT = GOOD + 'variant "Winter"\n  set border 1/4\n'
ROUGH, NEAT = "panel  a\n", "panel a\n"


def process(*arguments: str, **streams: Any) -> "subprocess.CompletedProcess[Any]":
    """The program as a process of its own, which must end by itself."""
    given = {"stdout": subprocess.PIPE, "encoding": "utf-8", "env": {}, **streams}
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **given.pop("env")}
    return subprocess.run([sys.executable, "-m", "cardrecipe", *arguments], stderr=subprocess.PIPE,
                          env=environment, check=False, timeout=60, **given)  # fmt: skip


# ---- no output takes the place of another, or of a recipe ----------------------------------------------


@pytest.mark.parametrize(("arguments", "both", "place"), [
    (["a.recipe", "x/a.recipe", "-o", "cc"], "a.recipe and x/a.recipe", "cc/a"),
    (["a.recipe", "a-winter.recipe", "--variant", "each"], "a.recipe and a-winter.recipe", "a-winter"),
    (["a.recipe", "a-winter.recipe", "--variant", "all", "--to", "json"], "a.recipe and a-winter.recipe",
     "a-winter"),
    (["a.recipe", "x/a.recipe", "--variant", "Winter", "-o", "."], "a.recipe and x/a.recipe", "./a-winter"),
    (["a.recipe", "bench/a.recipe", "-o", "cc"], "a.recipe and bench/a.recipe", "cc/a"),
])  # fmt: skip
def test_two_sheets_of_one_name_are_refused_before_anything_is_written(
    arguments: list[str], both: str, place: str
) -> None:
    for name in ("a.recipe", "x/a.recipe", "a-winter.recipe"):
        write(name, VARIANT)
    write("bench/a.recipe", 'class "Bench"\n  make 2 of "b.recipe"\n')
    before = written()
    ran = run("build", "--to", "md", *arguments)
    assert (ran.status, ran.out, written()) == (2, "", before)
    assert ran.err.startswith(f"cardrecipe: {both} would both be written as {place}; ")


def test_names_that_only_look_alike_are_all_written() -> None:
    names = [write("a.recipe", VARIANT), write("a-winter.recipe", VARIANT)]
    ran = run("build", *names, "--variant", "all", "--to", "md")
    assert (ran.status, ran.out.split()) == (0, ["a-variants.md", "a-winter-variants.md"])
    ran = run("build", write("x/a.recipe", GOOD), "a.recipe", "--to", "md")
    assert (ran.status, ran.out.split()) == (0, ["x/a.md", "a.md"])


def test_drawings_whose_names_meet_are_not_written_over() -> None:
    """The piece `finished` at true scale, and the finished card of the variant "True"."""
    text = GOOD.replace("panel note", "panel finished") + 'variant "True"\n  set border 1/4\n'
    ran = run("build", write("a.recipe", text), "--variant", "each", "--to", "svg")
    assert ran.status == 2
    assert ran.err.startswith("cardrecipe: a-true-finished.svg: another sheet was written there just now; ")
    assert ran.out.split().count("a-true-finished.svg") == 1
    assert run("build", "a.recipe", "--variant", "True", "--to", "svg", "-o", "out").status == 0


def test_a_recipe_that_is_named_twice_is_built_once() -> None:
    ran = run("build", write("a.recipe", GOOD), write("b.recipe", GOOD), "./a.recipe", "--to", "md")
    assert (ran.status, ran.out.split()) == (0, ["a.md", "b.md"])


def test_a_sheet_does_not_take_the_place_of_its_recipe() -> None:
    ran = run("build", write("a.md", GOOD), "--to", "json,md")
    assert (ran.status, ran.out, written()) == (2, "", {"a.md": GOOD.encode()})
    assert ran.err == "cardrecipe: a sheet would take the place of a.md itself; name another folder with -o\n"
    assert run("build", "a.md", "--to", "md", "-o", "out").out == "out/a.md\n"


@pytest.mark.parametrize("output", ["a.recipe", "./b.txt", "third.recipe", "link"])
def test_what_changed_does_not_take_the_place_of_a_recipe(output: str) -> None:
    write("a.recipe", GOOD)
    write("b.txt", VARIANT)
    os.symlink("a.recipe", "link")
    before = written()
    ran = run("diff", "a.recipe", "b.txt", "-o", output)
    assert (ran.status, ran.out, written()) == (2, "", before)
    assert f"{output} is a recipe" in ran.err
    assert run("diff", "a.recipe", "b.txt", "-o", "changes.txt").status == 0


# ---- names of variants ---------------------------------------------------------------------------------


def test_long_titles_make_short_names_that_stay_apart() -> None:
    long = "lantern " * 40
    names = names_of_variants([long, long + "red", "ü" * 200, "ü" * 201, "Short"])
    assert len(set(names.values())) == len(names)
    assert all(len(each.encode()) <= MOST_BYTES + 2 for each in names.values())
    assert set("".join(names.values())) <= set("lantern-ü2short")
    assert names["Short"] == "short"


def test_variants_with_long_titles_are_built() -> None:
    long = "".join(f'variant "{"n" * 300}{end}"\n  set border 1/4\n' for end in "ab")
    ran = run("build", write("a.recipe", GOOD + long), "--variant", "each", "--to", "svg")
    assert (ran.status, ran.err) == (0, "")
    assert f"a-{'n' * MOST_BYTES}-2-finished.svg" in ran.out.split()


def test_a_name_that_no_disk_holds_is_refused_before_its_sheet_is_begun() -> None:
    name = "n" * 240 + ".recipe"
    ran = run("build", write(name, GOOD), "--to", "json,svg")
    assert (ran.status, ran.out, list(written())) == (2, "", [name])
    assert "this name has more than 255 bytes" in ran.err
    longest = "n" * 248 + ".recipe"
    assert run("build", write(longest, GOOD), "--to", "md").status == 0


# ---- what cannot be written or read --------------------------------------------------------------------


@pytest.mark.parametrize(("arguments", "said"), [
    (["diff", "a.recipe", "b.recipe", "-o", "no/where/x.html"],
     "no/where/x.html: there is no folder no/where"),
    (["diff", "a.recipe", "b.recipe", "-o", "."], ".: this is a folder; name a file in it"),
    (["diff", "a.recipe", "b.recipe", "-o", "pipe"], "pipe: this is a pipe or a device, not a file"),
    (["new", "gate", "-o", "nodir/x.recipe"], "nodir/x.recipe: there is no folder nodir"),
    (["build", "a.recipe", "--to", "md", "-o", "a.recipe"],
     "a.recipe: this is a file; name a folder to write to"),
])  # fmt: skip
def test_the_reason_and_the_name_that_was_typed_are_said(arguments: list[str], said: str) -> None:
    write("a.recipe", GOOD)
    write("b.recipe", VARIANT)
    os.mkfifo("pipe")
    before = written()
    ran = run(*arguments)
    assert (ran.status, ran.out, ran.err) == (2, "", f"cardrecipe: {said}\n")
    assert written() == before


def test_a_full_disk_is_told_of_the_file_that_was_wanted(monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device", ".new.recipe.1a2b")

    monkeypatch.setattr(files.os, "replace", full)
    ran = run("new", "gate", "-o", "new.recipe")
    assert (ran.status, ran.err) == (2, "cardrecipe: new.recipe: No space left on device\n")
    assert written() == {}


def test_git_is_told_the_path_that_the_maker_knows() -> None:
    write("blob/a.recipe", b"\xff\xfe")
    write("a.recipe", GOOD)
    ran = run("git-diff", "x/a.recipe", "blob/a.recipe", "0", "100644", "a.recipe", "0", "100644")
    assert ran.status == 0
    assert "blob" not in ran.out
    assert "x/a.recipe: byte 0 is not UTF-8" in ran.out


@pytest.mark.parametrize("command", [
    ["check"], ["build"], ["format"], ["format", "--check"], ["diff", "a.recipe"], ["watch"],
])  # fmt: skip
def test_a_pipe_is_refused_and_not_waited_for(command: list[str]) -> None:
    write("a.recipe", GOOD)
    os.mkfifo("pipe.recipe")
    done = process(*command, "pipe.recipe")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("cardrecipe: pipe.recipe: this is a pipe or a device, not a file")


@pytest.mark.skipif(not os.path.exists("/proc/self/mem"), reason="a file of Linux")
@pytest.mark.parametrize("command", [["check"], ["build"], ["format"], ["explain", "card.width"], ["facts"]])
def test_a_file_that_breaks_off_while_it_is_read_is_told_under_its_name(command: list[str]) -> None:
    """The file can be opened, and its first byte cannot be read."""
    word, *more = command
    assert run(word, "/proc/self/mem", *more) == (2, "", "cardrecipe: /proc/self/mem: Input/output error\n")


# ---- Ctrl-C --------------------------------------------------------------------------------------------


def test_an_interrupted_file_leaves_nothing_beside_it(monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    write("a.recipe", ROUGH)
    monkeypatch.setattr(files.os, "replace", stop)
    ran = run("format", "a.recipe")
    assert (ran.status, ran.out, ran.err) == (cli.STOPPED, "", "cardrecipe: stopped\n")
    assert written() == {"a.recipe": ROUGH.encode()}


@pytest.mark.parametrize("moment", [
    "main", "parser", "read_source", "as_text",
])  # fmt: skip
def test_ctrl_c_is_status_130_without_a_traceback(moment: str) -> None:
    """The process gets the signal itself, at one moment or another."""
    code = (
        "import os, sys, time, cardrecipe.cli, cardrecipe.__main__ as start\n"
        f"def stop(*_): os.kill(os.getpid(), {signal.SIGINT:d}); time.sleep(5)\n"
        f"cardrecipe.cli.{moment} = stop\n"
        "sys.argv[1:] = ['check', 'a.recipe']; sys.exit(start.run())"
    )
    write("a.recipe", GOOD)
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False,
                          env={**os.environ, "PYTHONPATH": str(ROOT)}, timeout=60)  # fmt: skip
    assert (done.returncode, done.stdout) == (130, "")
    assert done.stderr in ("", "cardrecipe: stopped\n")


# ---- readers that go away, disks that are full, letters that a terminal does not have ------------------


@pytest.mark.parametrize(("arguments", "status"), [
    (["structures"], 0), (["new", "gate"], 0), (["facts", "a.recipe"], 0),
    (["diff", "a.recipe", "--new-variant", "Winter"], 0), (["explain", "a.recipe", "note.width"], 0),
    (["build", "a.recipe", "-o", "-", "--to", "html"], 0), (["build", "a.recipe", "--to", "md,json"], 0),
    (["check", "--format", "json", "a.recipe"], 0), (["check", "--format", "json", "wrong.recipe"], 1),
    (["check", "wrong.recipe"], 1), (["format", "--check", "rough.recipe", "a.recipe"], 1),
    (["format", "rough.recipe", "a.recipe"], 0), (["check", "nowhere.recipe"], 2),
])  # fmt: skip
def test_a_reader_that_has_gone_changes_neither_the_work_nor_its_status(
    arguments: list[str], status: int
) -> None:
    write("a.recipe", VARIANT)
    write("wrong.recipe", WRONG * 9)
    write("rough.recipe", ROUGH)
    reader, writer = os.pipe()
    os.close(reader)
    done = process(*arguments, stdout=writer)
    os.close(writer)
    assert done.returncode == status
    assert "Traceback" not in done.stderr and "Broken pipe" not in done.stderr
    if arguments[0] == "format" and status == 0:
        assert Path("rough.recipe").read_text() == NEAT
    if "md,json" in arguments:
        assert {"a.md", "a.json"} <= set(written())


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="a device of Linux")
def test_what_is_printed_to_a_full_disk_is_told_and_the_files_are_not_blamed() -> None:
    write("a.recipe", ROUGH)
    write("b.recipe", ROUGH)
    with open("/dev/full", "wb") as full:
        done = process("format", "a.recipe", "b.recipe", stdout=full, env={"PYTHONUNBUFFERED": "1"})
    assert done.returncode == 2
    assert done.stderr == "cardrecipe: what is printed cannot be written: No space left on device\n"
    assert written() == {"a.recipe": NEAT.encode(), "b.recipe": NEAT.encode()}


@pytest.mark.parametrize("encoding", ["ascii", "latin1", "cp437"])
def test_a_terminal_without_these_letters_gets_plain_ones(encoding: str) -> None:
    sample = str(SAMPLES / "night-market.recipe")
    done = process("explain", sample, "card.width", env={"PYTHONIOENCODING": f"{encoding}:strict"},
                   encoding=encoding)  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    assert "card fold width 4 1/4 + 2" in done.stdout.replace("\u00a0", " ")


def test_names_that_a_terminal_cannot_show_are_written_and_told() -> None:
    ascii_only = {"env": {"PYTHONIOENCODING": "ascii"}}
    done = process("build", write("märz.recipe", GOOD), "--to", "md", **ascii_only)
    assert (done.returncode, done.stdout, done.stderr) == (0, "m\\xe4rz.md\n", "")
    done = process("new", "gate", "-o", "grün.recipe", **ascii_only)
    assert (done.returncode, done.stdout, done.stderr) == (0, "gr\\xfcn.recipe\n", "")
    assert {"märz.md", "grün.recipe"} <= set(written())


def test_a_name_that_is_no_text_is_told_by_its_bytes() -> None:
    Path(os.fsdecode(b"b\xe4.recipe")).write_text(ROUGH)
    done = process("format", os.fsdecode(b"b\xe4.recipe"), env={"PYTHONIOENCODING": "utf-8:strict"},
                   encoding=None)  # fmt: skip
    assert (done.returncode, done.stdout, done.stderr) == (0, b"formatted b\xe4.recipe\n", b"")


def test_streams_that_are_closed_are_no_traceback() -> None:
    write("a.recipe", GOOD)
    command = f"{sys.executable} -m cardrecipe build a.recipe -o - --to md >&-"
    done = subprocess.run(["bash", "-c", command], capture_output=True, text=True, check=False,
                          env={**os.environ, "PYTHONPATH": str(ROOT)})  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")


def test_a_program_that_keeps_what_is_printed_in_memory_gets_it() -> None:
    code = (
        "import contextlib, io, sys, cardrecipe.__main__ as start\n"
        "sys.argv[1:] = ['explain', 'a.recipe', 'card.width']\n"
        "with contextlib.redirect_stdout(io.StringIO()) as kept: status = start.run()\n"
        "sys.stdout = sys.__stdout__; sys.exit(status or not kept.getvalue().startswith('card.width = '))"
    )
    write("a.recipe", GOOD)
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False,
                          env={**os.environ, "PYTHONPATH": str(ROOT)}, timeout=60)  # fmt: skip
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


# ---- long lines ----------------------------------------------------------------------------------------


def test_a_long_line_is_shown_round_the_mark() -> None:
    line = f"panel {'c' * 400} from inc on back, {'d' * 400}"
    shown, mark = run("check", write("a.recipe", GOOD + line + "\n")).err.splitlines()[1:3]
    assert shown.startswith("  8 | …c") and shown.endswith("d…")
    assert len(shown) <= MAX_LETTERS + len("  8 | ……")
    assert shown[mark.index("^") : len(mark)] == "inc"


@pytest.mark.parametrize("line", ["x" * 200_000, f"panel b from ink on {'b' * 3_000}", "panel b from inc…"])
def test_no_line_of_a_diagnostic_is_endless(line: str) -> None:
    said = run("check", write("a.recipe", GOOD + line + "\n")).err
    place = max(len(each.partition(": ")[0]) for each in said.splitlines() if "a.recipe:8:" in each)
    assert place and max(map(len, said.splitlines())) <= place + len(": ") + MAX_SAID + len("…")
    shown, mark = said.splitlines()[1:3]
    assert "^" in mark and len(mark) <= len(shown)


# ---- the help ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("said", "terminal", "width"), [
    ("", 132, 132), ("0", 132, 132), ("wide", 132, 132), ("100", 132, 100), ("", 0, 80), ("", None, 80),
])  # fmt: skip
def test_the_width_is_what_is_said_else_the_terminals_else_80(
    said: str, terminal: int | None, width: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    def size(_number: int) -> os.terminal_size:
        if terminal is None:
            raise OSError("no terminal")
        return os.terminal_size((terminal, 40))

    monkeypatch.setenv("COLUMNS", said)
    monkeypatch.setattr("os.get_terminal_size", size)
    monkeypatch.setattr("sys.__stdout__", SimpleNamespace(fileno=lambda: 1))
    assert arguments._columns() == width
    monkeypatch.setattr("sys.__stdout__", None)
    assert arguments._columns() == (int(said) if width == 100 else 80)


def test_the_help_is_as_wide_as_the_terminal_and_costs_a_check_nothing() -> None:
    for columns in (60, 120):
        told = process("build", "--help", env={"COLUMNS": str(columns)}).stdout
        assert columns - 25 < max(map(len, told.splitlines())) <= columns
    code = "import sys; from cardrecipe.__main__ import run; run(); sys.exit('shutil' in sys.modules)"
    done = subprocess.run([sys.executable, "-S", "-c", code, "check", write("a.recipe", GOOD)], check=False,
                          env={**os.environ, "PYTHONPATH": str(ROOT)})  # fmt: skip
    assert done.returncode == 0
