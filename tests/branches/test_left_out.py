"""What a counted run left out is told by its line; an exception has a reason, and ends with it."""

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.branches import __main__ as command
from tests.branches.kept import keep
from tests.branches.left_out import LeftOut, exceptions, left_out, of_file

SOURCE = """def sign(number):
    if number < 0:
        return "-"
    if number > 0:
        return "+"
    return ""


print(sign(1))
"""


def test_lines_that_never_ran_and_branches_never_taken_are_told_by_their_text(tmp_path: Path) -> None:
    (tmp_path / "a.py").write_text(SOURCE, "utf-8")
    counts = {"missing_lines": [3], "missing_branches": [[2, 3], [4, 6], [4, -1]]}
    assert of_file(tmp_path, "a.py", counts) == [
        LeftOut("a.py", 3, "never runs", 'return "-"'),
        LeftOut("a.py", 4, "never ends here", "if number > 0:"),
        LeftOut("a.py", 4, "never goes to line 6", "if number > 0:"),
    ]


# A worker that takes too long to tidy up after a long run ends so.
KILLED = """import os, signal, sys
sys.path.append({root!r})
from tests.branches.kept import keep
keep()
os.kill(os.getpid(), signal.SIGKILL)
"""


def count(folder: Path, sources: str, *programs: Path, status: int = 0) -> None:
    """Run programs in processes of their own: one that counts already would count no more afterwards."""
    settings = f"[tool.coverage.run]\nbranch = true\nparallel = true\nsource = [{sources}]\n"
    (folder / "pyproject.toml").write_text(settings, "utf-8")
    for program in programs:
        command = [sys.executable, "-m", "coverage", "run", "--rcfile=pyproject.toml", str(program)]
        assert subprocess.run(command, cwd=folder, capture_output=True).returncode == status


@pytest.fixture(autouse=True)
def _nothing_else_is_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("COVERAGE_PROCESS_START", "COVERAGE_FILE"):
        monkeypatch.delenv(name, raising=False)


def test_a_counted_run_is_read_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A run in one process leaves its count beside the settings; it stays for the next question."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "a.py").write_text(SOURCE, "utf-8")
    count(tmp_path, '"."', tmp_path / "a.py")
    for _ in range(2):
        assert [(each.number, each.what) for each in left_out(tmp_path)] == [
            (3, "never runs"), (6, "never runs"),
        ]  # fmt: skip


def test_what_was_counted_elsewhere_is_not_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Tests of the installed program run copies of it in folders of their own."""
    own, other = tmp_path / "own", tmp_path / "other"
    for folder in (own, other):
        folder.mkdir()
        (folder / "a.py").write_text(SOURCE, "utf-8")
    monkeypatch.chdir(own)
    count(own, f'".", "{other.as_posix()}"', own / "a.py", other / "a.py")
    (other / "a.py").unlink()
    assert [each.file for each in left_out(own)] == ["a.py", "a.py"]


def test_what_is_kept_outlives_the_process(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "a.py").write_text(SOURCE + KILLED.format(root=str(command.HERE.parents[1])), "utf-8")
    count(tmp_path, '"."', tmp_path / "a.py", status=-signal.SIGKILL)
    assert [each.number for each in left_out(tmp_path)] == [3, 6, 14]  # and the last line, which ended it


def test_where_nothing_is_counted_nothing_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("coverage.Coverage.current", lambda: None)
    keep()


REASON = '[[exception]]\nfile = "a.py"\nline = "return \\"-\\""\nwhy = "{}"\n'


def test_an_exception_has_a_reason(tmp_path: Path) -> None:
    path = tmp_path / "exceptions.toml"
    path.write_text(REASON.format("only a negative number comes here"), "utf-8")
    assert exceptions(path) == {("a.py", 'return "-"'): "only a negative number comes here"}
    for text in (REASON.format(" "), 2 * REASON.format("so")):
        path.write_text(text, "utf-8")
        with pytest.raises(AssertionError):
            exceptions(path)


@pytest.mark.parametrize(
    ("found", "known", "status", "said"),
    [
        ([], {}, 0, "0 left out, 0 of them for one of 0 reasons"),
        (["x = 1"], {}, 1, "a.py:7: never runs: x = 1"),
        (["x = 1"], {"x = 1": "so"}, 0, "1 left out, 1 of them for one of 1 reasons"),
        ([], {"x = 1": "so"}, 1, "exceptions.toml: nothing is left out at this line of a.py any more: x = 1"),
    ],
)
def test_the_command_ends_with_1_where_a_line_or_a_reason_is_left_over(
    found: list[str], known: dict[str, str], status: int, said: str,
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    listed = [LeftOut("a.py", 7, "never runs", line) for line in found]
    monkeypatch.setattr(command, "left_out", lambda root: listed)
    monkeypatch.setattr(
        command, "exceptions", lambda path: {("a.py", key): why for key, why in known.items()}
    )
    assert command.main() == status
    assert said in capsys.readouterr().out.splitlines()


def test_every_exception_is_of_a_line_that_there_is() -> None:
    """A run that counts takes half an hour; a line that was renamed is seen at once."""
    root = command.HERE.parents[1]
    for file, line in exceptions(command.HERE / "exceptions.toml"):
        assert line in map(str.strip, (root / file).read_text("utf-8").splitlines()), f"{file}: {line}"
