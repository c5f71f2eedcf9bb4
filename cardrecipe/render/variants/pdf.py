"""The one sheet as a PDF: the pages of the main card between the comparison and the variants."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from cardrecipe.plan.variant_sheet import VariantSheet
from cardrecipe.render.papers import Printing
from cardrecipe.render.pdf import set_pages
from cardrecipe.render.prose import title_shown
from cardrecipe.render.variants.pdf_data import variants_data

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

TEMPLATES = (
    "look.typ", "comparison.typ", "sheet.typ", "layouts.typ", "work.typ", "variants.typ", "templates.typ",
)  # fmt: skip


def render_variants_pdf(
    sheet: VariantSheet, cards: Sequence[Mapping[str, "Drawing"]], printing: Printing
) -> bytes:
    """The printable sheet, tagged as PDF/UA-1 asks."""
    return set_pages(TEMPLATES, variants_data(sheet, cards, printing), title_shown(sheet.plain.title))
