"""The sheet of a class into the files that are asked for; the drawings are made once and shared by all."""

from collections.abc import Callable, Collection, Sequence
from typing import TYPE_CHECKING

from cardrecipe.plan.classes.sheet import ClassSheet
from cardrecipe.render.papers import Printing
from cardrecipe.render.signs import signed_markdown, signed_svg
from cardrecipe.syntax.diagnostics import Diagnostic

if TYPE_CHECKING:
    from cardrecipe.render.class_pack.pictures import Pictures

FORMATS = ("html", "pdf", "md", "json", "svg")
DRAWN = {"html", "pdf", "svg"}
PICTURES = "pictures"
Files = dict[str, bytes]


def parts_of(formats: Collection[str], printings: Sequence[Printing]) -> list[str]:
    """What `render_class` tells `progress`, in its order."""
    pages = [f"pages for {printing.page}" for printing in printings] if "pdf" in formats else []
    others = [name for name in FORMATS if name in formats and name != "pdf"]
    return [*([PICTURES] if DRAWN.intersection(formats) else []), *pages, *others]


def render_class(
    sheet: ClassSheet,
    formats: Collection[str],
    printings: Sequence[Printing] = (Printing(),),
    diagnostics: Sequence[Diagnostic] = (),
    progress: Callable[[str], None] = lambda part: None,
) -> Files:
    """The files by what follows the name of the class: `.html`, `.pdf`, …; `-sheet-1.svg` for each drawing;
    with several `printings` a PDF of each, `-letter.pdf` and `-a4.pdf`. `formats` are names from `FORMATS`.
    """
    pictures: Pictures = {}
    made: Files = {}
    for part in parts_of(formats, printings):
        progress(part)
        if part == PICTURES:
            from cardrecipe.render.class_pack.pictures import class_pictures

            pictures = class_pictures(sheet)
        elif part in FORMATS:
            made |= _written(part, sheet, pictures, printings[0], diagnostics)
        else:
            from cardrecipe.render.class_pack.pdf import render_class_pdf

            printing = next(each for each in printings if part.endswith(each.page))
            ending = f"-{printing.page}.pdf" if len(printings) > 1 else ".pdf"
            made[ending] = render_class_pdf(sheet, pictures, printing)
    return made


def _written(
    name: str, sheet: ClassSheet, pictures: "Pictures", printing: Printing, diagnostics: Sequence[Diagnostic]
) -> Files:
    """The files of one format; each module is loaded where it is used."""
    if name == "html":
        from cardrecipe.render.class_pack.html import render_class_html

        return {".html": render_class_html(sheet, pictures, printing.page).encode()}
    if name == "md":
        from cardrecipe.render.class_pack.markdown import render_class_markdown

        return {".md": signed_markdown(render_class_markdown(sheet))}
    if name == "json":
        from cardrecipe.render.class_pack.class_json import render_class_json

        return {".json": render_class_json(sheet, diagnostics).encode()}
    return {f"-{key}.svg": signed_svg(each.svg) for key, each in pictures.items()}
