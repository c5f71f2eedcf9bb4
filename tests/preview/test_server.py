"""The preview's server: what it answers, and to whom it does not."""

import socket
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import RemoteDisconnected
from pathlib import Path

import pytest

from cardrecipe.preview.places import Place
from cardrecipe.preview.server import MAX_NAME, PreviewServer
from tests.preview.previewing import GOOD, NOTE_LINE, ask, events_of, rebuilt_of, serving, shown_of, until


@pytest.fixture
def recipe(tmp_path: Path) -> Path:
    path = tmp_path / "a.recipe"
    path.write_text(GOOD)
    (tmp_path / "secret.txt").write_text("secret")
    return path


@pytest.fixture
def clicks() -> list[Place]:
    return []


@pytest.fixture
def server(recipe: Path, clicks: list[Place]) -> Iterator[PreviewServer]:
    with serving(shown_of(recipe), clicks.append) as found:
        yield found


def test_the_page_is_there_and_nobody_may_keep_or_frame_it(server: PreviewServer) -> None:
    answer = ask(server.address)
    assert (answer.status, answer.headers["Content-Type"]) == (200, "text/html; charset=utf-8")
    assert "<h1>Evening walk</h1>" in answer.text
    assert answer.headers["Cache-Control"] == "no-store"
    assert "frame-ancestors 'none'" in answer.headers["Content-Security-Policy"]
    assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert "Python" not in answer.headers["Server"]


def test_it_listens_on_the_loopback_interface_alone(server: PreviewServer) -> None:
    assert server.socket.getsockname() == ("127.0.0.1", server.port)
    with pytest.raises(OSError), socket.socket() as other:
        other.settimeout(2)
        other.connect(("127.0.0.2", server.port))  # of this machine as well


PATHS = ("/", "/a.recipe", "/secret.txt", "/../secret.txt", "/%2e%2e/secret.txt", "//127.0.0.1/", "/é",
         "/" + "x" * 22 + "/", "http://127.0.0.1/", "*")  # fmt: skip


@pytest.mark.parametrize("path", PATHS)
def test_without_the_token_nothing_is_here(server: PreviewServer, path: str) -> None:
    status, text = _raw(server, path)
    assert status == 404
    assert "secret" not in text


@pytest.mark.parametrize("path", [
    "a.recipe", "secret.txt", "../secret.txt", "%2e%2e/secret.txt", "..%2fsecret.txt", "..\\secret.txt",
    "/etc/passwd", "events/", "page.js", "?", "?x", "place/../", "./", "favicon.ico", "%00",
])  # fmt: skip
def test_there_are_no_other_files(server: PreviewServer, path: str) -> None:
    status, text = _raw(server, f"/{server.token}/{path}")
    assert status == 404
    assert "secret" not in text and "root:" not in text


def _raw(server: PreviewServer, target: str) -> tuple[int, str]:
    """The answer to a request line that no library would send."""
    host = f"127.0.0.1:{server.port}"
    text = _sent(server, f"GET {target} HTTP/1.0\r\nHost: {host}\r\n\r\n".encode())
    return int(text.split()[1]), text


def _sent(server: PreviewServer, request: bytes) -> str:
    with socket.create_connection(("127.0.0.1", server.port), 20) as connection:
        connection.sendall(request)
        return b"".join(iter(lambda: connection.recv(1 << 16), b"")).decode("utf-8", "replace")


@pytest.mark.parametrize("host", [
    "cards.example", "cards.example:{port}", "127.0.0.1", "127.0.0.1:1", "localhost", "0.0.0.0:{port}",
    "[::1]:{port}", "localhost.:{port}", "127.0.0.1:{port}@cards.example", "",
])  # fmt: skip
def test_another_name_than_its_own_is_refused(server: PreviewServer, host: str) -> None:
    assert ask(server.address, Host=host.format(port=server.port) or " ").status == 403


def test_no_name_and_two_names_are_refused(server: PreviewServer) -> None:
    start, host = f"GET /{server.token}/ HTTP/1.0\r\n", f"Host: 127.0.0.1:{server.port}\r\n"
    assert _sent(server, f"{start}\r\n".encode()).split()[1] == "403"
    assert _sent(server, f"{start}{host}Host: cards.example\r\n\r\n".encode()).split()[1] == "403"
    assert _sent(server, f"{start}{host}\r\n".encode()).split()[1] == "200"


def test_the_name_localhost_is_its_own_too(server: PreviewServer) -> None:
    host = f"localhost:{server.port}"
    assert ask(server.address, Host=host).status == 200
    assert ask(server.address, "place", "POST", "note", Host=host, Origin=f"http://{host}").status == 200


@pytest.mark.parametrize("origin", [
    "", "null", "http://cards.example", "http://127.0.0.1", "https://127.0.0.1:{port}", "http://localhost:{port}",
    "http://127.0.0.1:{port}.cards.example",
])  # fmt: skip
def test_a_click_comes_from_its_own_page(server: PreviewServer, clicks: list[Place], origin: str) -> None:
    assert ask(server.address, "place", "POST", "note", Origin=origin.format(port=server.port)).status == 403
    assert clicks == []


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_a_request_that_says_it_is_another_pages_is_refused(
    server: PreviewServer, clicks: list[Place], site: str
) -> None:
    assert ask(server.address, "place", "POST", "note", Sec_Fetch_Site=site).status == 403
    assert ask(server.address, Sec_Fetch_Site=site, Sec_Fetch_Dest="script").status == 403
    assert ask(server.address, "events", Sec_Fetch_Site=site).status == 403
    assert ask(server.address, "events", Origin="http://cards.example").status == 403
    assert clicks == []


def test_a_link_elsewhere_may_lead_to_it(server: PreviewServer) -> None:
    assert ask(server.address, Sec_Fetch_Site="cross-site", Sec_Fetch_Dest="document").status == 200


@pytest.mark.parametrize(("method", "path", "status"), [
    ("POST", "", 405), ("POST", "events", 405), ("GET", "place", 405), ("PUT", "", 501),
    ("DELETE", "place", 501), ("OPTIONS", "place", 501),
])  # fmt: skip
def test_nothing_else_can_be_done(server: PreviewServer, method: str, path: str, status: int) -> None:
    answer = ask(server.address, path, method, "x" if method == "POST" else "")
    assert answer.status == status
    assert answer.headers.get("Access-Control-Allow-Origin") is None


def test_a_click_gives_its_place(server: PreviewServer, clicks: list[Place], recipe: Path) -> None:
    answer = ask(server.address, "place", "POST", "note")
    place = Place(str(recipe), NOTE_LINE, 7)
    assert answer.text == f'{{"place": "{place}", "link": null}}'
    assert clicks == [place]


@pytest.mark.parametrize("name", ["", "nothing", "../a.recipe", "\0", "é" * 1000])
def test_a_click_on_what_is_not_there_does_nothing(
    server: PreviewServer, clicks: list[Place], name: str
) -> None:
    answer = ask(server.address, "place", "POST", name, Content_Length=str(len(name.encode())))
    assert (answer.status, answer.text, clicks) == (200, '{"place": null, "link": null}', [])


@pytest.mark.parametrize(("length", "status"), [
    (str(MAX_NAME + 1), 413), ("9" * 5000, 413), ("-1", 411), ("x", 411), ("²", 411), ("", 411),
])  # fmt: skip
def test_a_long_name_is_not_read(server: PreviewServer, length: str, status: int) -> None:
    own = f"127.0.0.1:{server.port}"
    head = f"POST /{server.token}/place HTTP/1.0\r\nHost: {own}\r\nOrigin: http://{own}\r\n"
    answer = _sent(server, f"{head}Content-Length: {length}\r\n\r\n".encode("latin-1"))
    assert answer.split()[1] == str(status)


def test_the_longest_name_is_read(server: PreviewServer) -> None:
    assert ask(server.address, "place", "POST", "x" * MAX_NAME).status == 200


@pytest.mark.parametrize("sent", [
    b"\0\r\n\r\n", b"GET\r\n\r\n", b"GET / HTTP/9.9\r\n\r\n", b"\xff" * 70_000,
    b"GET / HTTP/1.0\r\n" + b"a: b\r\n" * 200 + b"\r\n",
])  # fmt: skip
def test_what_is_no_request_does_no_harm(
    server: PreviewServer, sent: bytes, capfd: pytest.CaptureFixture[str]
) -> None:
    with _may_be_cut_off():
        assert "Traceback" not in _sent(server, sent)
    assert ask(server.address).status == 200
    assert capfd.readouterr() == ("", "")


@contextmanager
def _may_be_cut_off() -> Iterator[None]:
    try:
        yield
    except ConnectionError:
        return


def test_a_page_that_goes_away_is_no_matter(
    server: PreviewServer, recipe: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    with events_of(server.address) as events:
        next(events)
        assert server.shown._followers == 1

    def has_gone() -> bool:
        server.shown.show(rebuilt_of(recipe))  # a closed connection shows when something is written to it
        return server.shown._followers == 0

    until(has_gone, "the end of the thread")
    assert capfd.readouterr() == ("", "")


def test_a_fault_of_the_program_is_told_and_the_next_page_is_answered(
    recipe: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    def clicked(place: Place) -> None:
        raise ZeroDivisionError(str(place))

    with serving(shown_of(recipe), clicked) as server:
        with pytest.raises(RemoteDisconnected):
            ask(server.address, "place", "POST", "note")
        assert ask(server.address).status == 200
    assert f"ZeroDivisionError: {recipe}:{NOTE_LINE}:7" in capsys.readouterr().err


def test_every_token_is_another(recipe: Path) -> None:
    shown = shown_of(recipe)
    with serving(shown) as one, serving(shown) as other:
        assert one.token != other.token
        assert len(one.token) >= 22  # 128 bits
        assert ask(one.address, f"/{other.token}/").status == 404
