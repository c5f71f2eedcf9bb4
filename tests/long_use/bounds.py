"""The caches that keep a value for each key, and how many keys there can be: none comes from a recipe."""

from collections.abc import Callable
from typing import NamedTuple

from cardrecipe.library.folds import fold_names
from cardrecipe.syntax.grammar import tables
from cardrecipe.syntax.words import FORMS
from tests.recipes import ROOT


class Bound(NamedTuple):
    """At most so many keys, and why."""

    most: Callable[[], int]
    why: str


def _files(folder: str) -> Callable[[], int]:
    return lambda: sum(path.is_file() for path in (ROOT / "cardrecipe" / folder).iterdir())


_TEMPLATE = Bound(_files("render/templates"), "the shipped templates, by name")
_STRUCTURE = Bound(lambda: len(fold_names()), "the shipped structures; another name raises, and is not kept")
BOUNDS = {
    "editor.offering.snippets.snippet": Bound(lambda: len(FORMS), "the examples in the table of forms"),
    "library.folds.fold_source": _STRUCTURE,
    "library.folds.fold_statement": _STRUCTURE,
    "preview.page._read": Bound(_files("preview"), "the files of the preview, by name"),
    "render.html.template": _TEMPLATE,
    "render.page_style.style_of": _TEMPLATE,
    "render.page_style.template_text": _TEMPLATE,
    "render.page_style._tight_style": _TEMPLATE,
    "render.page_style._faces": Bound(lambda: 2, "the two cuts of the font: core letters and all"),
    "syntax.read_line._rules": Bound(lambda: 1, "the one class that makes the nodes"),
    "syntax.read_line._pattern": Bound(lambda: len(tables().patterns), "the terminals of the grammar"),
}
# Memories that are no decorator of a function: what bounds them stands beside them.
OTHERS = {
    "editor.names.meanings._LAST": "`_KEPT` trees; the rest is cut off at each new one",
    "plan.cutting.sets.by_all_sets.sheet": "sets of at most `MOST_PIECES` pieces, gone with the job",
    "plan.cutting.sets.by_all_sets.plan": "sets of at most `MOST_PIECES` pieces, gone with the job",
}
