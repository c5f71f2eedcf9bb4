"""What holds for every drawing of every card."""

import os
import subprocess
import sys
from collections import Counter
from itertools import combinations

import pytest

from cardrecipe.model.lengths import with_unit, written
from cardrecipe.plan.cutting.card_plans import card_plans
from cardrecipe.plan.layers import stacked_layers
from cardrecipe.plan.step_pictures import ANY_PAPER, step_pictures
from cardrecipe.render.drawings import Drawing, drawings
from cardrecipe.render.drawings.cut_sheets import sheet_drawing
from tests.render.drawings import cards, read_back

ALL = {
    name: (card, drawings(cards.folded(card), plans=card_plans(card, 1)))
    for name, card in {
        **cards.hand_made_cards(),
        **cards.random_strips(12),
        **cards.random_pieces(8),
    }.items()
}
# The cutting plans of several cards, and of the samples.
SHEETS = {
    f"{name}-{copies}/{layout.number}": sheet_drawing(card, plan, layout)
    for name, card, copies, plans in (
        *((name, card, 6, card_plans(card, 6)) for name, card in cards.hand_made_cards().items()),
        *((name, card, n, cards.sample_plans(name, n))
          for name, card in cards.samples().items() for n in (1, 30)),
    )
    for plan in plans
    for layout in plan.layouts
}  # fmt: skip
EVERY = [
    *(pytest.param(d, id=f"{name}/{d.name}") for name, (_, made) in ALL.items() for d in made.values()),
    *(pytest.param(d, id=name) for name, d in SHEETS.items()),
]
COMMON = [
    d for name in cards.hand_made_cards() if name != "narrow" for d in ALL[name][1].values()
]
TEXT_FLOOR_MM = 7.8 * read_back.POINT_MM
# The most in mm, across and down, by the first word of a drawing's name.
MOST = {
    "score": (180, 95),
    "legend": (120, 60),
    "sheet": (75, 92),
    "layers": (130, 92),
    **dict.fromkeys(("closed", "open", "finished"), (84, 60)),
    "": (75, 56),  # steps: three in a column
}
OVERLAP_MM = 0.05  # less than the pen's width
ELEMENTS = {"svg", "title", "desc", "path", "circle", "rect", "text", "defs", "pattern"}
ATTRIBUTES = {
    *("width", "height", "viewBox", "role", "aria-labelledby", "aria-describedby", "id", "d"),
    *("cx", "cy", "r", "x", "y", "transform", "fill", "fill-rule", "fill-opacity", "stroke"),
    *("stroke-width", "stroke-dasharray", "stroke-linecap", "stroke-linejoin", "font-family"),
    *("font-size", "font-weight", "text-anchor", "patternUnits", "patternTransform", "data-piece"),
}


@pytest.mark.parametrize("drawing", EVERY)
def test_a_drawing_says_what_it_is(drawing: Drawing) -> None:
    root = read_back.root(drawing.svg)
    title, desc = root.find(f"{read_back.SVG}title"), root.find(f"{read_back.SVG}desc")
    assert title is not None and title.text == drawing.title
    assert desc is not None and desc.text == drawing.description
    assert desc.text and desc.text.endswith(".")
    assert root.attrib["role"] == "img"
    assert root.attrib["aria-labelledby"] == title.attrib["id"]
    assert root.attrib["aria-describedby"] == desc.attrib["id"]


@pytest.mark.parametrize("drawing", EVERY)
def test_a_drawing_states_its_true_size(drawing: Drawing) -> None:
    root, box = read_back.root(drawing.svg), read_back.picture(drawing.svg)
    assert float(root.attrib["width"].removesuffix("mm")) == pytest.approx(box.right - box.left)
    assert float(root.attrib["height"].removesuffix("mm")) == pytest.approx(box.bottom - box.top)
    assert drawing.width_mm == pytest.approx(box.right - box.left)


@pytest.mark.parametrize("drawing", EVERY)
def test_a_drawing_keeps_to_the_room_that_the_page_has_for_it(drawing: Drawing) -> None:
    kind = drawing.name.split("-")[0]
    wide, high = MOST.get(kind, MOST[""])
    assert drawing.width_mm <= wide + 0.001
    assert drawing.height_mm <= (high if drawing in COMMON else 110) + 0.001


@pytest.mark.parametrize("drawing", EVERY)
def test_only_what_browsers_and_typst_both_draw_is_used(drawing: Drawing) -> None:
    for each in read_back.root(drawing.svg).iter():
        assert each.tag.removeprefix(read_back.SVG) in ELEMENTS
        assert set(each.attrib) <= ATTRIBUTES, set(each.attrib) - ATTRIBUTES


@pytest.mark.parametrize("drawing", EVERY)
def test_no_label_covers_another(drawing: Drawing) -> None:
    for one, other in combinations(read_back.words(drawing.svg), 2):
        assert one.room.overlap(other.room) <= OVERLAP_MM, (one.text, other.text)


@pytest.mark.parametrize("drawing", EVERY)
def test_no_label_leaves_its_picture_or_is_too_small(drawing: Drawing) -> None:
    box = read_back.picture(drawing.svg)
    for each in read_back.words(drawing.svg):
        assert each.size >= TEXT_FLOOR_MM, each.text
        assert each.room.left >= box.left and each.room.right <= box.right, each.text
        assert each.room.top >= box.top and each.room.bottom <= box.bottom, each.text


@pytest.mark.parametrize("name", ALL)
def test_ids_are_used_once_and_references_resolve(name: str) -> None:
    found: Counter[str] = Counter()
    for drawing in ALL[name][1].values():
        root = read_back.root(drawing.svg)
        ids = [each.attrib["id"] for each in root.iter() if "id" in each.attrib]
        found.update(ids)
        for each in root.iter():
            fill = each.attrib.get("fill", "")
            assert not fill.startswith("url(#") or fill[5:-1] in ids
    assert [each for each, times in found.items() if times > 1] == []


@pytest.mark.parametrize("name", ALL)
def test_every_solved_size_is_written(name: str) -> None:
    card, made = ALL[name]
    for piece in card.pieces:
        texts = read_back.texts(made[f"piece-{piece.name}"].svg)
        assert with_unit(piece.width, card.unit) in texts
        assert with_unit(piece.height, card.unit) in texts
    for base in card.bases:
        texts = read_back.texts(made[f"score-{base.name}"].svg)
        for score in base.scores:
            assert written(score.at, card.unit) in texts
            assert str(score.number) in texts
        for length in (base.width, base.height):
            assert with_unit(length, card.unit) in texts


@pytest.mark.parametrize("name", ALL)
def test_the_names_of_all_drawings_agreed_with_the_plan_are_there(name: str) -> None:
    card, made = ALL[name]
    folded = cards.folded(card)
    wanted = {"legend"} | {f"piece-{piece.name}" for piece in card.pieces}
    wanted |= {f"place-{piece.name}" for piece in card.pieces if piece.placements}
    wanted |= {f"score-{piece.name}" for piece in card.pieces if piece.scores}
    wanted |= {f"cut-{piece.paper}" for piece in card.pieces if piece.paper}
    for closed in folded.closed:
        wanted |= {"finished", "closed-front", "closed-back", "open-inside", "open-outside"}
        each_fold = {f"fold-{closed.base}-{k + 1}" for k in range(len(closed.moves))}
        wanted |= {f"fold-{closed.base}-fan"} if len(closed.moves) > 4 else each_fold
        wanted |= {f"band-{piece.name}" for piece in card.pieces if piece.around}
    wanted |= {step.name for step in step_pictures(folded) if folded.closed or step.what != "band"}
    wanted |= {layers.picture for layers in stacked_layers(folded)}
    wanted |= {ANY_PAPER for piece in card.pieces if piece.paper is None}
    wanted |= {f"sheet-{layout.number}" for plan in card_plans(card, 1) for layout in plan.layouts}
    assert set(made) == wanted


@pytest.mark.parametrize("name", ALL)
def test_closed_views_state_the_closed_size(name: str) -> None:
    card, made = ALL[name]
    for closed in cards.folded(card).closed:
        for view in ("closed-front", "closed-back"):
            assert with_unit(closed.width, card.unit) in read_back.texts(made[view].svg)
            assert with_unit(closed.height, card.unit) in read_back.texts(made[view].svg)


def test_the_same_card_gives_the_same_bytes_whatever_the_hash_seed() -> None:
    sums = {_sum_in_a_new_process(seed) for seed in ("0", "1", "4711")}
    assert sums == {cards.sum_of_a_gate()}


def _sum_in_a_new_process(seed: str) -> str:
    code = "from tests.render.drawings.cards import sum_of_a_gate; print(sum_of_a_gate())"
    environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)}
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env=environment
    )
    return done.stdout.strip()
