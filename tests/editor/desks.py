"""A desk without a client: what would be shown, and the background's work done when the test says so."""

import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from cardrecipe.editor.desk.background import Done, Work
from cardrecipe.editor.desk.desk import Desk, Edited
from cardrecipe.editor.desk.positions import UTF16, ClientText
from cardrecipe.report import as_json
from cardrecipe.syntax.diagnostics import Diagnostic
from tests.recipes import run


class HeldBackground:
    """Keeps the latest work for each key until it is let go."""

    def __init__(self) -> None:
        self.held: dict[str, tuple[Work, Done]] = {}

    def ask(self, key: str, work: Work, then: Done) -> None:
        self.held[key] = work, then

    def drop(self, key: str) -> None:
        self.held.pop(key, None)

    def let_go(self) -> None:
        """Do all the work that there is."""
        while self.held:
            key = next(iter(self.held))
            work, then = self.held.pop(key)
            then(work(lambda: False), None)


class Shown:
    """A desk over a folder, with what its client has been shown last in each file."""

    def __init__(self, folder: Path, files: Mapping[str, str] | None = None) -> None:
        self.folder, self.background = folder, HeldBackground()
        self.published: dict[str, tuple[int | None, tuple[Diagnostic, ...]]] = {}
        self.reported: list[str] = []
        self.refreshed = 0
        self.desk = Desk(self.background, self._publish, self._report, self._refresh, UTF16)  # type: ignore[arg-type]
        for name, text in (files or {}).items():
            (folder / name).write_bytes(text.encode())

    def path(self, name: str) -> str:
        return f"{self.folder}/{name}".replace(os.sep, "/")

    def open(self, name: str, text: str) -> None:
        self.desk.open(name, self.path(name), text, 1, True)

    def type(self, name: str, start: int, end: int, new: str) -> None:
        """The characters `start` to `end` of the client's text give way to `new`."""
        recipe = self.desk.recipes[name]
        whole = ClientText(recipe.client.raw)
        places = [ClientText.position(whole, each) for each in (start, end)]
        self.desk.edit(name, recipe.version + 1, [Edited(*places, new)])

    def replace(self, name: str, old: str, new: str) -> None:
        at = self.desk.recipes[name].document.source.text.index(old)
        self.type(name, at, at + len(old), new)

    def codes(self, name: str) -> list[str]:
        return [each.code for each in self.published.get(self.path(name), (None, ()))[1]]

    def as_check_says(self, name: str) -> bool:
        """Whether all that is known of a recipe is what `cardrecipe check` prints of its text in a file."""
        recipe = self.desk.recipes[name]
        Path(recipe.name).write_bytes(recipe.client.raw.encode("utf-8", "surrogatepass"))
        assert recipe.checked is not None
        from_scratch = run("check", recipe.name, "--format", "json").out
        return as_json(list(recipe.shown), recipe.checked.sources) == from_scratch

    def _publish(self, name: str, version: int | None, diagnostics: Sequence[Diagnostic]) -> None:
        self.published[name] = version, tuple(diagnostics)

    def _report(self, what: str, problem: Exception) -> None:
        self.reported.append(f"{what}: {problem}")

    def _refresh(self) -> None:
        self.refreshed += 1
