"""The recipes that lie open in the editor: their texts, what is known of them, and what their maker is shown.

It knows no protocol. Mistakes of form are known as soon as a text changes; what needs the solver is asked in
the background, and until it comes the last answer stands, moved along with the text.
"""

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

from cardrecipe.checking import Checked, checked
from cardrecipe.editor.desk.background import Background
from cardrecipe.editor.desk.document import Document, opened
from cardrecipe.editor.desk.moving import carried_along
from cardrecipe.editor.desk.positions import Change, ClientText, Position
from cardrecipe.editor.desk.texts import NoFolder, WindowTexts, real_name
from cardrecipe.editor.snapshot import Snapshot
from cardrecipe.syntax.diagnostics import Diagnostic


class OpenRecipe:
    """One open text. `version` is the client's; `moment` counts its changes and those of what it uses."""

    def __init__(self, uri: str, name: str, client: ClientText, version: int, is_saved: bool) -> None:
        self.uri, self.name, self.client, self.version = uri, name, client, version
        self.is_saved = is_saved
        self.real_name = real_name(name) if is_saved else name
        self.document: Document = opened(name, client.text)
        self.moment = 0
        self.checked: Checked | None = None
        self.checked_at = -1  # the moment that `checked` is of
        self.asked: frozenset[str] = frozenset()  # files that it uses, or would
        self.beyond: tuple[Diagnostic, ...] = ()  # what the last check found beyond the form, moved along

    @property
    def is_current(self) -> bool:
        return self.checked_at == self.moment

    @property
    def shown(self) -> tuple[Diagnostic, ...]:
        """Everything that there is to say now."""
        if self.is_current and self.checked is not None:
            return self.checked.diagnostics
        return tuple(dict.fromkeys((*self.document.diagnostics, *self.beyond)))

    def change(self, change: Change) -> None:
        """Follow the client's text; where that fails it is read anew, and the fault is not carried along."""
        try:
            self.document = self.document.edited(*change)
        except Exception:
            self.document = opened(self.name, self.client.text)
            raise
        self.beyond = carried_along(self.beyond, self.name, *change)

    def learn(self, found: Checked, moment: int, asked: frozenset[str]) -> None:
        self.checked, self.checked_at, self.asked = found, moment, asked
        form = set(self.document.diagnostics)
        self.beyond = tuple(each for each in found.diagnostics if each not in form)


class Edited(NamedTuple):
    """One change of the client's text; without a place it is the whole."""

    start: Position | None
    end: Position | None
    new: str


Publish = Callable[[str, int | None, Sequence[Diagnostic]], None]  # a file's name, its version, what to show
Report = Callable[[str, Exception], None]  # what failed, and why
Refresh = Callable[[], None]  # sizes have changed that no change of the recipe's own text has changed


class Desk:
    """All open recipes. `publish` is told what to show in a file whenever that may have changed."""

    def __init__(
        self, background: Background, publish: Publish, report: Report, refresh: Refresh, encoding: str
    ) -> None:
        self._background, self._publish, self._report = background, publish, report
        self._refresh, self._encoding = refresh, encoding
        self.recipes: dict[str, OpenRecipe] = {}  # by their uri
        self._shown: dict[str, tuple[int | None, tuple[Diagnostic, ...]]] = {}

    def open(self, uri: str, name: str, text: str, version: int, is_saved: bool) -> None:
        """A text has been opened; `name` is its path, and `is_saved` says whether it has one."""
        client = self.counted(text)
        self.recipes[uri] = recipe = OpenRecipe(uri, name, client, version, is_saved)
        self._changed(recipe)

    def edit(self, uri: str, version: int, edits: Iterable[Edited]) -> None:
        """The client has changed an open text."""
        recipe = self.recipes[uri]
        recipe.version = version
        for edit in edits:
            if edit.start is None or edit.end is None:
                recipe.client, change = _whole(recipe.client, edit.new)
            else:
                recipe.client, change = recipe.client.edited(edit.start, edit.end, edit.new)
            recipe.change(change)
        self._changed(recipe)

    def close(self, uri: str) -> None:
        """The window is closed: from now on the file on the disk counts."""
        recipe = self.recipes.pop(uri)
        self._background.drop(uri)
        self.changed_elsewhere([recipe.name])
        self._show()

    def changed_elsewhere(self, names: Iterable[str]) -> None:
        """Files have changed: check again what uses them, and what is being checked, which may use them."""
        changed = set(map(real_name, names))
        for recipe in self.recipes.values():
            may_use = not recipe.is_current or not recipe.asked.isdisjoint(changed)
            if may_use and recipe.real_name not in changed:
                self.check(recipe)

    def check(self, recipe: OpenRecipe, its_text_is_the_same: bool = True) -> None:
        """Ask in the background for what is wrong with a recipe as it stands."""
        recipe.moment += 1
        document, texts, moment = recipe.document, self._texts(recipe), recipe.moment

        def work(is_outdated: Callable[[], bool]) -> Checked:
            return checked(document.tree, document.diagnostics, document.source, texts, is_outdated)

        def then(found: Any, problem: Exception | None) -> None:
            if problem is not None:
                self._report(f"checking {recipe.name}", problem)
                return
            recipe.learn(found, moment, frozenset(texts.asked))
            self._show()
            if its_text_is_the_same:
                self._refresh()

        self._background.ask(recipe.uri, work, then)

    async def settled(self, uri: str, seconds: float) -> bool:
        """Wait until a recipe is checked; False where that takes longer."""
        return await self._background.settled(uri, seconds)

    def snapshot(self, uri: str, users: tuple[Snapshot, ...] = ()) -> Snapshot:
        """A recipe as it stands."""
        recipe = self.recipes[uri]
        return Snapshot(
            recipe.document.source, recipe.document.tree, tuple(recipe.document.diagnostics), recipe.shown,
            recipe.checked.plain if recipe.checked else None,
            recipe.checked.variants if recipe.checked else {},
            recipe.is_current, self._texts(recipe), users,
        )  # fmt: skip

    def client_text(self, name: str) -> ClientText | None:
        """The text called `name` as the client counts in it, where it is open or a diagnostic may point."""
        for recipe in self.recipes.values():
            if name in (recipe.name, recipe.real_name):
                return recipe.client
        for recipe in self.recipes.values():
            if recipe.checked is not None and name in recipe.checked.sources:
                return self.counted(recipe.checked.sources[name].text)
        return None

    def counted(self, text: str) -> ClientText:
        """A text in which places are counted as the client does."""
        return _counted(text, self._encoding)

    def _changed(self, recipe: OpenRecipe) -> None:
        self.check(recipe, its_text_is_the_same=False)
        self.changed_elsewhere([recipe.name])
        self._show()

    def _texts(self, recipe: OpenRecipe) -> WindowTexts | NoFolder:
        if not recipe.is_saved:
            return NoFolder()
        windows = {each.real_name: each.document.source.text for each in self.recipes.values()}
        return WindowTexts(recipe.name, windows)

    # ---- what is shown ---------------------------------------------------------------------------

    def _show(self) -> None:
        """Publish what has changed in what is to be shown, file by file."""
        now = self._by_file()
        for name in sorted({*self._shown, *now}):
            version, diagnostics = now.get(name, (None, ()))
            if self._shown.get(name) != (version, diagnostics):
                self._publish(name, version, diagnostics)
        self._shown = now

    def _by_file(self) -> dict[str, tuple[int | None, tuple[Diagnostic, ...]]]:
        """Each open file's own diagnostics, and those that a recipe has in a file which it uses.

        A used file that is open and has changed since is not spoken of until its user is checked again.
        """
        versions = {each.name: each.version for each in self.recipes.values()}
        files: dict[str, dict[Diagnostic, None]] = {name: {} for name in versions}  # each once, in order
        for recipe in self.recipes.values():
            files[recipe.name].update((each, None) for each in recipe.shown if each.span.file == recipe.name)
        texts = {each.name: each.document.source.text for each in self.recipes.values()}
        for recipe in self.recipes.values():
            sources = recipe.checked.sources if recipe.checked else {}
            for each in recipe.shown:
                file = each.span.file
                if file != recipe.name and texts.get(file, sources[file].text) == sources[file].text:
                    files.setdefault(file, {})[each] = None
        return {name: (versions.get(name), tuple(found)) for name, found in files.items()}


@lru_cache(maxsize=4)  # the places of one text are asked for one after the other
def _counted(text: str, encoding: str) -> ClientText:
    return ClientText(text, encoding)


def _whole(old: ClientText, new: str) -> tuple[ClientText, Change]:
    """The client gives its whole text anew."""
    after = ClientText(new, old.encoding)
    return after, Change(0, len(old.text), after.text)


