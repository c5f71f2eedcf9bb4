"""A real client at the other end of a real server process: what an editor would send and see."""

import asyncio
import os
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TypeVar

from lsprotocol import types
from pytest_lsp import ClientServerConfig, LanguageClient, client_capabilities

from tests.recipes import ROOT

PATIENCE = 30.0  # seconds; a machine that does much else is slow
CONFIG = ClientServerConfig(
    server_command=[sys.executable, "-m", "cardrecipe", "language-server"],
    server_env={**os.environ, "PYTHONPATH": str(ROOT)},
)
_T = TypeVar("_T")


async def begin(
    client: LanguageClient, folder: Path, encodings: Sequence[str] = ()
) -> types.InitializeResult:
    """The greeting of an editor that can do all that we use."""
    can = client_capabilities("visual-studio-code")
    assert can.general is not None
    if encodings:
        can.general.position_encodings = [types.PositionEncodingKind(each) for each in encodings]
    client.feature(types.CLIENT_REGISTER_CAPABILITY)(lambda params: None)
    client.feature(types.WORKSPACE_INLAY_HINT_REFRESH)(lambda params: None)
    return await client.initialize_session(
        types.InitializeParams(can, workspace_folders=[types.WorkspaceFolder(folder.as_uri(), folder.name)])
    )


async def leave(client: LanguageClient) -> None:
    """Say goodbye, as an editor does; a second goodbye is none."""
    if client.capabilities is not None and client._server is not None and client._server.returncode is None:
        await client.shutdown_session()
        assert client._server.returncode == 0


class Window:
    """One open recipe of a client."""

    def __init__(self, client: LanguageClient, path: Path, text: str) -> None:
        self.client, self.uri, self.version = client, path.as_uri(), 1
        self.text = text
        client.text_document_did_open(types.DidOpenTextDocumentParams(
            types.TextDocumentItem(self.uri, "cardrecipe", self.version, text)
        ))  # fmt: skip

    @property
    def identifier(self) -> types.TextDocumentIdentifier:
        return types.TextDocumentIdentifier(self.uri)

    def at(self, words: str, after: int = 0) -> types.Position:
        """Where `words` begin (and `after` characters further on), counted in UTF-16."""
        before = self.text[: self.text.index(words) + after]
        line = before.rpartition("\n")[2]
        return types.Position(before.count("\n"), len(line.encode("utf-16-le")) // 2)

    def range(self, words: str) -> types.Range:
        return types.Range(self.at(words), self.at(words, len(words)))

    def replace(self, words: str, new: str) -> None:
        """Type over the first place where `words` stand."""
        change = types.TextDocumentContentChangePartial(self.range(words), new)
        self.text = self.text.replace(words, new, 1)
        self.send([change])

    def send(self, changes: list[types.TextDocumentContentChangeEvent]) -> None:
        self.version += 1
        self.client.text_document_did_change(types.DidChangeTextDocumentParams(
            types.VersionedTextDocumentIdentifier(version=self.version, uri=self.uri), changes
        ))  # fmt: skip

    @property
    def codes(self) -> list[str]:
        """What the client is shown now."""
        return [str(each.code) for each in self.client.diagnostics.get(self.uri, [])]

    async def shows(self, *codes: str) -> None:
        """Wait until the client is shown just these."""
        await until(lambda: self.codes == list(codes), lambda: f"{self.codes} instead of {codes}")


async def until(is_so: Callable[[], bool], otherwise: Callable[[], str] = lambda: "it did not come") -> None:
    end = time.monotonic() + PATIENCE
    while not is_so():
        assert time.monotonic() < end, otherwise()
        await asyncio.sleep(0.02)
