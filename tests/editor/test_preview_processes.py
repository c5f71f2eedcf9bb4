"""Previews as processes: one that does not end when told to, one that says much, one that is spoken to."""

import subprocess
import sys
from pathlib import Path
from urllib.request import urlopen

import pytest

from cardrecipe.editor import preview_child, previews
from cardrecipe.editor.previews import NoPreview, Previews
from tests.recipes import HEAD, ROOT

STUBBORN = (
    "import signal, sys, time\nsignal.signal(signal.SIGTERM, signal.SIG_IGN)\n"
    "print('http://127.0.0.1:1/', flush=True)\ntime.sleep(60)\n"
)
TALKATIVE = "import sys\nfor number in range(30): print(f'reason-{number}.', file=sys.stderr)\n"


def child_that_runs(code: str, monkeypatch: pytest.MonkeyPatch) -> list[subprocess.Popen[str]]:
    """Each preview from now on runs `code`; those that were begun."""
    begun = list[subprocess.Popen[str]]()

    def child(path: str) -> subprocess.Popen[str]:
        pipe = subprocess.PIPE
        command = [sys.executable, "-c", code]
        begun.append(subprocess.Popen(command, stdin=pipe, stdout=pipe, stderr=pipe, text=True))
        return begun[-1]

    monkeypatch.setattr(previews, "_child", child)
    return begun


def test_a_preview_that_does_not_end_when_it_is_told_to_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(previews, "LAST_WORD", 0.2)
    begun = child_that_runs(STUBBORN, monkeypatch)
    running = Previews()
    assert running.address_of("a.recipe") == "http://127.0.0.1:1/"
    assert begun[0].poll() is None
    running.end()
    assert begun[0].returncode is not None and begun[0].stdin is not None and begun[0].stdin.closed


def test_of_a_preview_that_says_much_the_first_lines_are_the_reason(monkeypatch: pytest.MonkeyPatch) -> None:
    child_that_runs(TALKATIVE, monkeypatch)
    running = Previews()
    with pytest.raises(NoPreview) as problem:
        running.address_of("a.recipe")
    running.end()
    said = [word for word in str(problem.value).split() if word.startswith("reason-")]
    assert said == [f"reason-{number}." for number in range(20)]


def test_a_preview_does_not_hear_what_it_is_told_and_ends_with_its_input(tmp_path: Path) -> None:
    (tmp_path / "a.recipe").write_text(HEAD + "base card from ink\n  flat 10 x 7\n", "utf-8")
    command = [sys.executable, "-m", preview_child.__name__, str(tmp_path / "a.recipe")]
    pipe = subprocess.PIPE
    with subprocess.Popen(command, cwd=ROOT, stdin=pipe, stdout=pipe, stderr=pipe, text=True) as child:
        assert child.stdin is not None and child.stdout is not None
        address = child.stdout.readline().strip()
        child.stdin.write("end\n" * 1000)
        child.stdin.flush()
        with urlopen(address) as page:
            assert page.status == 200
        assert child.poll() is None
        child.communicate(timeout=20)  # closes its input
    with pytest.raises(OSError):
        urlopen(address)
