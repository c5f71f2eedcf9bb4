"""The one sheets of recipes with variants, each made once for all tests of a run."""

from functools import cache
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory

from pypdf import PdfReader

from cardrecipe.render.pages import render_variants
from cardrecipe.render.papers import Printing
from tests.variant_recipes import TEXTS, together


@cache
def html(name: str, page: str = "letter") -> str:
    return render_variants(together(TEXTS[name]), ["html"], [Printing(page)])[".html"].decode()


@cache
def html_file(name: str) -> Path:
    path = Path(_folder().name) / f"{name}.html"
    path.write_text(html(name), "utf-8")
    return path


@cache
def pdf(name: str, printing: Printing) -> bytes:
    return render_variants(together(TEXTS[name]), ["pdf"], [printing])[".pdf"]


def reader(name: str, printing: Printing) -> PdfReader:
    return PdfReader(BytesIO(pdf(name, printing)))


@cache
def markdown(name: str) -> str:
    return render_variants(together(TEXTS[name]), ["md"])[".md"].decode()


@cache
def _folder() -> TemporaryDirectory[str]:
    return TemporaryDirectory(prefix="one-sheets-")  # it goes with the run
