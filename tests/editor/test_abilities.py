"""Clients that can do less or otherwise than most, and what the server sends them."""

import sys
from pathlib import Path
from typing import Any

import pytest

from cardrecipe.editor import command
from tests.editor.raw_client import RawClient
from tests.recipes import HEAD

CARD = HEAD + "base card from ink\n  flat 10 x 7\n"
REFRESHES = {"workspace": {"inlayHint": {"refreshSupport": True}}}


def shown(client: RawClient) -> list[str]:
    """The codes of what the client is shown next."""
    return [each["code"] for each in client.hear("textDocument/publishDiagnostics")["params"]["diagnostics"]]


def test_a_client_that_sends_its_whole_text_anew(tmp_path: Path) -> None:
    with RawClient() as client:
        client.begin()
        uri = client.open(tmp_path / "a.recipe", CARD)
        assert shown(client) == []
        for version, (text, codes) in enumerate([("papr\n" + CARD, ["unknown-word"]), (CARD, [])], 2):
            client.tell("textDocument/didChange", {
                "textDocument": {"uri": uri, "version": version}, "contentChanges": [{"text": text}],
            })  # fmt: skip
            while shown(client) != codes:
                continue


@pytest.mark.parametrize("able", [REFRESHES, {}], ids=["can", "cannot"])
def test_sizes_are_asked_for_anew_by_a_client_that_can_when_another_file_may_have_changed_them(
    tmp_path: Path, able: dict[str, Any]
) -> None:
    (tmp_path / "sizes.recipe").write_text("let wide = 4\n", "utf-8")
    user = HEAD + 'use "sizes.recipe"\nbase card from ink\n  flat wide x 5\n'
    whole = {"start": {"line": 0, "character": 0}, "end": {"line": 9, "character": 0}}
    with RawClient() as client:
        client.begin(able)
        about = {"textDocument": {"uri": client.open(tmp_path / "a.recipe", user)}}
        client.ask("textDocument/inlayHint", {**about, "range": whole})
        (tmp_path / "sizes.recipe").write_text("let wide = 6\n", "utf-8")
        client.tell("textDocument/didSave", about)
        if able:
            client.hear("workspace/inlayHint/refresh")
        hints = client.ask("textDocument/inlayHint", {**about, "range": whole})["result"]
        assert any("6 x 5 in" in str(each["label"]) for each in hints)
        assert not [each for each in client.told if each["method"] == "workspace/inlayHint/refresh"]


def test_a_client_that_wants_no_repairs_is_given_none(tmp_path: Path) -> None:
    with RawClient() as client:
        client.begin()
        uri = client.open(tmp_path / "a.recipe", "papr\n" + CARD)
        line = {"start": {"line": 0, "character": 0}, "end": {"line": 0, "character": 4}}
        asked = {"textDocument": {"uri": uri}, "range": line}
        for only, is_given in ((["refactor"], False), (["quickfix"], True), ([], False)):
            context = {"diagnostics": [], "only": only}
            answer = client.ask("textDocument/codeAction", {**asked, "context": context})
            assert bool(answer["result"]) == is_given, only


def test_a_client_that_cannot_show_a_page_is_given_its_address(tmp_path: Path) -> None:
    (tmp_path / "a.recipe").write_text(CARD, "utf-8")
    with RawClient() as client:
        client.begin()
        uri = client.open(tmp_path / "a.recipe", CARD)
        preview = {"command": "cardrecipe.openPreview", "arguments": [uri]}
        address = client.ask("workspace/executeCommand", preview)["result"]
        assert address.startswith("http://127.0.0.1:")
        client.ask("shutdown")
        assert "window/showDocument" not in [each.get("method") for each in client.told]
        client.tell("exit")
        assert client.ends() == 0


def test_a_fault_of_our_own_is_not_said_to_be_a_missing_extra(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "cardrecipe.editor.protocol.serving", None)
    with pytest.raises(ModuleNotFoundError, match=r"protocol\.serving"):
        command.start()
