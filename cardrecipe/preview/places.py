"""What is clicked in the preview → its place in a file → a link that opens an editor there."""

import os
import re
from collections.abc import Mapping
from typing import NamedTuple
from urllib.parse import quote

from cardrecipe.compile import Compiled
from cardrecipe.plan.extra_steps import extra_picture
from cardrecipe.plan.sheet import Sheet
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span

LINK_FIELDS = ("file", "line", "column")
# A browser runs these, or shows a page of its own: no editor listens to them.
_NO_EDITOR = ("javascript", "data", "vbscript", "blob", "about", "file")
_FIELD = re.compile(r"\{([^{}]*)\}")


class Place(NamedTuple):
    """A character of a file, counted from 1, as the diagnostics in the terminal name it."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


def place_of(span: Span, sources: Mapping[str, Source]) -> Place:
    """Where `span` begins."""
    return Place(span.file, *sources[span.file].line_and_column(span.start))


def places_of(result: Compiled) -> dict[str, Place]:
    """The place of each piece by its name, of each section (that of its piece), of each written step.

    A panel that a shipped fold brings stands where its base is: the fold itself is not the maker's file.
    """
    pieces = result.solution.card.pieces if result.solution is not None else ()
    own = {each.name: place_of(each.span, result.sources)
           for each in pieces if each.span.file in result.sources}  # fmt: skip
    brought = {each.name: own[each.home] for each in pieces
               if each.name not in own and each.home in own}  # fmt: skip
    places = own | brought
    sections = {section: places[each.name] for each in reversed(pieces) if each.name in places
                for section in each.sections}  # fmt: skip
    written = result.solution.card.steps if result.solution is not None else ()
    steps = {_written_step(number): place_of(each.span, result.sources)
             for number, each in enumerate(written)}  # fmt: skip
    return steps | sections | places


def step_names(sheet: Sheet) -> dict[str, str]:
    """Whose place a step has, by what the page calls the step (`step 3`): that of its own line where the
    recipe has one, else that of the piece which it begins with."""
    own = {extra_picture(number): _written_step(number)
           for number in range(len(sheet.folded.card.extra_steps))}  # fmt: skip
    return {f"step {step.number}": own.get(step.picture, step.pieces[0])
            for step in sheet.steps if step.pieces}  # fmt: skip


def _written_step(number: int) -> str:
    """No piece can be called so."""
    return f"written step {number + 1}"


def link_problem(template: str) -> str:
    """What is wrong with an editor link, or ""."""
    scheme = re.match(r"([A-Za-z][A-Za-z0-9+.-]*):", template)
    if scheme is None or not template.isprintable() or " " in template:
        return "is no address; write one such as my-editor://open?file={file}&line={line}"
    if scheme[1].lower() in _NO_EDITOR:
        return f"begins with {scheme[1]}:, which no editor answers to; ask your editor's manual for its own"
    fields = _FIELD.findall(template)
    unknown = next((each for each in fields if each not in LINK_FIELDS), None)
    if unknown is not None:
        return f"has {{{unknown}}} in it; there are {{file}}, {{line}} and {{column}}"
    return "" if "file" in fields else "does not say which file; put {file} where your editor expects it"


def editor_link(template: str, place: Place) -> str:
    """`template` with the place filled in: the whole path, percent-encoded, so that no name breaks it."""
    path = os.path.abspath(place.file).replace(os.sep, "/")
    words = {"file": quote(os.fsencode(path), safe="/"), "line": str(place.line), "column": str(place.column)}
    return _FIELD.sub(lambda field: words[field[1]], template)
