"""The preview's own web server: three addresses, for the browser of this machine only.

    GET  /TOKEN/          the page
    GET  /TOKEN/events    what is said about the recipe, as it changes
    POST /TOKEN/place     what was clicked, by name; answers with its place

It listens on the loopback interface, reads no file, and answers only to its own name (so that no other
name can be bent to it), to its own pages, and to who knows the token (so that other users of the machine
cannot look in).
"""

import json
import os
import secrets
import sys
from collections.abc import Callable
from http.server import BaseHTTPRequestHandler
from socketserver import TCPServer, ThreadingMixIn

from cardrecipe.preview.places import Place
from cardrecipe.preview.shown import Shown

LOOPBACK = "127.0.0.1"
MAX_NAME = 4_096  # bytes of what is clicked: a place begins with a path, and no system takes longer ones
STILL_HERE = 15.0  # seconds of silence after which a page is written to, to learn that it is closed
TOO_SLOW = 30.0  # seconds that a request may take to arrive

# Beyond the policy in the page, which cannot forbid frames.
_HEADERS = (
    ("Cache-Control", "no-store"),
    ("Content-Security-Policy", "frame-ancestors 'none'"),
    ("Cross-Origin-Opener-Policy", "same-origin"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
    ("Referrer-Policy", "no-referrer"),
    ("X-Content-Type-Options", "nosniff"),
    ("X-Frame-Options", "DENY"),
)

Clicked = Callable[[Place], str | None]  # what to do with the place of a click; gives a link to follow


class PreviewServer(ThreadingMixIn, TCPServer):
    """Answers for `shown`; OSError where the port cannot be had. Port 0: any that is free."""

    daemon_threads = True
    block_on_close = False
    # Elsewhere the option lets two programs have one port.
    allow_reuse_address = os.name == "posix"

    def __init__(self, port: int, shown: Shown, clicked: Clicked) -> None:
        self.shown, self.clicked = shown, clicked
        self.token = secrets.token_urlsafe(16)
        super().__init__((LOOPBACK, port), _Answer)
        self.port: int = self.socket.getsockname()[1]
        own = [f"{name}:{self.port}" for name in (LOOPBACK, "localhost")]
        self.hosts = frozenset(own if self.port != 80 else [*own, LOOPBACK, "localhost"])

    @property
    def address(self) -> str:
        return f"http://{LOOPBACK}:{self.port}/{self.token}/"

    def handle_error(self, request: object, client_address: object) -> None:
        """A browser that goes away in the middle of an answer is nothing to speak of."""
        if not isinstance(sys.exception(), (ConnectionError, TimeoutError)):
            super().handle_error(request, client_address)  # type: ignore[arg-type]


class _Answer(BaseHTTPRequestHandler):
    server: PreviewServer
    error_content_type, error_message_format = "text/plain; charset=utf-8", "%(code)d %(message)s\n"
    timeout = TOO_SLOW

    def do_GET(self) -> None:
        self._route()

    def do_POST(self) -> None:
        self._route()

    def version_string(self) -> str:
        return "cardrecipe"

    def log_message(self, format: str, *args: object) -> None:
        """The terminal belongs to the recipe."""

    def _route(self) -> None:
        answers = {"": ("GET", self._page), "events": ("GET", self._events), "place": ("POST", self._place)}
        if not self._is_for_us():
            return self._refuse(403, "This preview answers only to its own pages on this machine.")
        start, _, rest = self.path.partition("/")
        token, slash, name = rest.partition("/")
        knows = secrets.compare_digest(token.encode(), self.server.token.encode())
        if start or not (knows and slash and name in answers):
            return self._refuse(404, "Nothing is here; the address of the preview stands in the terminal.")
        method, answer = answers[name]
        if method != self.command:
            return self._refuse(405, "That cannot be done here.", ("Allow", method))
        return answer()

    def _is_for_us(self) -> bool:
        """Asked by the server's own name, and by nobody else's page.

        Another page may only lead here, as a link does; it reads nothing by that.
        """
        hosts, origin = self.headers.get_all("Host", []), self.headers.get("Origin")
        if len(hosts) != 1 or hosts[0] not in self.server.hosts:
            return False
        site = self.headers.get("Sec-Fetch-Site", "none")
        if self.command == "GET" and self.headers.get("Sec-Fetch-Dest") == "document":
            return True
        own_origin = origin == f"http://{hosts[0]}"
        if self.command == "GET":
            return site in ("none", "same-origin") and (origin is None or own_origin)
        return site in ("none", "same-origin") and own_origin

    def _page(self) -> None:
        self._send(200, "text/html; charset=utf-8", self.server.shown.page)

    def _events(self) -> None:
        """News for as long as the page is open."""
        shown, number = self.server.shown, 0
        with shown.followed():
            self._send(200, "text/event-stream; charset=utf-8", None)
            while (news := shown.news_after(number, STILL_HERE)) is not None:
                is_new, number = news.number > number, news.number
                self.wfile.write(f"data: {news.message}\n\n".encode() if is_new else b": still here\n\n")
            self.wfile.write(b"event: end\ndata:\n\n")

    def _place(self) -> None:
        length = self.headers.get("Content-Length", "")
        if not (length.isascii() and length.isdigit()):
            return self._refuse(411, "How long is it?")
        if len(length) > 9 or int(length) > MAX_NAME:
            return self._refuse(413, "That is no name of a piece.")
        place = self.server.shown.place(self.rfile.read(int(length)).decode("utf-8", "replace"))
        link = self.server.clicked(place) if place is not None else None
        answer = {"place": str(place) if place is not None else None, "link": link}
        return self._send(200, "application/json", json.dumps(answer).encode())

    def _refuse(self, status: int, sentence: str, *headers: tuple[str, str]) -> None:
        self._send(status, "text/plain; charset=utf-8", f"{sentence}\n".encode(), *headers)

    def _send(self, status: int, kind: str, body: bytes | None, *headers: tuple[str, str]) -> None:
        """A whole answer; without a body, its head."""
        self.send_response(status)
        self.send_header("Content-Type", kind)
        if body is not None:
            self.send_header("Content-Length", str(len(body)))
        for name, value in (*_HEADERS, *headers):
            self.send_header(name, value)
        self.end_headers()
        if body is not None:
            self.wfile.write(body)
