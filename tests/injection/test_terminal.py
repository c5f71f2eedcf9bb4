"""No name and no text colours the terminal, moves in it, or forges a line: what is unseen is written out."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from cardrecipe.commands.completing import recipes
from cardrecipe.report import visible
from tests.injection.hostile_texts import REFUSED
from tests.recipes import HEAD, ROOT, run

GOOD = f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5\npanel note from ink on back\n"
WRONG = GOOD.replace("on back", "on bakc")
EVIL = "a\x1b[31m\x9b2J\u202e\x07\r\nforged.recipe:1:1: error[x]: no\x08.recipe"
OTHER = "plain.recipe"
KEPT = {"\n", "\u00a0", "\u202f"}  # line ends, and the spaces in sizes


@pytest.fixture(autouse=True)
def in_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path(EVIL).write_text(GOOD)
    Path(f"wrong{EVIL}").write_text(WRONG)
    Path(OTHER).write_text(GOOD.replace("height 5", "height 6"))


def assert_harmless(*printed: str) -> None:
    for text in printed:
        assert all(sign.isprintable() or sign in KEPT for sign in text), ascii(text)
        assert not [line for line in text.split("\n") if line.startswith("forged")]


COMMANDS = (
    ("check", f"wrong{EVIL}"), ("check", f"wrong{EVIL}", "--format", "json"), ("check", f"missing{EVIL}"),
    ("build", EVIL, "--to", "md"), ("build", f"wrong{EVIL}"), ("build", EVIL, "--variant", EVIL),
    ("build", EVIL, "--by-setting"), ("build", EVIL, "--variant", "all", "--to", "md"),
    ("build", EVIL, "a\x1b"),
    ("build", EVIL, "--to", "md", "-o", "into\x1b\nforged"), ("build", EVIL, "-o", f"{EVIL}/below"),
    ("explain", EVIL, "note.width"), ("explain", EVIL, EVIL), ("explain", f"wrong{EVIL}", "note.width"),
    ("format", EVIL, "--check"), ("format", f"wrong{EVIL}", f"missing{EVIL}"),
    ("diff", EVIL, OTHER), ("diff", EVIL, OTHER, "--to", "json"), ("diff", EVIL, OTHER, "--to", "md"),
    ("diff", EVIL, OTHER, "--to", "html"), ("diff", f"wrong{EVIL}", OTHER),
    ("diff", EVIL, "--new-variant", EVIL),
    ("diff", EVIL, OTHER, "-o", f"out{EVIL}.recipe"), ("diff", EVIL, OTHER, "-o", "out\x1b\nforged"),
    ("facts", EVIL), ("facts", f"wrong{EVIL}"), ("facts", f"missing{EVIL}"),
    ("git-diff", EVIL, EVIL, "0", "0", OTHER, "0", "0"), ("git-diff", EVIL),
    ("git-diff", EVIL, f"wrong{EVIL}", "0", "0", OTHER, "0", "0", f"new{EVIL}", "x"),
    ("new", "side-fold", "-o", f"new{EVIL}"), ("new", "side-fold", "-o", EVIL), ("new", EVIL),
    ("watch", f"missing{EVIL}"), ("watch", EVIL, "--editor-link", EVIL), ("watch", EVIL, "--variant", EVIL),
    ("check", EVIL, f"--{EVIL}"), (EVIL,), ("build", EVIL, "--units", EVIL), ("build", EVIL, "--to", EVIL),
    ("build", EVIL, "--page", EVIL), ("build", EVIL, "--trimmer", EVIL), ("completion", EVIL),
)  # fmt: skip


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: visible(" ".join(command[:1])))
def test_no_name_reaches_the_terminal_raw(command: tuple[str, ...]) -> None:
    ran = run(*command)
    if "html" in command:  # a page, in which a line end is a space
        ran = ran._replace(out=ran.out.replace("\nforged", " forged"))
    assert_harmless(ran.out, ran.err)
    assert "Traceback" not in ran.err


def test_names_are_told_though() -> None:
    """So that the test above looks at something."""
    ran = run("build", EVIL, "--to", "md")
    assert ran.out == f"{visible(EVIL.removesuffix('.recipe'))}.md\n"
    assert Path(f"{EVIL.removesuffix('.recipe')}.md").exists()
    assert run("check", f"missing{EVIL}").err.startswith("cardrecipe: missinga<U+001B>[31m<U+009B>2J<U+202E>")


def test_a_name_comes_back_whole_from_json() -> None:
    (found,) = json.loads(run("check", f"wrong{EVIL}", "--format", "json").out)
    assert found["file"] == f"wrong{EVIL}"
    told = json.loads(run("diff", EVIL, OTHER, "--to", "json").out)
    assert told["old"]["file"] == EVIL


@pytest.mark.parametrize("sign", REFUSED.values(), ids=REFUSED)
def test_what_a_recipe_may_not_hold_is_shown_where_it_stands(sign: str) -> None:
    if sign.encode(errors="replace") == b"?":
        return  # half a character is in no file
    Path("b.recipe").write_text(GOOD.replace("note", f"note{sign}"), "utf-8", newline="")
    ran = run("check", "b.recipe")
    assert ran.status == 1
    assert_harmless(ran.out, ran.err)
    assert f"<U+{ord(sign[0]):04X}>" in ran.err
    assert_harmless(run("facts", "b.recipe").out)
    assert_harmless(run("git-diff", "b.recipe", "b.recipe", "0", "0", OTHER, "0", "0").out)


@pytest.mark.parametrize("form", ["text", "md", "json", "html"])
def test_a_name_that_is_no_text_stops_nothing(form: str) -> None:
    name = os.fsdecode(b"b\xe4\x9b.recipe")
    Path(name).write_text(GOOD)
    command = [sys.executable, "-m", "cardrecipe", "diff", name, OTHER, "--to", form]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(command, capture_output=True, check=False, env=environment)
    assert (done.returncode, done.stderr) == (0, b"")
    assert_harmless(done.stdout.decode())


def test_a_shell_is_offered_no_name_that_would_rewrite_its_line() -> None:
    assert recipes("") == [OTHER]
