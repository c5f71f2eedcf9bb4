"""The one door of these tests to the preview: a recipe that is watched, and a page that asks for it."""

import json
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path
from typing import Any, TypeVar
from urllib.parse import urlsplit

from cardrecipe.preview.places import Place
from cardrecipe.preview.rebuilding import Rebuilt, Wanted, rebuild
from cardrecipe.preview.server import PreviewServer
from cardrecipe.preview.shown import Shown
from tests.recipes import HEAD, ROOT

GOOD = f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5\npanel note from ink on back\n"
NOTE_LINE = 7
BROKEN = GOOD.replace("on back", "on bakc")
LONG = 20.0  # seconds after which something did not happen, on however busy a machine

Found = TypeVar("Found")


def until(look: Callable[[], Found | None], what: str = "it") -> Found:
    """What `look` gives as soon as that is true."""
    last = time.monotonic() + LONG
    while not (found := look()):
        assert time.monotonic() < last, f"{what} did not happen"
        time.sleep(0.02)
    return found


def save_beside(path: Path, text: str) -> None:
    """As careful editors save: a new file, renamed into place."""
    beside = path.with_name(f".{path.name}.new")
    beside.write_text(text, "utf-8")
    os.replace(beside, path)


def rebuilt_of(path: Path, variant: str | None = None) -> Rebuilt:
    return rebuild(Wanted(str(path), variant))


def shown_of(path: Path, variant: str | None = None) -> Shown:
    shown = Shown(path.name)
    shown.show(rebuilt_of(path, variant))
    return shown


@contextmanager
def serving(
    shown: Shown, clicked: Callable[[Place], str | None] = lambda place: None
) -> Iterator[PreviewServer]:
    with PreviewServer(0, shown, clicked) as server:
        thread = threading.Thread(target=server.serve_forever, args=(0.01,))
        thread.start()
        try:
            yield server
        finally:
            shown.end()
            server.shutdown()
            thread.join()


class Asked:
    """An answer, read whole."""

    def __init__(self, response: HTTPResponse) -> None:
        self.status, self.headers = response.status, response.headers
        self.body = response.read()

    @property
    def text(self) -> str:
        return self.body.decode()


def ask(address: str, path: str = "", method: str = "GET", body: str = "", **headers: str) -> Asked:
    """One request to the preview at `address`; `path` continues it, or stands alone where it begins with /.

    A header's name is written with _ for -; "" leaves out one that is sent otherwise.
    """
    parts = urlsplit(address)
    connection = HTTPConnection(parts.hostname or "", parts.port, timeout=LONG)
    target = path if path.startswith("/") else parts.path + path
    sent = {name.replace("_", "-"): value for name, value in headers.items()}
    if method == "POST":
        sent = {"Origin": f"http://{parts.netloc}", **sent}
    connection.request(method, target, body.encode() if body else None,
                       {name: value for name, value in sent.items() if value})  # fmt: skip
    try:
        return Asked(connection.getresponse())
    finally:
        connection.close()


@contextmanager
def events_of(address: str) -> Iterator[Iterator[dict[str, Any]]]:
    """The news of the preview at `address`, as they come."""
    parts = urlsplit(address)
    connection = HTTPConnection(parts.hostname or "", parts.port, timeout=LONG)
    connection.request("GET", f"{parts.path}events")
    response = connection.getresponse()
    assert response.status == 200

    def read() -> Iterator[dict[str, Any]]:
        for line in response:
            if line.startswith(b"data: "):
                yield json.loads(line[6:])

    try:
        yield read()
    finally:
        response.close()
        connection.close()


class Watching:
    """The command in a process of its own; `out` and `err` are the lines that it has printed."""

    def __init__(self, folder: Path, *arguments: str, **variables: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "cardrecipe", "watch", *arguments], cwd=folder, text=True,
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, stdin=subprocess.DEVNULL,
            env={**os.environ, "PYTHONPATH": str(ROOT), **variables},
        )  # fmt: skip
        self.out: list[str] = []
        self.err: list[str] = []
        self._readers = [
            threading.Thread(target=lambda lines, kept: kept.extend(iter(lines.readline, "")), args=each)
            for each in ((self.process.stdout, self.out), (self.process.stderr, self.err))
        ]
        for reader in self._readers:
            reader.start()

    @property
    def address(self) -> str:
        return until(lambda: self.out[0].strip() if self.out else None, "the address")

    def stop(self, number: int = signal.SIGINT) -> int:
        """The exit status after Ctrl-C."""
        self.process.send_signal(number)
        return self.end()

    def end(self) -> int:
        status = self.process.wait(LONG)
        for reader in self._readers:
            reader.join(LONG)
        return status


@contextmanager
def watching(folder: Path, *arguments: str, **variables: str) -> Iterator[Watching]:
    found = Watching(folder, *arguments, **variables)
    try:
        yield found
    finally:
        found.process.terminate()  # a process that is killed tells no count of the lines that it ran
        found.end()
    assert "Traceback" not in "".join(found.err)
