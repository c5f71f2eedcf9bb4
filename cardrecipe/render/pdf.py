"""The sheet as a PDF, through typst: fixed templates, and the sheet as data in one JSON text.

The typst world is the folder of our own fonts: no other file, no system font, no package of the network can
be reached from it, and no text of a recipe is ever evaluated. Nothing is written. The file carries no date.
"""

import json
import re
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Literal

from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.papers import Printing
from cardrecipe.render.pdf_data import sheet_data
from cardrecipe.render.prose import shown, title_shown
from cardrecipe.render.words import unbroken

if TYPE_CHECKING:
    import typst

    from cardrecipe.render.drawings.svg import Drawing

ONE_AT_A_TIME = Lock()  # the typesetter takes no second text while it is at one
MISSING_SIGN = "\u25ca"  # a lozenge: in the font, and seldom meant
MOST_MISSING_NAMED = 12
_PREFERENCES = b"/ViewerPreferences<<"
_PRINT_SCALING = b"/PrintScaling/None"
# Read as one text: each uses the names of those before it.
TEMPLATES = ("look.typ", "sheet.typ", "layouts.typ", "work.typ", "templates.typ")


def render_pdf(sheet: Sheet, pictures: Mapping[str, "Drawing"], printing: Printing) -> bytes:
    """The printable sheet, tagged as PDF/UA-1 asks."""
    return set_pages(TEMPLATES, sheet_data(sheet, pictures, printing), title_shown(sheet.title))


def set_pages(templates: Sequence[str], data: Mapping[str, object], title: str) -> bytes:
    """The templates of those names filled with `data`, in which `notes` is a list of texts; `title` is that
    of the file."""
    template = b"".join(template_text(name) for name in templates)
    result = typeset(template, data, title, "pdf")
    assert isinstance(result, bytes)
    return _for_the_printer(result)


def template_text(name: str) -> bytes:
    """One of the shipped templates."""
    return (files("cardrecipe.render") / "templates" / name).read_bytes()


def typeset(
    template: bytes, data: Mapping[str, object], title: str, kind: Literal["pdf", "svg"]
) -> bytes | list[bytes] | None:
    """What typst makes of a template filled with `data`: a PDF/UA-1, or each page as SVG."""
    inputs = {"data": _in_the_font(data), "title": shown(title)}
    with ONE_AT_A_TIME:
        result, warnings = _typesetter().compile_with_warnings(
            template, format=kind, sys_inputs=inputs, pdf_standards="ua-1" if kind == "pdf" else []
        )
    assert not warnings, [str(each) for each in warnings]
    return result


@cache
def _typesetter() -> "typst.Compiler":
    """One for all sheets: each that is made keeps its own fonts in memory for good."""
    import typst

    root = str(files("cardrecipe.render") / "fonts")
    return typst.Compiler(
        root=root,
        font_paths=typst.Fonts(
            include_system_fonts=False, include_embedded_fonts=False, font_paths=[Path(root)]
        ),
        ignore_system_fonts=True,
        package_path=root,
        package_cache_path=root,
    )


def missing_characters(text: str) -> tuple[str, ...]:
    """The characters of `text` that the PDF's font has no sign for, each once, in their order."""
    return tuple(dict.fromkeys(_outside_the_font().findall(text)))


def _for_the_printer(pdf: bytes) -> bytes:
    """The same file, which asks viewers to print it at its own size (ISO 32000-1, 12.2): typst cannot say it.

    The catalog is the last object before the table of objects, so no other place in the file moves.
    """
    body, catalog, rest = pdf.rpartition(_PREFERENCES)
    entry, table = rest.rsplit(b"startxref\n", 1)
    start, end = table.split(b"\n", 1)
    assert catalog and b"\nxref\n" in entry and b" 0 obj\n" not in entry, "typst writes its files otherwise"
    moved = str(int(start) + len(_PRINT_SCALING)).encode()
    return b"".join((body, catalog, _PRINT_SCALING, entry, b"startxref\n", moved, b"\n", end))


def _in_the_font(data: Mapping[str, object]) -> str:
    """The data as JSON in which every character can be printed; a note names those replaced."""
    clean = {name: _clean(part) for name, part in data.items()}
    text = json.dumps(clean, ensure_ascii=False)
    missing = missing_characters(text)
    if not missing:
        return text
    notes = clean["notes"]
    assert isinstance(notes, list)
    clean["notes"] = [*notes, _note(missing)]
    return _outside_the_font().sub(MISSING_SIGN, json.dumps(clean, ensure_ascii=False))


def _clean(part: object) -> object:
    """`part` with a visible mark for each control character and no break inside a size."""
    if isinstance(part, str):
        return unbroken(shown(part).replace("\t", " "))
    if isinstance(part, list):
        return [_clean(each) for each in part]
    if isinstance(part, dict):
        return {name: _clean(each) for name, each in part.items()}
    return part


def _note(missing: tuple[str, ...]) -> str:
    names = ", ".join(f"U+{ord(character):04X}" for character in missing[:MOST_MISSING_NAMED])
    more = len(missing) - MOST_MISSING_NAMED
    rest = f" and {more} more" if more > 0 else ""
    return f"Shown as {MISSING_SIGN}, since the font of this page has no sign for it: {names}{rest}."


@cache
def _outside_the_font() -> re.Pattern[str]:
    table = (files("cardrecipe.render") / "fonts" / "coverage.txt").read_text("ascii")
    ranges = "".join(
        f"\\U{int(first, 16):08x}-\\U{int(last, 16):08x}"
        for first, last in (line.split("-") for line in table.split())
    )
    return re.compile(f"[^{ranges}]")
