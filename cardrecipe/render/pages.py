"""A sheet into the files that are asked for; the drawings are made once and shared by all."""

from collections.abc import Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING

from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.papers import Printing
from cardrecipe.syntax.diagnostics import Diagnostic

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

FORMATS = ("html", "pdf", "md", "json", "svg")
DRAWN = {"html", "pdf", "svg"}
Pictures = Mapping[str, "Drawing"]


def render(
    sheet: Sheet,
    formats: Iterable[str],
    printings: Sequence[Printing] = (Printing(),),
    diagnostics: Iterable[Diagnostic] = (),
) -> dict[str, bytes]:
    """The files by what follows the recipe's name: `.html`, `.pdf`, …, and `-finished.svg` for each
    drawing; with several `printings` there is a PDF of each, `-letter.pdf` and `-a4.pdf`. `formats` are
    names from `FORMATS`. No two runs differ.
    """
    wanted = [name for name in FORMATS if name in set(formats)]
    pictures = _pictures(sheet) if DRAWN.intersection(wanted) else {}
    if "pdf" not in wanted:
        return _files(wanted, sheet, pictures, printings[0], diagnostics)
    from cardrecipe.render.pdf import render_pdf

    # Typst sets the pages outside the interpreter's lock, so the other files are written meanwhile.
    with ThreadPoolExecutor(len(printings)) as setting:
        pages = [setting.submit(render_pdf, sheet, pictures, printing) for printing in printings]
        files = _files(wanted, sheet, pictures, printings[0], diagnostics)
        for printing, page in zip(printings, pages, strict=True):
            files[f"-{printing.page}.pdf" if len(printings) > 1 else ".pdf"] = page.result()
    return files


def _files(
    wanted: Sequence[str],
    sheet: Sheet,
    pictures: Pictures,
    printing: Printing,
    diagnostics: Iterable[Diagnostic],
) -> dict[str, bytes]:
    """All but the PDFs; the modules are loaded here, since the heavy ones cost more than a `check` may."""
    made: dict[str, bytes] = {}
    for name in wanted:
        if name == "html":
            from cardrecipe.render.html import render_html

            others = _pictures(sheet.other, "other-") if sheet.other is not None else {}
            made[".html"] = render_html(sheet, pictures, others, printing.page).encode()
        elif name == "md":
            from cardrecipe.render.markdown import render_markdown

            made[".md"] = render_markdown(sheet).encode()
        elif name == "json":
            from cardrecipe.render.card_json import render_json

            made[".json"] = render_json(sheet, diagnostics).encode()
        elif name == "svg":
            made |= {f"-{key}.svg": each.svg.encode() for key, each in pictures.items()}
    return made


def _pictures(sheet: Sheet, id_prefix: str = "") -> Pictures:
    from cardrecipe.render.drawings import drawings

    card = sheet.folded.card._replace(makes=sheet.copies)
    return drawings(sheet.folded._replace(card=card), id_prefix, sheet.paper_plans)
