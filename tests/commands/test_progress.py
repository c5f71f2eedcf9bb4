"""The progress bar at the end of a pseudo-terminal: shown for long work alone, and gone when that is done."""

import fcntl
import io
import os
import pty
import struct
import subprocess
import sys
import termios
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from cardrecipe.commands import progress as bars
from cardrecipe.commands.progress import progress

END = "<end>"
ROOT = Path(__file__).parents[2]


@contextmanager
def terminal(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[str]]:
    """Standard error as a terminal; what was written to it is in the list afterwards."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    written: list[str] = []
    with os.fdopen(theirs, "w", encoding="utf-8") as screen:
        reader = threading.Thread(target=_read, args=(ours, written))
        reader.start()
        monkeypatch.setattr(sys, "stderr", screen)
        yield written
        screen.write(END)  # what is written arrives a moment later
        screen.flush()
        reader.join()
        monkeypatch.undo()
    os.close(ours)


def _read(ours: int, written: list[str]) -> None:
    """Empties the terminal, which holds but a few thousand letters."""
    arrived = b""
    while not arrived.endswith(END.encode()):
        arrived += os.read(ours, 1 << 16)
    written.append(arrived.decode().removesuffix(END))


def is_wiped(written: str) -> bool:
    """True where the last thing written is a line of blanks, and the cursor is back at its start."""
    return written.endswith("\r") and written.rsplit("\r", 2)[-2].strip() == ""


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    monkeypatch.setattr(bars, "WAITS", 0.05)
    monkeypatch.setattr(bars, "BEATS", 0.02)
    return monkeypatch


def test_long_work_is_shown_and_the_bar_goes_when_it_is_done(quick: pytest.MonkeyPatch) -> None:
    with terminal(quick) as written, progress() as told:
        told.begins("cutting Ink blue", 2, 4)
        time.sleep(0.2)
        told.begins("pages for letter", 4, 4)
        time.sleep(0.2)
    assert "cutting Ink blue |" in written[0] and "1 of 4" in written[0]
    assert "pages for letter |" in written[0] and "3 of 4" in written[0]
    assert "\n" not in written[0]
    assert is_wiped(written[0])


def test_short_work_shows_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    with terminal(monkeypatch) as written, progress() as told:
        told.begins("cutting Ink blue", 1, 1)
    assert written == [""]


def test_what_is_printed_meanwhile_keeps_its_own_line(quick: pytest.MonkeyPatch) -> None:
    with terminal(quick) as written, progress() as told:
        told.begins("cutting Ink blue", 1, 2)
        time.sleep(0.15)
        print("bench.recipe:", file=sys.stderr, end=" ")
        time.sleep(0.15)
        print("a warning", file=sys.stderr)
        print("no end", file=sys.stderr, end="")
    before, _, after = written[0].partition("bench.recipe: a warning\r\n")
    assert "cutting Ink blue" in before and is_wiped(before)
    assert after.endswith("no end") or after.partition("no end")[2].strip() == ""


def test_whoever_asks_meanwhile_is_told_of_the_terminal_itself(quick: pytest.MonkeyPatch) -> None:
    with terminal(quick) as written:
        screen = sys.stderr
        with progress() as told:
            told.begins("cutting Ink blue", 1, 2)
            assert sys.stderr is not screen and sys.stderr.isatty()
            assert (sys.stderr.encoding, sys.stderr.fileno()) == ("utf-8", screen.fileno())
            print("bench.recipe: a warning", file=sys.stderr, flush=True)
    assert "bench.recipe: a warning\r\n" in written[0]


def test_lines_of_standard_output_are_whole_and_in_their_order(
    quick: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    with terminal(quick), progress() as told:
        for number in range(1, 4):
            told.begins(f"file {number}", number, 3)
            print(f"sheets/{number}.md")
            time.sleep(0.05)
    assert capsys.readouterr().out == "sheets/1.md\nsheets/2.md\nsheets/3.md\n"


def test_names_of_parts_cannot_move_the_cursor(quick: pytest.MonkeyPatch) -> None:
    with terminal(quick) as written, progress() as told:
        told.begins("\x1b[2J" + "long name " * 20, 1, 2)
        time.sleep(0.15)
    assert "\x1b[2J" not in written[0] and "long name long name" in written[0]


def test_a_file_or_a_pipe_gets_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    pipe = io.StringIO()
    monkeypatch.setattr(sys, "stderr", pipe)
    monkeypatch.setattr(bars, "WAITS", 0.01)
    with progress() as told:
        told.begins("cutting Ink blue", 1, 2)
        time.sleep(0.05)
        told.show()
    assert pipe.getvalue() == ""


def test_the_bar_is_loaded_only_for_a_terminal() -> None:
    script = """
import sys
from cardrecipe.commands.progress import progress
with progress() as told:
    told.begins("cutting", 1, 2)
print("tqdm" in sys.modules)
"""
    result = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert (result.stdout, result.stderr) == ("False\n", "")


def test_an_error_takes_the_bar_away_too(quick: pytest.MonkeyPatch) -> None:
    with terminal(quick) as written, pytest.raises(KeyError), progress() as told:
        told.begins("cutting Ink blue", 1, 2)
        time.sleep(0.15)
        raise KeyError
    assert is_wiped(written[0])
