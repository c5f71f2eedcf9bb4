"""The turns of a card, put one after the other, bring it from flat to closed and nothing tears on the way."""

import math
from collections.abc import Iterator, Mapping

import pytest

from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.linkage import Linkage
from cardrecipe.fold.linked_card import linked_card, shown_card
from cardrecipe.fold.links import gaps, length, poses
from cardrecipe.fold.motions import inverse
from cardrecipe.fold.poses import angles_in
from cardrecipe.fold.turns import Turn, branches_of, turns
from cardrecipe.fold.vectors import Held
from cardrecipe.model.lengths import MM_PER
from tests.fold.every_card import CARDS, every_card, shut_base
from tests.fold.folding_curve import curve
from tests.recipes import HEAD, compile_text

# The glued box: its walls lie between the tabs and what the tabs are glued to, so they go before.
GLUED_BOXES = {"box-lid", "single-wall-box"}


def found(name: str) -> tuple[Assembly, tuple[Turn, ...], tuple[Turn, ...]]:
    folded = every_card()[name]
    shut = shut_base(folded)
    every = turns(folded.card, shut)
    return shut, tuple(t for t in every if t.pose is None), tuple(t for t in every if t.pose is not None)


def held(shut: Assembly, angles: Mapping[int, float]) -> list[Held]:
    branches = branches_of(shut)
    return poses(branches, [math.radians(angles.get(at, 0.0)) for at in range(len(branches.links))])


def apart(shut: Assembly, angles: Mapping[int, float]) -> float:
    """How far any joint or glued section comes apart, in mm."""
    branches = branches_of(shut)
    turned = [math.radians(angles.get(at, 0.0)) for at in range(len(branches.links))]
    lying = poses(branches, turned)
    found = [length(each) for at in branches.closing for each in gaps(branches, lying, turned, at)]
    return max(found, default=0.0) * float(MM_PER["inch"])


def on_the_way(closing: tuple[Turn, ...], at: int, share: float) -> dict[int, float]:
    """The angles when the turns before are done and one is under way."""
    angles = {joint: course[-1] for turn in closing[:at] for joint, course in turn.courses}
    return angles | {joint: curve(course, share) for joint, course in closing[at].courses}


@pytest.mark.parametrize("name", CARDS)
def test_every_joint_that_is_folded_turns_once(name: str) -> None:
    shut, closing, _ = found(name)
    joints = [joint for turn in closing for joint in turn.joints]
    assert sorted(joints) == sorted(shut.folded)
    for turn in closing:
        for _, course in turn.courses:
            assert course[0] == 0 and course[-1] == pytest.approx(180)


@pytest.mark.parametrize("name", CARDS)
def test_when_all_are_done_the_card_lies_as_it_is_folded_shut(name: str) -> None:
    shut, closing, _ = found(name)
    lying = held(shut, {joint: course[-1] for turn in closing for joint, course in turn.courses})
    home = inverse(shut.motions[shut.flat.root])
    for at, section in enumerate(shut.sections):
        for point in section.outline:
            x, y = home.after(shut.motions[at]).apply(point)
            assert math.dist(lying[at].at((float(point[0]), float(point[1]))), (x, y, 0)) < 1e-6


@pytest.mark.parametrize("name", CARDS)
def test_nothing_tears_on_the_way(name: str) -> None:
    """Less than 0.2 mm between the steps of a course, and nothing at the steps."""
    shut, closing, _ = found(name)
    for at, turn in enumerate(closing):
        steps = max(len(course) for _, course in turn.courses) - 1
        for n in range(61):
            assert apart(shut, on_the_way(closing, at, n / 60)) < 0.2, (at, n)
        for n in range(steps + 1):
            assert apart(shut, on_the_way(closing, at, n / steps)) < 0.01


@pytest.mark.parametrize("name", CARDS)
def test_no_glued_or_scored_edge_comes_apart_in_a_pose(name: str) -> None:
    shut, closing, posed = found(name)
    for turn in posed:
        start = {joint: 180.0 for need in turn.needs for joint in closing[need].joints}
        for n in range(21):
            angles = start | {joint: curve(course, n / 20) for joint, course in turn.courses}
            assert apart(shut, angles) < 0.2


@pytest.mark.parametrize("name", CARDS)
def test_a_pose_ends_as_it_is_drawn(name: str) -> None:
    folded = every_card()[name]
    shut, closing, posed = found(name)
    for turn in posed:
        assert turn.pose is not None
        end = {joint: 180.0 for need in turn.needs for joint in closing[need].joints}
        end |= {joint: course[-1] for joint, course in turn.courses}
        drawn = shown_card(shut, *angles_in(turn.pose, shut)).angles
        assert [end.get(at, 0.0) for at in range(len(drawn))] == pytest.approx(drawn)
    named = {pose.name for pose in folded.card.poses if pose.name != "closed"}
    assert {turn.pose.name for turn in posed if turn.pose} == named


def test_a_ring_turns_as_the_linkage_has_it() -> None:
    """At each step of a course, to 0.01 mm, as solved by itself from the flat card."""
    shut, (turn,), _ = found("v-pop-up")
    courses = dict(turn.courses)
    lead = min(at for at, joint in enumerate(shut.joints) if joint.score.number == 1)
    assert {len(course) for course in courses.values()} == {13}
    for step in range(13):
        alone = linked_card(shut, {1: courses[lead][step]}, {})
        assert isinstance(alone, Linkage)
        lying = held(shut, {joint: course[step] for joint, course in courses.items()})
        for one, two, section in zip(lying, alone.poses, shut.sections, strict=True):
            for x, y in section.outline:
                point = (float(x), float(y))
                assert math.dist(one.at(point), two.at(point)) * 25.4 < 0.01


@pytest.mark.parametrize("name", sorted(set(CARDS) - GLUED_BOXES))
def test_the_order_is_that_of_the_folding_steps(name: str) -> None:
    folded = every_card()[name]
    shut, closing, _ = found(name)
    places = {score: at for at, turn in enumerate(closing) for score in base_scores(shut, turn)}
    told = [places[score] for move in folded.closed[0].moves for score in move.scores]
    assert told == sorted(told)


def base_scores(shut: Assembly, turn: Turn) -> Iterator[int]:
    for joint in turn.joints:
        if joint < len(shut.flat.joints):
            yield shut.joints[joint].score.number


@pytest.mark.parametrize(
    ("name", "needs"),
    [
        ("letter-thirds", [(), (0,)]),  # the flap that goes in first
        ("rolled-four", [(), (0,), (0, 1)]),
        ("z-fold", [(), ()]),  # either may be opened by itself
        ("accordion", [(), (), ()]),
        ("quarter-fold", [(), (0,)]),  # across first: then it lies as one strip
        ("overlapping-gate", [(), (0,)]),
    ],
)
def test_what_lies_within_a_fold_goes_before_it(name: str, needs: list[tuple[int, ...]]) -> None:
    _, closing, _ = found(name)
    assert [turn.needs for turn in closing] == needs


@pytest.mark.parametrize("name", ["box-pop-up", "centre-step", "tri-shutter", "strip-pop-up", "v-pop-up"])
def test_all_of_a_ring_that_moves_at_once_is_one_turn(name: str) -> None:
    shut, closing, _ = found(name)
    assert [len(turn.joints) for turn in closing] == [len(shut.folded)]


LARGE = HEAD.replace("12 x 12", "40 x 40")
WING = (
    "panel wing from ink on back\n  size 2 x 1\n  place 1/4 from left, 4 from top\n  score 1 from left\n"
    "  sections flap, rest\npose closed\n  fold 1 of wing at 180\n"
)


def turned(fold: str, more: str = "") -> tuple[Assembly, tuple[Turn, ...]]:
    folded = compile_text(f"{LARGE}base card from ink\n  fold {fold}, width 4, height 6\n{more}").folded
    assert folded is not None
    shut = shut_base(folded)
    return shut, turns(folded.card, shut)


def test_what_hangs_on_no_ring_is_a_turn_of_its_own() -> None:
    shut, closing = turned("box-pop-up", WING)
    assert [sorted(turn.joints) for turn in closing] == [[5], [0, 1, 2, 3, 4]]
    assert shut.facings[shut.joints[5].first].piece.name == "wing"


def test_what_is_folded_before_a_pose_does_not_turn_in_it() -> None:
    """The flap of a letter fold goes in first; then the cover turns evenly to where it is held."""
    _, (flap, cover, half) = turned("letter-thirds", "pose half\n  fold 1 at 60\n  fold 2 at 180\n")
    assert (half.needs, half.joints) == ((0,), cover.joints)
    ((_, course),) = half.courses
    assert course == pytest.approx((0, 60))
    assert not half.joints & flap.joints


def test_a_ring_goes_into_a_pose_as_the_linkage_has_it() -> None:
    shut, (_, half) = turned("v-pop-up", "pose half\n  fold 1 at 90\n")
    courses = dict(half.courses)
    assert {len(course) for course in courses.values()} == {13}
    assert courses[0] == pytest.approx([7.5 * step for step in range(13)])
    for step in range(13):
        assert apart(shut, {joint: course[step] for joint, course in courses.items()}) < 0.01


# Folded in half and in half again. The belt reaches beyond one quarter: its side goes round the half that
# comes to lie there first.
QUARTERS = """base card from ink
  flat 8 x 12
  score 4 from left
  score 6 from top, between 0 and 4
  score 6 from top, mountain, between 4 and 8
  sections back, upper-right, lower-left, lower-right
panel belt from ink on upper-right
  size 4 x 1
  place 2 from left, 2 from top
  overhangs
  score 2 from left
  sections rest, side
"""


@pytest.mark.parametrize("quarter", ["back", "upper-right", "lower-left", "lower-right"])
def test_a_belt_goes_round_a_half_after_it_lies_there_whatever_lies_within(quarter: str) -> None:
    """The wing is folded before the paper that comes to lie on it, the belt when there is a half to go round,
    and the second fold has them both between its layers."""
    folds = [f"  fold {each} at 180\n" for each in ("1", "1 of wing", "1 of belt", "2", "3")]
    wing = WING.partition("pose")[0].replace("on back", f"on {quarter}")
    found = compile_text(f"{LARGE}{QUARTERS}{wing}pose closed\n{''.join(folds)}").folded
    assert found is not None
    shut = shut_base(found)
    pieces = [
        [(shut.facings[shut.joints[at].first].piece.name, shut.joints[at].score.number) for at in turn.joints]
        for turn in turns(found.card, shut)
    ]
    assert [sorted(set(each)) for each in pieces] == [
        [("wing", 1)], [("card", 1)], [("belt", 1)], [("card", 2), ("card", 3)],
    ]  # fmt: skip
