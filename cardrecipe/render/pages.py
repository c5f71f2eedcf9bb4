"""A sheet into the files that are asked for; the drawings are made once and shared by all."""

from collections.abc import Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.papers import Printing
from cardrecipe.render.signs import signed_markdown, signed_svg
from cardrecipe.syntax.diagnostics import Diagnostic

if TYPE_CHECKING:
    from cardrecipe.plan.variant_sheet import VariantSheet
    from cardrecipe.render.drawings.svg import Drawing

FORMATS = ("html", "pdf", "md", "json", "svg", "dxf")
DRAWN = {"html", "pdf", "svg"}
TOGETHER = ("html", "pdf", "md")  # the pages that can hold a card with all its variants
Pictures = Mapping[str, "Drawing"]


def render(
    sheet: Sheet,
    formats: Iterable[str],
    printings: Sequence[Printing] = (Printing(),),
    diagnostics: Iterable[Diagnostic] = (),
) -> dict[str, bytes]:
    """The files by what follows the recipe's name: `.html`, `.pdf`, …; `-finished.svg` for each drawing,
    `-true-card.svg` and `-true-card.dxf` for each piece at true scale; with several `printings` a PDF of
    each, `-letter.pdf` and `-a4.pdf`. `formats` are names from `FORMATS`. No two runs differ.
    """
    wanted = [name for name in FORMATS if name in set(formats)]
    pictures: Pictures = {}
    if DRAWN.intersection(wanted):
        pictures = _every_picture(sheet) if "svg" in wanted else pictures_of(sheet)
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


def render_variants(
    sheet: "VariantSheet", formats: Iterable[str], printings: Sequence[Printing] = (Printing(),)
) -> dict[str, bytes]:
    """The one sheet of a card with all its variants, named as `render` names it; `formats` are names from
    `TOGETHER`."""
    wanted = [name for name in TOGETHER if name in set(formats)]
    made: dict[str, bytes] = {}
    cards = _pictures_of_cards(sheet, "") if DRAWN.intersection(wanted) else []
    if "html" in wanted:
        from cardrecipe.render.variants.page import render_variants_html

        others = _pictures_of_cards(sheet.other, "other-") if sheet.other is not None else []
        made[".html"] = render_variants_html(sheet, cards, others, printings[0].page).encode()
    if "pdf" in wanted:
        from cardrecipe.render.variants.pdf import render_variants_pdf

        with ThreadPoolExecutor(len(printings)) as setting:
            pages = [setting.submit(render_variants_pdf, sheet, cards, printing) for printing in printings]
            for printing, page in zip(printings, pages, strict=True):
                made[f"-{printing.page}.pdf" if len(printings) > 1 else ".pdf"] = page.result()
    if "md" in wanted:
        from cardrecipe.render.variants.markdown import render_variants_markdown

        made[".md"] = signed_markdown(render_variants_markdown(sheet))
    return made


def _pictures_of_cards(sheet: "VariantSheet", prefix: str) -> list[Pictures]:
    """The drawings of the plain card and of each variant, told apart by their ids."""
    variants = (
        pictures_of(each.sheet, f"{prefix}v{number}-") for number, each in enumerate(sheet.variants, start=1)
    )
    return [pictures_of(sheet.plain, prefix), *variants]


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

            others = pictures_of(sheet.other, "other-") if sheet.other is not None else {}
            made[".html"] = render_html(sheet, pictures, others, printing.page).encode()
        elif name == "md":
            from cardrecipe.render.markdown import render_markdown

            made[".md"] = signed_markdown(render_markdown(sheet))
        elif name == "json":
            from cardrecipe.render.card_json import render_json

            made[".json"] = render_json(sheet, diagnostics).encode()
        elif name == "svg":
            from cardrecipe.render.true_scale.svg_files import svg_files

            made |= {f"-{key}.svg": signed_svg(each.svg) for key, each in pictures.items()} | svg_files(sheet)
        elif name == "dxf":
            from cardrecipe.render.true_scale.dxf_files import dxf_files

            made |= dxf_files(sheet)
    return made


def pictures_of(sheet: Sheet, id_prefix: str = "") -> Pictures:
    """What a sheet shows, by name; `id_prefix` tells apart the ids of two sheets in one page."""
    from cardrecipe.render.drawings import shown_drawings

    return shown_drawings(_of_all_copies(sheet), id_prefix, sheet.paper_plans)


def _every_picture(sheet: Sheet) -> Pictures:
    from cardrecipe.render.drawings import drawings

    return drawings(_of_all_copies(sheet), "", sheet.paper_plans)


def _of_all_copies(sheet: Sheet) -> FoldedCard:
    if sheet.folded.card.makes == sheet.copies:
        return sheet.folded  # the same object, of which much is known already
    return sheet.folded._replace(card=sheet.folded.card._replace(makes=sheet.copies))
