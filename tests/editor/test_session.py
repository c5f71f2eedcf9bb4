"""Whole sessions of a real client with a real server process: open, edit, ask everything, leave."""

import json
import re
from collections.abc import AsyncIterator
from pathlib import Path
from random import Random
from typing import Any
from urllib.error import URLError
from urllib.request import urlopen

import pytest
import pytest_lsp
from lsprotocol import types
from pygls.exceptions import JsonRpcException
from pytest_lsp import LanguageClient

from tests.editor.client import CONFIG, Window, begin, leave, until
from tests.editor.edits import edit_by_chance, text_by_chance
from tests.recipes import HEAD, SAMPLES, run

pytestmark = pytest.mark.asyncio
CARD = HEAD + (
    "# Größe 😀\n"
    "base card from ink\n  flat 11 x 5\n  score 5 1/2 from left\n  sections front, back\n"
    'panel mat from ink on back\n  border ?\n  size 4 x ?\n  tip "😀 Press."\n'
)
METRIC_USER = 'recipe "A"\n  units mm nearest 1\nuse "papers.recipe"\nbase card from ink\n  flat 100 x 70\n'


@pytest_lsp.fixture(config=CONFIG)
async def client(lsp_client: LanguageClient) -> AsyncIterator[None]:
    yield
    await leave(lsp_client)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder as a maker has it: with a space and an umlaut in its name."""
    made = tmp_path / "Grüße an alle"
    made.mkdir()
    return made


async def opened(client: LanguageClient, folder: Path, text: str = CARD, name: str = "a b.recipe") -> Window:
    if client.capabilities is None:
        await begin(client, folder)
    path = folder / name
    path.write_bytes(text.encode())
    return Window(client, path, text)


# ---- what is shown -------------------------------------------------------------------------------


async def test_diagnostics_come_and_go_while_typing(client: LanguageClient, folder: Path) -> None:
    window = await opened(client, folder)
    await window.shows()
    window.replace("on back", "on bakc")
    await window.shows("unknown-name")
    [diagnostic] = client.diagnostics[window.uri]
    assert diagnostic.range == window.range("bakc")
    assert (diagnostic.source, diagnostic.severity) == ("cardrecipe", types.DiagnosticSeverity.Error)
    assert "`back`" in diagnostic.message  # the hint is shown too
    window.replace("on bakc", "on back")
    await window.shows()


async def test_places_in_lines_with_odd_characters(client: LanguageClient, folder: Path) -> None:
    window = await opened(client, folder, CARD.replace("Press.", "𝒫ress. \u0301e"))
    window.replace('e"\n', 'e" 😀 wrong\n')
    await window.shows("not-understood")
    [diagnostic] = client.diagnostics[window.uri]
    assert diagnostic.range == types.Range(window.at("😀 wrong"), window.at("😀 wrong", 1))


@pytest.mark.parametrize(("offered", "start", "end"), [
    (["utf-8", "utf-16"], 12, 17), (["utf-32"], 8, 13), (["utf-16"], 9, 14), ([], 9, 14),
])  # fmt: skip
async def test_the_encoding_that_the_client_prefers(
    client: LanguageClient, folder: Path, offered: list[str], start: int, end: int
) -> None:
    greeting = await begin(client, folder, offered)
    encoding = greeting.capabilities.position_encoding
    assert encoding == (offered or ["utf-16"])[0]
    window = Window(client, folder / "a.recipe", 'tip "😀ä"wrong\n')
    await until(lambda: window.codes == ["not-understood"])
    assert client.diagnostics[window.uri][0].range == span(start, end)
    window.send([types.TextDocumentContentChangePartial(span(start, end), "right")])
    await until(lambda: "`right`" in client.diagnostics[window.uri][0].message)
    assert client.diagnostics[window.uri][0].range == span(start, end)


async def test_related_places_lie_in_the_right_file(client: LanguageClient, folder: Path) -> None:
    window = await opened(client, folder, CARD + "panel mat from ink on front\n")
    await window.shows("border-not-equal", "doubled-name")
    diagnostic = client.diagnostics[window.uri][1]
    assert diagnostic.related_information is not None
    [related] = diagnostic.related_information
    assert related.location == types.Location(window.uri, window.range("mat"))


async def test_a_used_file_in_another_window(client: LanguageClient, folder: Path) -> None:
    (folder / "papers.recipe").write_text('paper ink is cardstock "Ink" 300 x 300\n')
    user = await opened(client, folder, METRIC_USER)
    await user.shows()
    papers = Window(client, folder / "papers.recipe", (folder / "papers.recipe").read_text())
    papers.replace("ink is", "coal is")
    await user.shows("unknown-name")
    papers.replace("coal is", "ink is")
    await user.shows()
    papers.replace("ink is", "coal is")
    client.text_document_did_close(types.DidCloseTextDocumentParams(papers.identifier))
    await user.shows()
    (folder / "papers.recipe").unlink()
    client.workspace_did_change_watched_files(types.DidChangeWatchedFilesParams([
        types.FileEvent(papers.uri, types.FileChangeType.Deleted)
    ]))  # fmt: skip
    await user.shows("use-missing")


async def test_the_samples_have_nothing_to_say(client: LanguageClient) -> None:
    await begin(client, SAMPLES)
    for path in sorted(SAMPLES.glob("*.recipe")):
        window = Window(client, path, path.read_text("utf-8"))
        await until(lambda uri=window.uri: uri in client.diagnostics)  # type: ignore[misc]
        client.text_document_did_save(types.DidSaveTextDocumentParams(window.identifier))
        await client.text_document_inlay_hint_async(
            types.InlayHintParams(window.identifier, window.range(window.text))
        )
        assert [each for each in client.diagnostics[window.uri]
                if each.severity == types.DiagnosticSeverity.Error] == [], path.name  # fmt: skip


async def test_edits_by_chance_over_the_wire(client: LanguageClient, folder: Path) -> None:
    """What a client is shown after its edits, in its own units, is what `check` says of the same file."""
    await begin(client, folder)
    for number in range(50):
        chance = Random(f"wire {number}")
        path, text = folder / f"{number}.recipe", text_by_chance(chance)
        window, raw = Window(client, path, text), text
        for _ in range(chance.randint(1, 3)):
            changes: list[types.TextDocumentContentChangeEvent] = []
            for _ in range(chance.randint(1, 3)):
                start, end, new = edit_by_chance(chance, raw)
                start, end = sayable(raw, start), sayable(raw, end)
                changes.append(types.TextDocumentContentChangePartial(
                    types.Range(in_units(raw, start), in_units(raw, end)), new
                ))  # fmt: skip
                raw = raw[:start] + new + raw[end:]
            window.send(changes)
        path.write_bytes(raw.encode())
        expected = said_by_check(path, raw)
        await until(lambda: shown_by(client, window.uri) == expected,  # noqa: B023 (waited for at once)
                    lambda: f"{number}: {shown_by(client, window.uri)} instead of {expected}")  # noqa: B023
        client.text_document_did_close(types.DidCloseTextDocumentParams(window.identifier))


# ---- what is asked -------------------------------------------------------------------------------


async def test_everything_that_an_editor_asks(client: LanguageClient, folder: Path) -> None:
    window = await opened(client, folder)
    here = window.identifier
    hover = await client.text_document_hover_async(types.HoverParams(here, window.at("mat", 1)))
    assert hover is not None and hover.range == window.range("mat")
    assert isinstance(hover.contents, types.MarkupContent) and "mm" in hover.contents.value

    hints = await client.text_document_inlay_hint_async(types.InlayHintParams(here, window.range(CARD)))
    assert window.at("border ?", 8) in [each.position for each in hints or []]

    asked_for = types.DefinitionParams(here, window.at("back\n  b", 2))
    definition = await client.text_document_definition_async(asked_for)
    assert definition == [types.Location(window.uri, window.range("back"))]

    asked = types.ReferenceParams(types.ReferenceContext(True), here, window.at("ink on", 1))
    references = await client.text_document_references_async(asked)
    assert [each.range.start.line for each in references or []] == [3, 5, 9]

    symbols = await client.text_document_document_symbol_async(types.DocumentSymbolParams(here))
    assert {"card", "mat"} <= set(all_names(symbols or []))

    foldings = await client.text_document_folding_range_async(types.FoldingRangeParams(here))
    assert (5, 8) in [(each.start_line, each.end_line) for each in foldings or []]

    place = types.CompletionParams(here, window.at("ink on"))
    completions = await client.text_document_completion_async(place)
    assert "ink" in [each.label for each in items(completions)]


async def test_names_are_changed_everywhere(client: LanguageClient, folder: Path) -> None:
    window = await opened(client, folder)
    place = window.at("mat", 1)
    assert await client.text_document_prepare_rename_async(
        types.PrepareRenameParams(window.identifier, place)
    ) == window.range("mat")  # fmt: skip
    change = await client.text_document_rename_async(types.RenameParams(window.identifier, place, "leaf"))
    assert change is not None
    assert applied(window, edits_in(change, window.uri)) == CARD.replace("mat", "leaf")
    with pytest.raises(JsonRpcException) as refused:
        await client.text_document_rename_async(types.RenameParams(window.identifier, place, "Not a name"))
    assert "Traceback" not in str(refused.value) and refused.value.data is None


async def test_a_text_is_formatted_with_its_own_line_ends(client: LanguageClient, folder: Path) -> None:
    spaced = CARD.replace("  flat 11 x 5", "    flat   11  x 5").replace("\n", "\r\n")
    window = await opened(client, folder, spaced)
    wanted = types.DocumentFormattingParams(window.identifier, types.FormattingOptions(2, True))
    edits = await client.text_document_formatting_async(wanted)
    assert edits
    assert applied(window, edits) == CARD.replace("\n", "\r\n")


async def test_a_repair_is_offered_and_holds(client: LanguageClient, folder: Path) -> None:
    window = await opened(client, folder, CARD.replace("on back", "on bakc"))
    await window.shows("unknown-name")
    context = types.CodeActionContext(client.diagnostics[window.uri])
    asked = types.CodeActionParams(window.identifier, window.range("bakc"), context)
    actions = [each for each in await client.text_document_code_action_async(asked) or []
               if isinstance(each, types.CodeAction)]  # fmt: skip
    texts = [applied(window, edits_in(each.edit, window.uri)) for each in actions if each.edit is not None]
    assert CARD in texts
    away = types.CodeActionParams(window.identifier, window.range("flat"), types.CodeActionContext([]))
    assert not await client.text_document_code_action_async(away)


async def test_the_preview_is_opened_once_and_ends_with_the_server(
    client: LanguageClient, folder: Path
) -> None:
    window = await opened(client, folder)
    command = types.ExecuteCommandParams("cardrecipe.openPreview", [window.uri])
    address = await client.workspace_execute_command_async(command)
    assert str(address).startswith("http://127.0.0.1:")
    assert await client.workspace_execute_command_async(command) == address
    with urlopen(str(address)) as page:
        assert b"Evening walk" in page.read()
    await until(lambda: bool(client.shown_documents))
    assert [(each.uri, each.external) for each in client.shown_documents] == [(address, True)] * 2
    await leave(client)
    with pytest.raises(URLError):
        urlopen(str(address))


async def test_a_preview_of_what_is_no_file(client: LanguageClient, folder: Path) -> None:
    await begin(client, folder)
    for uri in ("untitled:1", (folder / "missing.recipe").as_uri()):
        command = types.ExecuteCommandParams("cardrecipe.openPreview", [uri])
        with pytest.raises(JsonRpcException) as refused:
            await client.workspace_execute_command_async(command)
        assert refused.value.data is None


# ---- places by chance ----------------------------------------------------------------------------


def sayable(raw: str, offset: int) -> int:
    """No position of the protocol lies between `\\r` and `\\n`: the place before them is meant."""
    return offset - (offset > 0 and raw[offset - 1 : offset + 1] == "\r\n")


def in_units(raw: str, offset: int) -> types.Position:
    """A character of a client's text in its lines and UTF-16."""
    lines = re.split("\r\n|\r|\n", raw[:offset])
    return types.Position(len(lines) - 1, len(lines[-1].encode("utf-16-le")) // 2)


def shown_by(client: LanguageClient, uri: str) -> list[tuple[str, int, int]]:
    shown = client.diagnostics.get(uri, [])
    return sorted((str(each.code), each.range.start.line, each.range.start.character) for each in shown)


def said_by_check(path: Path, raw: str) -> list[tuple[str, int, int]]:
    """Code and place, as the client counts, of what the command says of the file itself."""
    said = json.loads(run("check", str(path), "--format", "json").out)
    kept = [at for at in range(len(raw)) if raw[at : at + 2] != "\r\n" and (at or raw[0] != "\ufeff")]
    core = "".join(raw[at] for at in kept)  # what a file is read as
    found = []
    for each in said:
        if each["file"] == str(path):
            starts = [0, *(at + 1 for at, char in enumerate(core) if char == "\n")]
            offset = starts[each["line"] - 1] + each["column"] - 1
            place = in_units(raw, sayable(raw, [*kept, len(raw)][offset]))
            found.append((each["code"], place.line, place.character))
    return sorted(found)


# ---- reading answers -----------------------------------------------------------------------------


def span(start: int, end: int) -> types.Range:
    """Part of the first line."""
    return types.Range(types.Position(0, start), types.Position(0, end))


def all_names(symbols: Any) -> list[str]:
    return [name for each in symbols for name in (each.name, *all_names(each.children or []))]


def items(found: Any) -> list[types.CompletionItem]:
    return list(getattr(found, "items", found) or [])


def edits_in(change: types.WorkspaceEdit, uri: str) -> list[types.TextEdit]:
    """The edits of one file, however they are listed."""
    listed = list((change.changes or {}).get(uri, []))
    for each in change.document_changes or []:
        if isinstance(each, types.TextDocumentEdit) and each.text_document.uri == uri:
            listed += [edit for edit in each.edits if isinstance(edit, types.TextEdit)]
    return listed


def applied(window: Window, edits: Any) -> str:
    """The window's text with edits made as an editor makes them, counted in UTF-16."""
    lines = window.text.split("\n")
    starts = [sum(len(each) + 1 for each in lines[:number]) for number in range(len(lines) + 1)]

    def offset(at: types.Position) -> int:
        if at.line >= len(lines):
            return len(window.text)
        units = lines[at.line].encode("utf-16-le")[: 2 * at.character]
        return starts[at.line] + len(units.decode("utf-16-le"))

    text = window.text
    for edit in sorted(edits, key=lambda each: offset(each.range.start), reverse=True):
        text = text[: offset(edit.range.start)] + edit.new_text + text[offset(edit.range.end) :]
    return text
