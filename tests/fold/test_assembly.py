"""Several sheets in one card: the base and scored panels, folded shut together and held by glue."""

import random
from fractions import Fraction
from typing import Any

import pytest

from cardrecipe.fold.assembly import Assembly, CannotAssemble, assembly
from cardrecipe.fold.bodies import bodies
from cardrecipe.fold.card import fold, glued
from cardrecipe.fold.closed import FlatFold, closed_pose, flat_fold
from cardrecipe.fold.linkage import Linkage
from cardrecipe.fold.linked_card import linked_card
from cardrecipe.fold.meeting import meet_in_space
from cardrecipe.fold.placing import placed_pieces
from cardrecipe.fold.sheets import Weld
from cardrecipe.solve.sized import Join, Pose, SizedCard, SizedPiece
from tests.hand_made import SPAN, card_of, piece, placed, sheet, side_fold, strip_base, strip_card, z_fold
from tests.recipes import compile_text

F = Fraction
TABS = ["left-tab", "near", "far", "right-tab"]


def shut(card: SizedCard) -> Assembly | CannotAssemble:
    flat = flat_fold(card.bases[0], closed_pose(card))
    assert isinstance(flat, FlatFold)
    return assembly(card, flat, placed_pieces(card, flat))


def together(card: SizedCard) -> Assembly:
    found = shut(card)
    assert isinstance(found, Assembly)
    return found


def codes(card: SizedCard) -> list[str]:
    return [each.code for each in fold(card)[1] if each.severity == "error"]


def pop_up(
    front: Fraction, back: Fraction, near: Fraction, directions: str = "VMV", **more: Any
) -> SizedPiece:
    """A strip over the fold of a side fold 4 1/4 wide: its tabs end `front` and `back` from the fold."""
    tab = F(1, 2)
    at = placed("card", (F(17, 2), F(11, 2)), (2 * tab + front + back, 1), is_section=False,
                at=(F(17, 4) - front - tab, 2))  # fmt: skip
    lengths = [tab, near, front + back - near, tab]
    joins = [("left-tab", "card", "front"), ("right-tab", "card", "back")]
    return sheet("strip", lengths, directions, TABS, 1, at, joins, **more)


def test_a_box_of_a_strip_folds_shut_with_its_card() -> None:
    found = together(side_fold(pop_up(F(1), F(2), F(2))))
    names = [section.name for section in found.sections]
    assert names == ["front", "back", *TABS]
    stack = sorted(range(6), key=lambda at: found.levels[at])
    assert (names[stack[0]], names[stack[-1]]) == ("back", "front")


@pytest.mark.parametrize("seed", range(40))
def test_a_box_folds_flat_just_where_its_opposite_sides_are_equal(seed: int) -> None:
    """The parallelogram condition of parallel pop-ups; standards: three papers by abstract, geometry."""
    chance = random.Random(seed)
    front, back = (F(chance.randint(2, 12), 8) for _ in range(2))
    near = F(chance.randint(1, int(8 * (front + back)) - 1), 8)
    assert isinstance(shut(side_fold(pop_up(front, back, near))), Assembly) == (near == back)
    assert isinstance(shut(side_fold(pop_up(front, back, back))), Assembly)


def test_a_box_that_would_be_torn_says_at_which_of_its_scores() -> None:
    card = side_fold(pop_up(F(1), F(2), F(3, 2)))
    (mistake,) = [each for each in fold(card)[1] if each.severity == "error"]
    assert mistake.code == "cannot-fold"
    assert "strip would be torn at score" in mistake.message


def test_a_box_that_would_have_to_go_through_the_card_is_refused() -> None:
    (mistake,) = fold(side_fold(pop_up(F(1), F(2), F(2), "MVM")))[1]
    assert mistake.code == "cannot-fold"
    assert "of strip" in mistake.message and "pass through" in mistake.message


def test_a_box_that_reaches_beyond_the_closed_card_is_seen_beside_it() -> None:
    plain, _ = fold(side_fold(pop_up(F(1), F(2), F(2))))
    assert plain.view("closed-front").width == F(17, 4)
    tall, _ = fold(side_fold(pop_up(F(3), F(2), F(2))))
    # The ridge lies 3 + 2 from the fold.
    assert tall.view("closed-front").width == 5
    assert {part.piece for part in tall.view("closed-front").parts} == {"card", "strip"}


def test_the_parts_of_a_box_are_layers_of_the_closed_card() -> None:
    bare = fold(side_fold())[0].thickness
    with_box = fold(side_fold(pop_up(F(1), F(2), F(2))))[0].thickness
    assert bare is not None and with_box is not None
    # The same paper: at the left tab lie two covers, the tab, and both sides of the box.
    assert with_box.likely_mm == bare.likely_mm / 2 * 5


def test_every_score_of_a_box_turns_as_far_as_the_card_is_open() -> None:
    found = together(side_fold(pop_up(F(1), F(2), F(2))))
    for angle in (10, 45, 90, 135, 170):
        linkage = linked_card(found, {1: F(angle)}, {})
        assert isinstance(linkage, Linkage)
        assert linkage.angles == pytest.approx([angle] * 4)


def test_what_is_on_a_part_of_a_box_goes_along_with_it() -> None:
    sign = piece("sign", "square", "white", (F(1, 2), F(1, 2)),
                 placed("near", (2, 1), (F(1, 2), F(1, 2)), host_piece="strip"))  # fmt: skip
    card = side_fold(pop_up(F(1), F(2), F(2)), sign)
    found = together(card)
    (at,) = [each.section for each in found.placed]
    assert at is not None and found.sections[at].name == "near"
    flat = found.flat
    parts = bodies(card, flat, placed_pieces(card, flat))
    assert [(each.piece, each.sections) for each in parts] == [
        ("card", ("front",)), ("card", ("back",)), ("strip", ("near",)), ("strip", ("far",)),
    ]  # fmt: skip


def test_glue_is_safe_on_the_tabs_of_a_box_alone() -> None:
    folded, mistakes = glued(fold(side_fold(pop_up(F(1), F(2), F(2))))[0])
    assert mistakes == []
    (zone,) = folded.zones
    boxes = sorted((min(x for x, _ in ring), max(x for x, _ in ring)) for ring in zone.rings)
    assert boxes == [(0, F(1, 2)), (F(7, 2), 4)]


def test_a_tab_beside_what_it_is_glued_to_is_told() -> None:
    strip = pop_up(F(1), F(2), F(2))
    swapped = strip._replace(joins=(Join("left-tab", "card", "back", SPAN), strip.joins[1]))
    assert codes(side_fold(swapped)) == ["glue-nowhere"]


def test_a_panel_glued_to_both_covers_without_a_score_between_is_refused() -> None:
    at = placed("card", (F(17, 2), F(11, 2)), (4, 1), is_section=False)
    joins = [("left-tab", "card", "front"), ("rest", "card", "back")]
    stiff = sheet("strip", [F(1, 2), F(7, 2)], "V", ["left-tab", "rest"], 1, at, joins)
    (mistake,) = fold(side_fold(stiff))[1]
    assert mistake.code == "cannot-fold"
    assert mistake.message.startswith(("rest of strip would be torn off back", "strip would be torn"))


def test_a_panel_that_folds_over_itself_lies_on_its_own_section() -> None:
    """A small book glued on the back of a Z: its cover lies on its back, under what folds over it."""
    at = placed("right", (4, 6), (2, 3), at=(F(1), 1))
    book = sheet("book", [1, 1], "V", ["cover", "back"], 3, at)
    found = together(z_fold(book))
    names = [section.name for section in found.sections]
    stack = [names[at] for at in sorted(range(5), key=lambda each: found.levels[each])]
    assert stack == ["right", "back", "cover", "middle", "left"]


def test_a_later_panel_lies_over_the_sheet_that_was_glued_there_before() -> None:
    at = placed("right", (4, 6), (2, 3), at=(F(1), 1))
    book = sheet("book", [1, 1], "V", ["cover", "back"], 3, at)
    over = piece("over", "panel", "white", (3, 1), placed("right", (4, 6), (3, 1), at=(F(1, 2), 2)))
    found = together(z_fold(book, over))
    (carrier,) = [each.section for each in found.placed]
    assert carrier is not None and found.sections[carrier].name == "back"
    assert found.facings[carrier].piece.name == "book"


def never_ending() -> SizedCard:
    """Two level strips behind, two upright ones in front, glued at four corners; all lie flat."""
    flat_strip = strip_base([F(3, 2), F(3, 2)], "M", ["upper", "lower"], 6, axis="y")
    base = flat_strip
    beside = placed("card", (6, 3), (6, 3), at=(0, 3), is_section=False)
    second = sheet("second", [F(3, 2), F(3, 2)], "M", ["upper", "lower"], 6, beside, axis="y", loose=True)
    pieces = [base, second]
    for name, left, names in (("left", 0, ["outer", "inner"]), ("right", 3, ["inner", "outer"])):
        at = placed("card", (6, 3), (3, 6), at=(left, 0), is_section=False)
        joins = [("outer", "card", "upper"), ("outer", "second", "lower")]
        pieces.append(sheet(name, [F(3, 2), F(3, 2)], "V", names, 6, at, joins))
    return card_of(*pieces)._replace(poses=(Pose("closed", (), SPAN),))


def test_four_strips_glued_in_a_ring_lie_flat_and_their_inner_halves_swing() -> None:
    card = never_ending()
    found = together(card)
    assert codes(card) == []
    assert (found.width, found.height) == (6, 3)
    view = fold(card)[0].view("closed-front")
    assert (view.width, view.height) == (6, 6)
    riding = {each.piece: each for each in bodies(card, found.flat, placed_pieces(card, found.flat))}
    assert "second" in riding or "card" in riding


def test_a_band_goes_round_all_the_sheets_of_a_card() -> None:
    text = '''recipe "Round and round"
  units inch nearest 1/16
paper ink is cardstock "Ink" 24 x 24, 270 gsm
base card from ink
  fold never-ending, width 4, height 6
band sash from ink around card
  width 1
'''
    folded = compile_text(text).folded
    assert folded is not None
    (shut,) = folded.closed
    assert (shut.width, shut.height) == (4, 6)
    around = folded.card.piece("sash").around
    assert around is not None and around.at == F(5, 2)
    (strip,) = [part for part in folded.view("closed-front").parts if part.piece == "sash"]
    assert {y for _, y in strip.outline} == {F(5, 2), F(7, 2)}


def test_a_box_that_reaches_out_to_the_left_shifts_the_card() -> None:
    """Its ridge lies 3 + 2 from the fold, which is 3/4 beyond the edge of the cover."""
    (shut,) = fold(side_fold(pop_up(F(3), F(2), F(2))))[0].closed
    assert (shut.width, shut.height) == (5, F(11, 2))


def test_a_sheet_held_by_another_sheets_glue_moves_with_it() -> None:
    card = never_ending()
    found = together(card)
    parts = bodies(card, found.flat, placed_pieces(card, found.flat))
    assert not any(each.piece == "second" and "lower" in each.sections for each in parts)


def sleeve(host: str = "front") -> SizedCard:
    base = strip_base([4, 4, 1], "VV", ["front", "back", "tab"], 5)
    return card_of(base._replace(joins=(Join("tab", "card", host, SPAN),)))


def test_a_tab_of_the_base_rides_with_the_part_that_it_is_glued_to() -> None:
    card = sleeve()
    assert codes(card) == []
    found = together(card)
    (weld,) = found.welds
    assert weld.by_folding
    parts = bodies(card, found.flat, ())
    assert len(parts) == 2


def structure(lines: str) -> SizedCard:
    text = f'''recipe "Tray"
  units inch nearest 1/16
paper ink is cardstock "Ink" 12 x 12
base card from ink
  {lines}
'''
    folded = compile_text(text).folded
    assert folded is not None
    return folded.card


def joined(card: SizedCard, section: str, host: str) -> SizedCard:
    base = card.bases[0]._replace(joins=(Join(section, "card", host, SPAN),))
    return card._replace(pieces=(base,))


def test_a_tab_that_never_meets_its_part_is_told() -> None:
    cross = structure("fold exploding-box, width 4, height 4, wall 1")
    (mistake,) = fold(joined(cross, "left-wall", "right-wall"))[1]
    assert (mistake.code, mistake.span) == ("glue-nowhere", SPAN)
    assert "never come together" in mistake.message
    assert codes(joined(cross, "left-wall", "back")) == []


def test_walls_that_meet_only_as_the_card_stands_need_its_pose() -> None:
    folder = structure(
        "flat 8 x 6\n  score 1, 4 from left, valley\n  score 5 from left, mountain\n"
        "  sections tab, low, rise, high"
    )
    assert meet_in_space(together(folder), {1: F(180)}, Weld(0, 1, by_folding=True))
    assert not meet_in_space(together(folder), {1: F(90)}, Weld(0, 1, by_folding=True))
    assert not meet_in_space(together(folder), {2: F(90), 3: F(90)}, Weld(1, 3, by_folding=True))


def test_a_box_corner_meets_its_wall_when_the_box_stands() -> None:
    box = structure("fold single-wall-box, width 4, height 4")
    found = together(box)
    names = [section.name for section in found.sections]
    standing = {score.number: F(90) for score in box.bases[0].scores if score.number}
    sides = {"tab-1": "left-wall", "tab-2": "right-wall", "tab-3": "left-wall", "tab-4": "right-wall"}
    for tab, side in sides.items():
        for wall in ("left-wall", "right-wall", "floor"):
            weld = Weld(names.index(tab), names.index(wall), by_folding=True)
            assert meet_in_space(found, standing, weld) == (wall == side)


def test_a_strip_with_a_score_that_ends_inside_it_is_refused() -> None:
    strip = pop_up(F(1), F(2), F(2))
    short = strip.scores[1]._replace(end=(strip.scores[1].end[0], F(1, 2)))
    sections = strip.sections
    merged = sections[1]._replace(
        width=F(3), outline=(*sections[1].outline[:1], sections[2].outline[1], sections[2].outline[2],
                             *sections[1].outline[3:]))  # fmt: skip
    broken = strip._replace(
        scores=(strip.scores[0], short, strip.scores[2]), sections=(sections[0], merged, sections[3])
    )
    assert "score-dangles" in codes(side_fold(broken))


def test_a_card_without_sheets_is_the_base_as_it_folds_by_itself() -> None:
    card = strip_card([2, 3, 1], "VM")
    found = together(card)
    assert found.is_plain
    assert (found.motions, found.order) == (found.flat.motions, found.flat.order)
    assert found.levels == found.flat.levels
