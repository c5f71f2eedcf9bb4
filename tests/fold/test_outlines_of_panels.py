"""Panels with the outline of their section: within it on every shipped fold, glued all over, and hiding,
showing and gluing no more than their own paper; areas are shapely's."""

from fractions import Fraction

import pytest
from shapely import Polygon

from cardrecipe.compile import Compiled, compile_recipe
from cardrecipe.fold.card import may_lock
from cardrecipe.fold.closed import FlatFold, flat_fold
from cardrecipe.fold.folded import FoldedCard, Outline
from cardrecipe.fold.motions import moved
from cardrecipe.fold.outlines import laid, own_outline, widest_outline
from cardrecipe.fold.placing import Placed, placed_pieces
from cardrecipe.fold.visible import visible_areas
from cardrecipe.library.folds import fold_names
from cardrecipe.model.texts import NoTexts
from cardrecipe.syntax.source import Source
from tests.library.test_structures import BORDER, base, errors

HIDDEN_INSIDES = {("double-easel", "prop")}  # that side of the prop is itself glued to what it leans on
TRIANGLE = base("triangle", "inch")


def compiled(text: str) -> Compiled:
    return compile_recipe(Source("card.recipe", text), NoTexts())


def folded(text: str) -> FoldedCard:
    found = compiled(text)
    assert errors(found) == [] and found.folded is not None
    return found.folded


def polygon(ring: Outline) -> Polygon:
    return Polygon([(float(x), float(y)) for x, y in ring])


def laid_out(card: FoldedCard) -> tuple[FlatFold, dict[str, Placed]]:
    flat = flat_fold(card.card.bases[0])
    assert isinstance(flat, FlatFold)
    return flat, {each.piece.name: each for each in placed_pieces(card.card, flat)}


@pytest.mark.parametrize("side", ["inside", "outside"])
@pytest.mark.parametrize("unit", ["inch", "mm"])
@pytest.mark.parametrize("name", fold_names())
def test_a_panel_with_a_border_lies_within_its_section_and_locks_nothing(
    name: str, unit: str, side: str
) -> None:
    plain = folded(base(name, unit))
    sections = [each for each in plain.card.bases[0].sections if (name, each.name) not in HIDDEN_INSIDES]
    lines = [f"panel on-{each.name} from white on {each.name} {side}\n" for each in sections]
    card = folded(base(name, unit) + "".join(lines))
    step = 1 / 16 if unit == "inch" else 1
    if len(plain.card.pieces) > 1:
        return  # a fold of several sheets is not looked at as one flat base
    _, places = laid_out(card)
    for each in sections:
        here = places[f"on-{each.name}"]
        mine, whole = polygon(laid(here.piece, here.frame)), polygon(each.outline)
        drawn = whole.buffer(-float(BORDER[unit]), join_style="mitre", mitre_limit=10_000)
        assert mine.difference(drawn.buffer(1e-6)).area == 0, each.name
        assert drawn.difference(mine.buffer(2 * step, join_style="mitre", mitre_limit=10_000)).area < 1e-6


def test_its_outline_is_all_of_it_and_all_of_it_takes_glue() -> None:
    card = folded(f"{TRIANGLE}panel inner from white on front\n")
    piece = card.card.piece("inner")
    assert own_outline(piece) == widest_outline(piece) == piece.outline
    assert not may_lock(card.card)


def test_what_lies_beside_its_slanted_edge_is_seen() -> None:
    text = f"{TRIANGLE}panel inner from white on front\npanel other from white on back\n"
    card = folded(text)
    view = next(each for each in card.views if each.name == "open-inside")
    areas = {part.piece: sum(polygon(ring).area for ring in rings)
             for part, rings in visible_areas(view, card.card) if part.section is None}  # fmt: skip
    for name in ("inner", "other"):
        outline = card.card.piece(name).outline
        assert outline is not None and areas[name] == pytest.approx(polygon(outline).area)


def test_a_view_is_no_wider_than_the_paper() -> None:
    card = folded(f"{TRIANGLE}panel outer from white on front outside\npanel inner from white on front\n")
    assert {(view.width, view.height) for view in card.views} == {(Fraction(4), Fraction(4))}


@pytest.mark.parametrize(("place", "code"), [
    ("1/4 from left, 1/4 from top", []), ("1/4 from right, 1/4 from bottom", ["glue-nowhere"]),
])  # fmt: skip
def test_what_lies_on_it_must_lie_on_its_paper(place: str, code: list[str]) -> None:
    words = "rectangle words from white on inner\n  size 1/2 x 1/2\n"
    text = f"{TRIANGLE}panel inner from white on front\n{words}"
    assert errors(compiled(f"{text}  place {place}\n")) == code


def test_on_a_folded_outside_things_are_upright_as_one_sees_the_closed_card() -> None:
    text = (
        f"{TRIANGLE}panel outer from white on front outside\nrectangle words from white on outer\n"
        "  size 1 1/2 x 1/2\n  place 1/4 from right, 1/2 from bottom\n"
    )
    card = folded(text)
    front = next(each for each in card.views if each.name == "closed-front")
    words = next(each for each in front.parts if each.piece == "words").outline
    left_top, right_top, _, left_low = words
    assert left_top[1] == right_top[1] < left_low[1] and left_top[0] < right_top[0]
    outer = next(each for each in front.parts if each.piece == "outer")
    outline = polygon(laid(card.card.piece("outer"), outer.outline))
    assert polygon(words).difference(outline).area == 0
    assert polygon(moved_front(card)).contains(outline)


def moved_front(card: FoldedCard) -> Outline:
    flat, _ = laid_out(card)
    at = next(index for index, each in enumerate(flat.sections) if each.name == "front")
    return moved(flat.motions[at], flat.sections[at].outline)


@pytest.mark.parametrize(("size", "code"), [("1 3/4 x 5 3/4", ["glue-locks"]), ("1 3/4 x 3 3/4", [])])
def test_a_rectangle_on_a_section_with_four_corners_may_still_reach_over_its_slanted_score(
    size: str, code: list[str]
) -> None:
    panel = f"panel leaf from white on left-door outside\n  size {size}\n  place 1/8 from bottom\n"
    assert errors(compiled(base("diagonal-gate", "inch") + panel)) == code
