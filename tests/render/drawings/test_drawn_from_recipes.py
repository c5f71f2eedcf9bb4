"""What a maker sees of pockets, turned faces, clear paper and single works, drawn from whole recipes."""

import re

import pytest

from cardrecipe.render.drawings import Drawing, drawings, shown_drawings
from cardrecipe.render.drawings.colors import ARROW
from cardrecipe.render.drawings.dimensions import MOST_MOVES, Dimension, clear_dimension, dimension
from cardrecipe.render.drawings.lettering import Lettering, label
from cardrecipe.render.drawings.marks import Mark, room
from cardrecipe.render.drawings.sizes import LEAST_SHARE, fitted_marks
from tests.recipes import HEAD, compile_text
from tests.render.drawings import read_back

CARD = (
    f'{HEAD}paper white is cardstock "Soft white", color "#ffffff"\n'
    'paper glow is patterned "Glow" 12 x 12, color "#cc2200"\n'
    'paper veil is vellum "Veil", color "#ccddee"\n'
    "base card from ink\n  fold side-fold, width 4 1/4, height 5 1/2\n"
)
ALONG_A_STRIP = f"{HEAD}base card from ink\n  flat 12 x 2\n  score from (6, 0) to (8, 2)\n"


def drawn(text: str) -> dict[str, Drawing]:
    folded = compile_text(text).folded
    assert folded is not None, compile_text(text).diagnostics
    return drawings(folded)


def shapes(drawing: Drawing) -> dict[str, list[read_back.XY]]:
    """The corners of each piece where it is painted first, by its name."""
    found: dict[str, list[read_back.XY]] = {}
    for name, way in re.findall(r'data-piece="([^"]*)" d="([^"]*)"', drawing.svg):
        corners = re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", way)
        found.setdefault(name, [(float(x), float(y)) for x, y in corners])
    return found


def box(corners: list[read_back.XY]) -> read_back.Rectangle:
    across, down = zip(*corners, strict=True)
    return read_back.Rectangle(min(across), min(down), max(across), max(down))


# ---- pockets ----


@pytest.mark.parametrize("side", ["top", "right", "bottom", "left"])
def test_a_ticket_slips_into_its_pocket_from_the_side_that_is_open(side: str) -> None:
    glued = [each for each in ("left", "right", "bottom", "top") if each != side]
    drawing = drawn(
        f"{CARD}panel pocket from white on back\n  size 3 x 3\n  glue along {', '.join(glued)}\n"
        "panel ticket from glow on pocket\n  size 2 x 2\n  loose\n"
    )["place-ticket"]
    assert read_back.texts(drawing.svg) == [f"into pocket, from the {side}"]
    pocket, ticket = (box(shapes(drawing)[name]) for name in ("pocket", "ticket"))
    beyond = {
        "left": pocket.left - ticket.left, "right": ticket.right - pocket.right,
        "top": pocket.top - ticket.top, "bottom": ticket.bottom - pocket.bottom,
    }  # fmt: skip
    assert [each for each, by in beyond.items() if by > 0] == [side]
    hidden, arrow = read_back.strokes(drawing.svg)[:2]
    part = box(hidden.points)
    assert min(part.left, part.top) >= -0.01 and part.overlap(ticket) > 1 and part.overlap(pocket) > 1
    (start_x, start_y), (end_x, end_y) = arrow.points
    axis = (end_x - start_x, end_y - start_y)
    ways = {"left": (1, 0), "right": (-1, 0), "top": (0, 1), "bottom": (0, -1)}
    assert axis[0] * ways[side][0] + axis[1] * ways[side][1] == pytest.approx(abs(axis[0]) + abs(axis[1]))


def test_what_is_glued_on_a_ticket_slips_in_with_it() -> None:
    drawing = drawn(
        f"{CARD}panel pocket from white on back\n  size 3 x 3\n  glue along left, bottom, right\n"
        "panel ticket from glow on pocket\n  size 2 x 2\n  loose\n"
        "square chip from ink on ticket\n  size 1 x 1\n  place 1/4 from left, 1/2 from top\n"
        "square tile from white on chip\n  size 1/2 x 1/2\n"
    )["place-ticket"]
    ticket, chip, tile = (box(shapes(drawing)[name]) for name in ("ticket", "chip", "tile"))
    inch = (ticket.right - ticket.left) / 2
    assert chip.right - chip.left == pytest.approx(inch, abs=0.01)
    assert (chip.left - ticket.left, chip.top - ticket.top) == pytest.approx((inch / 4, inch / 2), abs=0.01)
    assert tile.middle == pytest.approx(chip.middle, abs=0.01)


# ---- what lies there already ----


def test_what_lies_on_a_section_of_an_earlier_piece_is_drawn_where_it_lies() -> None:
    drawing = drawn(
        f"{CARD}panel strip from white on back\n  size 4 x 2\n  place 1 from top\n"
        "  score 1 from left\n  sections near, far\n"
        "square tile from ink on far\n  size 1 x 1\n"
        "square star from white on tile\n  size 1/2 x 1/2\n  turned 45\n"
        "square dot from ink on back\n  size 1/2 x 1/2\n  place 1/4 from left, 1/4 from top\n"
    )["place-dot"]
    found = shapes(drawing)
    strip, tile, star = (box(found[name]) for name in ("strip", "tile", "star"))
    inch = (strip.right - strip.left) / 4
    assert tile.middle == pytest.approx((strip.left + 2.5 * inch, strip.middle[1]), abs=0.01)
    assert star.middle == pytest.approx(tile.middle, abs=0.01)
    assert star.right - star.left == pytest.approx(0.5 * 2**0.5 * inch, abs=0.01)


def test_a_face_that_is_turned_half_round_has_its_top_border_at_the_bottom() -> None:
    drawing = drawn(
        f"{ALONG_A_STRIP}  score from (9, 2) to (11, 0)\n"
        "panel label from ink on section-3 outside\n  border 1/8, 3/8 top\n"
    )["place-label"]
    assert drawing.description.replace("\u00a0", " ").endswith("1⁄8 in top and 3⁄8 in bottom.")
    # Upright it would be longer at its top: the slant runs the other way once it is turned.
    corners = shapes(drawing)["label"]
    low = max(y for _, y in corners)
    longest = max(x for x, _ in corners) - min(x for x, _ in corners)
    at_the_bottom = [x for x, y in corners if y == low]
    assert max(at_the_bottom) - min(at_the_bottom) < longest


def test_a_name_stands_on_a_ground_of_its_own_on_clear_paper_alone() -> None:
    for paper, grounds in (("veil", 1), ("white", 0)):
        drawing = drawn(f"{CARD}panel sheet from {paper} on back\n")["place-sheet"]
        (name,) = (each for each in read_back.words(drawing.svg) if each.text == "sheet")
        boxes = [
            [float(found) for found in each] for each in
            re.findall(r'<rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"', drawing.svg)
        ]  # fmt: skip
        assert len(boxes) == grounds
        assert all(x < name.room.left and name.room.right < x + wide for x, _, wide, _ in boxes)
        assert all(y < name.room.top and name.room.bottom < y + high for _, y, _, high in boxes)


def test_clear_paper_gleams() -> None:
    sheen = re.findall(
        r"<pattern [^>]*>(.*?)</pattern>",
        drawn(f"{CARD}panel sheet from veil on back\n")["place-sheet"].svg,
    )
    assert [each.count("<path") for each in sheen] == [1]


def test_a_scored_piece_is_named_where_a_section_has_room_for_it() -> None:
    for wide, is_named in (("4", True), ("1", False)):
        drawing = drawn(f"{CARD}panel strip from white on back\n  size {wide} x 2\n  score 1/2 from left\n")
        assert ("strip" in read_back.texts(drawing["place-strip"].svg)) is is_named


# ---- works ----


def test_the_middle_of_a_standing_strip_is_measured_from_top_to_bottom() -> None:
    drawing = drawn(f'{CARD}panel strip from white on back\n  size 2 x 4\n  emboss "ripple" on middle 1\n')
    svg = drawing["work-strip"].svg
    limits = [each for each in read_back.strokes(svg) if each.dash == "0.9 0.7"]
    strip = box(shapes(drawing["work-strip"])["strip"])
    assert [each.points[0][0] for each in limits] == [strip.left, strip.left]
    down = sorted(each.points[0][1] for each in limits)
    inch = (strip.bottom - strip.top) / 4
    assert down == pytest.approx([1.5 * inch, 2.5 * inch], abs=0.01)
    assert "1\u00a0in" in read_back.texts(svg)


def test_a_corner_punch_takes_all_four_corners() -> None:
    made = drawn(f'{CARD}square slip from white on back\n  size 2 x 2\n  punch "corner leaf"\n')["work-slip"]
    slip = box(shapes(made)["slip"])
    corners = {(x, y) for x in (slip.left, slip.right) for y in (slip.top, slip.bottom)}
    cuts = [each.points for each in read_back.strokes(made.svg)]
    nearest = [min(corners, key=lambda one: abs(one[0] - x) + abs(one[1] - y)) for (x, y), _ in cuts]
    assert len(cuts) == 4 and set(nearest) == corners


def test_a_punch_for_a_whole_shape_cuts_it_out_of_a_larger_piece() -> None:
    made = drawn(f'{CARD}square coin from white on back\n  size 1 x 1\n  punch "round"\n')["work-coin"]
    assert not [each for each in read_back.strokes(made.svg) if each.dash]  # a square piece takes a hole
    made = drawn(f'{CARD}circle coin from white on back\n  diameter 1\n  punch "round"\n')["work-coin"]
    (larger,) = (box(each.points) for each in read_back.strokes(made.svg))
    (area, *_) = read_back.read(made.svg).areas
    assert larger.left < area.room.left and area.room.right < larger.right
    assert larger.top < area.room.top and area.room.bottom < larger.bottom


# ---- the whole card ----


def test_a_card_of_two_bases_has_one_masthead_on_its_sheet() -> None:
    folded = compile_text(
        f"{CARD}base insert from white\n  flat 8 x 5\n  score 4 from left\n  sections left-leaf, right-leaf\n"
    ).folded
    assert folded is not None
    shown = shown_drawings(folded)
    assert {"finished", "closed-front", "closed-front-insert"} <= set(shown)
    assert "finished-insert" not in shown and "finished-insert" in drawings(folded)


def test_a_piece_that_is_seen_from_behind_in_a_pose_shows_no_pattern() -> None:
    made = drawn(
        f"{CARD}panel note from white on back\npanel inner from white on front\n"
        "panel flag from glow on front outside\n  size 4 x 3\n  place -2 from top\n  overhangs\n"
        "pose standing\n  fold 1 at 60\n"
    )["pose-standing"]
    assert "flag" in made.description and "<pattern" not in made.svg
    reds = [each for each in re.findall(r'fill="#(\w{6})"', made.svg)
            if int(each[:2], 16) > int(each[2:4], 16) + 40]  # fmt: skip
    assert len(reds) == 1 and int(reds[0][2:4], 16) > 0x22  # paler than its front


def test_a_speck_on_a_large_card_is_left_out_of_its_pose() -> None:
    for size, faces in (("1/16", 2), ("1", 3)):
        made = drawn(
            f'{HEAD}paper large is cardstock "Large" 24 x 12\nbase card from large\n  flat 24 x 12\n'
            f"  score 12 from left\n  sections front, back\nsquare speck from ink on back\n"
            f"  size {size} x {size}\npose standing\n  fold 1 at 60\n"
        )["pose-standing"]
        assert len(re.findall(r'stroke="#', made.svg)) == faces


# ---- where there is no room ----


def test_a_picture_that_shrinking_does_not_help_stays_as_large_as_it_was() -> None:
    words = "words that are too long for the column of a page"
    small, large = (label(0, 0, text, Lettering(4.0)) for text in (words, f"{words}."))
    scales: list[float] = []

    def draw(scale: float) -> list[Mark]:
        scales.append(scale)
        return [small if scale == 1 else large]

    # A little too wide, so that it shrinks by little at a time and does not come down to the least scale.
    assert fitted_marks(draw, 1.0, room([small]).width + 2) == [small]
    assert len(scales) > 2 and scales == sorted(set(scales), reverse=True) and scales[-1] > LEAST_SHARE


def test_a_size_moves_out_so_many_rows_at_most() -> None:
    measured = Dimension("x", 0.0, 30.0, 5.0, 0.0, "1 in")
    crowd = [label(15.0, float(y), "a word in the way", Lettering(4.0)) for y in range(0, 200, 2)]
    (number,) = (each for each in clear_dimension(measured, crowd) if each.is_label)
    (first,) = (each for each in dimension(measured) if each.is_label)
    rows = (number.box.top - first.box.top) / MOST_MOVES
    assert rows > 1.0 and number.box.top < 200  # it did not run on to the end of the crowd


# ---- slanted folds ----


@pytest.mark.parametrize(
    "lines",
    [
        "flat 5 x 5\n  score from (0, 5) to (5, 0)",
        "flat 5 x 5\n  score from (0, 0) to (5, 5)",
        "flat 9 x 5\n  score from (3, 0) to (4, 5)",
        "flat 9 x 5\n  score from (0, 2) to (9, 3), mountain",
    ],
)
def test_a_fold_along_a_slanted_score_has_its_number_and_its_way(lines: str) -> None:
    """As one along a straight score has: the score bold, and an arrow over the part that moves."""
    slanted = drawn(f"{HEAD}base card from ink\n  {lines}\n  sections one, two\n")["fold-card-1"]
    straight = drawn(f"{HEAD}base card from ink\n  flat 9 x 5\n  score 4 from left\n")["fold-card-1"]
    for found in (slanted, straight):
        texts = read_back.texts(found.svg)
        assert texts[0] == "1" and texts[-1] == "score 1"
        assert f'fill="{ARROW}"' in found.svg or f'stroke="{ARROW}"' in found.svg
