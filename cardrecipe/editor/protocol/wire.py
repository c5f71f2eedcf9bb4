"""Our values → the protocol's: spans become ranges in the client's units, names become addresses of files."""

from __future__ import annotations

import os
from collections import defaultdict
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from lsprotocol import types
from pygls.uris import from_fs_path, to_fs_path

from cardrecipe import library
from cardrecipe.editor.desk.desk import Desk
from cardrecipe.editor.desk.positions import ClientText, Position
from cardrecipe.editor.offering.snippets import filled
from cardrecipe.editor.snapshot import Edit
from cardrecipe.files import CannotRead, read_source
from cardrecipe.library.folds import fold_source
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.spans import Span

if TYPE_CHECKING:  # features are loaded when they are first asked
    from cardrecipe.editor.offering.completing import Completion
    from cardrecipe.editor.outline.folding import Folding
    from cardrecipe.editor.outline.symbols import Symbol
    from cardrecipe.editor.telling.hover import Hover
    from cardrecipe.editor.telling.values import Value

_LIBRARY = "library:"
_STRUCTURES = Path(next(iter(library.__path__))) / "structures"
_SEVERITIES = {"error": types.DiagnosticSeverity.Error, "warning": types.DiagnosticSeverity.Warning}
_SYMBOLS = {
    "recipe": types.SymbolKind.Module, "piece": types.SymbolKind.Class, "section": types.SymbolKind.Field,
    "paper": types.SymbolKind.Constant, "supply": types.SymbolKind.Object, "let": types.SymbolKind.Variable,
    "size": types.SymbolKind.Number, "structure": types.SymbolKind.Struct, "pose": types.SymbolKind.Event,
    "variant": types.SymbolKind.EnumMember, "class": types.SymbolKind.Package, "file": types.SymbolKind.File,
}  # fmt: skip
_COMPLETIONS = {
    "piece": types.CompletionItemKind.Class, "section": types.CompletionItemKind.Field,
    "paper": types.CompletionItemKind.Color, "supply": types.CompletionItemKind.Constant,
    "let": types.CompletionItemKind.Variable, "structure": types.CompletionItemKind.Struct,
    "variant": types.CompletionItemKind.EnumMember, "size": types.CompletionItemKind.Property,
    "word": types.CompletionItemKind.Keyword, "pose": types.CompletionItemKind.Event,
    "class": types.CompletionItemKind.Module, "file": types.CompletionItemKind.File,
    "value": types.CompletionItemKind.Value,
}  # fmt: skip
_FOLDINGS = {"comment": types.FoldingRangeKind.Comment}


def path_of(uri: str) -> str | None:
    """The path, with /, of the file at an address; None for what is no file."""
    path = to_fs_path(uri) if uri.startswith("file:") else None
    return path.replace(os.sep, "/") if path else None


class Wire:
    """Writes places as the client counts them, who may know the files of `desk` by names of its own."""

    def __init__(self, desk: Desk, client: types.ClientCapabilities) -> None:
        self._desk = desk
        documents, workspace = client.text_document, client.workspace
        shown = documents.publish_diagnostics if documents else None
        self._takes_related = bool(shown and shown.related_information)
        edits = workspace.workspace_edit if workspace else None
        self._takes_versions = bool(edits and edits.document_changes)
        items = documents.completion.completion_item if documents and documents.completion else None
        self._takes_snippets = bool(items and items.snippet_support)
        symbols = documents.document_symbol if documents else None
        self._takes_trees = bool(symbols and symbols.hierarchical_document_symbol_support)

    # ---- places ----------------------------------------------------------------------------------

    def uri(self, name: str) -> str:
        """The address of the text called `name`."""
        if name.startswith(_LIBRARY):
            return str(from_fs_path(str(_STRUCTURES / f"{name.removeprefix(_LIBRARY)}.recipe")))
        open_one = next((each.uri for each in self._desk.recipes.values() if each.name == name), None)
        return open_one or str(from_fs_path(name))

    def text(self, name: str) -> ClientText:
        """The text called `name`; an empty one where it cannot be read."""
        known = self._desk.client_text(name)
        if known is not None:
            return known
        try:
            if name.startswith(_LIBRARY):
                return self._desk.counted(fold_source(name.removeprefix(_LIBRARY)).text)
            return self._desk.counted(read_source(name).text)
        except (CannotRead, KeyError):
            return self._desk.counted("")

    def range(self, span: Span, text: ClientText | None = None) -> types.Range:
        """A span as a range; `text` is the text that the span was made of, where it may have changed."""
        text = text or self.text(span.file)
        return types.Range(_position(text.position(span.start)), _position(text.position(span.end)))

    def location(self, span: Span) -> types.Location:
        return types.Location(self.uri(span.file), self.range(span))

    # ---- values ----------------------------------------------------------------------------------

    def diagnostic(self, each: Diagnostic) -> types.Diagnostic:
        related = [types.DiagnosticRelatedInformation(self.location(one.span), one.message)
                   for one in each.related] if self._takes_related else None  # fmt: skip
        message = f"{each.message}\n{each.hint}" if each.hint else each.message
        return types.Diagnostic(
            self.range(each.span), message, _SEVERITIES[each.severity], each.code,
            source="cardrecipe", related_information=related,
        )  # fmt: skip

    def workspace_edit(self, edits: Iterable[Edit]) -> types.WorkspaceEdit:
        by_file = defaultdict[str, list[types.TextEdit]](list)
        for edit in edits:
            by_file[edit.span.file].append(self.text_edit(edit))
        if not self._takes_versions:
            return types.WorkspaceEdit(changes={self.uri(name): each for name, each in by_file.items()})
        return types.WorkspaceEdit(document_changes=[
            types.TextDocumentEdit(
                types.OptionalVersionedTextDocumentIdentifier(self.uri(name), self._version(name)), each)
            for name, each in by_file.items()
        ])  # fmt: skip

    def text_edit(self, edit: Edit) -> types.TextEdit:
        text = self.text(edit.span.file)
        return types.TextEdit(self.range(edit.span, text), edit.text.replace("\n", text.line_end))

    def hover(self, found: Hover) -> types.Hover:
        content = types.MarkupContent(types.MarkupKind.Markdown, found.markdown)
        return types.Hover(content, self.range(found.span))

    def inlay_hint(self, value: Value, text: ClientText) -> types.InlayHint:
        place = _position(text.position(value.offset))
        return types.InlayHint(place, value.text, padding_left=True, tooltip=value.tooltip or None)

    def completion(self, found: Completion, number: int) -> types.CompletionItem:
        """`number` keeps the order, which clients would make alphabetical."""
        takes_holes = found.is_snippet and self._takes_snippets
        text = filled(found.text) if found.is_snippet and not takes_holes else found.text
        return types.CompletionItem(
            found.label, kind=_COMPLETIONS.get(found.kind, types.CompletionItemKind.Text),
            detail=found.detail or None, sort_text=f"{number:05}", filter_text=found.label,
            text_edit=types.TextEdit(self.range(found.span), text),
            insert_text_format=types.InsertTextFormat.Snippet if takes_holes else None,
            documentation=_markdown(found.documentation),
        )  # fmt: skip

    def symbols(self, found: Sequence[Symbol]) -> list[types.DocumentSymbol] | list[types.SymbolInformation]:
        if self._takes_trees:
            return [self._symbol(each) for each in found]
        return list(self._flat_symbols(found))

    def folding(self, found: Folding) -> types.FoldingRange | None:
        """None where there is nothing to fold on a single line."""
        lines = self.range(found.span)
        if lines.start.line == lines.end.line:
            return None
        return types.FoldingRange(lines.start.line, lines.end.line, kind=_FOLDINGS.get(found.kind))

    def _symbol(self, each: Symbol) -> types.DocumentSymbol:
        return types.DocumentSymbol(
            each.name or " ", _SYMBOLS.get(each.kind, types.SymbolKind.Property), self.range(each.span),
            self.range(each.name_span), each.detail or None,
            children=[self._symbol(one) for one in each.children],
        )  # fmt: skip

    def _flat_symbols(
        self, found: Iterable[Symbol], above: str | None = None
    ) -> Iterable[types.SymbolInformation]:
        for each in found:
            kind, place = _SYMBOLS.get(each.kind, types.SymbolKind.Property), self.location(each.name_span)
            yield types.SymbolInformation(place, each.name or " ", kind, container_name=above)
            yield from self._flat_symbols(each.children, each.name)

    def _version(self, name: str) -> int | None:
        return next((each.version for each in self._desk.recipes.values() if each.name == name), None)


def position_of(position: types.Position) -> Position:
    return Position(position.line, position.character)


def _position(position: Position) -> types.Position:
    return types.Position(position.line, position.character)


def _markdown(text: str) -> types.MarkupContent | None:
    return types.MarkupContent(types.MarkupKind.Markdown, text) if text else None
