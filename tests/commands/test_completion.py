"""Completion in the shells themselves: keys are typed into each, and what it then runs is looked at."""

import os
import pty
import select
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.recipes import HEAD, ROOT
from tests.test_layers_of_the_house import loaded_by

RECIPE = (
    f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5\npanel note from ink on back\n"
    'variant "Stepped up"\n  set note.width 3\nvariant "Plain"\n  drop note\n'
)
# The shell runs this instead of the program, unless it asks for completion; so the keys show what they gave.
PROGRAM = """#!/bin/sh
if [ -n "$_ARGCOMPLETE" ]; then exec {python} -m cardrecipe "$@"; fi
printf 'RAN'; for each in "$@"; do printf '<%s>' "$each"; done; printf 'END\\n'
"""
START = {
    "bash": (["--norc", "--noprofile", "-i"], 'eval "$({program} completion bash)"'),
    "zsh": (["-f", "-i"], 'autoload -U compinit; compinit -u -D; eval "$({program} completion zsh)"'),
    "fish": (["--no-config", "-i"], "{program} completion fish | source"),
}
TAB = "\t"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("desk")
    (path / "shelf").mkdir()
    (path / "shelf" / "papers.recipe").write_text('paper ink is cardstock "Ink"\n')
    (path / "night-market.recipe").write_text(RECIPE)
    (path / "night-notes.txt").write_text("")
    (path / "bin").mkdir()
    (path / ".home").mkdir()
    program = path / "bin" / "cardrecipe"
    program.write_text(PROGRAM.format(python=sys.executable))
    program.chmod(0o755)
    return path


def environment(folder: Path) -> dict[str, str]:
    home = dict.fromkeys(("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME"), str(folder / ".home"))
    path = f"{folder / 'bin'}:{os.environ['PATH']}"
    return {**os.environ, **home, "PATH": path, "PYTHONPATH": str(ROOT), "TERM": "dumb"}


class Shell:
    """A shell at a terminal: keys go in, and what it ran comes out."""

    def __init__(self, name: str, folder: Path) -> None:
        options, start = START[name]
        self._process, self._terminal = pty.fork()
        if self._process == 0:  # pragma: no cover (the child becomes the shell)
            os.chdir(folder)
            os.execvpe(name, [name, *options], environment(folder))
        self.typed(start.format(program=f"{sys.executable} -m cardrecipe") + "; cardrecipe ready")

    def typed(self, keys: str, seconds: float = 30) -> list[str]:
        """The arguments of the command that the keys and Enter run."""
        os.write(self._terminal, f"{keys}\r".encode())
        seen, end = "", time.monotonic() + seconds
        while "END" not in seen.rpartition("RAN<")[2] or "RAN<" not in seen:
            assert time.monotonic() < end, seen
            if select.select([self._terminal], [], [], 0.2)[0]:
                seen += os.read(self._terminal, 65_536).decode(errors="replace")
        return seen.rpartition("RAN<")[2].partition(">END")[0].split("><")

    def close(self) -> None:
        os.write(self._terminal, b"\x03exit\r")
        os.close(self._terminal)
        os.waitpid(self._process, 0)


@pytest.fixture(scope="module", params=START)
def shell(request: pytest.FixtureRequest, folder: Path) -> Iterator[Shell]:
    name = str(request.param)
    if shutil.which(name) is None:
        pytest.skip(f"{name} is not installed here")
    opened = Shell(name, folder)
    yield opened
    opened.close()


@pytest.mark.parametrize(("keys", "arguments"), [
    (f"che{TAB}x", ["check", "x"]),
    (f"check night{TAB}", ["check", "night-market.recipe"]),
    (f"format --ch{TAB}shelf/p{TAB}", ["format", "--check", "shelf/papers.recipe"]),
    (f"new double-ga{TAB}", ["new", "double-gate"]),
    (f"build night{TAB} --variant St{TAB}", ["build", "night-market.recipe", "--variant", "Stepped up"]),
    (f"build night{TAB} --variant ea{TAB}", ["build", "night-market.recipe", "--variant", "each"]),
    (f"diff night{TAB} --new-variant Pl{TAB}", ["diff", "night-market.recipe", "--new-variant", "Plain"]),
    (f"explain night{TAB}note.wi{TAB}", ["explain", "night-market.recipe", "note.width"]),
    (f"build a.recipe --to html,j{TAB}", ["build", "a.recipe", "--to", "html,json"]),
    (f"completion z{TAB}", ["completion", "zsh"]),
])  # fmt: skip
def test_the_tab_key_completes(shell: Shell, keys: str, arguments: list[str]) -> None:
    assert shell.typed(f"cardrecipe {keys}") == arguments


# ---- what is offered -----------------------------------------------------------------------------


def offered(line: str, folder: Path) -> list[str]:
    """What the program answers to a shell with `line` typed so far."""
    answer = folder / "answer"
    asked = {"_ARGCOMPLETE": "1", "COMP_LINE": line, "COMP_POINT": str(len(line.encode())), "COMP_TYPE": "9",
             "_ARGCOMPLETE_IFS": "\n", "_ARGCOMPLETE_SUPPRESS_SPACE": "1",
             "_ARGCOMPLETE_STDOUT_FILENAME": str(answer)}  # fmt: skip
    answer.write_text("")
    done = subprocess.run([sys.executable, "-m", "cardrecipe"], env={**environment(folder), **asked},
                          cwd=folder, capture_output=True, text=True, check=False)  # fmt: skip
    assert (done.stdout, done.stderr) == ("", "")
    return answer.read_text().split("\n")


@pytest.mark.parametrize(("line", "words"), [
    ("explain night-market.recipe note.", ["note.width", "note.height"]),
    ("explain night-market.recipe --variant Plain note.", [""]),
    ("explain nowhere.recipe note.", [""]),
    ("explain night-market.recipe --variant Nothing note.", [""]),
    ("build night-market.recipe --variant ", ["Stepped up", "Plain", "all", "each"]),
    ("watch night-market.recipe --variant ", ["Stepped up", "Plain"]),
    ("diff night-market.recipe shelf/papers.recipe --new-variant ", [""]),
    ("diff night-market.recipe shelf/papers.recipe --old-variant ", ["Stepped up", "Plain"]),
    ("build nowhere.recipe --variant ", ["all", "each"]),
    ("check ", ["bin/", "night-market.recipe", "shelf/"]),
    ("check nowhere/", [""]),
    ("build a.recipe -o n", ["night-market.recipe", "night-notes.txt"]),
    ("build a.recipe --page letter,", ["letter,a4"]),
    ("watch a.recipe --page ", ["letter", "a4"]),
    ("build a.recipe --copies ", [""]),
    ("completion ", ["bash", "zsh", "fish"]),
])  # fmt: skip
def test_what_is_offered(line: str, words: list[str], folder: Path) -> None:
    assert [word.replace("\\ ", " ") for word in offered(f"cardrecipe {line}", folder)] == words


def test_every_command_is_offered(folder: Path) -> None:
    assert {"build", "check", "format", "diff", "new", "structures", "completion"} <= set(
        offered("cardrecipe ", folder)
    )


def test_a_recipe_with_mistakes_does_not_disturb_the_shell(folder: Path) -> None:
    (folder / "wrong.recipe").write_text('pannel "\nvariant "Plain"\n')
    assert offered("cardrecipe build wrong.recipe --variant Pl", folder) == ["Plain"]
    assert offered("cardrecipe explain wrong.recipe note.", folder) == [""]
    (folder / "wrong.recipe").unlink()


def test_a_check_loads_nothing_of_it(folder: Path) -> None:
    modules = loaded_by(folder, "check", "night-market.recipe")
    unloaded = ("argcomplete", "cardrecipe.commands.completing")
    assert [each for each in modules if each.startswith(unloaded)] == []
