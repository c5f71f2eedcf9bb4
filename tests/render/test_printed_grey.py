"""Grey: no colour is left on any page, contrasts stay, and papers are still told apart."""

import re
from collections.abc import Iterator
from io import BytesIO
from itertools import combinations
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import StreamObject

from cardrecipe.model.papers import Paper
from cardrecipe.render.drawings.colors import contrast
from cardrecipe.render.papers import Printing
from cardrecipe.render.printed.grey import HATCHINGS, grey, grey_pictures, hatchings
from tests.hand_made import PAPERS, double_gate
from tests.render.printed_samples import NAMES, printed, sample

COLOR = re.compile(rb"([\d.]+) ([\d.]+) ([\d.]+) (?:scn|SCN|rg|RG|sc|SC)\b")


def _colors(pdf: bytes) -> Iterator[tuple[float, float, float]]:
    """Every colour of three parts that a page, a pattern or a form is painted with."""
    document = PdfReader(BytesIO(pdf))
    for number in range(1, int(str(document.trailer["/Size"]))):
        part: Any = document.get_object(number)
        if isinstance(part, StreamObject) and "/Length1" not in part and part.get("/Type") != "/Metadata":
            for found in COLOR.finditer(part.get_data()):
                yield float(found[1]), float(found[2]), float(found[3])


@pytest.mark.parametrize("page", ["letter", "a4"])
@pytest.mark.parametrize("name", NAMES)
def test_no_colour_is_left(name: str, page: str) -> None:
    found = set(_colors(printed(name, Printing(page, in_grey=True))))
    assert found
    assert all(max(color) - min(color) < 1e-6 for color in found), sorted(found)


def test_the_test_sees_colour() -> None:
    found = set(_colors(printed("night-market", Printing("letter"))))
    assert any(max(color) - min(color) > 0.3 for color in found)


@pytest.mark.parametrize(
    "color", ["#12607f", "#a23c1c", "#22304a", "#f2b45c", "#8c4a00", "#000000", "#ffffff"]
)
def test_a_grey_has_the_luminance_of_its_colour(color: str) -> None:
    """WCAG 2.2: contrast is a matter of luminance alone; eight bits round it by at most two hundredths."""
    for other in ("#ffffff", "#000000"):
        assert contrast(grey(color), other) == pytest.approx(contrast(color, other), rel=0.02)


def test_a_short_colour_is_read_too() -> None:
    assert grey("#fff") == "#ffffff" and grey("#F00") == grey("#ff0000")


def _card(**colors: str) -> Any:
    """A card with plain card of these colours."""
    papers = {
        name: Paper(name, "cardstock", name, PAPERS["ink"].sheets, PAPERS["ink"].span, color=color)
        for name, color in colors.items()
    }
    return double_gate()._replace(papers=papers)


def test_papers_of_near_greys_are_hatched_each_in_its_own_way() -> None:
    found = hatchings(_card(moss="#5b6e3a", brick="#a2543c", sea="#3a6e78", snow="#ffffff"))
    assert found["moss"] == 0 and found["snow"] == 0
    assert len({found["moss"], found["brick"], found["sea"]}) == 3


@pytest.mark.parametrize("name", NAMES)
def test_two_papers_of_a_sample_differ_in_grey_or_motif(name: str) -> None:
    from cardrecipe.render.drawings.paint import paper_look

    card = sample(name)[0].folded.card
    places = hatchings(card)
    for one, other in combinations(card.papers, 2):
        first, second = paper_look(card, one), paper_look(card, other)
        assert (
            first.pattern != second.pattern
            or places[one] != places[other]
            or contrast(first.fill, second.fill) >= 2
        )


def test_a_hatched_paper_is_hatched_in_its_pictures() -> None:
    from cardrecipe.render.drawings.svg import Drawing

    card = _card(moss="#5b6e3a", brick="#a2543c")
    path = '<path d="M0 0L9 0L9 9Z" fill="{}" stroke="#2b2926" stroke-width="0.35"/>'
    svg = "<svg><title>t</title><desc>d</desc>" + path.format("#5b6e3a") + path.format("#a2543c") + "</svg>"
    made = grey_pictures({"a": Drawing("a", "", "", svg, 9, 9)}, card)["a"].svg
    assert made.count("<pattern") == 1 and HATCHINGS[1] in made
    assert made.count('fill="url(#hatching-0)"') == 1
    assert "#5b6e3a" not in made and "#a2543c" not in made
