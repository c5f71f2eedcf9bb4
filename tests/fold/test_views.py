"""What shows from each side: the right faces, the right way up, in an order a painter can use."""

from fractions import Fraction

import pytest

from cardrecipe.fold.card import fold
from cardrecipe.fold.folded import FoldedCard, Outline, SeenPart, View
from cardrecipe.model.work import Glue
from cardrecipe.solve.sized import Around, Pose, SizedCard, SizedPiece
from tests.hand_made import (
    PAPERS,
    SPAN,
    Size,
    double_gate,
    gate,
    piece,
    placed,
    side_fold,
    strip_base,
    strip_card,
    tent,
)

F = Fraction


def folded(card: SizedCard) -> FoldedCard:
    result, _ = fold(card)
    return result


def names(view: View) -> list[str]:
    """The parts bottom first: a section's name, or a piece's with its copy."""
    return [part.section or f"{part.piece}/{part.copy}" for part in view.parts]


def part(view: View, name: str, copy: int = 0) -> SeenPart:
    return next(each for each in view.parts if (each.piece, each.copy) == (name, copy))


def corner(view: View, name: str, copy: int = 0) -> tuple[Fraction, Fraction]:
    """Where the left top corner of a piece's own face is seen."""
    return part(view, name, copy).outline[0]


def corners(*points: tuple[Fraction | int, Fraction | int]) -> Outline:
    return tuple((F(x), F(y)) for x, y in points)


def label(host: str, host_size: tuple[Size, Size], side: str) -> SizedPiece:
    """A label of 1 x 1/2, put 1/4 from the left and 1/2 from the top of a face."""
    spot = placed(host, host_size, (1, "1/2"), side=side, at=("1/4", "1/2"))
    return piece("label", "rectangle", "white", (1, "1/2"), spot)


def test_the_closed_double_gate_from_the_front() -> None:
    view = folded(double_gate()).view("closed-front")
    assert (view.width, view.height, view.folds) == (F(17, 4), F(11, 2), ())
    assert names(view) == [
        "left-door",
        "right-door",
        "door-paper/0",
        "door-paper/1",
        "left-flap",
        "right-flap",
        "flap-paper/0",
        "flap-paper/1",
        "sash/0",
        "plate/0",
        "pennant/0",
        "boats-card/0",
    ]
    assert [part.side for part in view.parts if part.section] == ["outside"] * 2 + ["inside"] * 2
    assert corner(view, "door-paper") == (F(1, 8), F(1, 8))
    assert corner(view, "door-paper", 1) == (F(9, 4), F(1, 8))


def test_the_closed_double_gate_from_behind_shows_the_back_and_the_band() -> None:
    view = folded(double_gate()).view("closed-back")
    assert names(view) == ["back", "sash/0"]
    assert part(view, "sash").outline[0] == (F(0), F(9, 4))
    assert part(view, "sash").outline[2] == (F(17, 4), F(13, 4))


def test_the_open_double_gate_has_no_band_and_each_panel_on_its_side() -> None:
    card = folded(double_gate())
    inside, outside = card.view("open-inside"), card.view("open-outside")
    assert {part.piece for part in inside.parts} == {"card", "flap-paper", "message"}
    assert {part.piece for part in outside.parts} == {"card", "door-paper"}
    assert corner(inside, "message") == (F(7, 2), F(1, 8))
    assert corner(outside, "door-paper", 0) == (F(31, 4), F(1, 8))  # on the left door: right here


def test_valley_and_mountain_swap_as_seen_from_the_other_side() -> None:
    card = folded(double_gate())
    inside = [(fold[0][0], fold[2], fold[3]) for fold in card.view("open-inside").folds]
    outside = [(fold[0][0], fold[2], fold[3]) for fold in card.view("open-outside").folds]
    swap = {"valley": "mountain", "mountain": "valley"}
    assert inside[0] == (F(5, 4), "mountain", 1)
    assert outside == [(11 - x, swap[direction], number) for x, direction, number in inside]


def test_the_front_of_a_tent_is_the_right_way_up() -> None:
    """Its fold is on top: 1/2 from the top is 1/2 from the fold, on either outside."""
    size: tuple[Size, Size] = ("11/2", "17/4")
    for host, view in (("front", "closed-front"), ("back", "closed-back")):
        card = folded(tent(label(host, size, "outside")))
        assert corner(card.view(view), "label") == (F(1, 4), F(1, 2))
        assert part(card.view(view), "label").outline[1] == (F(5, 4), F(1, 2))


def test_a_tent_laid_open_shows_its_front_label_upside_down_from_behind() -> None:
    card = folded(tent(label("front", ("11/2", "17/4"), "outside")))
    view = card.view("open-outside")
    ring = part(view, "label").outline
    assert ring[0] == (F(11, 2) - F(1, 4), F(17, 4) - F(1, 2))
    assert ring[1] == (F(17, 4), F(15, 4))


def test_a_side_fold_has_its_fold_on_the_left_of_the_front() -> None:
    size: tuple[Size, Size] = ("17/4", "11/2")
    card = folded(side_fold(label("front", size, "outside")))
    assert corner(card.view("closed-front"), "label") == (F(1, 4), F(1, 2))
    assert names(card.view("closed-back")) == ["back"]
    # on the flat sheet from behind, the fold is in the middle and the label 1/4 right of it
    assert corner(card.view("open-outside"), "label") == (F(17, 4) + F(1, 4), F(1, 2))


@pytest.mark.parametrize("section", ["left-door", "back", "right-door"])
def test_an_inside_label_lies_as_the_open_card_lies(section: str) -> None:
    wide: Size = 5 if section == "back" else "5/2"
    card = folded(gate(label(section, (wide, 7), "inside")))
    starts = {"left-door": F(0), "back": F(5, 2), "right-door": F(15, 2)}
    assert corner(card.view("open-inside"), "label") == (starts[section] + F(1, 4), F(1, 2))
    assert "label/0" not in names(card.view("closed-front"))


def test_an_outside_label_of_a_left_door_counts_from_its_fold() -> None:
    card = folded(gate(label("left-door", ("5/2", 7), "outside")))
    assert corner(card.view("closed-front"), "label") == (F(1, 4), F(1, 2))


def test_a_mat_lies_under_its_partner_though_written_after_it() -> None:
    spot = ("back", (5, 7))
    message = piece("message", "panel", "white", (3, 4), placed(*spot, (3, 4)))
    mat = piece("mat", "panel", "glow", ("13/4", "17/4"), placed(*spot, ("13/4", "17/4")))
    view = folded(gate(message, mat._replace(under="message"))).view("open-inside")
    assert names(view)[-2:] == ["mat/0", "message/0"]


def test_foam_lifts_what_lies_on_it_and_a_mats_foam_its_partner() -> None:
    foam = Glue(SPAN, "foam", thick=F(10, 127))  # 2 mm
    spot = ("back", (5, 7))
    message = piece("message", "panel", "white", (3, 4), placed(*spot, (3, 4)), glue=foam)
    mat = piece("mat", "panel", "glow", ("13/4", "17/4"), placed(*spot, ("13/4", "17/4")), glue=foam)
    on_message = placed("message", (3, 4), (1, 1), host_piece="message", is_section=False)
    star = piece("star", "cutout", "glow", (1, 1), on_message)
    view = folded(gate(message, mat._replace(under="message"), star)).view("open-inside")
    assert [part(view, name).lift_mm for name in ("mat", "message", "star")] == [2, 4, 4]


def test_nested_pieces_turn_with_their_host() -> None:
    """A label at the left top of a panel that is turned by a quarter stands at its right top."""
    panel = piece("panel", "panel", "glow", (4, 2), placed("back", (5, 7), (4, 2)), turned=F(90))
    spot = placed("panel", (4, 2), (1, 1), at=(0, 0), host_piece="panel", is_section=False)
    star = piece("star", "square", "white", (1, 1), spot)
    view = folded(gate(panel, star)).view("open-inside")
    assert part(view, "panel").outline[0] == (F(6), F(3, 2))  # back starts at 5/2, is 5 wide
    assert part(view, "star").outline == corners((6, F(3, 2)), (6, F(5, 2)), (5, F(5, 2)), (5, F(3, 2)))


def test_each_copy_of_a_host_carries_its_own() -> None:
    doors = [placed(name, ("5/2", 7), (2, 6), side="outside") for name in ("left-door", "right-door")]
    stars = [
        placed("door", (2, 6), (1, 1), host_piece="door", host_copy=copy, is_section=False) for copy in (0, 1)
    ]
    more = (
        piece("door", "panel", "glow", (2, 6), *doors),
        piece("star", "circle", None, (1, 1), *stars),
    )
    view = folded(gate(*more)).view("closed-front")
    assert [corner(view, "star", copy) for copy in (0, 1)] == [(F(3, 4), F(3)), (F(13, 4), F(3))]


def test_what_reaches_beyond_the_card_is_seen_from_behind_and_widens_the_view() -> None:
    wide = piece("frame", "panel", "glow", (5, 4), placed("front", ("17/4", "11/2"), (5, 4), side="outside"))
    card = folded(side_fold(wide._replace(overhangs=True)))
    front, back = card.view("closed-front"), card.view("closed-back")
    assert front.width == back.width == 5
    assert part(front, "frame").side == "inside"
    assert part(back, "frame").side == "outside"
    assert names(back) == ["frame/0", "back"]
    assert corner(back, "frame") == (F(5), F(3, 4))  # its left is on the right from behind


def test_a_piece_that_reaches_over_its_neighbour_lies_over_it() -> None:
    wide = piece(
        "bar",
        "panel",
        "glow",
        (4, 1),
        placed("left-door", ("5/2", 7), (4, 1), side="outside", at=(1, 3)),
    )
    assert names(folded(gate(wide)).view("closed-front"))[-1] == "bar/0"


def test_only_what_hides_hides() -> None:
    for paper, is_seen in (("ink", False), ("film", True)):
        pane = piece("pane", "panel", paper, (4, 5), placed("back", (5, 7), (4, 5)))
        under = piece("note", "panel", "white", (2, 2), placed("back", (5, 7), (2, 2)))
        card = gate(under, pane)
        film = PAPERS["white"]._replace(name="film", kind="acetate")
        view = folded(card._replace(papers={**card.papers, "film": film})).view("open-inside")
        assert ("note/0" in names(view)) is is_seen


@pytest.mark.parametrize(("side", "view"), [("inside", "open-inside"), ("outside", "open-outside")])
def test_a_piece_on_the_whole_base_is_measured_on_the_whole(side: str, view: str) -> None:
    spot = placed("card", (10, 7), (9, 1), side=side, at=(1, 2), is_section=False)
    card = folded(gate(piece("strip", "panel", "glow", (9, 1), spot)))
    assert corner(card.view(view), "strip") == (F(1), F(2))


def test_a_panels_own_sections_are_measured_on_the_panel() -> None:
    panel = strip_base([2, 2], "V", ["page", "other"], 5)
    on_back = placed("back", (5, 7), (4, 5))
    leaf = panel._replace(name="leaf", kind="panel", placements=(on_back,))
    spot = placed("other", (2, 5), (1, 1), at=(1, 1), host_piece="leaf")
    view = folded(gate(leaf, piece("dot", "circle", "white", (1, 1), spot))).view("open-inside")
    assert corner(view, "dot") == (F(5, 2) + F(1, 2) + 2 + 1, F(1) + 1)


def test_a_band_downward_goes_round_the_other_way() -> None:
    around = Around("card", True, F(2), F(15), F(1))
    band = piece("sash", "band", "ink", (1, 16), around=around)
    spot = placed("sash", (1, 16), ("1/2", "1/2"), host_piece="sash", is_section=False)
    view = folded(gate(band, piece("dot", "circle", "white", ("1/2", "1/2"), spot))).view("closed-front")
    assert part(view, "sash").outline == corners((2, 0), (3, 0), (3, 7), (2, 7))
    assert corner(view, "dot") == (
        F(9, 4),
        F(13, 4),
    )  # the middle of the band is the middle of the front


def test_a_score_left_flat_is_seen_in_the_closed_view() -> None:
    pose = Pose("closed", (("card", 3, F(180)), ("card", 4, F(180)), ("card", 2, F(180))), SPAN)
    card = folded(double_gate()._replace(poses=(pose,)))
    (front,) = card.view("closed-front").folds
    assert (front[2], front[3]) == ("valley", 1)  # the left door is turned over
    assert card.view("closed-back").folds == ()  # the back is before it


def test_a_score_left_flat_beside_a_door_is_seen_from_both_sides() -> None:
    card = folded(gate()._replace(poses=(Pose("closed", (("card", 1, F(180)),), SPAN),)))
    (front,), (back,) = (card.view(name).folds for name in ("closed-front", "closed-back"))
    assert (front[0][0], *front[2:]) == (F(5), "valley", 2)
    assert (back[0][0], *back[2:]) == (F(5, 2), "mountain", 2)


def test_a_score_left_flat_under_a_layer_is_not_seen() -> None:
    pose = Pose("closed", (("card", 2, F(180)),), SPAN)
    card = folded(strip_card([1, 1, 2], "VV")._replace(poses=(pose,)))
    assert [card.view(name).folds for name in ("closed-front", "closed-back")] == [
        (((F(1), F(0)), (F(1), F(5)), "mountain", 1),),
        (),
    ]


def test_a_loose_piece_and_one_on_another_base_are_in_no_view() -> None:
    loose = piece("slip", "panel", "white", (1, 1), loose=True)
    view = folded(gate(loose)).view("open-inside")
    assert {part.piece for part in view.parts} == {"card"}
