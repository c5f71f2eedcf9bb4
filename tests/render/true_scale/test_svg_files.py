"""Read back from the SVG files by geometry: every outline, score and slit has its solved size and place."""

from itertools import combinations
from xml.etree import ElementTree

import pytest
from shapely import Polygon

from cardrecipe.render.true_scale.drawn import TrueDrawing, true_drawings
from cardrecipe.render.true_scale.svg_files import svg_file
from cardrecipe.solve.sized import SizedCard
from tests.render.hostile import TEXTS
from tests.render.true_scale import cards, solved
from tests.render.true_scale.rings import box, gaps, paper_area, points, signed_area
from tests.render.true_scale.svg_read import read

NEAR = 1e-6  # mm, and a share of an area
SAMPLES = cards.samples()
GENERATED = cards.generated()


def pieces_of(card: SizedCard) -> dict[str, TrueDrawing]:
    return {each.name.removeprefix("true-"): each for each in true_drawings(card, ())}


def wrong_pieces(card: SizedCard) -> list[str]:
    """The pieces whose file does not say what the solved piece says."""
    return [name for name, drawing in pieces_of(card).items() if not is_right(card, name, svg_file(drawing))]


def is_right(card: SizedCard, name: str, text: str) -> bool:
    piece, found = card.piece(name), read(text)
    rings = found.groups["cut"]
    wide, high = solved.size(piece, card.unit)
    area = paper_area(rings)
    return (
        area == pytest.approx(solved.cut_area(piece, card.unit), rel=NEAR)
        and box(rings) == pytest.approx((0, 0, wide, high), abs=NEAR)
        and max(map(gaps, rings)) < NEAR
        and solved.same_lines(found.lines(), solved.lines(piece, card.unit), NEAR)
    )


@pytest.mark.parametrize("name", SAMPLES)
def test_samples(name: str) -> None:
    assert wrong_pieces(SAMPLES[name]) == []


@pytest.mark.parametrize("unit", ["inch", "mm"])
@pytest.mark.parametrize("name", cards.STRUCTURES)
def test_structures_with_a_panel_on_each_section(name: str, unit: str) -> None:
    assert wrong_pieces(cards.structure(name, unit)) == []


def test_a_hundred_generated_cards() -> None:
    assert len(GENERATED) == 100
    assert [name for name, card in GENERATED.items() if wrong_pieces(card)] == []


def test_every_shape() -> None:
    card = cards.all_shapes()
    assert wrong_pieces(card) == []
    assert {"circle", "oval", "tag", "banner", "cutout", "panel", "base"} == {p.kind for p in card.pieces}


def test_windows_that_overlap_are_one_opening_and_one_at_the_edge_is_part_of_the_outline() -> None:
    card = cards.all_shapes()
    outline, *openings = read(svg_file(pieces_of(card)["card"])).groups["cut"]
    assert len(card.piece("card").windows) == 3 and len(openings) == 1
    notch = 1 * 2 * 25.4**2
    corners = (4 - 3.141592653589793) * (0.75 * 25.4) ** 2
    assert signed_area(outline) == pytest.approx(15 * 13 * 25.4**2 - notch - corners, rel=NEAR)


def test_a_wrong_size_would_be_seen() -> None:
    """The checks above can fail: a tenth of a millimetre is enough."""
    card = cards.all_shapes()
    drawing = pieces_of(card)["plate"]
    assert is_right(card, "plate", svg_file(drawing))
    for name in ("lying", "rounded", "label"):
        text = svg_file(pieces_of(card)[name])
        number = f"{float(card.piece(name).width * solved.MM[card.unit]):g}"
        assert number in text and not is_right(card, name, text.replace(number, f"{float(number) + 0.1:g}"))


# ---- the file ------------------------------------------------------------------------------------


def test_groups_hold_lines_alone_and_stand_in_a_fixed_order() -> None:
    for drawing in pieces_of(SAMPLES["night-market"]).values():
        found = read(svg_file(drawing))
        assert list(found.groups) == ["cut", "score-valley", "score-mountain", "slit", "note"]
        assert found.others == []


def test_one_unit_of_the_file_is_a_millimetre() -> None:
    for drawing in true_drawings(SAMPLES["night-market"], cards.plans(SAMPLES["night-market"])):
        found = read(svg_file(drawing))
        assert found.view[2] == found.width_mm


def test_title_and_description_are_the_files_own() -> None:
    for name, drawing in pieces_of(SAMPLES["paper-kites"]).items():
        root = ElementTree.fromstring(svg_file(drawing))
        labelled, told = root.attrib["aria-labelledby"], root.attrib["aria-describedby"]
        texts = {each.attrib["id"]: each.text for each in root if "id" in each.attrib}
        assert root.attrib["role"] == "img" and labelled == f"true-{name}-title"
        assert texts[labelled] == drawing.title and texts[told] == drawing.description


@pytest.mark.parametrize("text", TEXTS.values())
def test_no_words_become_markup(text: str) -> None:
    plain = pieces_of(SAMPLES["night-market"])["plate"]
    root = ElementTree.fromstring(svg_file(plain._replace(title=text, notes=(text, text))))
    tags = {each.tag.split("}")[1] for each in root.iter()}
    assert tags == {"svg", "title", "desc", "g", "path", "text"}
    assert len(list(root.iter("{http://www.w3.org/2000/svg}text"))) == 3


def test_the_side_that_faces_up_is_told() -> None:
    drawings = pieces_of(SAMPLES["night-market"])
    assert drawings["card"].title.endswith("inside up")
    assert "Valley and mountain are as seen from this side." in svg_file(drawings["card"])
    assert drawings["plate"].title.endswith("face up")


def test_it_is_told_how_many_to_cut_for_all_copies() -> None:
    card = SAMPLES["market-tags"]
    drawings = {each.name: each for each in true_drawings(card, (), copies=6)}
    assert drawings["true-jar-tag"].notes[0] == "Cut 12 from Moss cardstock."


def test_what_a_die_or_scissors_shape_says_so() -> None:
    assert "give its own outline" in svg_file(pieces_of(cards.all_shapes())["cloud"])
    assert "give its own outline" not in svg_file(pieces_of(cards.all_shapes())["plate"])


# ---- whole sheets --------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sheet_holds_every_piece_of_its_layout_and_none_over_another(name: str) -> None:
    card = SAMPLES[name]
    sheets = [each for each in true_drawings(card, cards.plans(card)) if each.name.startswith("layout-")]
    assert sheets
    layouts = [numbered for plan in cards.plans(card) for numbered in plan.layouts]
    for sheet, numbered in zip(sheets, layouts, strict=True):
        rings = read(svg_file(sheet)).groups["cut"]
        held = cards.held(numbered)
        wanted = sum(count * solved.cut_area(card.piece(piece), card.unit) for piece, count in held.items())
        shapes = [Polygon(points(ring)) for ring in rings if signed_area(ring) > 0]
        openings = sum(signed_area(ring) for ring in rings if signed_area(ring) < 0)
        assert sum(map(signed_area, rings)) == pytest.approx(wanted, rel=NEAR), openings
        assert not any(one.intersection(two).area > NEAR for one, two in combinations(shapes, 2))
        left, top, right, bottom = box(rings)
        width, height = (float(each * solved.MM[card.unit]) for each in (sheet.width, sheet.height))
        assert left >= -NEAR and top >= -NEAR and right <= width + NEAR and bottom <= height + NEAR


def test_scores_lie_with_their_piece_on_the_sheet() -> None:
    """Turned or not, each sheet carries all scores of its pieces, at their own lengths."""
    card = SAMPLES["night-market"]
    numbered = cards.plans(card)[0].layouts[0]
    sheet = next(each for each in true_drawings(card, cards.plans(card)) if each.name == "layout-1")
    found = read(svg_file(sheet)).lines()
    wanted = [line for piece, count in cards.held(numbered).items()
              for line in count * solved.lines(card.piece(piece), card.unit)]  # fmt: skip
    assert wanted and sorted(map(_length, found)) == pytest.approx(sorted(map(_length, wanted)), abs=NEAR)


def _length(line: solved.Line) -> float:
    (ax, ay), (bx, by) = line.ends
    return float(((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5)
