"""The preview of a recipe, opened from the editor: `cardrecipe watch` as a child process, one for each file.

It listens on this machine alone, under an address that nobody can guess, and ends with the server: it is told
to, and where the server was killed its input ends (`preview_child`).
"""

import atexit
import contextlib
import os
import subprocess
import sys
import threading
from collections.abc import Sequence
from pathlib import Path
from typing import IO

PATIENCE = 30.0  # seconds that a preview may take until it says its address
LAST_WORD = 2.0  # seconds that it is given to end by itself

_PACKAGE = str(Path(__file__).parents[2])  # the folder that `cardrecipe` is imported from


class NoPreview(Exception):
    """A preview that did not come up; the message is for the maker."""


class Previews:
    """The previews that run, by the path of their recipe."""

    def __init__(self) -> None:
        self._running: dict[str, tuple[subprocess.Popen[str], str]] = {}
        self._begun: list[subprocess.Popen[str]] = []
        self._one_at_a_time = threading.Lock()
        atexit.register(self.end)

    def address_of(self, path: str) -> str:
        """The address of the preview of the recipe at `path`, which is begun where none runs; NoPreview."""
        with self._one_at_a_time:
            process, address = self._running.get(path, (None, ""))
            if process is None or process.poll() is not None:
                self._forget_those_that_ended()
                process = _child(path)
                self._begun.append(process)
                address = _address(process, path)
                self._running[path] = process, address
            return address

    def end(self) -> None:
        """End them all, those too that have not come up yet."""
        begun, self._begun, self._running = self._begun, [], {}
        for process in begun:
            with contextlib.suppress(OSError):
                process.terminate()
        for process in begun:
            try:
                process.wait(LAST_WORD)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()
        _forget(begun)

    def _forget_those_that_ended(self) -> None:
        """A session may begin thousands: a recipe that is not there has a preview that ends at once."""
        ended = [each for each in self._begun if each.poll() is not None]
        self._begun = [each for each in self._begun if each not in ended]
        self._running = {path: each for path, each in self._running.items() if each[0] not in ended}
        _forget(ended)


def _child(path: str) -> subprocess.Popen[str]:
    known = os.environ.get("PYTHONPATH")
    paths = os.pathsep.join([_PACKAGE, *([known] if known else [])])
    return subprocess.Popen(
        # -P: no module is taken from the folder that the maker works in, whatever lies there.
        [sys.executable, "-P", "-m", "cardrecipe.editor.preview_child", path],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        encoding="utf-8", errors="replace", env={**os.environ, "PYTHONPATH": paths},
    )  # fmt: skip


def _address(process: subprocess.Popen[str], path: str) -> str:
    """What the preview says first."""
    said = list[str]()
    reading = _kept_reading(process.stderr, said)
    overdue = threading.Timer(PATIENCE, process.kill)
    overdue.start()
    assert process.stdout is not None
    address = process.stdout.readline().strip()
    overdue.cancel()
    if not address:
        process.stdout.close()
        process.wait()
        reading.join(LAST_WORD)
        reason = " ".join("".join(said).split()) or "it did not come up"
        raise NoPreview(f"there is no preview of {path}: {reason}")
    _kept_reading(process.stdout, [])
    return address


def _forget(ended: Sequence[subprocess.Popen[str]]) -> None:
    """Close the pipes to previews that have ended; those from them are closed by who reads them."""
    for process in ended:
        assert process.stdin is not None
        process.stdin.close()


def _kept_reading(stream: IO[str] | None, into: list[str]) -> threading.Thread:
    """Take what a preview says off its pipe, which would stop it when it is full; keep the first lines."""
    assert stream is not None

    def read() -> None:
        with stream:
            for line in stream:
                if len(into) < 20:
                    into.append(line)

    reading = threading.Thread(target=read, daemon=True)
    reading.start()
    return reading
