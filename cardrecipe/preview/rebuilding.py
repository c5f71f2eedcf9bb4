"""A recipe's files → the page of its sheet and what is to be said about it, from the texts alone."""

import gc
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import NamedTuple

from cardrecipe.building import sheet_of
from cardrecipe.compile import Compiled, compile_recipe
from cardrecipe.files import CannotRead
from cardrecipe.model.variants import NoVariant
from cardrecipe.plan.sheet import Sheet
from cardrecipe.preview.drawing_aside import Aside
from cardrecipe.preview.notes import Note, notes_of
from cardrecipe.preview.places import Place, places_of, step_names
from cardrecipe.preview.watching import RecipeFiles
from cardrecipe.render.html import render_html
from cardrecipe.render.pages import pictures_of
from cardrecipe.report import as_text, visible


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
        try:
            result = compile_recipe(source, files, wanted.variant)
        except NoVariant as problem:
            plain = _looked_at(compile_recipe(source, files), files)
            return _with_problem(plain, f"{wanted.path}: {problem}")
        return _with_page(_looked_at(result, files), result, wanted, aside)


def _looked_at(result: Compiled, files: RecipeFiles) -> Rebuilt:
    notes = notes_of(result.diagnostics, result.sources)
    return Rebuilt(files, places=places_of(result), notes=notes,
                   said=as_text(result.diagnostics, result.sources))  # fmt: skip


def _with_page(rebuilt: Rebuilt, result: Compiled, wanted: Wanted, aside: Aside | None) -> Rebuilt:
    if result.folded is None:
        return rebuilt
    try:
        sheet = sheet_of(result, wanted.units, wanted.copies)
    except CannotRead as problem:
        return _with_note(rebuilt, str(problem))
    page = wanted.page or ("letter" if sheet.folded.card.unit == "inch" else "a4")
    return rebuilt._replace(html=_html(sheet, page, aside), steps=step_names(sheet))


def _html(sheet: Sheet, page: str, aside: Aside | None) -> str:
    """The same page as `build` writes."""
    if sheet.other is None:
        return render_html(sheet, pictures_of(sheet), {}, page)
    if aside is None:
        return render_html(sheet, pictures_of(sheet), pictures_of(sheet.other, "other-"), page)
    others = aside.begin(sheet.other, "other-")
    return render_html(sheet, pictures_of(sheet), others(), page)


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
