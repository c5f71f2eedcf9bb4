"""What the picture of a cutting plan shows, read back from its SVG: pieces, settings, letters, offcuts."""

import re
from collections.abc import Iterator
from itertools import combinations

import pytest

from cardrecipe.plan.cutting.card_plans import NumberedLayout, PaperPlan, card_plans
from cardrecipe.plan.cutting.cut_list import letters, settings
from cardrecipe.plan.cutting.job import Part
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings import Drawing
from cardrecipe.render.drawings.cut_sheets import sheet_drawing
from tests.render.drawings import cards, read_back


def _shown() -> Iterator[tuple[str, PaperPlan, NumberedLayout, Drawing]]:
    samples = cards.samples().items()
    made = [(name, card, n, cards.sample_plans(name, n)) for name, card in samples for n in (1, 6, 30)]
    made += [(name, card, 10, card_plans(card, 10)) for name, card in cards.random_pieces(20).items()]
    for name, card, copies, plans in made:
        for plan in plans:
            for layout in plan.layouts:
                yield f"{name}-{copies}/{layout.number}", plan, layout, sheet_drawing(card, plan, layout)


EVERY = [pytest.param(*each, id=name) for name, *each in _shown()]


def _leaves(part: Part) -> list[Part]:
    return [leaf for each in part.parts for leaf in _leaves(each)] if part.parts else [part]


def _pieces(svg: str) -> list[read_back.Rectangle]:
    """The rectangles of the first filled path."""
    path = next(each for each in read_back.root(svg).iter(f"{read_back.SVG}path") if "Z" in each.attrib["d"])
    found = []
    for one in re.findall("[^Z]+", path.attrib["d"]):
        numbers = [float(each) for each in re.findall(r"-?[\d.]+", one)]
        xs, ys = numbers[::2], numbers[1::2]
        found.append(read_back.Rectangle(min(xs), min(ys), max(xs), max(ys)))
    return found


def _edge(svg: str) -> read_back.Rectangle:
    """The edge of the sheet: the one line that comes back to where it began."""
    found = [read_back.numbers(path) for path in read_back.root(svg).iter(f"{read_back.SVG}path")
             if re.fullmatch("M[^A-Z]+(L[^A-Z]+){4}", path.attrib["d"])]  # fmt: skip
    (numbers,) = [each for each in found if each[:2] == each[-2:]]
    return read_back.Rectangle(*numbers[:2], *numbers[4:6])


@pytest.mark.parametrize(("plan", "layout", "drawing"), EVERY)
def test_pieces_are_all_there_to_scale_and_none_covers_another(
    plan: PaperPlan, layout: NumberedLayout, drawing: Drawing
) -> None:
    cut = [each for each in _leaves(layout.layout.root) if each.blank is not None]
    drawn = _pieces(drawing.svg)
    assert len(drawn) == len(cut)
    assert all(one.overlap(other) < 0.05 for one, other in combinations(drawn, 2))
    left, top, right, bottom = _edge(drawing.svg)
    assert all(each.left >= left - 0.05 and each.right <= right + 0.05 for each in drawn)
    assert all(each.top >= top - 0.05 and each.bottom <= bottom + 0.05 for each in drawn)
    scale = (right - left) / layout.layout.root.width
    sizes = sorted(each for leaf in cut for each in (leaf.width * scale, leaf.height * scale))
    seen = sorted(side for each in drawn for side in (each.right - each.left, each.bottom - each.top))
    assert seen == pytest.approx(sizes, abs=0.03)


@pytest.mark.parametrize(("plan", "layout", "drawing"), EVERY)
def test_every_setting_and_every_lettered_strip_of_the_cut_list_is_in_the_picture(
    plan: PaperPlan, layout: NumberedLayout, drawing: Drawing
) -> None:
    texts, root = read_back.texts(drawing.svg), layout.layout.root
    wanted = {str(each.number) for each in settings(root)} | set(letters(root).values()) - {""}
    assert wanted <= set(texts)


@pytest.mark.parametrize(("plan", "layout", "drawing"), EVERY)
def test_every_piece_is_named_or_has_a_key_that_is_told(
    plan: PaperPlan, layout: NumberedLayout, drawing: Drawing
) -> None:
    texts = read_back.texts(drawing.svg)
    for name in {each.blank for each in _leaves(layout.layout.root) if each.blank is not None}:
        keys = [text.split(":")[0] for text in texts if f": {spoken(name)} " in text]
        assert spoken(name) in texts or any(key in texts for key in keys), name


@pytest.mark.parametrize(("plan", "layout", "drawing"), EVERY)
def test_words_lie_in_the_picture_and_apart(
    plan: PaperPlan, layout: NumberedLayout, drawing: Drawing
) -> None:
    words, box = read_back.words(drawing.svg), read_back.picture(drawing.svg)
    for one, other in combinations(words, 2):
        assert one.room.overlap(other.room) <= 0.05, (one.text, other.text)
    for each in words:
        assert box.left <= each.room.left and each.room.right <= box.right, each.text
        assert box.top <= each.room.top and each.room.bottom <= box.bottom, each.text
