"""A sheet → the parts on each of its printed pages, to tell which pages of an earlier print still hold.

A part is a block of the page with all that is drawn in it: a row of steps, the score guide, one supply. Where
on the page it stands is no part of it, and the page's number is left out before the pages are set: a page
more makes no other void.
"""

import re
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING
from xml.etree import ElementTree

from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.papers import Printing
from cardrecipe.render.pdf import TEMPLATES, template_text, typeset
from cardrecipe.render.pdf_data import sheet_data
from cardrecipe.render.prose import title_shown

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

_PAGE_NUMBER = b'counter(page).display("1 of 1", both: true)'
_NO_NUMBER = b'""'
_SVG = "{http://www.w3.org/2000/svg}"
_NO_CONTENT = {f"{_SVG}defs"}  # the shapes of letters, which are named by a hash of their shape
_POSITION = re.compile(r"translate\([^)]*\)|(?<=matrix\()([^)]*?) \S+ \S+(?=\))")
_LONG_NUMBER = re.compile(r"-?[0-9]+\.[0-9]{3,}")

Contents = tuple[str, ...]


def page_contents(
    sheet: Sheet, pictures: Mapping[str, "Drawing"], printing: Printing
) -> tuple[Contents, ...]:
    """The parts of each page, in their order; equal texts are equal parts."""
    template = b"".join(map(template_text, TEMPLATES))
    assert _PAGE_NUMBER in template, "the pages are numbered otherwise"
    unnumbered = template.replace(_PAGE_NUMBER, _NO_NUMBER)
    data = sheet_data(sheet, pictures, printing)
    pages = typeset(unnumbered, data, title_shown(sheet.title), "svg")
    several = pages if isinstance(pages, list) else [pages or b""]
    return tuple(tuple(_parts(page)) for page in several)


def _parts(page: bytes) -> Iterator[str]:
    for element in ElementTree.fromstring(page):
        if element.tag not in _NO_CONTENT:
            element.set("transform", _POSITION.sub(r"\1", element.get("transform", "")))
            yield "".join(_drawn(element))


def _drawn(element: ElementTree.Element) -> Iterator[str]:
    """An element and those in it as text, numbers to a hundredth of a point."""
    told = (f"{name}={value}" for name, value in element.items() if not name.startswith("clip"))
    yield _LONG_NUMBER.sub(lambda found: f"{float(found[0]):.2f}", f"<{element.tag} {' '.join(told)}>")
    for inner in element:
        yield from _drawn(inner)
