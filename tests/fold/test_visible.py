"""The exact areas that show in each view: what shows is neither lost nor shown twice."""

import math
import random
from fractions import Fraction

import pytest
import shapely
from shapely.geometry import Polygon

from cardrecipe.fold.card import fold
from cardrecipe.fold.clip import total_area
from cardrecipe.fold.folded import Outline
from cardrecipe.fold.visible import SeenArea, _hull, visible_areas
from cardrecipe.solve.sized import SizedCard
from tests.hand_made import PAPERS, accordion, double_gate, gate, piece, placed, side_fold, tent, z_fold

F = Fraction
VIEWS = ("closed-front", "closed-back", "open-inside", "open-outside")


def seen(card: SizedCard, view: str) -> dict[str, SeenArea]:
    folded, _ = fold(card)
    areas = visible_areas(folded.view(view), card)
    return {each.part.section or f"{each.part.piece}/{each.part.copy}": each for each in areas}


def area(each: SeenArea) -> Fraction:
    return total_area(each.areas)


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("card", [side_fold(), tent(), gate(), z_fold(), accordion(5)], ids=lambda c: c.title)
def test_the_faces_of_a_bare_card_fill_its_view(card: SizedCard, view: str) -> None:
    folded, _ = fold(card)
    found = folded.view(view)
    assert sum(map(area, visible_areas(found, card))) == found.width * found.height


def test_what_covers_takes_away_what_it_covers() -> None:
    note = piece("note", "panel", "white", (3, 4), placed("back", (5, 7), (3, 4)))
    found = seen(gate(note), "open-inside")
    assert area(found["back"]) == 35 - 12
    assert area(found["note/0"]) == 12
    assert area(found["left-door"]) == F(35, 2)


@pytest.mark.parametrize("view", VIEWS)
def test_areas_lie_in_their_parts_and_apart_from_each_other(view: str) -> None:
    card = double_gate()
    found = list(seen(card, view).values())
    shapes = [shapely.union_all([as_polygon(ring) for ring in each.areas]) for each in found]
    for each, shape in zip(found, shapes, strict=True):
        assert shape.area == pytest.approx(float(area(each)))
        frame = as_polygon(each.part.outline).buffer(0.02)
        assert frame.contains(shape)
    is_straight = [card.piece(each.part.piece).kind not in ("oval", "tag") for each in found]
    for first in range(len(shapes)):
        for second in range(first):
            if is_straight[first] and is_straight[second]:
                assert shapes[first].intersection(shapes[second]).area < 1e-9


def test_nothing_that_shows_is_lost_beside_an_oval() -> None:
    found = seen(double_gate(), "closed-front")
    sash, plate = area(found["sash/0"]), area(found["plate/0"])
    covered = shapely.Point(0, 0).buffer(1, quad_segs=200)
    oval = shapely.affinity.scale(covered, F(3, 2), F(9, 8))
    strip = shapely.box(-17 / 8, -0.5, 17 / 8, 0.5)
    assert float(sash) >= strip.difference(oval).area
    assert float(sash) < strip.difference(oval).area + 0.05
    assert float(plate) < math.pi * 1.5 * 1.125


def test_vellum_covers_nothing_and_a_window_is_a_hole() -> None:
    ring = tuple((F(x), F(y)) for x, y in ((1, 1), (2, 1), (2, 2), (1, 2)))
    pane = piece("pane", "panel", "film", (4, 4), placed("back", (5, 7), (4, 4)))
    card = gate(pane)
    card = card._replace(papers={**card.papers, "film": PAPERS["white"]._replace(name="film", kind="vellum")})
    assert area(seen(card, "open-inside")["back"]) == 35
    framed = gate(pane._replace(paper="ink", windows=(ring,)))
    found = seen(framed, "open-inside")
    assert (area(found["pane/0"]), area(found["back"])) == (15, 35 - 15)


@pytest.mark.parametrize(("view", "left"), [("closed-front", F(1)), ("open-outside", F(17, 2))])
def test_a_window_in_a_door_shows_through_where_the_door_is(view: str, left: Fraction) -> None:
    """A window 1/2 to 3/2 from the free edge of the left door, seen from outside."""
    ring = tuple((F(x), F(y)) for x, y in (("1/2", 1), ("3/2", 1), ("3/2", 2), ("1/2", 2)))
    card = gate()
    base = card.bases[0]._replace(windows=(ring,))
    found = seen(card._replace(pieces=(base,)), view)["left-door"]
    assert area(found) == F(35, 2) - 1
    hole = Polygon([(float(x), float(y)) for x, y in ((left, 1), (left + 1, 1), (left + 1, 2), (left, 2))])
    assert all(as_polygon(each).intersection(hole).area < 1e-9 for each in found.areas)


def as_polygon(ring: Outline) -> Polygon:
    return Polygon([(float(x), float(y)) for x, y in ring])


@pytest.mark.parametrize("seed", range(20))
def test_the_hull_of_what_is_seen_on_edge_is_that_of_its_corners(seed: int) -> None:
    chance = random.Random(seed)
    points = [(F(chance.randint(0, 8)), F(chance.randint(0, 8))) for _ in range(9)]
    theirs = shapely.MultiPoint([(float(x), float(y)) for x, y in points]).convex_hull
    ours = Polygon([(float(x), float(y)) for x, y in _hull(points)])
    assert ours.is_valid and ours.symmetric_difference(theirs).area < 1e-9
