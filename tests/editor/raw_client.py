"""A client that can misbehave: it writes what it likes to the server, and reads every byte of its output."""

import json
import os
import re
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from tests.recipes import ROOT

START = "import sys; from cardrecipe.cli import main; sys.exit(main(['language-server']))"


class RawClient:
    """A server process. `before` is run in it first, to put a fault somewhere."""

    def __init__(self, before: str = "", environment: Mapping[str, str] | None = None) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-c", f"{before}\n{START}"],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
            env={**os.environ, "PYTHONPATH": str(ROOT), **(environment or {})},
        )  # fmt: skip
        assert self._process.stdin is not None and self._process.stdout is not None
        self._requests, self._answers = self._process.stdin, self._process.stdout
        self._number = 0
        self.told: list[dict[str, Any]] = []  # what the server has said without being asked
        self.errors = b""

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        try:
            self._process.communicate(timeout=10)  # it ends when its input does
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.communicate()

    # ---- saying ----------------------------------------------------------------------------------

    def write(self, content: bytes) -> None:
        self._requests.write(content)
        self._requests.flush()

    def send(self, message: object) -> None:
        body = json.dumps(message).encode()
        self.write(b"Content-Length: %d\r\n\r\n%s" % (len(body), body))

    def tell(self, method: str, params: object = None) -> None:
        self.send({"jsonrpc": "2.0", "method": method, "params": params})

    def ask(self, method: str, params: object = None) -> dict[str, Any]:
        """The answer: with `result` or `error` in it."""
        self._number += 1
        self.send({"jsonrpc": "2.0", "id": self._number, "method": method, "params": params})
        while True:
            message = self.read()
            if message.get("id") == self._number and "method" not in message:
                return message
            self.told.append(message)

    def begin(self, able: Mapping[str, Any] | None = None) -> dict[str, Any]:
        """The greeting of a client that can do what `able` says, and no more."""
        greeting = self.ask("initialize", {"processId": None, "rootUri": None, "capabilities": able or {}})
        self.tell("initialized", {})
        return greeting

    def open(self, path: Path, text: str) -> str:
        uri = path.as_uri()
        self.tell("textDocument/didOpen", {
            "textDocument": {"uri": uri, "languageId": "cardrecipe", "version": 1, "text": text}
        })  # fmt: skip
        return uri

    # ---- hearing ---------------------------------------------------------------------------------

    def read(self) -> dict[str, Any]:
        """The next message; whatever is no message fails."""
        head = b""
        while not head.endswith(b"\r\n\r\n"):
            byte = self._answers.read(1)
            assert byte, f"the server has ended: {self._process.stderr.read()!r}"  # type: ignore[union-attr]
            head += byte
        size = re.fullmatch(rb"Content-Length: (\d+)\r\n(?:Content-Type: [^\r]*\r\n)?\r\n", head)
        assert size is not None, head
        message: dict[str, Any] = json.loads(self._answers.read(int(size[1])))
        return message

    def hear(self, method: str) -> dict[str, Any]:
        """The next message of that kind which the server sends by itself."""
        while True:
            message = self.told.pop(0) if self.told else self.read()
            if message.get("method") == method:
                return message

    def ends(self, seconds: float = 20.0) -> int:
        """Close the server's input where it is open yet, and wait for its exit status."""
        rest, self.errors = self._process.communicate(timeout=seconds)
        assert rest == b"" or rest.startswith(b"Content-Length: "), rest
        return self._process.returncode

    def end_at_once(self, is_killed: bool) -> None:
        """End the server by the system's means: it is asked to, or it is gone."""
        (self._process.kill if is_killed else self._process.terminate)()
        self._process.wait(20)
