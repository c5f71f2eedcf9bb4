"""A class and the recipes that it makes → the page of its pack, or what is wrong with them."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from cardrecipe.class_compile import compile_class
from cardrecipe.model.texts import Texts
from cardrecipe.plan.classes.plan import plan_class
from cardrecipe.render.class_pack.pages import render_class
from cardrecipe.render.papers import Printing
from cardrecipe.sheets import PAGE_OF
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.source import Source


class ClassPage(NamedTuple):
    """`html` is None where an error stands in the way of a pack."""

    html: str | None
    diagnostics: Sequence[Diagnostic]
    sources: Mapping[str, Source]


def class_page(source: Source, texts: Texts, page: str | None) -> ClassPage:
    """The same page as `build` writes; `page` None: the paper that goes with the unit of the class."""
    found = compile_class(source, texts)
    if found.cards is None:
        return ClassPage(None, found.diagnostics, found.sources)
    sheet = plan_class(found.cards)
    printing = Printing(page or PAGE_OF[sheet.unit])
    files = render_class(sheet, ("html",), (printing,), found.diagnostics)
    return ClassPage(files[".html"].decode(), found.diagnostics, found.sources)
