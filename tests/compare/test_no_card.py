"""`diff` of a file that is no card: a shelf and a class are refused; mistakes are told as `check` does."""

from pathlib import Path

import pytest

from tests.recipes import HEAD, run

GOOD = f"{HEAD}rectangle tag from ink\n  size 2 x 3\n  loose\n"


def diffed(folder: Path, text: str) -> tuple[int, str, str]:
    """Exit status and words of `diff`, and the words of `check`."""
    old, new = folder / "old.recipe", folder / "new.recipe"
    old.write_text(text, encoding="utf-8")
    new.write_text(GOOD, encoding="utf-8")
    ran = run("diff", str(old), str(new))
    return ran.status, ran.err, run("check", str(old)).err


@pytest.mark.parametrize("text", [
    "", "hello\n", "recpie \"A\"\n", "let a = 1 +\n", "<<<<<<< ours\n", f"{GOOD[GOOD.index('paper') :]}",
])  # fmt: skip
def test_mistakes_are_told(tmp_path: Path, text: str) -> None:
    code, told, checked = diffed(tmp_path, text)
    assert (code, told) == (1, checked)
    assert "error[" in told


@pytest.mark.parametrize(("text", "what"), [
    ('paper ink is cardstock "Ink" 12 x 12\n', "a shelf of papers"), ("let a = 1\n", "a shelf of papers"),
    ('class "Bench"\n  make 3 of "new.recipe"\n', "a class"),
])  # fmt: skip
def test_a_shelf_and_a_class_are_refused(tmp_path: Path, text: str, what: str) -> None:
    code, told, _ = diffed(tmp_path, text)
    assert code == 2
    assert what in told
