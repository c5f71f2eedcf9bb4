"""What a client asks of a recipe → the feature that knows, asked with a snapshot, and its answer back.

Features are loaded when they are first asked; those that may take long run beside the listening.
"""

from collections.abc import Awaitable, Callable, Sequence
from functools import wraps
from itertools import islice
from typing import Any, NamedTuple

from lsprotocol import types
from pygls.exceptions import JsonRpcContentModified, JsonRpcException

from cardrecipe.editor.desk.desk import Desk, OpenRecipe
from cardrecipe.editor.desk.positions import ClientText
from cardrecipe.editor.desk.users import shelf_of, users_on, users_open
from cardrecipe.editor.previews import NoPreview
from cardrecipe.editor.protocol.aside import aside
from cardrecipe.editor.protocol.line_edits import line_edits
from cardrecipe.editor.protocol.protocol import Failed
from cardrecipe.editor.protocol.server import RecipeServer
from cardrecipe.editor.protocol.wire import path_of, position_of
from cardrecipe.editor.snapshot import Snapshot
from cardrecipe.syntax.spans import Span

OPEN_PREVIEW = "cardrecipe.openPreview"
FIRST_CHECK = 2.0  # seconds that a question waits for the first check of a recipe that has just been opened
VALUES = 5.0  # seconds that a question about sizes waits for those of the text as it is now
MOST_MENDED = 10  # diagnostics that repairs are tried for at once: each takes up to a second or two


def register_answers(server: RecipeServer) -> None:
    """Teach the server to answer."""
    for method, (handler, options) in _ANSWERS.items():
        server.feature(method, options)(_guarded(method, handler))
    server.command(OPEN_PREVIEW)(_guarded(OPEN_PREVIEW, _open_preview))


class _Asked(NamedTuple):
    """A recipe as it was when the question came; the answer is of no use when it has changed since."""

    desk: Desk
    recipe: OpenRecipe
    client: ClientText

    def offset(self, position: types.Position) -> int:
        return self.client.offset(position_of(position))

    def span(self, range_: types.Range) -> Span:
        return Span(self.recipe.name, self.offset(range_.start), self.offset(range_.end))

    def still(self) -> None:
        """JsonRpcContentModified where the text is another by now, or closed."""
        is_open = self.desk.recipes.get(self.recipe.uri) is self.recipe
        if not is_open or self.recipe.client is not self.client:
            raise JsonRpcContentModified("the text has changed in the meantime")


async def _asked(server: RecipeServer, uri: str, seconds: float = 0.0) -> tuple[_Asked, Snapshot]:
    """The recipe, after its check where that comes within `seconds`, or its first check."""
    recipe = server.desk.recipes.get(uri)
    if recipe is None:
        raise Failed(f"{uri} is not open")
    asked = _Asked(server.desk, recipe, recipe.client)
    if recipe.checked is None or seconds:
        await server.desk.settled(uri, seconds or FIRST_CHECK)
        asked.still()
    return asked, server.desk.snapshot(uri)


# ---- reading -------------------------------------------------------------------------------------


async def _hover(server: RecipeServer, params: types.HoverParams) -> types.Hover | None:
    from cardrecipe.editor.telling.hover import hover

    asked, snapshot = await _asked(server, params.text_document.uri, VALUES)
    found = await aside(hover, snapshot, asked.offset(params.position))
    asked.still()
    return server.wire.hover(found) if found is not None else None


async def _inlay_hints(server: RecipeServer, params: types.InlayHintParams) -> list[types.InlayHint]:
    from cardrecipe.editor.telling.values import values

    asked, snapshot = await _asked(server, params.text_document.uri, VALUES)
    found = await aside(values, snapshot, asked.span(params.range))
    asked.still()
    return [server.wire.inlay_hint(each, asked.client) for each in found]


async def _definition(server: RecipeServer, params: types.DefinitionParams) -> list[types.Location]:
    from cardrecipe.editor.names.names import definition

    asked, snapshot = await _asked(server, params.text_document.uri)
    return [server.wire.location(each) for each in definition(snapshot, asked.offset(params.position))]


async def _references(server: RecipeServer, params: types.ReferenceParams) -> list[types.Location]:
    from cardrecipe.editor.names.names import references

    asked, snapshot = await _asked_with_users(server, params.text_document.uri)
    at, with_declaration = asked.offset(params.position), params.context.include_declaration
    found = await aside(references, snapshot, at, with_declaration)
    asked.still()
    return [server.wire.location(each) for each in found]


async def _symbols(server: RecipeServer, params: types.DocumentSymbolParams) -> Any:
    from cardrecipe.editor.outline.symbols import symbols

    _, snapshot = await _asked(server, params.text_document.uri)
    return server.wire.symbols(symbols(snapshot))


async def _foldings(server: RecipeServer, params: types.FoldingRangeParams) -> list[types.FoldingRange]:
    from cardrecipe.editor.outline.folding import foldings

    _, snapshot = await _asked(server, params.text_document.uri)
    found = [server.wire.folding(each) for each in foldings(snapshot)]
    return [each for each in found if each is not None]


# ---- writing -------------------------------------------------------------------------------------


async def _completions(server: RecipeServer, params: types.CompletionParams) -> list[types.CompletionItem]:
    from cardrecipe.editor.desk.beside import files_beside
    from cardrecipe.editor.offering.completing import completions

    asked, snapshot = await _asked(server, params.text_document.uri)
    found = completions(snapshot, asked.offset(params.position), files_beside(snapshot.source.name))
    return [server.wire.completion(each, number) for number, each in enumerate(found)]


async def _prepare_rename(server: RecipeServer, params: types.PrepareRenameParams) -> types.Range | None:
    from cardrecipe.editor.names.names import renamable

    asked, snapshot = await _asked(server, params.text_document.uri)
    span = renamable(snapshot, asked.offset(params.position))
    return server.wire.range(span) if span is not None else None


async def _rename(server: RecipeServer, params: types.RenameParams) -> types.WorkspaceEdit:
    from cardrecipe.editor.names.names import CannotRename, rename

    asked, snapshot = await _asked_with_users(server, params.text_document.uri)
    try:
        edits = await aside(rename, snapshot, asked.offset(params.position), params.new_name)
    except CannotRename as problem:
        raise Failed(str(problem)) from None
    asked.still()
    return server.wire.workspace_edit(edits)


async def _formatting(server: RecipeServer, params: types.DocumentFormattingParams) -> list[types.TextEdit]:
    from cardrecipe.syntax.formatter import formatted

    asked, snapshot = await _asked(server, params.text_document.uri)
    text = await aside(formatted, snapshot.source)
    asked.still()
    return [server.wire.text_edit(each) for each in line_edits(snapshot.source, text)]


async def _code_actions(server: RecipeServer, params: types.CodeActionParams) -> list[types.CodeAction]:
    """The repairs of the diagnostics that touch the place."""
    from cardrecipe.editor.mending.repairs import repairs

    if not _is_wanted(types.CodeActionKind.QuickFix, params.context.only):
        return []
    asked, snapshot = await _asked(server, params.text_document.uri, VALUES)
    place, actions = asked.span(params.range), list[types.CodeAction]()
    touched = (each for each in snapshot.diagnostics if _touch(each.span, place))
    for diagnostic in islice(touched, MOST_MENDED):
        for repair in await aside(repairs, snapshot, diagnostic):
            asked.still()
            actions.append(types.CodeAction(
                repair.title, types.CodeActionKind.QuickFix, [server.wire.diagnostic(diagnostic)],
                repair.is_preferred, edit=server.wire.workspace_edit(repair.edits),
            ))  # fmt: skip
    return actions


def _touch(one: Span, other: Span) -> bool:
    return one.file == other.file and one.start <= other.end and other.start <= one.end


def _is_wanted(kind: types.CodeActionKind, wanted: Sequence[types.CodeActionKind | str] | None) -> bool:
    """Kinds are names with dots: whoever wants one wants all that are below it."""
    names = [str(getattr(each, "value", each)) for each in wanted or ()]
    return wanted is None or any(f"{kind.value}.".startswith(f"{name}.") for name in names if name)


async def _open_preview(server: RecipeServer, uri: str) -> str:
    """The address of the recipe's preview, which is shown where the client can show it."""
    path = path_of(uri)
    if path is None:
        raise Failed("save the recipe first: a preview follows a file")
    try:
        address = await aside(server.previews.address_of, path)
    except NoPreview as problem:
        raise Failed(str(problem)) from None
    window = server.client_capabilities.window
    if window and window.show_document and window.show_document.support:
        server.window_show_document(types.ShowDocumentParams(address, external=True), lambda _: None)
    return address


async def _asked_with_users(server: RecipeServer, uri: str) -> tuple[_Asked, Snapshot]:
    """The recipe with those that use it, where a name may stand too."""
    asked, _ = await _asked(server, uri)
    folders = [*server.workspace.folders, server.workspace.root_uri or ""]
    roots = [path for each in folders if (path := path_of(each)) is not None]
    users, shelf = users_open(server.desk, asked.recipe), shelf_of(server.desk, asked.recipe, roots)
    users += await aside(users_on, shelf)
    asked.still()
    return asked, server.desk.snapshot(uri, users)


_TRIGGERS = [".", " ", '"']  # after which there is something to choose from
_Answer = Callable[..., Awaitable[Any]]
_ANSWERS: dict[str, tuple[_Answer, Any]] = {
    types.TEXT_DOCUMENT_HOVER: (_hover, None),
    types.TEXT_DOCUMENT_INLAY_HINT: (_inlay_hints, None),
    types.TEXT_DOCUMENT_DEFINITION: (_definition, None),
    types.TEXT_DOCUMENT_REFERENCES: (_references, None),
    types.TEXT_DOCUMENT_DOCUMENT_SYMBOL: (_symbols, None),
    types.TEXT_DOCUMENT_FOLDING_RANGE: (_foldings, None),
    types.TEXT_DOCUMENT_COMPLETION: (_completions, types.CompletionOptions(_TRIGGERS)),
    types.TEXT_DOCUMENT_PREPARE_RENAME: (_prepare_rename, None),
    types.TEXT_DOCUMENT_RENAME: (_rename, None),
    types.TEXT_DOCUMENT_FORMATTING: (_formatting, None),
    types.TEXT_DOCUMENT_CODE_ACTION: (
        _code_actions, types.CodeActionOptions(code_action_kinds=[types.CodeActionKind.QuickFix]),
    ),
}  # fmt: skip


def _guarded(method: str, handler: _Answer) -> _Answer:
    """`handler`, whose failure is reported under the name of its request and answers that alone."""

    @wraps(handler)
    async def answer(server: RecipeServer, *arguments: Any) -> Any:
        try:
            return await handler(server, *arguments)
        except JsonRpcException:
            raise
        except Exception as problem:
            server.report(method, problem)
            raise Failed(f"{method} failed; the log of the language server says where") from None

    return answer
