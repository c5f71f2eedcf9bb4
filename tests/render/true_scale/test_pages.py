"""Which pieces get a template, how large ones are cut into parts and how small ones share a page."""

from fractions import Fraction
from itertools import combinations, pairwise
from math import hypot
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon, box
from shapely.affinity import translate

from cardrecipe.render.drawings.lettering import text_width
from cardrecipe.render.drawings.marks import Box
from cardrecipe.render.papers import PAGES
from cardrecipe.render.true_scale.joins import join_words, joins
from cardrecipe.render.true_scale.outlines import Quarter, TrueLine, lines_of
from cardrecipe.render.true_scale.packing import Item, packed
from cardrecipe.render.true_scale.rooms import LARGE, USUAL, rooms_on, way_to_lie
from cardrecipe.render.true_scale.strokes import clipped, stroke_of, strokes_within
from cardrecipe.render.true_scale.templates import templates
from cardrecipe.render.true_scale.tiling import APART, MOST_PARTS, OVERLAP, tiling
from cardrecipe.render.true_scale.wanted import is_measured_from_edges, wants_template
from tests.recipes import HEAD, piece, sized
from tests.render.true_scale import cards, solved

BIG = "base card from ink\n  flat 20 x 9\n  score 10 from left{}\n"
BASE = HEAD + "base card from ink\n  flat 8 x 6\n"


def template_of(lines: str, name: str) -> bool:
    return wants_template(piece(BASE + lines, name))


@pytest.mark.parametrize("lines", [
    "panel it from ink on card\n",
    "square it from ink on card\n  size 1 x 1\n",
    "cutout it from ink on card\n  size 1 x 1\n",
    'oval it from ink on card\n  size 2 x 1\n  die "Wavy oval"\n',
    "rectangle it from ink on card\n  size 2 x 1\n  trim by hand\n",
])  # fmt: skip
def test_no_template_for_what_two_numbers_make_nor_for_what_a_die_gives(lines: str) -> None:
    assert not template_of(lines, "it")


@pytest.mark.parametrize("lines", [
    "oval it from ink on card\n  size 2 x 1\n",
    "circle it from ink on card\n  diameter 1\n",
    "tag it from ink on card\n  size 1 x 2\n",
    "banner it from ink on card\n  size 3 x 1\n",
    "panel it from ink on card\n  score 1 from left\n",
    "panel it from ink on card\n  window 1 x 1 at (1, 1)\n",
    "panel it from ink on card\n  corners round 1/4\n",
])  # fmt: skip
def test_a_template_for_what_is_not_measured_from_two_edges(lines: str) -> None:
    assert template_of(lines, "it")


def test_a_piece_that_is_cut_many_times_is_shown_once() -> None:
    card = cards.all_shapes()
    doubled = tuple(each._replace(count=7) for each in card.pieces)
    pages = templates(cards.sheet_of_templates(card._replace(pieces=doubled)), PAGES["letter"])
    shown = [item["piece"] for page in pages for item in page["items"] if item["window"][:2] == [0.0, 0.0]]  # type: ignore[attr-defined]
    assert sorted(shown) == sorted(set(shown)) and "label" in shown
    assert any("cut 7" in str(item["note"]) for page in pages for item in page["items"])  # type: ignore[attr-defined]


def test_a_large_base_with_scores_from_edge_to_edge_has_no_parts() -> None:
    """A maker measures it; one with a window is not measured from its edges alone."""
    large = HEAD.replace("12 x 12", "24 x 24") + BIG
    plain, windowed = (piece(large.format(end), "card") for end in ("", "\n  window 2 x 2 at (3, 3)"))
    assert is_measured_from_edges(plain) and not is_measured_from_edges(windowed)
    pages = [templates(cards.sheet_of_templates(sized(large.format(end))), PAGES["letter"]) for end in
             ("", "\n  window 2 x 2 at (3, 3)")]  # fmt: skip
    assert pages[0] == [] and len(pages[1]) == 3


def test_a_circle_alone_is_not_worth_a_page() -> None:
    card = cards.all_shapes()
    dot, plate = card.piece("dot"), card.piece("lying")
    for pieces, pages in (((dot,), 0), ((dot, plate), 1)):
        made = templates(cards.sheet_of_templates(card._replace(pieces=pieces)), PAGES["a4"])
        assert len(made) == pages


@pytest.mark.parametrize("page", PAGES)
def test_a_base_of_ten_by_seven_inches_fits_a_page_that_lies(page: str) -> None:
    assert way_to_lie(rooms_on(PAGES[page], USUAL), (254.0, 177.8)) == "landscape"


def test_large_print_takes_more_room_for_its_words() -> None:
    for page in PAGES.values():
        usual, large = rooms_on(page, USUAL), rooms_on(page, LARGE)
        assert all(large[way][1] < usual[way][1] for way in usual)


def test_words_lie_on_paper_clear_of_lines_and_of_each_other() -> None:
    """Section names and score numbers: none in an opening, none over a line, a join or another word."""
    for card, page in ((cards.all_structures("inch"), "letter"), (cards.large_structures(), "a4")):
        for wanted in templates(cards.sheet_of_templates(card), PAGES[page]):
            for item in wanted["items"]:  # type: ignore[attr-defined]
                left, top, *_ = item["window"]
                paper = translate(solved.paper(card.piece(item["piece"]), "inch"), -left, -top)
                lines = [LineString([way[1:3] for way in each["ways"] if way[0] in "ml"])
                         for each in item["strokes"]]  # fmt: skip
                boxes = [room_of(word) for word in item["words"]]
                assert all(paper.covers(each) for each in boxes)
                assert not any(each.intersection(line).length for each in boxes for line in lines)
                assert not any(a.intersects(b) for a, b in combinations(boxes, 2))


def room_of(word: dict[str, Any]) -> Polygon:
    """A word's room by the font's own widths, in its 8 pt: 2.822 mm."""
    half, tall = text_width(word["text"], 2.822) / 2, 0.36 * 2.822
    across, down = (tall, half) if word["turned"] else (half, tall)
    return box(word["x"] - across, word["y"] - down, word["x"] + across, word["y"] + down)


def test_every_score_of_a_structure_bears_its_number() -> None:
    card = cards.structure("tri-shutter", "inch")
    (page,) = templates(cards.sheet_of_templates(card._replace(pieces=card.bases)), PAGES["a4"])
    numbers = {word["text"] for item in page["items"] for word in item["words"]}  # type: ignore[attr-defined]
    assert {str(score.number) for score in card.piece("card").scores if score.number} <= numbers


# ---- parts ---------------------------------------------------------------------------------------

sizes = st.floats(10, 900)


@given(sizes, sizes, st.lists(st.floats(0, 900), max_size=6))
def test_parts_fit_their_pages_cover_the_piece_and_overlap(wide: float, high: float, at: list[float]) -> None:
    room = (200.0, 240.0)
    lines = [((x, 0.0), (x, high)) for x in at]
    found = tiling((wide, high), room, lines)
    if found is None:
        assert wide * high > MOST_PARTS * (room[0] - OVERLAP) * (room[1] - OVERLAP) * 0.4
        return
    assert len(found.tiles) == found.rows * found.columns <= MOST_PARTS
    for tile in found.tiles:
        assert tile.window.width <= room[0] + 1e-6 and tile.window.height <= room[1] + 1e-6
    first_row = [tile.window for tile in found.tiles if tile.row == 0]
    assert first_row[0].left == 0 and first_row[-1].right == wide
    for before, after in pairwise(first_row):
        assert after.left < before.right <= after.left + OVERLAP + 1e-9


def test_a_join_keeps_clear_of_a_score_in_the_middle() -> None:
    found = tiling((300.0, 100.0), (200.0, 240.0), [((150.0, 0.0), (150.0, 100.0))])
    assert found is not None
    assert all(abs(join - 150) >= APART for tile in found.tiles for join in tile.across)


def test_parts_bear_letters_by_row_and_numbers_by_column() -> None:
    found = tiling((300.0, 300.0), (200.0, 240.0), [])
    assert found is not None
    assert [tile.name for tile in found.tiles] == ["A1", "A2", "B1", "B2"]
    words = [join_words(tile, found) for tile in found.tiles]
    assert words[3] == "Cut along the dotted line at the left and top; lay it on B1 and A2, mark on mark."
    assert words[0].startswith("Lay the other parts on this one")


def test_both_parts_show_the_same_marks_beside_their_join() -> None:
    found = tiling((300.0, 100.0), (200.0, 240.0), [])
    assert found is not None
    ends = [{way[1:] and tuple(way[1:]) for each in joins(tile) if each.kind == "mark" for way in each.ways}
            for tile in found.tiles]  # fmt: skip
    join = found.tiles[1].window.left
    on_join = [{place for place in each if place[0] == join} for each in ends]
    assert on_join[0] == on_join[1] and len(on_join[0]) >= 4


# ---- pages ---------------------------------------------------------------------------------------


@given(st.lists(st.tuples(st.floats(5, 190), st.floats(5, 160)), min_size=1, max_size=25))
def test_shared_pages_hold_everything_once_without_overlap(sizes: list[tuple[float, float]]) -> None:
    rooms = rooms_on(PAGES["a4"], USUAL)
    items = [Item(key, wide, high, 9.5) for key, (wide, high) in enumerate(sizes)]
    pages = packed(items, rooms)
    assert sorted(place.key for page in pages for place in page.places) == [item.key for item in items]
    for page in pages:
        boxes = [Box(p.x, p.y - 9.5 * page.is_shared, p.x + items[p.key].width, p.y + items[p.key].height)
                 for p in page.places]  # fmt: skip
        across, down = rooms[page.way]
        assert all(Box(0, 0, across + 1e-9, down + 1e-9).holds(each) for each in boxes)
        assert not any(one.meets(two) for at, one in enumerate(boxes) for two in boxes[at + 1 :])


# ---- strokes -------------------------------------------------------------------------------------


@given(st.floats(1, 500), st.floats(1, 500))
def test_a_curve_keeps_to_its_ellipse(across: float, down: float) -> None:
    """Within 5 millionths of the radius: the largest error of a cubic for 45 degrees, computed anew."""
    x, y = Fraction(round(across, 3)), Fraction(round(down, 3))
    line = TrueLine("cut", (x, 0 * y), (Quarter((2 * x, y), (x, y), x, y),), False)
    (_, *start), *curves = stroke_of(line).ways
    here = (float(start[0]), float(start[1]))  # type: ignore[arg-type]
    for _, *numbers in curves:
        ax, ay, bx, by, cx, cy = map(float, numbers)  # type: ignore[arg-type]
        for step in range(33):
            t = step / 32
            shares = (1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3
            px = sum(s * v for s, v in zip(shares, (here[0], ax, bx, cx), strict=True))
            py = sum(s * v for s, v in zip(shares, (here[1], ay, by, cy), strict=True))
            assert abs(hypot((px - float(x)) / float(x), (py - float(y)) / float(y)) - 1) < 5e-6
        here = (cx, cy)


@given(*[st.floats(-50, 50)] * 4)
def test_a_clipped_line_lies_in_its_window_and_on_itself(ax: float, ay: float, bx: float, by: float) -> None:
    window = Box(-10.0, -5.0, 20.0, 15.0)
    part = clipped((ax, ay), (bx, by), window)
    if part is None:
        return
    assert all(window.grown(1e-6).holds(Box(x, y, x, y)) for x, y in part)
    for x, y in part:
        assert abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) <= 1e-6 * (1 + hypot(bx - ax, by - ay)) * 100


def test_windows_side_by_side_show_the_whole_of_a_round_line() -> None:
    card = cards.all_shapes()
    (line,) = lines_of(card.piece("plate"))
    halves = [list(strokes_within(line, window)) for window in (Box(0, 0, 6, 4), Box(0, 4, 6, 11))]
    assert all(halves)
    ends = [tuple(way[-2:]) for half in halves for each in half for way in each.ways]
    assert min(y for _, y in ends) == pytest.approx(0) and max(y for _, y in ends) == pytest.approx(11)  # type: ignore[type-var]
