"""The preview's server asked over raw sockets, as no browser would: it answers no stranger and stays up."""

import socket
from collections.abc import Iterator

import pytest

from cardrecipe.preview.places import Place
from cardrecipe.preview.server import PreviewServer, _Answer
from tests.preview.previewing import GOOD, ask, serving, shown_of


@pytest.fixture(scope="module")
def clicks() -> list[Place]:
    return []


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory, clicks: list[Place]) -> Iterator[PreviewServer]:
    path = tmp_path_factory.mktemp("watched") / "a.recipe"
    path.write_text(GOOD)
    path.with_name("secret.txt").write_text("secret")
    with serving(shown_of(path), clicks.append) as found:
        yield found


def sent(server: PreviewServer, request: str) -> str:
    """All that comes back; `TOKEN` and `OWN` in the request are the server's token and its name."""
    request = request.replace("TOKEN", server.token).replace("OWN", f"127.0.0.1:{server.port}")
    with socket.create_connection(("127.0.0.1", server.port), 20) as connection:
        try:
            connection.sendall(request.replace("\n", "\r\n").encode("latin-1"))
            return b"".join(iter(lambda: connection.recv(1 << 16), b"")).decode("utf-8", "replace")
        except ConnectionError:  # cut off in the middle of what is no request
            return ""


def status(answer: str) -> str:
    return answer.split()[1] if answer.startswith("HTTP/") else ""


def test_it_answers_who_asks_as_its_page_does(server: PreviewServer) -> None:
    """So that the refusals below are refusals of what is wrong with each."""
    assert status(sent(server, "GET /TOKEN/ HTTP/1.1\nHost: OWN\n\n")) == "200"


REBOUND = ("Host: evil.example", "Host: evil.example:80", "Host: OWN.evil.example",
           "Host: evil.example\nHost: OWN", "Host: OWN\nHost: evil.example", "Host: 127.1:80",
           "Host: 2130706433", "Host:", "X-Host: OWN",
           "Host: evil.example\nX-Forwarded-Host: OWN\nForwarded: host=OWN", "Host: OWN/", "Host: user@OWN",
           "Host: evil.example\nOrigin: http://evil.example\nSec-Fetch-Site: same-origin",
           "Host: evil.example\nSec-Fetch-Dest: document")  # fmt: skip


@pytest.mark.parametrize("host", REBOUND)
@pytest.mark.parametrize("request_line", ["GET /TOKEN/ HTTP/1.1", "GET /TOKEN/events HTTP/1.1"])
def test_a_name_that_was_bent_to_this_machine_is_refused(
    server: PreviewServer, request_line: str, host: str
) -> None:
    """Even of who knows the token."""
    answer = sent(server, f"{request_line}\n{host}\n\n")
    assert status(answer) == "403"
    assert "Evening walk" not in answer


TARGETS = ("/TOKEN", "/TOKEN/a.recipe", "/TOKEN/../secret.txt", "/TOKEN/%2e%2e/secret.txt", "/TOKEN//",
           "/TOKEN/./", "/TOKEN/%00", "/TOKEN/events%00", "/TOKEN/Events", "/TOKEN/events/..",
           "/TOKEN/?events", "/TOKEN;/", "/x/../TOKEN/", "/TOKEN\\", "http://OWN/TOKEN/",
           "http://evil.example/TOKEN/", "TOKEN/", "*",
           "/%54OKEN/", "/TOKEN%2f", "/TOKEN/place?x=1", "/TOKEN/#", "/etc/passwd", "file:///etc/passwd",
           "/TOKEN/\u00e9", "/" + "A" * 22 + "/", "/TOKENx/", "/xTOKEN/")  # fmt: skip


@pytest.mark.parametrize("target", TARGETS)
def test_there_are_three_addresses_and_no_other(server: PreviewServer, target: str) -> None:
    answer = sent(server, f"GET {target} HTTP/1.1\nHost: OWN\n\n")
    assert status(answer) in ("404", "400")
    assert not any(word in answer for word in ("Evening walk", "secret", "root:"))


METHODS = ("HEAD", "PUT", "DELETE", "OPTIONS", "TRACE", "CONNECT", "PATCH", "get", "POST2")


@pytest.mark.parametrize("method", METHODS)
def test_no_other_method_is_known(server: PreviewServer, method: str) -> None:
    answer = sent(server, f"{method} /TOKEN/ HTTP/1.1\nHost: OWN\nOrigin: http://OWN\n\n")
    assert status(answer) in ("501", "400")
    assert "Access-Control" not in answer and "Evening walk" not in answer


CLICK = "POST /TOKEN/place HTTP/1.1\nHost: OWN\n"
STRANGE_CLICKS = {
    "no origin": ("", "403"), "another port": ("Origin: http://127.0.0.1:1\n", "403"),
    "nobody": ("Origin: null\n", "403"), "another page": ("Origin: http://evil.example\n", "403"),
    "a page that says so": ("Origin: http://OWN\nSec-Fetch-Site: cross-site\n", "403"),
    "one machine": ("Origin: http://OWN\nSec-Fetch-Site: same-site\n", "403"),
    "in pieces": ("Origin: http://OWN\nTransfer-Encoding: chunked\n", "411"),
    "below nothing": ("Origin: http://OWN\nContent-Length: -4\n", "411"),
    "more than a name": ("Origin: http://OWN\nContent-Length: 99999\n", "413"),
    "in other digits": ("Origin: http://OWN\nContent-Length: \u00b2\n", "411"),
}  # fmt: skip


@pytest.mark.parametrize("name", STRANGE_CLICKS)
def test_a_strange_click_goes_nowhere(server: PreviewServer, clicks: list[Place], name: str) -> None:
    headers, refused = STRANGE_CLICKS[name]
    length = "" if "Length" in headers or "chunked" in headers else "Content-Length: 4\n"
    assert status(sent(server, f"{CLICK}{headers}{length}\nnote")) == refused
    assert clicks == []


def test_a_second_request_in_one_is_not_answered(server: PreviewServer, clicks: list[Place]) -> None:
    hidden = f"{CLICK}Origin: http://OWN\nContent-Length: 4\n\nnote"
    answer = sent(server, f"GET /TOKEN/ HTTP/1.1\nHost: OWN\nContent-Length: {len(hidden)}\n\n{hidden}")
    assert answer.count("HTTP/1.") == 1 and clicks == []


NO_REQUESTS = {
    "long line": f"GET /{'x' * 70_000} HTTP/1.1\nHost: OWN\n\n",
    "long header": f"GET / HTTP/1.1\nA: {'x' * 70_000}\n\n",
    "many headers": "GET / HTTP/1.1\n" + "A: b\n" * 200 + "\n", "half a line": "GET\n\n", "nothing": "\n\n",
    "another protocol": "\x16\x03\x01\x02\x00\x01\n\n", "no version": "GET /TOKEN/\n\n",
    "a version to come": "GET /TOKEN/ HTTP/9.9\nHost: OWN\n\n", "words": "GET / / / HTTP/1.1\n\n",
    "folded": "GET / HTTP/1.1\nHost:\n OWN\n\n",
}  # fmt: skip


@pytest.mark.parametrize("name", NO_REQUESTS)
def test_what_is_no_request_is_refused_without_a_word_of_the_page(
    server: PreviewServer, name: str, capfd: pytest.CaptureFixture[str]
) -> None:
    answer = sent(server, NO_REQUESTS[name])
    assert status(answer) != "200"
    assert "Traceback" not in answer and "Evening walk" not in answer
    assert ask(server.address).status == 200
    assert capfd.readouterr() == ("", "")


def test_a_request_that_never_ends_is_cut_off_and_holds_nobody_up(
    server: PreviewServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(_Answer, "timeout", 0.2)
    own = f"127.0.0.1:{server.port}"
    click = f"POST /{server.token}/place HTTP/1.1\r\nHost: {own}\r\nOrigin: http://{own}\r\n"
    starts = ("", "GET /", "GET / HTTP/1.1\r\nHost: ", f"{click}Content-Length: 9\r\n\r\nno")
    waiting = [socket.create_connection(("127.0.0.1", server.port), 20) for _ in starts * 5]
    for connection, start in zip(waiting, starts * 5, strict=True):
        connection.sendall(start.encode())
    assert ask(server.address).status == 200  # while they all wait
    for connection in waiting:
        assert b"200" not in connection.recv(1 << 16)[:15]
        connection.close()


def test_no_answer_repeats_what_was_asked(server: PreviewServer) -> None:
    """So that nobody puts a header or a page into one."""
    answer = sent(server, "GET /<script>%0d%0aSet-Cookie:x=1 HTTP/1.1\nHost: OWN\nX-Put: in\n\n")
    assert not any(word in answer for word in ("<script", "Set-Cookie", "X-Put"))
    assert "text/plain" in answer and "nosniff" in answer


def test_it_is_nowhere_but_on_the_loopback_interface(server: PreviewServer) -> None:
    assert server.socket.getsockname()[0] == "127.0.0.1"
    assert server.socket.family == socket.AF_INET
    with pytest.raises(OSError), socket.socket() as other:
        other.settimeout(2)
        other.connect(("127.0.0.3", server.port))  # of this machine as well
