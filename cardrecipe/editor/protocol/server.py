"""The language server: its greeting, the texts that a client opens and edits, and what it is told of them.

What a client asks is answered in `answers.py`. Whatever fails costs its own message and nothing else.
"""

import contextlib
import os
from collections.abc import Callable, Sequence
from functools import wraps
from typing import Any

from lsprotocol import types
from pygls.exceptions import FeatureRequestError
from pygls.lsp.server import LanguageServer

from cardrecipe.editor.desk.background import Background
from cardrecipe.editor.desk.desk import Desk, Edited
from cardrecipe.editor.previews import Previews
from cardrecipe.editor.protocol.protocol import RecipeProtocol
from cardrecipe.editor.protocol.wire import Wire, path_of, position_of
from cardrecipe.syntax.diagnostics import Diagnostic

WATCHED = "**/*.recipe"


class RecipeServer(LanguageServer):
    """The server of one client: its open recipes and its previews."""

    desk: Desk
    wire: Wire

    def __init__(self) -> None:
        super().__init__("cardrecipe", "1", protocol_cls=RecipeProtocol, max_workers=1)  # who reads the input
        self.previews = Previews()
        self.was_shut_down = False

    def begin(self, client: types.ClientCapabilities, encoding: str) -> None:
        """Make what can only be made when it is known how the client counts."""
        self.desk = Desk(Background(), self.publish, self.report, self.refresh, encoding)
        self.wire = Wire(self.desk, client)

    def publish(self, name: str, version: int | None, diagnostics: Sequence[Diagnostic]) -> None:
        shown = [self.wire.diagnostic(each) for each in diagnostics]
        self.text_document_publish_diagnostics(
            types.PublishDiagnosticsParams(self.wire.uri(name), shown, version)
        )

    def refresh(self) -> None:
        """The sizes of a recipe have changed while its text has not."""
        workspace = self.client_capabilities.workspace
        if workspace and workspace.inlay_hint and workspace.inlay_hint.refresh_support:
            self.workspace_inlay_hint_refresh(None)

    def report(self, what: str, problem: BaseException) -> None:
        """Tell the client's log what failed and where, in one line."""
        trace, place = problem.__traceback__, ""
        while trace is not None:
            place = f" ({os.path.basename(trace.tb_frame.f_code.co_filename)}:{trace.tb_lineno})"
            trace = trace.tb_next
        self.window_log_message(types.LogMessageParams(
            types.MessageType.Error, f"{what} failed: {type(problem).__name__}: {problem}{place}"
        ))  # fmt: skip

    def report_server_error(self, error: Exception, source: Any) -> None:
        """A message that makes no sense is for the log; a request that failed has its answer already."""
        if source is not FeatureRequestError:
            with contextlib.suppress(Exception):
                self.report("a message of the client", error)


def register_notifications(server: RecipeServer) -> None:
    """Teach the server to listen."""
    for method, handler in _NOTIFICATIONS.items():
        server.feature(method)(_guarded(method, handler))


# ---- life ----------------------------------------------------------------------------------------


def _initialize(server: RecipeServer, params: types.InitializeParams) -> None:
    encoding = server.workspace.position_encoding or types.PositionEncodingKind.Utf16
    server.begin(params.capabilities, str(getattr(encoding, "value", encoding)))


def _initialized(server: RecipeServer, params: types.InitializedParams) -> None:
    """Ask to be told of files that change outside the editor."""
    workspace = server.client_capabilities.workspace
    watching = workspace.did_change_watched_files if workspace else None
    if not (watching and watching.dynamic_registration):
        return
    options = types.DidChangeWatchedFilesRegistrationOptions([types.FileSystemWatcher(WATCHED)])
    method = types.WORKSPACE_DID_CHANGE_WATCHED_FILES
    server.client_register_capability(
        types.RegistrationParams([types.Registration("recipes", method, options)])
    )


def _shutdown(server: RecipeServer, params: None) -> None:
    server.was_shut_down = True
    server.previews.end()


# ---- texts ---------------------------------------------------------------------------------------


def _did_open(server: RecipeServer, params: types.DidOpenTextDocumentParams) -> None:
    document = params.text_document
    path = path_of(document.uri)
    server.desk.open(document.uri, path or document.uri, document.text, document.version, path is not None)


def _did_change(server: RecipeServer, params: types.DidChangeTextDocumentParams) -> None:
    edits = [_edited(each) for each in params.content_changes]
    server.desk.edit(params.text_document.uri, params.text_document.version, edits)


def _edited(change: types.TextDocumentContentChangeEvent) -> Edited:
    if isinstance(change, types.TextDocumentContentChangePartial):
        return Edited(position_of(change.range.start), position_of(change.range.end), change.text)
    return Edited(None, None, change.text)


def _did_save(server: RecipeServer, params: types.DidSaveTextDocumentParams) -> None:
    """Other files may have been saved with it, and not every client tells of them."""
    server.desk.check(server.desk.recipes[params.text_document.uri])


def _did_close(server: RecipeServer, params: types.DidCloseTextDocumentParams) -> None:
    server.desk.close(params.text_document.uri)


def _watched_files(server: RecipeServer, params: types.DidChangeWatchedFilesParams) -> None:
    names = [path_of(each.uri) for each in params.changes]
    server.desk.changed_elsewhere([name for name in names if name is not None])


_Handler = Callable[[RecipeServer, Any], None]
_NOTIFICATIONS: dict[str, _Handler] = {
    types.INITIALIZE: _initialize,
    types.INITIALIZED: _initialized,
    types.SHUTDOWN: _shutdown,
    types.TEXT_DOCUMENT_DID_OPEN: _did_open,
    types.TEXT_DOCUMENT_DID_CHANGE: _did_change,
    types.TEXT_DOCUMENT_DID_SAVE: _did_save,
    types.TEXT_DOCUMENT_DID_CLOSE: _did_close,
    types.WORKSPACE_DID_CHANGE_WATCHED_FILES: _watched_files,
}


def _guarded(method: str, handler: _Handler) -> Callable[[RecipeServer, Any], None]:
    """`handler`, whose failure is reported under the name of its message and ends nothing."""

    @wraps(handler)
    def answer(server: RecipeServer, params: Any) -> None:
        try:
            handler(server, params)
        except Exception as problem:
            server.report(method, problem)

    return answer
