"""Rings of sections that move together: nothing is torn or stretched on the way, and the card closes."""

import math
from fractions import Fraction
from itertools import combinations

import pytest

from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.linkage import Jammed, Linkage, solve_linkage, solved_once
from cardrecipe.fold.linked_card import linked_card, shown_card
from cardrecipe.fold.links import Weld
from cardrecipe.fold.motions import inverse
from cardrecipe.fold.space import shut_card
from cardrecipe.fold.vectors import ON_THE_TABLE, Held, Vector, dot
from cardrecipe.solve.sized import SizedCard
from tests.fold.opened import opened, structure
from tests.hand_made import accordion, double_gate, gate

# Every shipped fold with a ring whose first score leads all others.
RINGS = (
    "box-pop-up", "centre-step", "diorama-bridge", "side-step", "strip-pop-up", "tri-shutter",
    "two-piece-step", "v-pop-up",
)  # fmt: skip
ANGLES = (0, 1, 20, 45, 90, 135, 160, 179, 180)


def flat(point: tuple[Fraction, Fraction]) -> tuple[float, float]:
    return (float(point[0]), float(point[1]))


def in_space(card: Assembly, at: int, poses: tuple[Held, ...]) -> list[Vector]:
    return [poses[at].at(flat(point)) for point in card.sections[at].outline]


@pytest.mark.parametrize("name", RINGS)
@pytest.mark.parametrize("angle", ANGLES)
def test_both_sides_of_every_score_stay_together(name: str, angle: int) -> None:
    card = structure(name)
    linkage = opened(card, angle)
    assert linkage.gap < 1e-9
    for joint in card.joints:
        one, two = linkage.poses[joint.first], linkage.poses[joint.second]
        for end in (flat(joint.start), flat(joint.end)):
            assert math.dist(one.at(end), two.at(end)) < 1e-9
    for weld in card.welds:
        one, two = linkage.poses[weld.facet], linkage.poses[weld.host]
        for point in map(flat, card.sections[weld.facet].outline):
            assert math.dist(one.at(point), two.at(point)) < 1e-9


@pytest.mark.parametrize("name", RINGS)
@pytest.mark.parametrize("angle", [20, 90, 179])
def test_no_section_is_stretched(name: str, angle: int) -> None:
    """All distances between the corners of a section are those of the flat paper."""
    card = structure(name)
    linkage = opened(card, angle)
    for at, section in enumerate(card.sections):
        corners = in_space(card, at, linkage.poses)
        for (one, first), (two, second) in combinations(zip(section.outline, corners, strict=True), 2):
            assert math.dist(first, second) == pytest.approx(math.dist(flat(one), flat(two)))


@pytest.mark.parametrize("name", RINGS)
@pytest.mark.parametrize("angle", [20, 90, 160])
def test_every_score_is_bent_by_the_angle_that_is_told(name: str, angle: int) -> None:
    """Measured between the normals of its two sides."""
    card = structure(name)
    linkage = opened(card, angle)
    for joint, turned in zip(card.joints, linkage.angles, strict=True):
        between = dot(linkage.poses[joint.first].normal, linkage.poses[joint.second].normal)
        assert between == pytest.approx(math.cos(math.radians(turned)))


@pytest.mark.parametrize("name", RINGS)
def test_the_card_closes_as_it_is_folded_flat(name: str) -> None:
    """With the leading score at 180 every section lies where its exact motion brings it."""
    card = structure(name)
    linkage = opened(card, 180)
    back = inverse(card.motions[card.flat.root])  # to where the root lies on the table
    for at, section in enumerate(card.sections):
        for point, found in zip(section.outline, in_space(card, at, linkage.poses), strict=True):
            x, y = flat(back.apply(card.motions[at].apply(point)))
            assert found == pytest.approx((x, y, 0.0), abs=1e-6)


@pytest.mark.parametrize("name", RINGS)
def test_a_card_opens_without_a_jump(name: str) -> None:
    card = structure(name)
    before = opened(card, 0).poses
    for angle in range(5, 181, 5):
        now = opened(card, angle).poses
        for at in range(len(card.sections)):
            pairs = zip(in_space(card, at, before), in_space(card, at, now), strict=True)
            assert max(math.dist(one, two) for one, two in pairs) < 2.5
        before = now


@pytest.mark.parametrize("card", [gate(), double_gate(), accordion(6)], ids=lambda card: str(card.title))
def test_without_rings_scores_that_are_not_named_stay_flat(card: SizedCard) -> None:
    found = shut_card(card, "card")
    assert found is not None
    linkage = opened(found, 70)
    assert linkage.angles == (pytest.approx(70), *(0.0 for _ in found.joints[1:]))


def test_what_cannot_be_is_shown_with_the_score_of_the_largest_sections_leading() -> None:
    """The covers of a box hang on the spine; the angle of its ridge gives way."""
    card = structure("strip-pop-up")
    of_sheets = {("strip", 2): Fraction(20)}
    assert isinstance(linked_card(card, {1: Fraction(90)}, of_sheets), Jammed)
    assert shown_card(card, {1: Fraction(90)}, of_sheets).angles == pytest.approx([90] * 4)


def test_a_state_that_is_asked_for_again_is_remembered_and_another_is_not() -> None:
    card = structure("strip-pop-up")
    first = opened(card, 90)
    assert opened(structure("strip-pop-up"), 90) is first
    assert opened(card, 91) != first
    assert solved_once.cache_info().misses == 2


def test_any_score_of_a_ring_may_lead() -> None:
    card = structure("strip-pop-up")
    for number in (1, 2, 3):
        found = linked_card(card, {}, {("strip", number): Fraction(65)})
        assert isinstance(found, Linkage)
        assert found.angles == pytest.approx([65] * 4)


def test_sheets_that_are_all_glued_to_each_other_are_closed_within_the_noise_of_floats() -> None:
    """Three walls round a corner, each glued to both others: no hinge is in their ring."""
    one = ON_THE_TABLE.swung((0.1, 0.2), (0.7, 1.1), (2.0, 0.0), math.radians(37))
    two = ON_THE_TABLE.swung((1.3, 0.4), (0.2, 0.9), (0.0, 0.0), math.radians(71))
    found = solve_linkage(3, (), (Weld(0, 1, one), Weld(1, 2, two), Weld(0, 2, one.after(two))), 1, {}, {})
    assert isinstance(found, Linkage)
    assert found.gap < 1e-12


def test_a_sheet_that_would_be_glued_in_two_places_at_once_is_jammed() -> None:
    """The second sheet lies on the first as laid out, the third on both, but a tenth aside."""
    aside = ON_THE_TABLE._replace(origin=(0.1, 0.0, 0.0))
    found = solve_linkage(3, (), (Weld(0, 1), Weld(1, 2), Weld(0, 2, aside)), 0, {}, {})
    assert isinstance(found, Jammed)
    assert found.gap == pytest.approx(0.1)
