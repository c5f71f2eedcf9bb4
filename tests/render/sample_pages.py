"""Every sample as a page on disk, each of its variants too, made once for all tests of a run."""

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from cardrecipe.compile import compile_recipe
from cardrecipe.files import FolderTexts
from cardrecipe.render.pages import render
from cardrecipe.sheets import sheet_of
from cardrecipe.syntax.source import Source
from tests.recipes import SAMPLES, sample_cards

VARIANTS = {"night-market": ("Harvest", "Plain")}
NAMES = [path.stem for path in sample_cards()]
PAGES = [*((name, None) for name in NAMES), *((name, each) for name in VARIANTS for each in VARIANTS[name])]


@cache
def page_of(name: str, variant: str | None = None) -> Path:
    """The HTML page of a sample."""
    path = SAMPLES / f"{name}.recipe"
    source = Source(str(path), path.read_text(encoding="utf-8"))
    compiled = compile_recipe(source, FolderTexts(str(path)), variant)
    page = Path(_folder().name) / f"{name}-{variant}.html"
    page.write_bytes(render(sheet_of(compiled), ["html"])[".html"])
    return page


@cache
def _folder() -> TemporaryDirectory[str]:
    return TemporaryDirectory(prefix="sample-pages-")  # it goes with the run
