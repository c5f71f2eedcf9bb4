"""Builds in one process, as `watch` makes them at each save and as the command `build` does."""

import contextlib
import io
import shutil
import tempfile
from pathlib import Path
from types import TracebackType
from typing import Self

from cardrecipe.cli import main
from cardrecipe.preview.drawing_aside import Aside
from cardrecipe.preview.rebuilding import Wanted, rebuild
from cardrecipe.preview.shown import Shown
from tests.recipes import SAMPLES, recipes_in

EDITED, MEASURE = "first-frost.recipe", "size 2 1/2 x 1\n"
CLASS = "saturday-bench.recipe"  # takes as long as twenty cards
CLASS_TURN = 7  # of fifty
ROUND = 20  # so many builds are one of each sort


class Builds:
    """A folder with the samples, the process that draws beside this one, and the page that is shown.

    `formats` are those of the command, and so many `samples` are built in turn.
    """

    def __init__(self, formats: str = "html,pdf,md,json,svg,dxf", samples: int = 100) -> None:
        self._formats, self._samples = formats, samples

    def __enter__(self) -> Self:
        self._folder = Path(tempfile.mkdtemp())
        for path in recipes_in(SAMPLES):
            shutil.copy(path, self._folder)
        self._text = (self._folder / EDITED).read_text("utf-8")
        assert MEASURE in self._text
        names = [path.name for path in recipes_in(SAMPLES) if path.name != CLASS]
        self._names = names[: self._samples]
        self._aside, self._shown = Aside(), Shown(EDITED)
        return self

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        self._aside.close()
        shutil.rmtree(self._folder)

    def work(self, number: int) -> None:
        """One build: mostly a save of a recipe with another measure, sometimes something else."""
        turn, at = divmod(number, ROUND)
        name = self._names[turn % len(self._names)]
        if at in (4, 14):
            self._watched(name)
        elif at == 9:
            self._built(name, "--variant", "all")
        elif at == 12:
            self._built(EDITED, "--page", "letter,a4")
        elif at == 16:
            self._save(self._text.replace(MEASURE, "size 2 1/2 by nothing\n"))
            self._watched(EDITED, is_sound=False)
        elif at == 18 and turn % 50 == CLASS_TURN:
            self._built(CLASS, "--to", "html,pdf,md,json,svg")  # a class has no outlines for a machine
        else:
            # All measures differ: whatever is kept for a measure is kept for every build.
            self._save(self._text.replace(MEASURE, f"size {1 + number % 2_000 / 1_024} x 1\n"))
            self._watched(EDITED)

    def close(self) -> None:
        """The same few builds each time, so that what is left of the last ones is the same."""
        self._save(self._text)
        for _ in range(4):
            self._watched(EDITED)
        self._built(EDITED)

    def _save(self, text: str) -> None:
        (self._folder / EDITED).write_text(text, "utf-8")

    def _watched(self, name: str, is_sound: bool = True) -> None:
        rebuilt = rebuild(Wanted(str(self._folder / name)), self._aside)
        self._shown.show(rebuilt)
        assert (rebuilt.html is not None) == is_sound or name == "papers.recipe", rebuilt.said

    def _built(self, name: str, *more: str) -> None:
        files = str(self._folder / "sheets")
        with contextlib.redirect_stderr(io.StringIO()), contextlib.redirect_stdout(io.StringIO()):
            status = main(["build", str(self._folder / name), "-o", files, "--to", self._formats, *more])
        assert status == 0, name
