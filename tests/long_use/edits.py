"""Edits in one language server, which answers in this process at the two ends of a pipe."""

import logging
import os
import shutil
import tempfile
import threading
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from cardrecipe.editor.protocol.serving import made_server
from tests.editor.raw_client import RawClient
from tests.recipes import SAMPLES, recipes_in

CLASS = "saturday-bench.recipe"  # its check takes as long as that of ten cards
ABOUT = 10  # the lines of a sample that may be its maker's own words
_START = {"line": 0, "character": 0}
_TYPED = (
    "panel zz from white on bakc\n", "lett x = 1\n", '"""\n', "let zz = 1/0\n", "\n", " \t\n", "<<<<<<<\n",
)  # fmt: skip
_ASKED = (
    "hover", "completion", "documentSymbol", "formatting", "codeAction", "inlayHint", "definition",
    "references", "foldingRange", "prepareRename", "rename",
)  # fmt: skip


class Edits(RawClient):
    """A client of a server in this process: all samples lie open, and one of them changes at a time."""

    def __init__(self) -> None:
        requests, answers = os.pipe(), os.pipe()
        self._requests, self._answers = os.fdopen(requests[1], "wb"), os.fdopen(answers[0], "rb")
        self._ends = os.fdopen(requests[0], "rb"), os.fdopen(answers[1], "wb")
        self._number = 0
        self.told: list[dict[str, Any]] = []
        logging.getLogger("pygls").addHandler(logging.NullHandler())  # as the command does it
        logging.getLogger("pygls").propagate = False
        self._server = made_server()
        self._serving = threading.Thread(target=self._server.start_io, args=self._ends)

    def __enter__(self) -> Self:
        self._serving.start()
        self.begin()
        self._server.desk._background._pause = 0.0  # it only waits: nothing else depends on it
        self._folder = Path(tempfile.mkdtemp())
        copies = (Path(shutil.copy(path, self._folder)) for path in recipes_in(SAMPLES))
        self._paths = [path for path in copies if path.name != CLASS]
        self._version = 1
        for path in self._paths:
            self.open(path, path.read_text("utf-8"))
        return self

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        self.ask("shutdown")
        self.tell("exit")
        self._serving.join()
        for each in (self._requests, self._answers, *self._ends):
            each.close()
        shutil.rmtree(self._folder)

    def work(self, number: int) -> None:
        """One edit and one question; what was typed is taken back by the next edit of the recipe."""
        path, typed = self._paths[number % len(self._paths)], _TYPED[number // 2 % len(_TYPED)]
        text = path.read_text("utf-8")
        if number % 97 == 0:
            self.tell("textDocument/didClose", {"textDocument": {"uri": path.as_uri()}})
            self.open(path, text)
        lines = text.splitlines(keepends=True)
        # A text block that is opened holds all that follows: elsewhere it would be another line each time.
        line = ABOUT + (0 if typed.startswith('"') else number * 7 % (len(lines) - ABOUT))
        self._change(path, "".join([*lines[:line], f"# {number}\n", typed, *lines[line:]]), number % 3 == 0)
        self._ask(_ASKED[number % len(_ASKED)], path, line)

    def close(self) -> None:
        """Every text as it was, and all is answered."""
        for path in self._paths:
            self._change(path, path.read_text("utf-8"), is_whole=True)
        for path in 2 * self._paths:
            for method in _ASKED:
                self._ask(method, path, ABOUT)

    def _change(self, path: Path, text: str, is_whole: bool) -> None:
        """As a client says that a text has become another: whole, or all lines of it given anew."""
        self._version += 1
        place = {} if is_whole else {"range": {"start": _START, "end": {"line": 1_000_000, "character": 0}}}
        self.tell("textDocument/didChange", {
            "textDocument": {"uri": path.as_uri(), "version": self._version},
            "contentChanges": [{**place, "text": text}],
        })  # fmt: skip

    def _ask(self, method: str, path: Path, line: int) -> None:
        position = {"line": line + 1, "character": 4}
        place = {"start": {"line": line, "character": 0}, "end": {"line": line + 3, "character": 0}}
        answer = self.ask(f"textDocument/{method}", {
            "textDocument": {"uri": path.as_uri()}, "position": position, "range": place, "newName": "zz-new",
            "context": {"includeDeclaration": True, "diagnostics": [], "triggerKind": 1},
            "options": {"tabSize": 2, "insertSpaces": True},
        })  # fmt: skip
        assert "result" in answer or answer["error"]["code"] == -32803, answer
        self.told.clear()
