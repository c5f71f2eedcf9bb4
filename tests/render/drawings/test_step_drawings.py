"""The pictures of the steps, read back: what each shows, what is quiet in it, and where its arrows lead."""

import re
from fractions import Fraction
from itertools import pairwise, product
from xml.etree import ElementTree

import pytest

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.library.folds import fold_names
from cardrecipe.model.lengths import with_unit, written
from cardrecipe.model.work import Work
from cardrecipe.plan.cutting.card_plans import card_plans
from cardrecipe.plan.layers import stacked_layers
from cardrecipe.plan.scores import turned_round
from cardrecipe.plan.step_pictures import StepPicture, step_pictures
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings import Drawing, drawings
from cardrecipe.render.drawings.colors import ARROW, mixed, paper_color
from cardrecipe.render.drawings.legend import ROWS
from cardrecipe.render.drawings.score_step import first_distances
from tests.hand_made import SPAN, double_gate, piece, placed, side_fold
from tests.plan.cards import FRONT, every_card, folded, pocketed, tall_band
from tests.recipes import HEAD, compile_text
from tests.render.drawings import read_back
from tests.shipped import every_sample, structure

CARDS = {
    **{f"hand-made {number} {card.title}": folded(card) for number, card in enumerate(every_card())},
    **every_sample(),
    **{name: structure(name) for name in fold_names()},
}
DRAWN = {name: drawings(card) for name, card in CARDS.items()}
STEPS = [
    pytest.param(card, step, DRAWN[name][step.name], id=f"{name}/{step.name}")
    for name, card in CARDS.items()
    for step in step_pictures(card)
    if step.name in DRAWN[name]
]
ALL = pytest.mark.parametrize("name", CARDS)


def pieces_in(drawing: Drawing) -> list[str]:
    return re.findall(r'data-piece="([^"]*)"', drawing.svg)


def shapes_of(drawing: Drawing) -> list[tuple[str, ElementTree.Element]]:
    """The shapes that say which piece they are, with its name, as they are painted."""
    paths = read_back.root(drawing.svg).iter(f"{read_back.SVG}path")
    return [(each.attrib["data-piece"], each) for each in paths if "data-piece" in each.attrib]


def arrows(drawing: Drawing) -> int:
    """The small arrows that tell where things go."""
    return drawing.svg.count(f'stroke="{ARROW}" stroke-width="0.5"')


@ALL
def test_every_step_has_its_picture(name: str) -> None:
    assert {step.name for step in step_pictures(CARDS[name])} <= set(DRAWN[name])


@pytest.mark.parametrize(("card", "step", "drawing"), STEPS)
def test_a_picture_shows_the_piece_of_its_step(card: FoldedCard, step: StepPicture, drawing: Drawing) -> None:
    if step.what in ("score", "work", "place", "join", "finish", "extra") and step.piece not in bases(card):
        assert step.piece in pieces_in(drawing)
    elif step.what == "cut":
        named = {spoken(each.name) for each in card.card.pieces if (each.paper or "") == step.piece}
        assert all(name in drawing.description.lower() for name in named)
    else:
        assert spoken(step.piece) in (drawing.title + drawing.description).lower()


def bases(card: FoldedCard) -> set[str]:
    return {piece.name for piece in card.card.bases}


@pytest.mark.parametrize(("card", "step", "drawing"), [each for each in STEPS if "/place-" in str(each.id)])
def test_earlier_pieces_are_quiet_and_the_present_one_is_not(
    card: FoldedCard, step: StepPicture, drawing: Drawing
) -> None:
    papers = card.card.papers
    for name, element in shapes_of(drawing):
        if element.attrib["fill"].startswith("url"):
            continue
        full = paper_color(papers, card.card.piece(name).paper)
        wanted = {full} if name == step.piece else {mixed(full, "#ffffff", 0.5)}
        assert element.attrib["fill"] in wanted, name
    assert not set(pieces_in(drawing)) - step.done - {step.piece} - bases(card) - hosts(card, step)


def hosts(card: FoldedCard, step: StepPicture) -> set[str]:
    return {place.host_piece for place in card.card.piece(step.piece).placements}


# ---- scoring ----


@ALL
def test_the_picture_of_scoring_states_what_is_measured_before_the_piece_is_turned(name: str) -> None:
    card = CARDS[name].card
    for step in step_pictures(CARDS[name]):
        if step.what != "score":
            continue
        drawing, scored = DRAWN[name][step.name], card.piece(step.piece)
        texts = read_back.texts(drawing.svg)
        for axis in ("x", "y"):
            first, later = first_distances(card, scored, axis), turned_round(card, scored, axis)
            whole = scored.width if axis == "x" else scored.height
            every = {score.at for score in scored.scores if score.axis == axis}
            assert {*first, *(whole - at for at in later)} == every
            assert all(written(at, card.unit) in texts for at in first)
            assert not later or "turn round," in texts
        numbers = {str(score.number) for score in scored.scores if score.direction != "slit"}
        assert numbers <= set(texts)


# ---- working on a piece ----


def worked(*works: Work, size: tuple[str, str] = ("4", "2"), kind: str = "panel") -> Drawing:
    note = piece("note", kind, "white", size, placed("back", FRONT, size), works=works)
    return drawings(folded(side_fold(note)))["work-note"]


def test_a_stamp_stands_above_the_piece_and_its_arrow_leads_down_to_it() -> None:
    drawing = worked(Work("stamp", "Three boats", SPAN, ("Coal black",)))
    assert "stamp “Three boats” in Coal black" in read_back.texts(drawing.svg)
    assert arrows(drawing) == 1


def test_works_are_numbered_where_there_are_several() -> None:
    one = worked(Work("stamp", "Boats", SPAN))
    two = worked(Work("stamp", "Boats", SPAN), Work("ink-edges", "", SPAN, ("Rust",)))
    assert "1" not in read_back.texts(one.svg)
    assert {"1", "2", "stamp “Boats”", "ink the edges with Rust"} <= set(read_back.texts(two.svg))


def test_a_part_that_is_embossed_is_hatched_between_its_limits_and_measured() -> None:
    drawing = worked(Work("emboss", "Ripple", SPAN, middle=Fraction(2)))
    limits = [each for each in read_back.strokes(drawing.svg) if each.dash == "0.9 0.7"]
    across = sorted(each.points[0][0] for each in limits)
    scale = float(drawing_width(drawing)) / 4
    assert across[1] - across[0] == pytest.approx(2 * scale, abs=0.01)
    assert with_unit(Fraction(2), "inch") in read_back.texts(drawing.svg)


def drawing_width(drawing: Drawing) -> float:
    """How wide the piece is drawn."""
    across = read_back.numbers(shapes_of(drawing)[0][1])[::2]
    return max(across) - min(across)


def test_what_is_written_stands_on_the_piece() -> None:
    texts = read_back.texts(worked(Work("write", "A wish for you", SPAN)).svg)
    assert "A wish for you" in " ".join(texts[:-2])
    assert texts[-2:] == ["write “A wish for you”", "let it dry"]


VERBS = ("stamp", "emboss", "color", "die", "punch", "trim", "foil", "ink-edges", "write", "add")


@pytest.mark.parametrize("verb", VERBS)
def test_every_kind_of_work_marks_the_piece(verb: str) -> None:
    plain = worked(Work("do", "Bend it a little", SPAN))
    assert worked(Work(verb, "Moon", SPAN, item="ribbon")).svg.count("<path") > plain.svg.count("<path")
    assert read_back.texts(plain.svg) == ["Bend it a little"]


# ---- pockets, bands, joins, the maker's own steps ----


def test_a_loose_piece_is_drawn_half_way_into_its_pocket() -> None:
    drawing = drawings(folded(pocketed()))["place-ticket"]
    assert pieces_in(drawing) == ["ticket", "pocket"]  # the pocket lies over it
    assert "into pocket, from the top" in read_back.texts(drawing.svg)


def test_a_band_that_is_off_lies_beside_the_card() -> None:
    """Below the card, or right of it where it is wrapped downward."""
    cards = ((double_gate(), "place-plate", "sash", 1), (tall_band(), "place-label", "belt", 0))
    for made, name, band, axis in cards:
        drawing = drawings(folded(made))[name]
        off = next(read_back.numbers(path)[axis::2] for piece, path in shapes_of(drawing) if piece == band)
        dotted = [each.points for each in read_back.strokes(drawing.svg) if each.dash == "0.01 0.9"]
        assert min(off) > min(point[axis] for points in dotted for point in points)


def test_a_base_that_is_glued_to_itself_shows_which_part_goes_where() -> None:
    made = structure("box-lid")
    drawing = drawings(made)["join-card"]
    assert arrows(drawing) == len(made.card.piece("card").joins) == 4
    assert "tab 1 to left wall" in drawing.description


def test_a_step_of_the_maker_shows_the_card_as_it_is_then() -> None:
    made = every_sample()["night-market"]
    drawing = drawings(made)["extra-1"]
    assert "the card closed, its front up" in read_back.texts(drawing.svg)
    assert {"sash", "plate", "lantern-card", "door-paper"} <= set(pieces_in(drawing))


def test_a_step_of_the_maker_that_speaks_of_time_has_a_clock() -> None:
    """The words of the hand-made card: `Let the glue set. Ten minutes are enough.` and `Wash your hands`."""
    made = drawings(folded(pocketed()))
    assert "wait" in read_back.texts(made["extra-1"].svg) and made["extra-1"].svg.count("<circle") == 1
    assert "wait" not in read_back.texts(made["extra-2"].svg) and "<circle" not in made["extra-2"].svg


def test_a_gem_has_an_arrow_to_its_piece() -> None:
    drawing = drawings(folded(pocketed()))["finish-pocket"]
    assert "add gem “Moon”" in read_back.texts(drawing.svg)
    assert arrows(drawing) == 1
    assert "ticket" not in pieces_in(drawing)  # what is slipped in may be out


# ---- folds that move together ----


def test_a_ring_of_sections_is_told_in_both_directions() -> None:
    drawing = drawings(structure("box-pop-up"))["fold-card-1"]
    told = {"valley fold", "mountain fold", "scores 1, 3, 4 and 5", "score 2"}
    assert told <= set(read_back.texts(drawing.svg))
    assert "score 2, mountain" in drawing.title


# ---- the layers ----


@ALL
def test_layers_lie_in_the_order_of_the_pile(name: str) -> None:
    """The painter's order, bottom first, and the names from the top down."""
    for layers in stacked_layers(CARDS[name]):
        drawing = DRAWN[name][layers.picture]
        order = [layer.piece.name for level in layers.levels for layer in level]
        assert pieces_in(drawing) == order
        tops = {each.text.partition("  ×")[0]: each.room.top for each in read_back.words(drawing.svg)}
        for lower, upper in pairwise(layers.levels[1:]):
            for below, above in product(lower, upper):
                if below.section is above.section is None and below.piece.name != above.piece.name:
                    assert tops[spoken(above.piece.name)] < tops[spoken(below.piece.name)]


def test_only_three_layers_and_more_are_drawn_apart() -> None:
    assert [layers.picture for layers in stacked_layers(folded(double_gate()))] == ["layers"]
    assert [layers.picture for layers in stacked_layers(every_sample()["harbour-morning"])] == ["layers"]
    assert stacked_layers(folded(side_fold())) == ()
    two = side_fold(piece("message", "panel", "white", (3, 4), placed("back", FRONT, (3, 4))))
    assert stacked_layers(folded(two)) == ()


def test_every_layer_lies_on_one_that_is_one_lower() -> None:
    for card in map(folded, (double_gate(), tall_band(), pocketed())):
        for layers in stacked_layers(card):
            assert all(layers.levels)
            assert all(layer.section is not None for layer in layers.levels[0])


# ---- outsides that slanted folds turn ----


def test_a_panel_on_a_turned_outside_is_drawn_as_it_lies_in_the_end() -> None:
    text = HEAD + "base card from ink\n  fold triangle, width 4\npanel plate from ink on front outside\n"
    found = compile_text(text).folded
    assert found is not None
    made = drawings(found)
    shapes = [
        next(read_back.numbers(path) for piece, path in shapes_of(made[name]) if piece == "plate")
        for name in ("place-plate", "closed-front")
    ]
    assert _right_angle_at(shapes[0]) == _right_angle_at(shapes[1])


def _right_angle_at(numbers: list[float]) -> tuple[bool, bool]:
    """In which corner of its box a right-angled triangle has its right angle: right, bottom."""
    points = list(zip(numbers[::2], numbers[1::2], strict=True))
    for at, (x, y) in enumerate(points):
        (ax, ay), (bx, by) = points[at - 1], points[(at + 1) % len(points)]
        if abs((ax - x) * (bx - x) + (ay - y) * (by - y)) < 0.01:
            return x > (ax + bx) / 2, y > (ay + by) / 2
    raise AssertionError(points)


# ---- the legend ----


@ALL
def test_the_legend_tells_only_what_is_drawn(name: str) -> None:
    said = DRAWN[name]["legend"].description
    shown = "".join(drawing.svg for key, drawing in DRAWN[name].items() if key != "legend")
    traces = {
        "valley: fold": '"2.2 1.1"',
        "mountain: fold": '"4 1 0.5 1"',
        "covered edge": '"0.01 0.9"',
        "; goes behind the paper": '"0.01 1.3"',
        "turn the piece round": ">turn round,<",
    }
    for words, trace in traces.items():
        assert words not in said or trace in shown
    assert all(row.words in said for row in ROWS[:1])


def test_a_sheet_that_is_cut_up_explains_its_cutting_pictures() -> None:
    made = every_sample()["night-market"]
    with_plans = drawings(made, plans=card_plans(made.card, 1))["legend"].description
    assert "cut, with the number of its setting" in with_plans and "scrap" in with_plans
    assert "setting" not in drawings(made)["legend"].description

