"""The pack of a class as a PDF, through typst, tagged as PDF/UA-1 asks."""

from cardrecipe.plan.classes.sheet import ClassSheet
from cardrecipe.render.class_pack.pdf_data import Pictures, class_data
from cardrecipe.render.papers import Printing
from cardrecipe.render.pdf import set_pages
from cardrecipe.render.prose import title_shown

# Each uses the names of those before it.
TEMPLATES = ("look.typ", "layouts.typ", "class.typ", "templates.typ", "labels.typ")


def render_class_pdf(sheet: ClassSheet, pictures: Pictures, printing: Printing) -> bytes:
    """The printed pack: what is read first, the labels last."""
    return set_pages(TEMPLATES, class_data(sheet, pictures, printing), title_shown(sheet.title))
