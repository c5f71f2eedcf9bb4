"""`.pre-commit-hooks.yaml`: the entries are commands that exist and do their work in a real repository.

An entry is run as a tool for hooks runs it: from the top of the repository, with the names of the files that
match. How such a file is written: https://pre-commit.com/#creating-new-hooks (from memory).
"""

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from cardrecipe.arguments import parser
from tests.recipes import ROOT

GOOD = 'recipe "Tag"\npaper ink is cardstock "Ink"\nrectangle a from ink\n  size 1 1/2 x 2\n  loose\n'


def hooks() -> dict[str, dict[str, str]]:
    """The hooks by their name; the file uses no more of its format than `key: value` lines."""
    found: list[dict[str, str]] = []
    for line in (ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8").splitlines():
        match = re.fullmatch(r"(- |  )(\w+): (.+)", line)
        assert match, line
        if match[1] == "- ":
            found.append({})
        found[-1][match[2]] = match[3]
    return {each["id"]: each for each in found}


def git(folder: Path, *arguments: str) -> str:
    names = ["-c", "user.name=A maker", "-c", "user.email=maker@example.org"]
    done = subprocess.run(["git", *names, *arguments], cwd=folder, capture_output=True, text=True, check=True)
    return done.stdout


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    git(tmp_path, "init", "-q")
    (tmp_path / "cards").mkdir()
    (tmp_path / "cards" / "good tag.recipe").write_text(GOOD)
    (tmp_path / "notes.recipes.txt").write_text("panel  a\n")
    return tmp_path


def run_hook(name: str, repository: Path) -> subprocess.CompletedProcess[str]:
    """The hook on all files of the repository; `cardrecipe` is this package's program."""
    hook = hooks()[name]
    command, *options = shlex.split(hook["entry"])
    assert command == "cardrecipe"
    git(repository, "add", "--all")
    names = git(repository, "ls-files", "-z").split("\0")
    line = [sys.executable, "-m", "cardrecipe", *options, *filter(re.compile(hook["files"]).search, names)]
    world = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run(line, cwd=repository, text=True, capture_output=True, env=world, check=False)


def test_each_hook_runs_a_command_that_exists() -> None:
    assert set(hooks()) == {"cardrecipe-check", "cardrecipe-format"}
    for hook in hooks().values():
        assert hook["language"] == "python"
        assert parser().parse_args([*shlex.split(hook["entry"])[1:], "a.recipe"]).files == ["a.recipe"]


def test_good_recipes_pass_both_hooks_unchanged(repository: Path) -> None:
    for name in hooks():
        done = run_hook(name, repository)
        assert (done.returncode, done.stdout, done.stderr) == (0, "", ""), name
    assert (repository / "cards" / "good tag.recipe").read_text() == GOOD


def test_the_check_hook_stops_a_mistake(repository: Path) -> None:
    (repository / "wrong.recipe").write_text(GOOD.replace("from ink\n", "from inc\n"))
    done = run_hook("cardrecipe-check", repository)
    assert done.returncode == 1
    assert done.stderr.startswith("wrong.recipe:3:18: error[unknown-name]")


def test_the_format_hook_changes_the_file_and_no_other(repository: Path) -> None:
    (repository / "rough.recipe").write_text(GOOD.replace("1 1/2", "1½"))
    assert run_hook("cardrecipe-format", repository).returncode == 0
    assert git(repository, "diff", "--name-only") == "rough.recipe\n"
    assert (repository / "rough.recipe").read_text() == GOOD
