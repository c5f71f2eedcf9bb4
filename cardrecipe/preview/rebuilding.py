"""A recipe's files → the page of its sheet and what is to be said about it, from the texts alone."""

import gc
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import NamedTuple

from cardrecipe.commands.class_building import holds_class, only_for_recipes
from cardrecipe.compile import Compiled, compile_recipe
from cardrecipe.files import CannotRead
from cardrecipe.fold.card import glued
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.model.variants import NoVariant
from cardrecipe.plan.card import plan_alone
from cardrecipe.preview.class_page import class_page
from cardrecipe.preview.drawing_aside import NO_TWIN, Aside, Task, Twin, twin_of
from cardrecipe.preview.notes import Note, notes_of
from cardrecipe.preview.places import Place, places_of, step_names
from cardrecipe.preview.watching import RecipeFiles
from cardrecipe.render.html import render_html
from cardrecipe.render.pages import pictures_of
from cardrecipe.report import as_text, visible
from cardrecipe.sheets import PAGE_OF, both_versions
from cardrecipe.sums import with_sums
from cardrecipe.syntax.source import Source


class Wanted(NamedTuple):
    """The sheet that the maker looks at: a recipe, one of its variants or none, and how it is shown."""

    path: str
    variant: str | None = None
    units: str | None = None
    copies: int | None = None
    page: str | None = None  # None: the paper that goes with the recipe's unit


class Rebuilt(NamedTuple):
    """What one save came to. `html` is None where an error stands in the way of a sheet.

    `problem` is what is wrong with the command rather than with the text: a file that cannot be read, a
    variant that is not there. `said` is all that there is to say, for the terminal.
    """

    files: RecipeFiles
    html: str | None = None
    steps: Mapping[str, str] = {}
    places: Mapping[str, Place] = {}
    notes: tuple[Note, ...] = ()
    problem: str = ""
    said: str = ""


def rebuild(wanted: Wanted, aside: Aside | None = None) -> Rebuilt:
    """Read the files and make the page, with the help of `aside` where there is one.

    Nothing is kept from the last time, so nothing can be stale.
    """
    files = RecipeFiles(wanted.path)
    with _no_collecting():
        try:
            source = files.source()
        except CannotRead as problem:
            return _with_problem(Rebuilt(files), str(problem))
        if holds_class(source):
            return _class_rebuilt(source, files, wanted)
        try:
            result = compile_recipe(source, files, wanted.variant)
        except NoVariant as problem:
            plain = _looked_at(compile_recipe(source, files), files)
            return _with_problem(plain, f"{wanted.path}: {problem}")
        return _with_page(_looked_at(result, files), result, wanted, aside)


def _class_rebuilt(source: Source, files: RecipeFiles, wanted: Wanted) -> Rebuilt:
    if refused := only_for_recipes(wanted.path, wanted):
        return _with_problem(Rebuilt(files), refused)
    found = class_page(source, files, wanted.page)
    notes, said = notes_of(found.diagnostics, found.sources), as_text(found.diagnostics, found.sources)
    return Rebuilt(files, found.html, notes=notes, said=said)


def _looked_at(result: Compiled, files: RecipeFiles) -> Rebuilt:
    notes = notes_of(result.diagnostics, result.sources)
    return Rebuilt(files, places=places_of(result), notes=notes,
                   said=as_text(result.diagnostics, result.sources))  # fmt: skip


def _with_page(rebuilt: Rebuilt, result: Compiled, wanted: Wanted, aside: Aside | None) -> Rebuilt:
    if result.folded is None:
        return rebuilt
    try:
        first, second = both_versions(result, wanted.units, wanted.copies)
    except CannotRead as problem:
        return _with_note(rebuilt, str(problem))
    assert first.folded is not None
    waited_for = _begun(first.folded, second.folded, wanted.copies, aside)
    sheet = plan_alone(glued(first.folded)[0], wanted.copies, second.folded, first.diagnostics)
    pictures = pictures_of(sheet)
    twin = waited_for()
    sheet = with_sums(sheet._replace(other=twin.sheet), first.solution, second.solution, result.sources)
    page = wanted.page or PAGE_OF[sheet.folded.card.unit]
    html = render_html(sheet, pictures, twin.pictures, page)  # the same page as `build` writes
    return rebuilt._replace(html=html, steps=step_names(sheet))


def _begun(
    first: FoldedCard, second: FoldedCard | None, copies: int | None, aside: Aside | None
) -> Callable[[], Twin]:
    """What gives the sheet in the second unit system, which is made meanwhile where there is an `aside`."""
    if second is None:
        return lambda: NO_TWIN
    task = Task(second, first, copies)
    return aside.begin(task) if aside is not None else lambda: twin_of(task)


def _with_problem(rebuilt: Rebuilt, problem: str) -> Rebuilt:
    return _with_note(rebuilt, problem)._replace(problem=visible(problem))


def _with_note(rebuilt: Rebuilt, message: str) -> Rebuilt:
    note, said = Note(visible(message)), f"{rebuilt.said}cardrecipe: {visible(message)}\n"
    return rebuilt._replace(notes=(note, *rebuilt.notes), said=said)


@contextmanager
def _no_collecting() -> Iterator[None]:
    """Hardly anything is garbage before the page is there; it is collected when the page is shown."""
    gc.disable()
    try:
        yield
    finally:
        gc.enable()
