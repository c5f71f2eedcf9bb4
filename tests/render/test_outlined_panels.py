"""A panel with an outline of its own is drawn as that outline, and card.json tells it."""

import json
import re
from fractions import Fraction

import pytest

from cardrecipe.plan.card import plan
from cardrecipe.render.card_json import render_json
from cardrecipe.render.drawings.index import drawings
from cardrecipe.render.drawings.inner_box import inner_box
from cardrecipe.render.drawings.marks import Box
from tests.counted import calls
from tests.fold.test_outlines_of_panels import folded
from tests.library.test_structures import base
from tests.render.drawings.read_back import root, words
from tests.render.test_card_json import VALIDATOR

TEXT = f"{base('triangle', 'inch')}panel leaf from white on front\npanel cover from white on front outside\n"
NUMBER = re.compile(r"-?[\d.]+")


def triangles(svg: str) -> list[list[float]]:
    """The edges, as lengths, of every closed path of three corners."""
    found = []
    for path in root(svg).iter():
        data = path.attrib.get("d", "")
        numbers = [float(each) for each in NUMBER.findall(data)]
        if len(numbers) == 6 and data.endswith("Z"):
            corners = [complex(*numbers[at : at + 2]) for at in (0, 2, 4)]
            found.append(sorted(abs(corners[at] - corners[at - 1]) for at in range(3)))
    return found


@pytest.mark.parametrize("name", ["piece-leaf", "place-leaf", "place-cover", "open-inside", "closed-front"])
def test_it_is_drawn_with_its_own_outline(name: str) -> None:
    drawing = drawings(folded(TEXT))[name]
    sides = triangles(drawing.svg)
    assert any(abs(one - two) < 0.05 and abs(three - one * 2**0.5) < 0.05 for one, two, three in sides)


def test_its_name_stands_on_its_paper() -> None:
    card = folded(f"{base('triangle', 'inch')}panel leaf from white on front\n")
    svg = drawings(card)["piece-leaf"].svg  # its right angle lies at (0, 0)
    (told,) = [each.room for each in words(svg) if each.text == "leaf"]
    leg = max(short for short, _, _ in triangles(svg))
    assert told.left >= 0 and told.top >= 0 and told.right + told.bottom <= leg


def test_the_roomiest_box_of_a_triangle_takes_half_of_it_each_way() -> None:
    leaf = folded(TEXT).card.piece("leaf")
    box = inner_box(leaf, Box(0, 0, 10, 10), 1.0)
    assert 4.5 < box.width <= 5.0 + 1e-6 and box.right + box.bottom <= 10 + 1e-6


@pytest.mark.parametrize("ratio", [0.1, 1.0])
def test_most_places_are_given_up_at_a_look(ratio: float) -> None:
    """Where an edge is too near for a larger box than the best so far, no other edge is looked at."""
    leaf, frame = folded(TEXT).card.piece("leaf"), Box(0, 0, 10, 10)
    assert calls(lambda: inner_box(leaf, frame, ratio)) < 10_000  # 11,000 where all edges are


def test_card_json_tells_the_outline_and_keeps_to_its_schema() -> None:
    sheet, _ = plan(folded(TEXT))
    value = json.loads(render_json(sheet))
    VALIDATOR.validate(value)
    leaf = next(each for each in value["pieces"] if each["name"] == "leaf")
    assert [[Fraction(number) for number in corner] for corner in leaf["outline"]] == [
        [0, 0], [Fraction(57, 16), 0], [0, Fraction(57, 16)],
    ]  # fmt: skip
    assert "outline" not in next(each for each in value["pieces"] if each["name"] == "card")
