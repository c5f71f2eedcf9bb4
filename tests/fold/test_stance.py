"""How a card is set down in a pose, and what shows of it there, against a picture made point by point."""

import math
from collections.abc import Sequence
from itertools import pairwise

import pytest
from shapely import Point, Polygon, unary_union

from cardrecipe.fold.clip import total_area
from cardrecipe.fold.folded import FoldedCard, Outline, SpacePart
from cardrecipe.fold.linked_card import shown_card
from cardrecipe.fold.poses import angles_in
from cardrecipe.fold.space import eye, project, shut_card, space_view
from cardrecipe.fold.stance import Ring, Standing, stance, standing
from cardrecipe.fold.vectors import Vector, cross, dot, minus, unit
from cardrecipe.fold.visible import SpaceArea, visible_in_pose, visible_on_page
from tests.recipes import HEAD, compile_text

PAPER = HEAD.replace("12 x 12", "30 x 30")
SIGN = "square sign from ink on box-front\n  size 1/2 x 1/2\n"
ON_BACK = "panel sign from ink on back\n  size 1 x 1/2\n  place 1/4 from top\n"
ON_SECOND = "panel plate from ink on section-2\n"
PLATE = "panel plate from ink on front outside\n"
# A fold, what is glued on it, and the lines of its pose.
POSED = {
    "tent": ("tent, width 5, height 4", f"{PLATE}panel note from ink on back\n", "1 at 130"),
    "tent-ajar": ("tent, width 5, height 4", PLATE, "1 at 60"),
    "screen": ("accordion, width 2, height 4", ON_SECOND, "1 at 70, 2 at 50, 3 at 80"),
    "book": ("side-fold, width 4, height 5", PLATE, "1 at 110"),
    "box": ("box-pop-up, width 4, height 5", SIGN, "1 at 90"),
    "strip": ("strip-pop-up, width 4, height 5", SIGN, "1 at 70"),
    "beak": ("v-pop-up, width 4, height 5", "", "1 at 80"),
    "shutters": ("tri-shutter, width 4, height 6", "", "1 at 60"),
    "stairs": ("two-piece-step, width 4, height 5", ON_BACK, "1 at 90"),
    "easel": ("easel, width 4, height 5", "panel plate from ink on front\n", "1 at 130, 2 at 140"),
    "gate": ("gate, width 4, height 5", "panel note from ink on back\n", "1 at 40, 2 at 100"),
}


def card_in(name: str) -> FoldedCard:
    fold, more, folds = POSED[name]
    lines = "".join(f"  fold {each}\n" for each in folds.split(", "))
    found = compile_text(f"{PAPER}base card from ink\n  fold {fold}\n{more}pose standing\n{lines}")
    assert found.folded is not None, found.diagnostics
    return found.folded


def posed(name: str) -> Standing:
    folded = card_in(name)
    return standing(folded, "card", folded.card.poses[0])


def part(found: Standing, name: str) -> SpacePart:
    return next(each for each in found.parts if name in (each.section, each.piece))


def normal(ring: Ring) -> Vector:
    return unit(cross(minus(ring[1], ring[0]), minus(ring[2], ring[1])))


# ---- set down ------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["screen", "book", "strip", "gate", "shutters"])
def test_what_is_bent_at_upright_scores_stands_on_its_bottom_edges(name: str) -> None:
    """All of its sides are upright: one direction lies in every section, and it is upright on the page."""
    found = posed(name)
    sides = [each.ring for each in found.parts if each.section]
    (x, y), (low_x, low_y) = project(sides[0][1]), project(sides[0][2])
    assert low_x == pytest.approx(x) and low_y > y
    upright = unit(minus(sides[0][1], sides[0][2]))
    assert all(dot(normal(ring), upright) == pytest.approx(0, abs=1e-9) for ring in sides)


def test_what_is_bent_sharply_at_a_level_score_stands_like_a_tent() -> None:
    """Both free edges stand on one level, the fold is above them, and the front looks at the viewer."""
    found = posed("tent")
    front, back = part(found, "front"), part(found, "back")
    assert front.side == "outside"
    # The flat front has its free edge at the top, the flat back at the bottom.
    feet = [*front.ring[:2], *back.ring[2:]]
    up = unit(minus(_middle(front.ring[2:]), _middle(feet)))
    heights = [dot(foot, up) for foot in feet]
    assert heights == pytest.approx([heights[0]] * 4)
    assert dot(normal(front.ring), eye()) < 0  # its inside looks away
    assert math.dist(_middle(front.ring[:2]), _middle(back.ring[2:])) == pytest.approx(
        2 * 4 * math.sin(math.radians(50 / 2))
    )


def test_what_is_opened_wide_lies_on_the_part_below_the_fold() -> None:
    stairs = posed("stairs")
    assert normal(part(stairs, "floor").ring) == pytest.approx((0, 0, 1), abs=1e-9)
    assert normal(part(posed("tent-ajar"), "back").ring) == pytest.approx((0, 0, 1), abs=1e-9)


@pytest.mark.parametrize("name", ["tent", "screen"])
def test_what_stands_is_seen_from_thirty_degrees_above_the_table(name: str) -> None:
    """The line of sight rises by half its length, which is the sine of 30 degrees."""
    (x, y, z), *_ = (normal(ring) for ring in posed(name).shadows if Polygon(map(project, ring)).area > 0.01)
    up = (x, y, z) if z > 0 else (-x, -y, -z)
    assert dot(up, eye()) == pytest.approx(1 / 2)


@pytest.mark.parametrize(("name", "piece"), [("tent", "plate"), ("book", "plate"), ("stairs", "sign"),
                                             ("strip", "sign"), ("screen", "plate")])  # fmt: skip
def test_what_is_on_a_card_looks_at_the_viewer(name: str, piece: str) -> None:
    assert part(posed(name), piece).side == "inside"


@pytest.mark.parametrize("name", ["book", "screen", "strip", "box"])
def test_what_looks_sideways_is_turned_straight_to_the_viewer(name: str) -> None:
    """The only piece of the card: on the table its face looks neither to the left nor to the right."""
    folded = card_in(name)
    shut = shut_card(folded.card, "card")
    assert shut is not None
    linkage = shown_card(shut, *angles_in(folded.card.poses[0], shut))
    root, _ = stance(shut, linkage.angles, linkage.poses)
    (on,) = shut.placed
    assert on.section is not None
    across, toward, _ = root.after(linkage.poses[on.section]).normal
    face = 1 if on.side == "inside" else -1
    assert across == pytest.approx(0, abs=1e-9)
    assert face * toward > 0.05


def test_a_pose_without_a_bend_lies_flat() -> None:
    text = f"{PAPER}base card from ink\n  fold gate, width 4, height 5\npose spread\n  fold 1 at 0\n"
    folded = compile_text(text).folded
    assert folded is not None
    found = standing(folded, "card", folded.card.poses[0])
    assert {point[2] for each in found.parts for point in each.ring} == {0.0}


@pytest.mark.parametrize("name", POSED)
def test_standing_moves_a_card_and_does_not_change_it(name: str) -> None:
    """Edges are as long as on the flat paper."""
    folded = card_in(name)
    sections = {each.name: each for piece in folded.card.pieces for each in piece.sections}
    for each in (each for each in posed(name).parts if each.section):
        outline = [(float(x), float(y)) for x, y in sections[each.section or ""].outline]
        for (a, b), (c, d) in zip(pairwise(each.ring), pairwise(outline), strict=True):
            assert math.dist(a, b) == pytest.approx(math.dist(c, d))


@pytest.mark.parametrize("name", POSED)
def test_shadows_lie_on_one_plane_below_the_card(name: str) -> None:
    found = posed(name)
    corners = [point for ring in found.shadows for point in ring]
    wide = max(found.shadows, key=lambda ring: Polygon([(x, y) for x, y, _ in ring]).area)
    up = normal(wide)
    up = up if up[2] > 0 else (-up[0], -up[1], -up[2])
    ground = dot(corners[0], up)
    assert all(dot(point, up) == pytest.approx(ground, abs=1e-9) for point in corners)
    heights = [dot(point, up) for each in found.parts if each.section for point in each.ring]
    assert min(heights) == pytest.approx(ground)


# ---- what shows ----------------------------------------------------------------------------------


@pytest.mark.parametrize("name", POSED)
def test_what_shows_of_a_standing_card_is_what_is_nearest(name: str) -> None:
    folded = card_in(name)
    parts = posed(name).parts
    assert_nearest(parts, visible_on_page(parts, folded.card))


@pytest.mark.parametrize("angle", [35, 90, 145])
@pytest.mark.parametrize("name", ["box", "strip", "beak", "shutters", "stairs", "book"])
def test_what_shows_of_a_lying_card_is_what_is_nearest(name: str, angle: int) -> None:
    folded = card_in(name)
    assert_nearest(space_view(folded, "card", {1: angle}), visible_in_pose(folded, "card", {1: angle}))


@pytest.mark.parametrize("angle", [20, 75, 130, 170])
@pytest.mark.parametrize("name", ["box", "strip", "beak", "shutters", "stairs", "tent", "gate"])
def test_as_much_shows_of_each_part_as_later_ones_leave_of_it(name: str, angle: int) -> None:
    """The same as shapely finds with floats; the page's grid is a thousandth of an inch."""
    folded = card_in(name)
    parts = space_view(folded, "card", {1: angle})
    found = {id(each.part): each.areas for each in visible_on_page(parts, folded.card)}
    shapes = list(map(_on_page, parts))
    for at, part in enumerate(parts):
        left = shapes[at].difference(unary_union(shapes[at + 1 :])).area
        areas = found.get(id(part), ())
        assert float(total_area(areas)) == pytest.approx(left, abs=0.02)


def assert_nearest(parts: Sequence[SpacePart], found: Sequence[SpaceArea]) -> None:
    """At points all over the page the part that shows is the one whose plane is nearest to the eye.

    Worked out with shapely and the planes of the parts, not in the order in which they are drawn; where
    two lie in one plane either may show. Points within a hair of an outline are left out.
    """
    shapes = [(each, _on_page(each)) for each in parts]
    faces = [(each, shape) for each, shape in shapes if shape.area > 0.01]
    seen = [(each.part, unary_union([_polygon(ring) for ring in each.areas])) for each in found]
    edges = unary_union([shape.boundary for _, shape in faces])
    tried = 0
    for point in _grid(unary_union([shape for _, shape in faces])):
        if edges.distance(point) < 0.01:
            continue
        depths = [(_depth(each, point), each) for each, shape in faces if shape.contains(point)]
        showing = [each for each, shape in seen if shape.contains(point)]
        assert len(showing) == (1 if depths else 0)
        if depths:
            nearest = max(depth for depth, _ in depths)
            assert any(each == showing[0] for depth, each in depths if depth > nearest - 1e-6)
            tried += 1
    assert tried > 200


def _on_page(part: SpacePart) -> Polygon:
    return Polygon(map(project, part.ring), [list(map(project, hole)) for hole in part.holes])


def _polygon(ring: Outline) -> Polygon:
    return Polygon([(float(x), float(y)) for x, y in ring])


def _grid(shape: Polygon) -> list[Point]:
    left, top, right, bottom = shape.bounds
    return [Point(left + (right - left) * (i + 0.37) / 30, top + (bottom - top) * (j + 0.53) / 30)
            for i in range(30) for j in range(30)]  # fmt: skip


def _depth(face: SpacePart, point: Point) -> float:
    """How near to the eye a face is at a point of the page: where the line of sight meets its plane."""
    up = normal(face.ring)
    # A point of space that is seen there: solve the two rows of the projection with z = 0.
    (a, c), (b, d) = project((1.0, 0.0, 0.0)), project((0.0, 1.0, 0.0))
    wide = a * d - b * c
    start = ((d * point.x - b * point.y) / wide, (a * point.y - c * point.x) / wide, 0.0)
    return dot(start, eye()) + dot(minus(face.ring[0], start), up) / dot(eye(), up)


def _middle(points: Sequence[Vector]) -> Vector:
    x, y, z = (sum(each) / len(points) for each in zip(*points, strict=True))
    return (x, y, z)
