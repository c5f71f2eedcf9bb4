"""The samples as printed sheets, each made once, and what poppler reads in them: every word with its box."""

import re
import shutil
import subprocess
from collections.abc import Iterable
from functools import cache
from html import unescape
from io import BytesIO
from typing import NamedTuple

from pypdf import PdfReader

from cardrecipe.compile import compile_recipe
from cardrecipe.files import FolderTexts
from cardrecipe.model.texts import NoTexts
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.drawings import drawings
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.render.papers import Printing
from cardrecipe.render.pdf import render_pdf
from cardrecipe.sheets import sheet_of
from cardrecipe.syntax.source import Source
from tests.library.folds_page import first_recipe
from tests.recipes import SAMPLES, sample_cards

NAMES = tuple(path.stem for path in sample_cards())
PAGES = ("letter", "a4")
HAS_POPPLER = shutil.which("pdftotext") is not None

_PAGE = re.compile(r'<page width="([\d.]+)" height="([\d.]+)">(.*?)</page>', re.DOTALL)
_WORD = re.compile(
    r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>', re.DOTALL
)


class Word(NamedTuple):
    """A word and its box in points from the left top of the page."""

    left: float
    top: float
    right: float
    bottom: float
    text: str


class Page(NamedTuple):
    width: float
    height: float
    words: tuple[Word, ...]

    @property
    def text(self) -> str:
        return " ".join(word.text for word in self.words)


@cache
def sample(name: str) -> tuple[Sheet, dict[str, Drawing]]:
    path = SAMPLES / f"{name}.recipe"
    source = Source(str(path), path.read_text(encoding="utf-8"))
    sheet = sheet_of(compile_recipe(source, FolderTexts(str(path))))
    card = sheet.folded.card._replace(makes=sheet.copies)
    return sheet, drawings(sheet.folded._replace(card=card), plans=sheet.paper_plans)


@cache
def structure(name: str) -> tuple[Sheet, dict[str, Drawing]]:
    """The sheet of the reference page's own example of a shipped structure."""
    sheet = sheet_of(compile_recipe(Source("card.recipe", first_recipe(name)), NoTexts()))
    return sheet, drawings(sheet.folded, plans=sheet.paper_plans)


@cache
def printed(name: str, printing: Printing) -> bytes:
    sheet, pictures = sample(name)
    return render_pdf(sheet, pictures, printing)


def reader(name: str, printing: Printing) -> PdfReader:
    return PdfReader(BytesIO(printed(name, printing)))


@cache
def pages(name: str, printing: Printing) -> tuple[Page, ...]:
    """All pages but the true-scale ones, which have tests of their own."""
    return tuple(
        page for page in pages_of(printed(name, printing)) if not page.text.startswith(("Template", "Part "))
    )


def pages_of(pdf: bytes) -> tuple[Page, ...]:
    command = ["pdftotext", "-bbox", "-", "-"]
    found = subprocess.run(command, input=pdf, capture_output=True, check=True).stdout.decode()
    return tuple(
        Page(
            float(page[1]),
            float(page[2]),
            tuple(
                Word(float(word[1]), float(word[2]), float(word[3]), float(word[4]), unescape(word[5]))
                for word in _WORD.finditer(page[3])
            ),
        )
        for page in _PAGE.finditer(found)
    )


def meetings(words: Iterable[Word]) -> list[tuple[Word, Word]]:
    """The pairs of words whose letters meet by more than half a point."""
    boxes = sorted((_letters(word) for word in words), key=lambda word: word.top)
    found = []
    for place, one in enumerate(boxes):
        for other in boxes[place + 1 :]:
            if other.top > one.bottom - 0.5:
                break
            across = min(one.right, other.right) - max(one.left, other.left)
            down = min(one.bottom, other.bottom) - other.top
            if across > 0.5 and down > 0.5:
                found.append((one, other))
    return found


def _letters(word: Word) -> Word:
    """A box of poppler reaches from the font's ascent (1.011 of the size) to its descent (0.353).

    Capitals are 0.705 high, commas 0.22 deep. A word that is taller than wide stands upright, read from its
    foot; which of the two a short one does cannot be told, so that its box is made smaller both ways.
    """
    high, wide = word.bottom - word.top, word.right - word.left
    is_short = len(word.text) < 5
    if is_short or high > wide:
        word = word._replace(left=word.left + 0.22 * wide, right=word.right - 0.1 * wide)
    if is_short or high <= wide:
        word = word._replace(top=word.top + 0.22 * high, bottom=word.bottom - 0.1 * high)
    return word
