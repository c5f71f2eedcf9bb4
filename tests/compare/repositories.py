"""A temporary repository with the shelf and a sample in it, set up as the page on version control says."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.compare.versions import SHELF
from tests.recipes import ROOT

needs_git = pytest.mark.skipif(shutil.which("git") is None, reason="git is not installed on this machine")
# The command as it is started where it is not installed: by this interpreter.
COMMAND = f"{sys.executable} -m cardrecipe"
ATTRIBUTES = "*.recipe diff=cardrecipe\n"


class Repository:
    """A work tree; `git` runs a command in it and gives what it prints."""

    def __init__(self, folder: Path, textconv: bool = True, driver: bool = True) -> None:
        self.folder = folder
        folder.mkdir(parents=True)
        self.git("init", "-q")
        self.write(".gitattributes", ATTRIBUTES)
        if textconv:
            self.git("config", "diff.cardrecipe.textconv", f"{COMMAND} facts")
        if driver:
            self.git("config", "diff.cardrecipe.command", f"{COMMAND} git-diff")

    def write(self, name: str, text: str | bytes) -> None:
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text.encode() if isinstance(text, str) else text)

    def git(self, *arguments: str) -> str:
        done = subprocess.run(["git", *arguments], cwd=self.folder, env=_environment(self.folder),
                              capture_output=True, check=False)  # fmt: skip
        assert done.returncode == 0, done.stderr.decode()
        assert not done.stderr or arguments[0] in ("mv", "add"), done.stderr.decode()
        return plain(done.stdout.decode(errors="replace"))

    def commit(self, message: str = "as it is") -> None:
        self.git("add", "-A")
        self.git("commit", "-q", "-m", message)


def with_sample(folder: Path, under: str = "", **how: bool) -> Repository:
    """A repository in which night-market and the papers it uses are committed, in a sub-folder perhaps."""
    made = Repository(folder, **how)
    made.write(f"{under}night-market.recipe", SHELF["night-market.recipe"])
    made.write(f"{under}papers.recipe", SHELF["papers.recipe"])
    made.commit()
    return made


def plain(text: str) -> str:
    """Sizes as they are typed."""
    return text.translate(str.maketrans({"\u202f": " ", "\u00a0": " ", "\u2044": "/", "\u00d7": "x"}))


def _environment(folder: Path) -> dict[str, str]:
    """Nobody's own settings; an identity that is nobody's; no pager."""
    return {
        "PATH": os.environ["PATH"], "PYTHONPATH": str(ROOT), "HOME": str(folder), "LANG": "C.UTF-8",
        "GIT_CONFIG_NOSYSTEM": "1", "GIT_CONFIG_GLOBAL": os.devnull, "GIT_PAGER": "cat",
        "GIT_AUTHOR_NAME": "A maker", "GIT_AUTHOR_EMAIL": "maker@example.org",
        "GIT_COMMITTER_NAME": "A maker", "GIT_COMMITTER_EMAIL": "maker@example.org",
    }  # fmt: skip
