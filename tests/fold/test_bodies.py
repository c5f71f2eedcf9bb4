"""Which parts move against each other, and what rides with what."""

from fractions import Fraction

import pytest

from cardrecipe.fold.bodies import bodies, live_scores, rides
from cardrecipe.fold.closed import FlatFold, closed_pose, flat_fold
from cardrecipe.fold.placing import placed_pieces
from cardrecipe.solve.sized import Pose, SizedCard, SizedPiece
from tests.hand_made import SPAN, double_gate, gate, piece, placed, strip_base, tent, z_fold

F = Fraction


def flat_of(card: SizedCard) -> FlatFold:
    flat = flat_fold(card.bases[0], closed_pose(card))
    assert isinstance(flat, FlatFold)
    return flat


def names(card: SizedCard) -> list[str]:
    flat = flat_of(card)
    found = bodies(card, flat, placed_pieces(card, flat))
    return ["+".join(body.sections) or body.piece for body in found]


def carrier(card: SizedCard, name: str, copy: int = 0, part: int = 0) -> str:
    flat = flat_of(card)
    return rides(card, flat, placed_pieces(card, flat))[name, copy][part].carrier


@pytest.mark.parametrize(("card", "count"), [(gate(), 3), (tent(), 2), (z_fold(), 3)])
def test_every_live_score_parts_two_bodies(card: SizedCard, count: int) -> None:
    assert names(card) == [section.name for section in card.bases[0].sections]
    assert len(names(card)) == count


def test_a_band_is_a_body_and_what_is_glued_rides() -> None:
    card = double_gate()
    assert names(card) == ["left-flap", "left-door", "back", "right-door", "right-flap", "sash"]
    assert [carrier(card, "door-paper", copy) for copy in (0, 1)] == ["left-door", "right-door"]
    assert [carrier(card, name) for name in ("plate", "pennant", "boats-card")] == ["sash"] * 3


def test_a_score_that_no_pose_folds_parts_nothing() -> None:
    closed = Pose("closed", (("card", 2, F(180)),), SPAN)
    card = gate()._replace(poses=(closed,))
    assert live_scores(card, card.bases[0]) == {2}
    assert names(card) == ["left-door+back", "right-door"]


def test_a_score_that_another_pose_folds_does() -> None:
    closed = Pose("closed", (("card", 2, F(180)),), SPAN)
    standing = Pose("standing", (("card", 1, F(60)),), SPAN)
    flat = Pose("flat", (("card", 1, F(0)),), SPAN)
    assert names(gate()._replace(poses=(closed, standing))) == ["left-door", "back", "right-door"]
    assert names(gate()._replace(poses=(closed, flat))) == ["left-door+back", "right-door"]


def leaf(*at: SizedPiece) -> SizedPiece:
    own = strip_base([1, 2], "V", ["wing", "held"], 5)
    return own._replace(name="leaf", kind="panel", placements=(placed("back", (5, 7), (3, 5)),))


def test_a_panel_with_a_score_is_held_by_its_largest_part() -> None:
    card = gate(leaf())
    assert names(card) == ["left-door", "back", "right-door", "wing"]
    assert [carrier(card, "leaf", part=part) for part in (0, 1)] == ["wing", "back"]
    spot = placed("wing", (1, 5), ("1/2", 1), host_piece="leaf")
    dot = piece("dot", "circle", "white", ("1/2", "1/2"), spot)
    assert carrier(gate(leaf(), dot), "dot") == "wing"


def test_a_pose_may_leave_a_panels_own_score_flat() -> None:
    card = gate(leaf())._replace(poses=(Pose("standing", (("leaf", 1, F(0)),), SPAN),))
    assert names(card) == ["left-door", "back", "right-door"]


def test_a_lining_scored_where_the_card_is_rides_with_each_part() -> None:
    lining = strip_base([2, 5, 2], "VV", ["one", "two", "three"], 6)
    spot = placed("card", (10, 7), (9, 6), is_section=False)
    card = gate(lining._replace(name="lining", kind="panel", placements=(spot,)))
    assert [carrier(card, "lining", part=part) for part in range(3)] == ["left-door", "back", "right-door"]
    assert names(card) == ["left-door", "back", "right-door"]


def test_a_lining_with_its_scores_beside_the_cards_is_one_thing_in_the_way() -> None:
    lining = strip_base(["9/4", "9/2", "9/4"], "VV", ["one", "two", "three"], 6)
    spot = placed("card", (10, 7), (9, 6), is_section=False)
    card = gate(lining._replace(name="lining", kind="panel", placements=(spot,)))
    assert carrier(card, "lining", part=1) == "lining"


def test_a_loose_piece_and_what_is_on_it_move_alone() -> None:
    slip = piece("slip", "panel", "white", (2, 3), placed("back", (5, 7), (2, 3)), loose=True)
    spot = placed("slip", (2, 3), (1, 1), host_piece="slip", is_section=False)
    card = gate(slip, piece("star", "square", "glow", (1, 1), spot))
    assert names(card)[-1] == "slip"
    assert carrier(card, "star") == "slip"
