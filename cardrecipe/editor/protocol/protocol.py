"""The protocol with what a long session needs: one bad message costs one answer, never the process.

Texts are kept by `cardrecipe.editor.desk`, which counts as the client does (a form feed ends no line, a place
beyond a line's end is that end); so the handlers that would keep them a second time are taken out.
"""

from collections.abc import Callable, Generator
from concurrent.futures import Future
from typing import Any

from lsprotocol import types
from pygls.exceptions import (
    JsonRpcException,
    JsonRpcInvalidParams,
    JsonRpcInvalidRequest,
    JsonRpcServerNotInitialized,
)
from pygls.protocol import LanguageServerProtocol
from pygls.protocol.json_rpc import JsonRPCNotification
from pygls.protocol.language_server import lsp_method

REQUEST_FAILED = -32803  # of the protocol: a request that is well formed and cannot be answered
_IGNORED = "$/ignored"


class Failed(JsonRpcException):
    """A request that cannot be answered; the message is for the maker."""

    CODE = REQUEST_FAILED
    MESSAGE = "this cannot be done"


class RecipeProtocol(LanguageServerProtocol):
    """Answers what cannot be understood, and what comes too early or too late, with an error."""

    @lsp_method(types.TEXT_DOCUMENT_DID_OPEN)
    def lsp_text_document__did_open(self, params: Any) -> Generator[Any, Any, None]:
        yield from self._to_our_handler(types.TEXT_DOCUMENT_DID_OPEN, params)

    @lsp_method(types.TEXT_DOCUMENT_DID_CHANGE)
    def lsp_text_document__did_change(self, params: Any) -> Generator[Any, Any, None]:
        yield from self._to_our_handler(types.TEXT_DOCUMENT_DID_CHANGE, params)

    @lsp_method(types.TEXT_DOCUMENT_DID_CLOSE)
    def lsp_text_document__did_close(self, params: Any) -> Generator[Any, Any, None]:
        yield from self._to_our_handler(types.TEXT_DOCUMENT_DID_CLOSE, params)

    def structure_message(self, data: dict[str, Any]) -> Any:
        """A message's values; a request that makes no sense is answered here."""
        try:
            return super().structure_message(data)
        except JsonRpcException as problem:
            if "method" not in data:
                raise
            if "id" in data:
                wrong = JsonRpcInvalidParams(f"{data['method']}: its parameters make no sense")
                self._send_response(data["id"], error=wrong.to_response_error())
            else:
                self._server._report_server_error(problem, JsonRpcInvalidParams)
            return JsonRPCNotification(method=_IGNORED, jsonrpc=self.VERSION, params=None)

    def handle_message(self, message: Any) -> None:
        method, number = getattr(message, "method", None), getattr(message, "id", None)
        if method is not None and number is not None and (refusal := self._refusal(method)) is not None:
            self._send_response(number, error=refusal.to_response_error())
        elif self._workspace is not None or method in (types.INITIALIZE, types.EXIT):
            super().handle_message(message)

    def _execute_handler(
        self,
        msg_id: int | str,
        handler: Callable[..., Any],
        callback: Callable[[Future[Any]], None],
        args: tuple[Any, ...] | None = None,
        kwargs: dict[str, Any] | None = None,
    ) -> None:
        """Run a handler and forget that it ran: pygls itself forgets requests, but no notification."""

        def ended(future: Future[Any]) -> None:
            self._request_futures.pop(msg_id, None)
            callback(future)

        super()._execute_handler(msg_id, handler, ended, args, kwargs)

    def _refusal(self, method: str) -> JsonRpcException | None:
        if self._shutdown:
            return JsonRpcInvalidRequest(f"{method}: the server has been shut down")
        if self._workspace is None and method != types.INITIALIZE:
            return JsonRpcServerNotInitialized(f"{method}: the server waits for `initialize`")
        if self._workspace is not None and method == types.INITIALIZE:
            return JsonRpcInvalidRequest("the server is initialized already")
        return None

    def _to_our_handler(self, method: str, params: Any) -> Generator[Any, Any, None]:
        yield self.fm.features[method], (params,), None
