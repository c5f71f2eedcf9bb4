"""Rings of sections held in space against formulas that were published or follow from plane geometry.

Sources stand beside the checks; where a formula is from memory its line says so, and the closing of the
ring is worked out a second time here, with rotation matrices.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

import pytest

from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.linkage import Jammed, Linkage, solve_linkage
from cardrecipe.fold.linked_card import linked_card
from cardrecipe.fold.links import Hinge
from cardrecipe.fold.vectors import Held, Vector, dot, minus
from tests.fold.opened import opened, structure
from tests.recipes import HEAD, codes_of

Matrix = tuple[Vector, Vector, Vector]
ANGLES = (5, 30, 60, 90, 120, 150, 175)


def pose_of(card: Assembly, linkage: Linkage, name: str) -> Held:
    return linkage.poses[[section.name for section in card.sections].index(name)]


# ---- four sides that stay parallel ---------------------------------------------------------------


PARALLEL = ("box-pop-up", "strip-pop-up", "centre-step", "side-step", "diorama-bridge", "two-piece-step")


@pytest.mark.parametrize("angle", ANGLES)
@pytest.mark.parametrize("name", PARALLEL)
def test_in_a_parallel_pop_up_every_score_turns_as_far_as_the_spine(name: str, angle: int) -> None:
    """Four-bar rings whose opposite sides are equal stay parallelograms, so that all their angles are the
    spine's or its supplement (plane geometry); standards, section 6: three papers on pop-ups, by abstract
    (single-slit and V-fold 1998, 90-degree structures 2003, v-style later)."""
    assert opened(structure(name), angle).angles == pytest.approx([angle] * len(structure(name).joints))


@pytest.mark.parametrize("angle", ANGLES)
def test_the_ridge_of_a_box_is_the_fourth_corner_of_a_parallelogram(angle: int) -> None:
    """Its way from the spine is that along the front and that along the back, added."""
    card = structure("strip-pop-up", out="3/2", deep="1", tab="1/2", above="2", tall="1")
    linkage = opened(card, angle)
    ridge = pose_of(card, linkage, "box-front").at((4 - 1.5 + 1, 2.0))
    theta = math.radians(180 - angle)  # between the covers; the back lies on the table, its spine at x = 4
    along_front = (1.5 * math.cos(theta), 1.5 * math.sin(theta))
    assert (ridge[0] - 4, ridge[2]) == pytest.approx((along_front[0] + 1, along_front[1]))
    assert ridge[1] == pytest.approx(2)


@pytest.mark.parametrize(("out", "deep", "front", "side"), [
    ("3/2", "1", "3/2", "1"), ("2", "1/2", "2", "1/2"), ("3/2", "1", "1", "3/2"), ("3/2", "1", "5/4", "5/4"),
])  # fmt: skip
def test_a_box_closes_flat_just_where_opposite_sides_are_equal(
    out: str, deep: str, front: str, side: str
) -> None:
    """The parallelogram condition. Standards, section 6: a four-bar ring closes flat with the spine folded
    where opposite sides are equal. The side that meets the front is as long as the way along the back."""
    recipe = (
        f"{HEAD}base card from ink\n  flat 8 x 6\n  score 4 from left\n  sections front, back\n"
        f"panel strip from ink on card\n  size {side} + {front} + 1 x 1\n"
        f"  place 4 - {out} - 1/2 from left, 2 from top\n  score 1/2 from both sides\n"
        f"  score 1/2 + {side} from left, mountain\n  sections one, near, far, two\n"
        "  glue one on front, two on back\n"
    )
    assert ("cannot-fold" not in codes_of(recipe)) == (out == front and deep == side)


@pytest.mark.parametrize("angle", [20, 60, 100, 140])
@pytest.mark.parametrize(
    ("out", "deep", "near", "far"), [(2, 1, 1.5, 1.5), (2, 1.5, 1, 2.5), (1, 1, 0.8, 1.2)]
)
def test_where_opposite_sides_differ_the_ridge_follows_the_law_of_cosines(
    out: float, deep: float, near: float, far: float, angle: int
) -> None:
    """Two triangles over the line from tab to tab (Euclid, Elements, book II, 12 and 13)."""
    hinges = [
        Hinge(0, 1, (0, 1), (0, 0), 1, 1), Hinge(0, 2, (-out, 1), (-out, 0), 2, 1),
        Hinge(2, 3, (near - out, 1), (near - out, 0), 3, -1), Hinge(3, 1, (deep, 1), (deep, 0), 4, 1),
    ]  # fmt: skip
    found = solve_linkage(4, hinges, [], 1, {1: angle}, {})
    between = math.radians(180 - angle)
    apart = out**2 + deep**2 - 2 * out * deep * math.cos(between)
    cosine = (near**2 + far**2 - apart) / (2 * near * far)
    assert isinstance(found, Linkage) == (abs(cosine) <= 1)  # else the tabs are nearer than the sides allow
    if isinstance(found, Linkage):
        assert 180 - abs(found.angles[2]) == pytest.approx(math.degrees(math.acos(cosine)))


# ---- vertices of four scores ---------------------------------------------------------------------


SECTORS = [(60, 75), (50, 70), (35, 110), (80, 85)]


def vertex(sectors: Sequence[float], mountain: int) -> list[Hinge]:
    """Scores that run out from one point; sector n lies after score n, all are valleys but one."""
    ways = [math.radians(sum(sectors[:at])) for at in range(len(sectors))]
    return [
        Hinge(at, (at - 1) % len(sectors), (0.0, 0.0), (math.cos(way), math.sin(way)), at + 1,
              -1 if at == mountain else 1)
        for at, way in enumerate(ways)
    ]  # fmt: skip


@pytest.mark.parametrize("angle", [10, 40, 100, 160])
@pytest.mark.parametrize("first", SECTORS)
def test_a_vertex_of_four_scores_moves_as_published(first: tuple[int, int], angle: int) -> None:
    """Where opposite sectors add up to 180 degrees (Kawasaki), opposite scores turn alike, and the tangents
    of half the angles of neighbours keep one ratio: sin((a-b)/2) : sin((a+b)/2), or
    cos((a+b)/2) : cos((a-b)/2), by which score is the mountain. From memory: Tachi, "Generalization of
    rigid-foldable quadrilateral-mesh origami", 2009; Evans, Lang, Magleby and Howell, "Rigidly foldable
    origami gadgets and tessellations", 2015."""
    a, b = map(math.radians, first)
    sectors = (*first, 180 - first[0], 180 - first[1])
    by_sines = math.sin((a - b) / 2) / math.sin((a + b) / 2)
    ratios = {0: by_sines, 1: math.cos((a - b) / 2) / math.cos((a + b) / 2)}
    for mountain, ratio in ratios.items():
        hinges = vertex(sectors, mountain)
        found = solve_linkage(4, hinges, [], 0, {1: angle}, {})
        assert isinstance(found, Linkage)
        one, two, three, four = found.angles
        assert (three, four) == pytest.approx((one, two))
        half_one, half_two = (math.tan(math.radians(each) / 2) for each in (one, two))
        assert half_one == pytest.approx(half_two * abs(ratio))
        assert closing_error(hinges, found.angles) < 1e-9


@pytest.mark.parametrize("angle", ANGLES)
def test_a_beak_opens_as_a_symmetric_vertex(angle: int) -> None:
    """Slanted scores at 45 degrees to the spine: tan of half the spine's angle is cos 45 of theirs, the
    formula above for equal neighbours."""
    card = structure("v-pop-up", half="1", beak="1")
    linkage = opened(card, angle)
    slanted = [turn for joint, turn in zip(card.joints, linkage.angles, strict=True)
               if joint.start[0] != joint.end[0]]  # fmt: skip
    half_spine = math.tan(math.radians(angle) / 2)
    expected = 2 * math.degrees(math.atan(half_spine / math.cos(math.radians(45))))
    assert slanted == pytest.approx([expected] * 4)


def closing_error(hinges: Sequence[Hinge], angles: Sequence[float]) -> float:
    """How far one is from where one began after turning about every score of a vertex, one after another.

    Belcastro and Hull, "Modelling the folding of paper into three dimensions using affine
    transformations", 2002 (from memory): the product of the turns about the flat scores is nothing."""
    product: Matrix = ((1, 0, 0), (0, 1, 0), (0, 0, 1))
    for hinge, angle in zip(hinges, angles, strict=True):
        product = times(product, turn_about(hinge.end, -hinge.sign * math.radians(angle)))
    return max(abs(product[i][j] - (i == j)) for i in range(3) for j in range(3))


def turn_about(axis: tuple[float, float], angle: float) -> Matrix:
    """Rodrigues' formula for an axis of length 1 in the plane of the paper."""
    (x, y), c, s = axis, math.cos(angle), math.sin(angle)
    return (
        (c + x * x * (1 - c), x * y * (1 - c), y * s),
        (x * y * (1 - c), c + y * y * (1 - c), -x * s),
        (-y * s, x * s, c),
    )


def times(one: Matrix, two: Matrix) -> Matrix:
    rows = [[sum(one[i][k] * two[k][j] for k in range(3)) for j in range(3)] for i in range(3)]
    return tuple((x, y, z) for x, y, z in rows)  # type: ignore[return-value]


# ---- a band of shutters --------------------------------------------------------------------------


@pytest.mark.parametrize("angle", ANGLES)
def test_shutters_move_straight_out_of_the_plane_of_their_posts(angle: int) -> None:
    """Links of one length that turn alike are parallelograms: the posts keep one plane, the shutters stay
    parallel to it, `step` times the sine away, the middle one on the other side (plane geometry)."""
    card = structure("tri-shutter", step="1/2")
    linkage = opened(card, angle)
    assert linkage.angles == pytest.approx([angle] * len(card.joints))
    post = pose_of(card, linkage, "left-post")
    away = 0.5 * math.sin(math.radians(angle))
    heights = {}
    for section, pose in zip(card.sections, linkage.poses, strict=True):
        if "shutter" in section.name or "post" in section.name:
            assert dot(pose.normal, post.normal) == pytest.approx(1)
            corners = [pose.at((float(x), float(y))) for x, y in section.outline]
            heights[section.name] = {round(dot(minus(each, post.origin), post.normal), 9) for each in corners}
    assert heights.pop("left-post") == heights.pop("right-post") == {0.0}
    upper, middle, lower = (heights[f"{row}-shutter"].pop() for row in ("upper", "middle", "lower"))
    assert (upper, lower) == pytest.approx((-away, -away))
    assert middle == pytest.approx(away)
    assert not any(heights.values())


# ---- what cannot be ------------------------------------------------------------------------------


@pytest.mark.parametrize(("spine", "ridge"), [(90, 45), (30, 120), (170, 90)])
def test_a_parallelogram_is_torn_by_two_angles_that_differ(spine: int, ridge: int) -> None:
    card = structure("strip-pop-up")
    found = linked_card(card, {1: Fraction(spine)}, {("strip", 2): Fraction(ridge)})
    assert isinstance(found, Jammed)
    assert found.gap > 0.01
    agreed = linked_card(card, {1: Fraction(spine)}, {("strip", 2): Fraction(spine)})
    assert isinstance(agreed, Linkage)


@pytest.mark.parametrize("first", SECTORS)
def test_a_vertex_is_torn_by_two_angles_off_the_formula(first: tuple[int, int]) -> None:
    hinges = vertex((*first, 180 - first[0], 180 - first[1]), 1)
    free = solve_linkage(4, hinges, [], 0, {1: 60.0}, {})
    assert isinstance(free, Linkage)
    second = free.angles[1]
    assert isinstance(solve_linkage(4, hinges, [], 0, {1: 60.0, 2: second}, {}), Linkage)
    assert isinstance(solve_linkage(4, hinges, [], 0, {1: 60.0, 2: second + 1}, {}), Jammed)
