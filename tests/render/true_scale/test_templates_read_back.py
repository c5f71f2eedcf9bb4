"""Read back from the PDF: each line at true scale within 0.01 pt of its solved size and place, the check
bars, and what is near the paper's edge.

Facts of the page: 1 pt is 1/72 in, 100 mm are 283.4646 pt, 4 in are 288 pt; home printers leave up to 6.35 mm
unprinted (standards.md, section 8).
"""

from functools import cache
from typing import Any

import pytest
from shapely import MultiLineString, box
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from cardrecipe.cli import compiled
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.papers import PAGES, Printing
from cardrecipe.render.pdf import render_pdf
from cardrecipe.render.true_scale.templates import templates
from cardrecipe.sheets import sheet_of
from cardrecipe.solve.sized import SizedPiece
from tests.recipes import SAMPLES
from tests.render.true_scale import cards, solved
from tests.render.true_scale.pdf_read import POINT, Read, Stroked, read_pages

NEAR = 0.01  # pt
EDGE = 7.0  # mm
COLORS = {"#12607f": "score-valley", "#a23c1c": "score-mountain"}
BOLD = 0.5 * POINT  # a slit is drawn twice as wide as an edge
NAMES = sorted(cards.samples())
SHEETS = {
    "all shapes": lambda: cards.sheet_of_templates(cards.all_shapes()),
    "structures in inches": lambda: cards.sheet_of_templates(cards.all_structures("inch")),
    "structures in mm": lambda: cards.sheet_of_templates(cards.all_structures("mm")),
    "large structures": lambda: cards.sheet_of_templates(cards.large_structures()),
}


@cache
def sheet(name: str) -> Sheet:
    if name in SHEETS:
        return SHEETS[name]()
    return sheet_of(compiled(str(SAMPLES / f"{name}.recipe")))


@cache
def pages(name: str, page: str, grey: bool = False, large: bool = False) -> list[tuple[dict[str, Any], Read]]:
    """The true-scale pages: what they are to show, and what was read back."""
    wanted = templates(sheet(name), PAGES[page], large)
    found = read_pages(render_pdf(sheet(name), {}, Printing(page, grey, large)))
    return list(zip(wanted, found[len(found) - len(wanted) :], strict=True))


ALL = [(name, page) for name in (*NAMES, "all shapes") for page in PAGES]
ALL += [("structures in inches", "letter"), ("structures in mm", "a4"), ("large structures", "letter")]


@pytest.mark.parametrize(("name", "page"), ALL)
def test_every_line_has_its_solved_size_and_place(name: str, page: str) -> None:
    wrong = []
    for wanted, found in pages(name, page):
        for item in wanted["items"]:
            piece = sheet(name).folded.card.piece(item["piece"])
            wrong += [f"{item['piece']}: {each}" for each in _faults(wanted, item, found, piece, name)]
    assert wrong == []


def test_large_print_is_true_to_scale_too() -> None:
    for wanted, found in pages("all shapes", "letter", large=True):
        for item in wanted["items"]:
            piece = sheet("all shapes").folded.card.piece(item["piece"])
            assert _faults(wanted, item, found, piece, "all shapes") == []


def test_a_printer_without_colour_gets_none() -> None:
    """Dashes tell the kinds of lines apart; so all strokes are grey there, and there are as many."""
    both = zip(pages("all shapes", "a4"), pages("all shapes", "a4", grey=True), strict=True)
    for (_, plain), (_, grey) in both:
        assert len(plain.strokes) == len(grey.strokes)
        assert all(max(each.color) - min(each.color) < 0.02 for each in grey.strokes)


def _faults(
    wanted: dict[str, Any], item: dict[str, Any], found: Read, piece: SizedPiece, name: str
) -> list[str]:
    """The groups of lines of a template that do not lie where the solved piece has them."""
    unit = sheet(name).folded.card.unit
    window = box(*item["window"])
    left = wanted["edge"] + item["x"] - window.bounds[0]
    top = wanted["edge"] + wanted["words"]["top"] + item["y"] - window.bounds[1]
    matrix = (POINT, 0, 0, POINT, left * POINT, top * POINT)  # mm of the piece to points of the page
    seen = affine_transform(window, matrix)
    strokes = [each for each in found.strokes if seen.buffer(0.02).covers(each.line)]
    groups: dict[str, BaseGeometry] = {"cut": solved.paper(piece, unit).boundary}
    for group in ("score-valley", "score-mountain", "slit"):
        ends = [each.ends for each in solved.lines(piece, unit) if each.group == group]
        groups[group] = MultiLineString(ends)
    faults = []
    for group, lines in groups.items():
        should = affine_transform(lines.intersection(window.buffer(1e-9)), matrix)
        lies = MultiLineString([each.points for each in strokes if _group(each) == group])
        if should.is_empty and lies.is_empty:
            continue
        far = lies.hausdorff_distance(should) if lies.length and should.length else 999.0
        if far > NEAR or abs(lies.length - should.length) > NEAR * max(1, should.length / 100):
            faults.append(f"{group} is {far:.4f} pt off, {lies.length:.3f} pt of {should.length:.3f} long")
    return faults


def _group(stroke: Stroked) -> str:
    """Valleys and mountains by their colour, a slit by its width; joins and their marks are none of these."""
    color = "#" + "".join(f"{round(each * 255):02x}" for each in stroke.color)
    if color in COLORS:
        return COLORS[color]
    if stroke.width == pytest.approx(BOLD, abs=0.01):
        return "slit"
    is_edge = color == "#2b2926" and stroke.width == pytest.approx(BOLD / 2, abs=0.01)
    return "cut" if is_edge else "other"


@pytest.mark.parametrize(("name", "page"), ALL)
def test_both_check_bars_stand_on_each_page(name: str, page: str) -> None:
    for _, found in pages(name, page):
        straight = [each.points for each in found.strokes if len(each.points) == 2]
        level = [abs(end[0] - start[0]) for start, end in straight if start[1] == end[1]]
        assert any(length == pytest.approx(283.4646, abs=NEAR) for length in level)
        assert any(length == pytest.approx(288, abs=NEAR) for length in level)


@pytest.mark.parametrize(("name", "page"), ALL)
def test_nothing_is_nearer_to_the_edge_than_a_printer_reaches(name: str, page: str) -> None:
    for _, found in pages(name, page):
        room = box(0, 0, found.width, found.height).buffer(-EDGE * POINT, join_style="mitre")
        assert all(room.covers(each.line.buffer(each.width / 2, cap_style="flat")) for each in found.strokes)
        assert all(room.covers(box(*each)) for each in found.letters)


@pytest.mark.parametrize(("name", "page"), ALL)
def test_no_template_lies_over_another_or_over_the_check_bars(name: str, page: str) -> None:
    for wanted, found in pages(name, page):
        top, edge = wanted["edge"] + wanted["words"]["top"], wanted["edge"]
        foot = box(0, found.height / POINT - edge - wanted["words"]["foot"], 9999, 9999)
        taken = [foot]
        for item in wanted["items"]:
            name_above = item["y"] - (wanted["words"]["label"] if item["label"] else 0)
            place = box(item["x"], name_above, item["x"] + item["width"], item["y"] + item["height"])
            place = affine_transform(place, (1, 0, 0, 1, edge, top))
            assert not any(place.intersection(each).area > 1e-6 for each in taken)
            taken.append(place)


def test_parts_of_a_large_piece_cover_it_and_overlap() -> None:
    """Laid by their marks, the parts show every line of the piece; beside a join both show 10 mm."""
    found = pages("large structures", "letter")
    for piece in sheet("large structures").folded.card.pieces:
        windows = [box(*item["window"]) for wanted, _ in found for item in wanted["items"]
                   if item["piece"] == piece.name]  # fmt: skip
        wide, high = solved.size(piece, "inch")
        assert len(windows) > 1
        whole = windows[0]
        for each in windows[1:]:
            whole = whole.union(each)
        assert whole.symmetric_difference(box(0, 0, wide, high)).area < 1e-6
        for index, one in enumerate(windows):
            for other in windows[index + 1 :]:
                both = one.intersection(other)
                left, top, right, bottom = both.bounds if both.area else (0, 0, 10, 10)
                assert min(right - left, bottom - top) == pytest.approx(10)


def test_a_wrong_place_would_be_seen() -> None:
    """The check above can fail: a piece that is 0.1 mm wider is told at once."""
    wanted, found = pages("all shapes", "letter")[0]
    item = wanted["items"][0]
    piece = sheet("all shapes").folded.card.piece(item["piece"])
    assert _faults(wanted, item, found, piece, "all shapes") == []
    wider = piece._replace(width=piece.width + piece.width / 1000)
    assert _faults(wanted, item, found, wider, "all shapes") != []
