"""The protocol's values for clients that can do more and less, and names that become addresses."""

from pathlib import Path

import pytest
from lsprotocol import types

from cardrecipe.editor.offering.completing import Completion
from cardrecipe.editor.outline.folding import Folding
from cardrecipe.editor.outline.symbols import symbols
from cardrecipe.editor.protocol.wire import Wire, path_of
from cardrecipe.editor.snapshot import Edit
from cardrecipe.syntax.diagnostics import Related, error
from cardrecipe.syntax.spans import Span
from tests.editor.desks import Shown
from tests.recipes import HEAD

CARD = HEAD + "base card from ink\n  flat 10 x 7\n  score 5 from left\n  sections front, back\n"
PLAIN = types.ClientCapabilities()
ABLE = types.ClientCapabilities(
    workspace=types.WorkspaceClientCapabilities(
        workspace_edit=types.WorkspaceEditClientCapabilities(document_changes=True)
    ),
    text_document=types.TextDocumentClientCapabilities(
        publish_diagnostics=types.PublishDiagnosticsClientCapabilities(related_information=True),
        completion=types.CompletionClientCapabilities(
            completion_item=types.ClientCompletionItemOptions(snippet_support=True)
        ),
        document_symbol=types.DocumentSymbolClientCapabilities(hierarchical_document_symbol_support=True),
    ),
)


def wire_to(client: types.ClientCapabilities, folder: Path, text: str = CARD) -> tuple[Wire, Shown, str]:
    shown = Shown(folder)
    shown.open("a.recipe", text)
    return Wire(shown.desk, client), shown, shown.path("a.recipe")


def test_symbols_as_a_tree_and_as_a_list(tmp_path: Path) -> None:
    wire, shown, _ = wire_to(ABLE, tmp_path)
    found = symbols(shown.desk.snapshot("a.recipe"))
    tree = wire.symbols(found)
    assert all(isinstance(each, types.DocumentSymbol) for each in tree)
    flat = wire_to(PLAIN, tmp_path)[0].symbols(found)
    assert all(isinstance(each, types.SymbolInformation) for each in flat)
    assert ("card", "front") in {(each.container_name, each.name)
                                 for each in flat if isinstance(each, types.SymbolInformation)}  # fmt: skip


def test_edits_with_the_version_of_the_text_and_without(tmp_path: Path) -> None:
    span = Span("", 0, 6)
    wire, _, name = wire_to(ABLE, tmp_path)
    edit = Edit(span._replace(file=name), "x\ny")
    able, plain = wire.workspace_edit([edit]), wire_to(PLAIN, tmp_path)[0].workspace_edit([edit])
    assert able.document_changes is not None and able.changes is None
    [change] = able.document_changes
    assert isinstance(change, types.TextDocumentEdit)
    assert (change.text_document.uri, change.text_document.version) == ("a.recipe", 1)
    assert plain.changes == {"a.recipe": [types.TextEdit(change.edits[0].range, "x\ny")]}
    windows, _, name = wire_to(PLAIN, tmp_path, CARD.replace("\n", "\r\n"))
    assert windows.text_edit(edit).new_text == "x\r\ny"


def test_completions_with_holes_and_without(tmp_path: Path) -> None:
    wire, _, name = wire_to(ABLE, tmp_path)
    found = Completion("count 3", "word", Span(name, 0, 0), "count ${1:3}", is_snippet=True)
    with_holes, plain = wire.completion(found, 0), wire_to(PLAIN, tmp_path)[0].completion(found, 0)
    assert isinstance(with_holes.text_edit, types.TextEdit) and isinstance(plain.text_edit, types.TextEdit)
    assert with_holes.text_edit.new_text == "count ${1:3}"
    assert with_holes.insert_text_format == types.InsertTextFormat.Snippet
    assert plain.text_edit.new_text == "count 3"
    assert plain.insert_text_format != types.InsertTextFormat.Snippet


def test_related_places_and_the_hint(tmp_path: Path) -> None:
    wire, _, name = wire_to(ABLE, tmp_path)
    related = (Related(Span("library:side-fold", 0, 9), "the fold"), Related(Span(name, 0, 6), "here"))
    found = error("conflict", Span(name, 0, 6), "They differ", "leave one out", related)
    told = wire.diagnostic(found)
    assert told.message == "They differ\nleave one out"
    places = [each.location.uri for each in told.related_information or []]
    assert places[1] == "a.recipe"
    path = path_of(places[0])
    assert path is not None and Path(path).read_text("utf-8").startswith(("structure", "#", "recipe"))
    assert wire_to(PLAIN, tmp_path)[0].diagnostic(found).related_information is None


def test_what_folds_on_one_line_does_not_fold(tmp_path: Path) -> None:
    wire, _, name = wire_to(PLAIN, tmp_path)
    assert wire.folding(Folding(Span(name, 0, 5), "block")) is None
    folded = wire.folding(Folding(Span(name, 0, len(CARD)), "comment"))
    assert folded is not None and folded.kind == types.FoldingRangeKind.Comment


def test_a_file_that_nobody_has_opened_is_read_from_the_disk(tmp_path: Path) -> None:
    wire, shown, _ = wire_to(PLAIN, tmp_path)
    (tmp_path / "p.recipe").write_bytes("# 😀\r\nlet b = 1\r\n".encode())
    place = wire.location(Span(shown.path("p.recipe"), 4, 7))
    assert path_of(place.uri) == shown.path("p.recipe")
    assert place.range == types.Range(types.Position(1, 0), types.Position(1, 3))
    gone = wire.location(Span(shown.path("gone.recipe"), 4, 7))
    assert gone.range == types.Range(types.Position(0, 0), types.Position(0, 0))


@pytest.mark.parametrize(("uri", "path"), [
    ("file:///shelf/a%20b/%C3%BC.recipe", "/shelf/a b/ü.recipe"), ("untitled:1", None), ("http://a/b", None),
])  # fmt: skip
def test_paths_of_addresses(uri: str, path: str | None) -> None:
    assert path_of(uri) == path
