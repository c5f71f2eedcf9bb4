"""The course of a ring from flat to shut, on strips glued across a spine: what leads, what follows, what
stays, and what cannot close."""

import math

import pytest

from cardrecipe.fold.linkage import Jammed, _at_once, _from_flat, _from_shut, _rings, linkage_course
from cardrecipe.fold.links import Hinge, Weld, branching

SPINES = (1, 2)  # the numbers of the scores that lead
STEPS = 6


def strip(spine: float, number: int, left: int, right: int, first: int, ridge: float = 0) -> list[Hinge]:
    """A spine between two covers, and a strip from 1 left of it to 1 right of it with a ridge between.

    The strip's four parts are facets from `first` on: a tab, two that rise, a tab.
    """
    places = (spine, spine - 1, spine + ridge, spine + 1)
    facets = ((left, right), *((first + at, first + at + 1) for at in range(3)))
    keys = (number, 10 * number + 1, 10 * number + 2, 10 * number + 3)
    return [
        Hinge(one, two, (at, 0.0), (at, 1.0), key, sign)
        for (one, two), at, key, sign in zip(facets, places, keys, (1, 1, -1, 1), strict=True)
    ]


def tabs(left: int, right: int, first: int) -> list[Weld]:
    return [Weld(left, first), Weld(right, first + 3)]


# Three covers, 0 to 2, with a strip over each of the two spines.
HINGES = [*strip(0, SPINES[0], 0, 1, 3), *strip(4, SPINES[1], 1, 2, 7)]
WELDS = [*tabs(0, 1, 3), *tabs(1, 2, 7)]


@pytest.mark.parametrize("lead", SPINES)
def test_only_the_ring_of_the_score_that_leads_moves_and_all_of_it_evenly(lead: int) -> None:
    course = linkage_course(11, HINGES, WELDS, 1, lead, {}, STEPS)
    assert not isinstance(course, Jammed)
    assert len(course) == STEPS + 1
    for step, angles in enumerate(course):
        assert len(angles) == len(HINGES)
        for hinge, angle in zip(HINGES, angles, strict=True):
            moves = lead in (hinge.key, hinge.key // 10)
            assert angle == pytest.approx(180 * step / STEPS if moves else 0, abs=1e-6)


def test_a_strip_whose_ridge_is_not_over_the_spine_cannot_be_shut() -> None:
    """Its sides of 1.2 and 0.8 do not lie on each other where the covers do; the jam names its scores."""
    hinges, welds = strip(0, 1, 0, 1, 2, ridge=0.2), tabs(0, 1, 2)
    jam = linkage_course(6, hinges, welds, 1, 1, {}, STEPS)
    assert isinstance(jam, Jammed)
    assert jam.ring == (0, 1, 2, 3)
    assert jam.gap == pytest.approx(0.4, abs=0.01)


@pytest.mark.parametrize("way", [_from_flat, _from_shut, _at_once])
@pytest.mark.parametrize("angle", [20, 90, 160])
def test_whichever_way_is_gone_the_score_that_leads_ends_as_it_is_told(way: object, angle: int) -> None:
    hinges, welds = strip(0, 1, 0, 1, 2), tabs(0, 1, 2)
    branches = branching(6, [*hinges, *welds], 1)
    (ring,) = _rings(branches, {1: float(angle)})
    goal, shut = [math.radians(angle), 0, 0, 0, 0, 0], [math.pi] * 4 + [0.0] * 2
    found = way(branches, ring, goal, shut)  # type: ignore[operator]
    assert found[:4] == pytest.approx([math.radians(angle)] * 4)
