"""A sheet into the files that are asked for; the drawings are made once and shared by all."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from cardrecipe.plan.sheet import Sheet
from cardrecipe.syntax.diagnostics import Diagnostic

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

FORMATS = ("html", "pdf", "md", "json", "svg")
PAGES = ("letter", "a4")
DRAWN = {"html", "pdf", "svg"}


def render(
    sheet: Sheet, formats: Iterable[str], page: str = "letter", diagnostics: Iterable[Diagnostic] = ()
) -> dict[str, bytes]:
    """The files by what follows the recipe's name: `.html`, `.pdf`, …, and `-finished.svg` for each
    drawing. `formats` are names from `FORMATS`, `page` one of `PAGES`. No two runs differ.
    """
    wanted = [name for name in FORMATS if name in set(formats)]
    pictures = _pictures(sheet) if DRAWN.intersection(wanted) else {}
    made: dict[str, bytes] = {}
    for name in wanted:
        if name == "svg":
            made |= {f"-{key}.svg": each.svg.encode() for key, each in pictures.items()}
        else:
            made[f".{name}"] = _file(name, sheet, pictures, page, diagnostics)
    return made


def _file(
    name: str, sheet: Sheet, pictures: Mapping[str, "Drawing"], page: str, diagnostics: Iterable[Diagnostic]
) -> bytes:
    """One file; its module is loaded here, since the heavy ones cost more than a `check` may."""
    if name == "pdf":
        from cardrecipe.render.pdf import render_pdf

        return render_pdf(sheet, pictures, page)
    if name == "html":
        from cardrecipe.render.html import render_html

        others = _pictures(sheet.other, "other-") if sheet.other is not None else {}
        return render_html(sheet, pictures, others, page).encode()
    if name == "md":
        from cardrecipe.render.markdown import render_markdown

        return render_markdown(sheet).encode()
    from cardrecipe.render.card_json import render_json

    return render_json(sheet, diagnostics).encode()


def _pictures(sheet: Sheet, id_prefix: str = "") -> dict[str, "Drawing"]:
    from cardrecipe.render.drawings import drawings

    card = sheet.folded.card._replace(makes=sheet.copies)
    return drawings(sheet.folded._replace(card=card), id_prefix, sheet.paper_plans)
