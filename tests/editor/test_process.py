"""The server as a process: what fails costs its own message; it ends when it should, as it should."""

import subprocess
import sys
import time
from pathlib import Path
from typing import Any
from urllib.request import urlopen

import pytest

from cardrecipe.editor.protocol.answers import MOST_MENDED
from tests.editor.raw_client import START, RawClient
from tests.recipes import HEAD, ROOT

CARD = HEAD + "base card from ink\n  flat 10 x 7\n"
PLACE = {"line": 4, "character": 6}


def hover(client: RawClient, uri: str) -> dict[str, Any]:
    return client.ask("textDocument/hover", {"textDocument": {"uri": uri}, "position": PLACE})


def is_well(client: RawClient, uri: str) -> bool:
    """Tell whether the server still answers a question as it should."""
    return "mm" in hover(client, uri)["result"]["contents"]["value"]


# ---- faults --------------------------------------------------------------------------------------

_FAULTS = {
    "hover": ("telling.hover", "hover", "textDocument/hover", {"position": PLACE}),
    "values": (
        "telling.values", "values", "textDocument/inlayHint", {"range": {"start": PLACE, "end": PLACE}},
    ),
    "names": ("names.names", "definition", "textDocument/definition", {"position": PLACE}),
    "completing": ("offering.completing", "completions", "textDocument/completion", {"position": PLACE}),
    "symbols": ("outline.symbols", "symbols", "textDocument/documentSymbol", {}),
    "folding": ("outline.folding", "foldings", "textDocument/foldingRange", {}),
    "rename": ("names.names", "rename", "textDocument/rename", {"position": PLACE, "newName": "leaf"}),
}


@pytest.mark.parametrize(("module", "function", "method", "params"), _FAULTS.values(), ids=_FAULTS)
def test_a_fault_in_a_feature_costs_one_answer(
    tmp_path: Path, module: str, function: str, method: str, params: dict[str, Any]
) -> None:
    fault = f"import cardrecipe.editor.{module} as it\ndef {function}(*_): raise ZeroDivisionError('ouch')\n"
    with RawClient(f"{fault}it.{function} = {function}") as client:
        client.begin()
        uri = client.open(tmp_path / "a.recipe", CARD)
        answer = client.ask(method, {"textDocument": {"uri": uri}, **params})
        assert answer["error"]["code"] == -32803
        assert "Traceback" not in str(answer) and "ouch" not in str(answer)
        logged = client.hear("window/logMessage")["params"]["message"]
        assert method in logged and "ZeroDivisionError: ouch" in logged and "\n" not in logged
        if module != "telling.hover":
            assert is_well(client, uri)
        else:
            assert client.ask("textDocument/foldingRange", {"textDocument": {"uri": uri}})["result"]


def test_a_fault_while_checking_is_logged_and_form_is_still_shown(tmp_path: Path) -> None:
    fault = (
        "import cardrecipe.editor.desk.desk as it\n"
        "def checked(*_): raise ZeroDivisionError('ouch')\nit.checked = checked"
    )
    with RawClient(fault) as client:
        client.begin()
        client.open(tmp_path / "a.recipe", "papr\n")
        shown = client.hear("textDocument/publishDiagnostics")["params"]["diagnostics"]
        assert [each["code"] for each in shown] == ["unknown-word"]
        assert "checking" in client.hear("window/logMessage")["params"]["message"]
        assert client.ask("shutdown")["result"] is None


def test_what_prints_by_mistake_does_not_stand_between_the_messages(tmp_path: Path) -> None:
    fault = (
        "import os, cardrecipe.editor.desk.desk as it\nreal = it.checked\n"
        "def checked(*a):\n  print('hello'); os.write(1, b'from below')\n  return real(*a)\n"
        "it.checked = checked"
    )
    with RawClient(fault) as client:
        client.begin()
        assert is_well(client, client.open(tmp_path / "a.recipe", CARD))
        client.ask("shutdown")
        client.tell("exit")
        assert client.ends() == 0
        assert b"hello" in client.errors and b"from below" in client.errors


# ---- messages that make no sense -----------------------------------------------------------------


_GARBAGE = (
    b"Content-Length: 5\r\n\r\nhello", b"Content-Length: 2\r\n\r\n[]", b"Content-Length: 4\r\n\r\nnull",
    b'Content-Length: 17\r\n\r\n{"jsonrpc":"2.0"}', b"no header at all\r\n\r\n", b"Content-Length: x\r\n\r\n",
    b"Content-Length: 8\r\n\r\n\xff\xfe\xff\xfe\xff\xfe\xff\xfe",
    b"Content-Length: 20000\r\n\r\n" + b"[" * 20_000,
)  # fmt: skip


def test_garbage(tmp_path: Path) -> None:
    with RawClient() as client:
        client.begin()
        uri = client.open(tmp_path / "a.recipe", CARD)
        for content in _GARBAGE:
            client.write(content)
            assert is_well(client, uri), content


_BELOW_ZERO = {"textDocument": {"uri": "file:///a"}, "position": {"line": -1, "character": 0}}
_SENSELESS: tuple[tuple[str, object, int], ...] = (
    ("textDocument/hover", {}, -32602),
    ("textDocument/hover", _BELOW_ZERO, -32602),
    ("textDocument/hover", {"textDocument": {"uri": "file:///not-open"}, "position": PLACE}, -32803),
    ("textDocument/hover", [1, 2], -32602),
    ("textDocument/rename", {"textDocument": {"uri": 5}}, -32602),
    ("workspace/executeCommand", {"command": "no.such"}, -32602),
    ("workspace/executeCommand", {"command": "cardrecipe.openPreview", "arguments": []}, -32602),
    ("no/such/method", {}, -32601),
    ("initialize", {"processId": None, "rootUri": None, "capabilities": {}}, -32600),
)


def test_a_request_that_makes_no_sense_has_its_answer(tmp_path: Path) -> None:
    with RawClient() as client:
        client.begin()
        uri = client.open(tmp_path / "a.recipe", CARD)
        for method, params, code in _SENSELESS:
            answer = client.ask(method, params)
            assert answer["error"]["code"] == code, answer
            assert is_well(client, uri)


_IGNORED: tuple[tuple[str, object], ...] = (
    ("textDocument/didChange",
     {"textDocument": {"uri": "file:///not-open", "version": 2}, "contentChanges": []}),
    ("textDocument/didClose", {"textDocument": {"uri": "file:///not-open"}}),
    ("textDocument/didSave", {"textDocument": {"uri": "file:///not-open"}}),
    ("textDocument/didChange", {}), ("textDocument/didOpen", {"textDocument": 1}), ("no/such", None),
    ("$/cancelRequest", {"id": 99}), ("$/setTrace", {"value": "verbose"}),
    ("workspace/didChangeWatchedFiles", {"changes": [{"uri": "http://a/b", "type": 3}]}),
)  # fmt: skip


def test_a_notification_that_makes_no_sense_ends_nothing(tmp_path: Path) -> None:
    with RawClient() as client:
        client.begin()
        uri = client.open(tmp_path / "a.recipe", CARD)
        for method, params in _IGNORED:
            client.tell(method, params)
            assert is_well(client, uri), method


def test_a_question_about_a_text_that_is_closed_meanwhile_is_no_fault(tmp_path: Path) -> None:
    with RawClient() as client:
        client.begin()
        uri = client.open(tmp_path / "a.recipe", CARD)
        about = {"textDocument": {"uri": uri}}
        for number, method in enumerate(("textDocument/hover", "textDocument/rename"), 1000):
            params = {**about, "position": PLACE, "newName": "leaf"}
            client.send({"jsonrpc": "2.0", "id": number, "method": method, "params": params})
        client.tell("textDocument/didClose", about)
        heard = [client.ask("textDocument/foldingRange", about), *client.told]
        while not {1000, 1001} <= {each.get("id") for each in heard}:
            heard.append(client.read())
        assert {each["error"]["code"] for each in heard if each.get("id") in (1000, 1001)} == {-32801}
        assert not [each for each in heard if each.get("method") == "window/logMessage"]


def test_repairs_are_tried_for_a_few_mistakes_at_once(tmp_path: Path) -> None:
    with RawClient() as client:
        client.begin()
        uri = client.open(tmp_path / "a.recipe", HEAD + "papr\n" * (MOST_MENDED + 3))
        whole = {"start": {"line": 0, "character": 0}, "end": {"line": 99, "character": 0}}
        params = {"textDocument": {"uri": uri}, "range": whole, "context": {"diagnostics": []}}
        actions = client.ask("textDocument/codeAction", params)["result"]
        mended = {each["diagnostics"][0]["range"]["start"]["line"] for each in actions}
        assert len(mended) == MOST_MENDED


def test_places_far_outside_the_text(tmp_path: Path) -> None:
    far = {"line": 2_000_000, "character": 2_000_000}
    with RawClient() as client:
        client.begin()
        uri = client.open(tmp_path / "a.recipe", CARD)
        for method in ("hover", "definition", "completion", "prepareRename"):
            asked = {"textDocument": {"uri": uri}, "position": far}
            assert "error" not in client.ask(f"textDocument/{method}", asked)
        change = {"range": {"start": far, "end": far}, "text": "papr\n"}
        client.tell("textDocument/didChange",
                    {"textDocument": {"uri": uri, "version": 2}, "contentChanges": [change]})  # fmt: skip
        while not (shown := client.hear("textDocument/publishDiagnostics")["params"]["diagnostics"]):
            continue
        assert shown[0]["range"]["start"] == {"line": 6, "character": 0}


# ---- beginning and ending ------------------------------------------------------------------------


def test_nothing_is_answered_before_the_greeting(tmp_path: Path) -> None:
    with RawClient() as client:
        client.open(tmp_path / "a.recipe", CARD)
        assert hover(client, "file:///a")["error"]["code"] == -32002
        assert client.ask("shutdown")["error"]["code"] == -32002
        assert "result" in client.begin()


def test_shutdown_and_exit(tmp_path: Path) -> None:
    with RawClient() as client:
        client.begin()
        uri = client.open(tmp_path / "a.recipe", CARD)
        assert client.ask("shutdown")["result"] is None
        assert hover(client, uri)["error"]["code"] == -32600
        client.tell("exit")
        assert client.ends() == 0
        assert client.errors == b""


def test_exit_without_shutdown_is_a_failure() -> None:
    with RawClient() as client:
        client.begin()
        client.tell("exit")
        assert client.ends() == 1


@pytest.mark.parametrize(("is_shut_down", "status"), [(True, 0), (False, 1)])
def test_a_client_that_just_goes_away(tmp_path: Path, is_shut_down: bool, status: int) -> None:
    with RawClient() as client:
        client.begin()
        client.open(tmp_path / "a.recipe", CARD)
        if is_shut_down:
            client.ask("shutdown")
        assert client.ends() == status


def test_a_client_that_goes_away_in_the_middle_of_a_long_check(tmp_path: Path) -> None:
    slow = (
        "import time, cardrecipe.editor.desk.desk as it\n"
        "def checked(*_): print('begun', flush=True); time.sleep(60)\nit.checked = checked"
    )
    with RawClient(slow) as client:
        client.begin()
        client.open(tmp_path / "a.recipe", CARD)
        hover(client, (tmp_path / "a.recipe").as_uri())
        assert client.ends(10) == 1
        assert b"begun" in client.errors


@pytest.mark.parametrize("is_killed", [False, True], ids=["terminated", "killed"])
def test_the_preview_ends_with_the_server_however_that_ends(tmp_path: Path, is_killed: bool) -> None:
    (tmp_path / "a.recipe").write_text(CARD)
    with RawClient() as client:
        client.begin()
        uri = client.open(tmp_path / "a.recipe", CARD)
        address = client.ask("workspace/executeCommand",
                             {"command": "cardrecipe.openPreview", "arguments": [uri]})["result"]  # fmt: skip
        with urlopen(address) as page:
            assert page.status == 200
        client.end_at_once(is_killed)
    end = time.monotonic() + 10
    while time.monotonic() < end:
        try:
            urlopen(address).close()
        except OSError:
            return
        time.sleep(0.1)
    pytest.fail("the preview is still there")


def test_a_preview_that_does_not_come_up_ends_by_itself_while_its_server_lives(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "cardrecipe.editor.preview_child", str(tmp_path / "none.recipe")]
    child = subprocess.Popen(command, cwd=ROOT, stdin=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    assert child.wait(20) == 2  # its input is still open
    said = child.communicate()[1]
    assert said.count("\n") == 1 and "none.recipe" in said


@pytest.mark.parametrize("missing", ["pygls", "lsprotocol"])
def test_without_pygls_it_says_what_to_install(missing: str) -> None:
    command = [sys.executable, "-c", f"import sys; sys.modules[{missing!r}] = None; {START}"]
    ran = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "pip install 'cardrecipe[editor]'" in ran.stderr and "Traceback" not in ran.stderr
