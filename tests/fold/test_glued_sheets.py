"""Scored panels in seldom places: across a whole card, on each other, loose, between two cards."""

from fractions import Fraction

import pytest

from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.bodies import rides
from cardrecipe.fold.join_checks import pose_to_glue_in
from cardrecipe.fold.placing import placed_pieces
from cardrecipe.fold.space import shut_card
from tests.recipes import HEAD, checked, codes_of, diagnostics_of, sized, words_of

CARD = HEAD + "base card from ink\n  fold side-fold, width 4 1/4, height 5 1/2\n"
WING = "panel wing from ink on card\n  size 7 x 2\n  score 1 from left\n  sections flap, rest\n"


def shut(text: str, base: str = "card") -> Assembly:
    found = shut_card(sized(text), base)
    assert found is not None
    return found


def welds(found: Assembly) -> list[tuple[str, str, bool]]:
    names = [section.name for section in found.sections]
    return [(names[each.facet], names[each.host], each.is_glued) for each in found.welds]


def carriers(text: str, name: str, base: str = "card", copy: int = 0) -> list[str]:
    """What each section of a copy moves with, or the piece that has none."""
    card, flat = sized(text), shut(text, base).flat
    return [ride.carrier for ride in rides(card, flat, placed_pieces(card, flat))[name, copy]]


def test_a_loose_sheet_across_a_fold_keeps_to_one_side_of_it_and_holds_nothing() -> None:
    """The part that holds it lies over the fold; glued there, it would hold the card flat."""
    assert codes_of(CARD + WING) == ["glue-locks"]
    assert codes_of(CARD + WING + "  loose\n") == []
    assert welds(shut(CARD + WING + "  loose\n")) == [("rest", "front", False)]


def test_what_lies_on_a_part_that_swings_swings_with_it() -> None:
    """Though the scored panel lies on a plain one, and not on the card itself."""
    text = CARD + (
        "panel plate from ink on back\n"
        "panel wing from ink on plate\n  size 3 x 2\n  score 1 from left\n  sections flap, rest\n"
        "panel top from ink on flap\n  size 1/2 x 1\n"
    )
    assert codes_of(text) == []
    assert carriers(text, "wing") == ["flap", "back"]
    assert carriers(text, "top") == ["flap"]


def test_a_loose_sheet_is_carried_by_the_glue_of_another_sheet() -> None:
    text = CARD + (
        "panel wing from ink on back\n  size 2 x 2\n  place 3/2 from left, 1 from top\n"
        "  score 1/2 from right\n  sections rest, flap\n  loose\n"
        "panel holder from ink on back\n  size 5/2 x 1\n  place 1/2 from left, 3/2 from top\n"
        "  score 1 from left\n  sections one, two\n  glue one on back, two on rest\n"
    )
    assert codes_of(text) == []
    found = shut(text)
    assert welds(found) == [("one", "back", True), ("two", "rest", True)]
    names = [section.name for section in found.sections]
    turned = {name: motion.is_flipped() for name, motion in zip(names, found.motions, strict=True)}
    assert turned["two"] and turned["rest"] and not turned["one"] and not turned["flap"]


OTHER = "base other from ink\n  flat 8 x 5\n  score 4 from left\n  sections lid, floor\n"
BRIDGE = (
    "panel bridge from ink on card\n  size 4 x 1\n  place 11/4 from left, 2 from top\n"
    "  score 1/2 from both sides\n  score 5/2 from left, mountain\n"
    "  sections left-tab, side, face, right-tab\n  glue left-tab on front, right-tab on {}\n"
)
BOX = (
    "base box from ink\n  flat 9 x 5\n  score 4, 8 from left\n"
    "  sections lid, floor, tab\n  glue tab on {}\n"
)
LINER = "panel liner from ink on {}\n  size 2 x 2\n"


@pytest.mark.parametrize(
    ("text", "message", "hint"),
    [
        (OTHER + BRIDGE.format("lid"), "right-tab of `bridge` could not be glued to lid of `other`",
         "glue right-tab to a part of `card`, which `bridge` lies on"),
        (BOX.format("back"), "tab of `box` could not be glued to back of `card`",
         "make it a panel: panel box from ink on card"),
        (BOX.format("liner") + LINER.format("back"), "tab of `box` could not be glued to liner:",
         "say it of `liner`, which is glued to tab then"),
        (BOX.format("liner") + LINER.format("floor"), "tab of `box` could not be glued to liner:",
         "say it of `liner`, which is glued to tab then"),
    ],
)  # fmt: skip
def test_what_is_not_folded_as_one_card_is_not_glued_by_a_section(text: str, message: str, hint: str) -> None:
    """No step would glue it: each card is folded for itself."""
    (found,) = [each for each in diagnostics_of(CARD + text) if each.severity == "error"]
    assert (found.code, found.hint) == ("glue-nowhere", hint)
    assert found.message.startswith(message) and found.message.endswith("the two are not folded as one card")


def test_a_tab_is_glued_to_its_own_card_and_a_strip_to_the_one_it_lies_on() -> None:
    for text in (BOX.format("lid"), BRIDGE.format("back")):
        assert "glue-nowhere" not in codes_of(CARD + text)


def test_a_corner_whose_tab_meets_its_wall_only_as_the_box_stands_stays_a_part_of_its_own() -> None:
    """Closed means open here: the tray lies flat, and its tab moves with the wall that it is scored on."""
    tray = HEAD + (
        "base tray from ink\n  flat 7 x 6\n  cut 2 from left, between 0 and 2\n"
        "  score 2 from left, between 2 and 6\n  score 2 from top\n"
        "  sections tab, upper-wall, left-wall, back\n  glue tab on upper-wall\n"
        "pose closed\npose standing\n  fold 1 at 90\n  fold 2 at 90\n"
    )
    assert codes_of(tray) == []
    assert carriers(tray, "tray", "tray") == ["tab", "upper-wall", "left-wall", "back"]


def test_a_score_that_hangs_on_the_closed_card_parts_a_panel_once_that_is_known() -> None:
    """The card is folded first to measure it only; what lies between known scores has no place then."""
    text = CARD + (
        "panel strip from ink on card\n  size 7 x 1/2\n  score 4 1/4 - 3/4 from left\n  place 1/4 from top\n"
        "panel wing from ink on back\n  size 4 x 2\n  overhangs\n  score 1 from left\n"
        "  score 2 from left, mountain\n  score min(card.finished-width, 4) - 1 from left\n"
        "  sections one, two, three, four\n"
        "square sign from ink on two\n  size 1/2 x 1/2\n"
        "band sash from ink around card\n  width 1/2\n  at 1/4 from bottom\n"
    )
    card = sized(text)
    assert [section.width for section in card.piece("wing").sections] == [1, 1, 1, 1]
    sign = next(each for each in placed_pieces(card, shut(text).flat) if each.piece.name == "sign")
    # 4 1/4 of the front, 1/8 beside the wing, 1 of its first part, 1/4 in the middle of the second.
    assert min(x for x, _ in sign.frame) == 5 + 5 / 8


def test_a_card_with_more_parts_than_can_be_folded_together_is_told() -> None:
    """64 of the base and 64 of its lining: each is few enough by itself."""
    scores = "  score every 1/8, 63 times from left, by turns\n"
    base = f"{HEAD}base card from ink\n  flat 8 x 5\n{scores}"
    lining = f"panel lining from ink on card\n  size 8 x 5\n{scores}"
    assert "too-many-sections" not in codes_of(base)
    (found,) = (each for each in diagnostics_of(base + lining) if each.code == "too-many-sections")
    assert found.message == "card has more than 120 sections with what is glued to it"
    assert words_of(base + lining, found) == "card"


def test_each_of_several_sheets_moves_with_the_copy_that_it_is_put_on() -> None:
    """Two flags on each of two plates: the third and the fourth are on the second plate."""
    text = HEAD + (
        "base card from ink\n  flat 10 x 7\n  score 2 1/2 from both sides\n"
        "  sections left-door, back, right-door\n"
        "panel plate from ink on left-door outside, right-door outside\n"
        "panel pole from ink on plate\n  size 1 x 2\n  repeat 2 down, gap 1/2\n  score 1/2 from left\n"
        "  sections tab, flag\n  glue tab on plate\n"
    )
    assert codes_of(text) == []
    found = [carriers(text, "pole", copy=copy) for copy in range(4)]
    assert found == [["left-door", "flag"]] * 2 + [["right-door", "flag"]] * 2


@pytest.mark.parametrize("length", ["3/4", "4 1/3"])
def test_two_parts_are_joined_as_far_as_the_score_between_them_goes(length: str) -> None:
    """Below it they are cut apart; it may end between two marks, and before the first."""
    text = HEAD + (
        f"base card from ink\n  flat 8 x 5\n  score 4 from left, between 0 and {length}\n"
        f"  cut 4 from left, between {length} and 5\n  sections left, right\n"
    )
    assert codes_of(text) == []
    (joint,) = shut(text).joints
    assert (joint.start, joint.end) == ((4, 0), (4, sum(map(Fraction, length.split()))))


# ---- sleeves -------------------------------------------------------------------------------------

SLIP = "panel slip from ink on back\n  size 3 x 4\n  loose\n"


def test_a_flap_along_a_sleeve_does_not_close_its_ends() -> None:
    """A lip beside the tab is glued to the sleeve as well; what is in it slides out above and below."""
    lip = "base sleeve from ink\n  flat 10 x 5\n  score 1, 5, 9 from left\n  sections lip, front, back, tab\n"
    assert checked(HEAD + lip + "  glue tab on front\n  glue lip on back\n" + SLIP) == []


def test_what_lies_beside_a_glued_flap_is_free() -> None:
    book = "base book from ink\n  flat 4 x 9\n  score 6 from top\n"
    book += "  sections page, flap\n  glue flap on page\n"
    note = "panel note from ink on page\n  loose\n  size 3 x 2\n  place 1/2 from "
    assert codes_of(HEAD + book + note + "top\n") == []
    assert codes_of(HEAD + book + note + "bottom\n") == ["slider-shut-in"]


@pytest.mark.parametrize("width", ["1/10", "1/100000"])
def test_a_tab_is_glued_in_a_pose_unless_it_is_too_narrow_to_hold(width: str) -> None:
    tabbed = BOX.format("lid").replace("flat 9 x 5", f"flat 8 + {width} x 5")
    text = f"{HEAD}{tabbed}pose standing\n  fold 1 at 180\n  fold 2 at 180\n"
    card = sized(text)
    found = pose_to_glue_in(card, shut(text, "box"))
    assert (found.name if found else None) == ("standing" if width == "1/10" else None)


@pytest.mark.parametrize(("degrees", "codes"), [("89 1/2", []), ("90 1/2", []), ("88", ["glue-nowhere"])])
def test_the_tab_of_a_box_meets_its_wall_within_a_degree(degrees: str, codes: list[str]) -> None:
    """Held by hand nothing is truer than that; two degrees off, the tab is not glued in this pose."""
    box = HEAD + (
        "base box from ink\n  flat 9 x 2\n  score 2, 4, 6, 8 from left\n"
        "  sections floor, left, lid, right, tab\n  glue tab on floor\n"
        f"pose closed\n  fold 2 at 180\npose standing\n  fold 1 at {degrees}\n"
        "  fold 2 at 90\n  fold 3 at 90\n  fold 4 at 90\n"
    )
    assert codes_of(box) == codes
