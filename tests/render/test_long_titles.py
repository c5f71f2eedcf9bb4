"""A title of thousands of letters is set in full where it heads the sheet; at the foot it is cut."""

import io

import pytest
from pypdf import PdfReader

from cardrecipe.plan.card import plan
from cardrecipe.render.pages import render
from cardrecipe.render.papers import Printing
from tests.recipes import HEAD, compile_text

CARD = "base card from ink\n  flat 12 x 8\n  score 6 from left\n  sections front, back\n"


def _pages(title: str) -> list[str]:
    """What is written on each page of the PDF of a card with that title."""
    folded = compile_text(HEAD.replace("Evening walk", title) + CARD).folded
    assert folded is not None
    pdf = render(plan(folded)[0], ["pdf"], [Printing("letter")])[".pdf"]
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]


@pytest.mark.parametrize(
    ("title", "most"), [("\u00d8" * 390, 390), ("\u00d8" * 3000, 400), ("\u00d8" * 199, 199)]
)
def test_the_foot_holds_no_more_of_it_than_a_line(title: str, most: int) -> None:
    first, *_, last = _pages(title)
    assert first.count("\u00d8") >= len(title)
    assert last.count("\u00d8") == most
