"""Sizes that few recipes have: of nothing but itself, beyond all measure, of what comes after folding; and
what is said of the rest of a card where one of them means nothing."""

from fractions import Fraction

import pytest

from cardrecipe.solve.explain import explain
from tests.recipes import (
    HEAD,
    checked,
    codes_of,
    compile_text,
    cut,
    diagnostics_of,
    explained,
    in_other_unit,
    lines_of,
    piece,
    size,
    sized,
    words_of,
)

F = Fraction
CARD = "base card from ink\n  fold side-fold, width 4 1/4, height 5 1/2\n"
BARE = HEAD.replace("  border 1/8\n", "")
BAND = "band sash from ink around card\n  width 1\n"


def test_a_size_that_is_more_than_itself_is_told_alone() -> None:
    """No other line takes part in it."""
    text = f"{HEAD}rectangle note from ink\n  size note.width + 1 x 2\n"
    (found,) = (each for each in diagnostics_of(text) if each.code == "conflict")
    assert found.message == "the width of note contradicts itself"
    assert lines_of(text, found) == ["size note.width + 1 x 2"]


def test_sizes_that_grow_from_line_to_line_end_where_they_are_beyond_measure() -> None:
    """Each line is short enough by itself: of 2,551 bits is what it is multiplied by."""
    lets = "let k0 = 1000003\n" + "".join(f"let k{at} = k{at - 1} * k{at - 1}\n" for at in range(1, 8))
    chain = "".join(
        f"rectangle {name} from ink\n  size k7 * {before}.width x 2\n" for before, name in ("ab", "bc", "cd")
    )
    text = f"{HEAD}{lets}rectangle a from ink\n  size 2 x 2\n{chain}"
    assert [(each.code, words_of(text, each)) for each in diagnostics_of(text)] == [
        ("number-too-large", "size k7 * b.width x 2")
    ]


def test_what_hangs_on_the_closed_card_may_name_other_sizes_too() -> None:
    text = f"{HEAD}{CARD}rectangle a from ink\n  size min(card.finished-width, 3) - 1 + 2 * b.width x 2\n"
    text += "rectangle b from ink\n  size 1/2 x 1\n"
    assert codes_of(text) == []
    assert cut(text, "a") == "3 x 2"
    text = text.replace("size 1/2 x 1", "size ? x 1")
    assert codes_of(text) == ["unsolved", "unsolved"]


def test_a_size_that_waits_for_the_closed_card_and_names_what_is_broken_is_not_judged() -> None:
    text = f"{HEAD}{CARD}rectangle a from ink\n  size min(card.finished-width, 3) + broken.width x 2\n"
    text += "rectangle broken from ink\n  sise 1 x 1\n"
    assert codes_of(text) == ["unknown-word"]


@pytest.mark.parametrize(("line", "code"), [
    ("turned card.width", "not-a-number"), ("turned nope", "unknown-name"),
    ("corners round nope", "unknown-name"),
    ("turned 4 in", "not-a-number"), ("glue with foam nope thick", "unknown-name"),
])  # fmt: skip
@pytest.mark.parametrize("more", ["", BAND])
def test_a_wrong_length_is_one_mistake_whether_the_card_is_folded_for_a_band_or_not(
    line: str, code: str, more: str
) -> None:
    text = f"{HEAD}{CARD}rectangle a from ink on back\n  size 1 x 1\n  {line}\n{more}"
    assert [(each.line, each.code) for each in checked(text)] == [(9, code)]


@pytest.mark.parametrize("border", ["nope", "1/0", "2 * (3"])
def test_a_border_that_means_nothing_is_the_only_mistake_of_its_panels(border: str) -> None:
    text = HEAD.replace("border 1/8", f"border {border}") + CARD
    text += "panel a from ink on back\n  size 4 x 5\npanel b from ink on front\n  size 4 x 5 1/4\n"
    found = checked(text)
    assert [each.line for each in found] == [3]


def test_without_a_border_the_size_of_a_panel_on_a_slanted_section_is_open() -> None:
    base = f"{BARE}base card from ink\n  flat 5 x 6\n  score from (0, 5) to (5, 0)\n  sections front, back\n"
    assert codes_of(f"{base}panel a from ink on front\n") == ["unsolved"]
    assert codes_of(f"{base}panel a from ink on front\n  border 1/8\n") == []
    assert piece(f"{base}panel a from ink on front\n  border 1/8\n", "a").outline is not None


@pytest.mark.parametrize("line", [
    "score nope from left, between 0 and 2", "cut 2 from top, between nope and 2",
    "score 2 from top, between 0 and nope", "score from (nope, 5) to (5, 0)", "cut from (0, 5) to (5, nope)",
    "window nope x 1 at (1, 1)", "window 1 x 1 at (1, nope)",
])  # fmt: skip
def test_a_line_at_a_place_that_means_nothing_is_told_and_all_else_is_worked_out(line: str) -> None:
    text = f"{HEAD}base card from ink\n  flat 6 x 5\n  cut 1 from left, between 0 and 2\n  {line}\n"
    text += "rectangle a from ink\n  size card.width x 2\n"
    (found,) = diagnostics_of(text)
    assert (found.code, words_of(text, found)) == ("unknown-name", "nope")
    assert size(text, "a.width") == "6"


def test_an_edge_without_a_border_stays_where_it_is_while_the_others_move() -> None:
    """The panel runs to the edge below the notch, and beside the notch along it."""
    text = f"{BARE}base card from ink\n  flat 6 x 5\n  score 3 from left\n  window 1 x 1 at (0, 1)\n"
    text += "panel a from ink on section-1\n  border 1, 0 left\n"
    found = piece(text, "a")
    assert (found.placements[0].x, found.placements[0].y) == (0, 1)
    # 1 below the upper edge, down to 1 above the lower; left of the notch only from 1 below it.
    assert found.outline == ((1, 0), (2, 0), (2, 3), (0, 3), (0, 2), (1, 2))


def test_a_panel_without_scores_has_one_section_whatever_it_is_called() -> None:
    named = f"{HEAD}{CARD}panel a from ink on back\n  sections "
    card = sized(f"{named}one\n")
    assert [each.name for each in card.piece("a").sections] == ["one"]
    assert [card.piece("a").width, card.piece("a").height] == [4, F(21, 4)]
    assert codes_of(f"{named}one, two\n") == ["section-count"]


def test_what_is_less_than_nothing_by_a_hair_is_so_in_the_other_unit_too() -> None:
    """1/64 in is 0.4 mm, which a ruler in millimetres does not show: the least that it does is 1."""
    text = f"{HEAD}{CARD}rectangle a from ink on back outside\n  size 1 x 1\n"
    text += "  place -1/64 from right, 1/64 from top\n"
    assert borders_of(text) == (F(-1, 64), F(1, 64))
    edges = in_other_unit(f"{text}  overhangs\n").piece("a").placements[0].border
    assert (edges.right, edges.top) == (-1, 1)


def borders_of(text: str) -> tuple[Fraction, Fraction]:
    edges = piece(f"{text}  overhangs\n", "a").placements[0].border
    return edges.right, edges.top


def test_a_score_is_explained_by_its_number_along_the_sheet_not_in_the_recipe() -> None:
    text = f"{HEAD}base card from ink\n  flat 9 x 5\n  score 2 from right\n  score 3 from left\n"
    text += "  sections one, two, three\n"
    said = " ".join(explained(text, "two.width")).replace("\u00a0", " ")
    assert "score 1 from left 3" in said and "score 2 from left 7" in said


def test_what_hangs_on_a_card_that_cannot_be_closed_is_no_second_mistake() -> None:
    base = f"{HEAD}base card from ink\n  flat 9 x 5\n  score 4, 5 from left\n  sections one, two, three\n"
    waits = "rectangle a from ink\n  size min(card.finished-width, 3) x 2\n"
    assert codes_of(base) == codes_of(base + waits) == ["cannot-fold"]
    assert sorted(codes_of(f"{base}{waits}rectangle b from ink\n  size ? x 2\n")) == ["unsolved"]


def test_asking_for_what_is_not_there_is_an_error_of_the_asker() -> None:
    solution = compile_text(f"{HEAD}rectangle a from ink\n  size ? x 2\n").solution
    assert solution is not None
    with pytest.raises(KeyError, match="width"):
        explain(solution, ("a", "width"))
    with pytest.raises(KeyError, match="nobody"):
        sized(f"{HEAD}{CARD}").piece("nobody")


def test_each_circle_of_pieces_is_told_once_from_the_one_that_is_written_first() -> None:
    """The first piece stands on one of the second circle too; that is no reason to begin there."""
    pieces = (("one", "two, four"), ("two", "one"), ("three", "four"), ("four", "three"))
    text = HEAD + "".join(f"panel {name} from ink on {hosts}\n  size 1 x 1\n" for name, hosts in pieces)
    assert [(found.line, found.message) for found in checked(text)] == [
        (5, "these stand on each other: `one` on `two` on `one`"),
        (9, "these stand on each other: `three` on `four` on `three`"),
    ]


SHUT = f"{HEAD}{{}}base card from ink\n  fold side-fold, width 4, height 5\npose closed\n  fold 1 at {{}}\n"
BESIDE = "rectangle note from ink\n  size 6 - card.finished-width x 1\n"


@pytest.mark.parametrize(("let", "angle", "code"), [
    ("", "nope", "unknown-name"), ("", "4 in", "not-a-number"), ("", "card.finished-width", "not-a-number"),
    ("let turn = )\n", "turn", "not-understood"),
])  # fmt: skip
def test_an_angle_of_the_closed_card_that_means_nothing_is_the_only_mistake(
    let: str, angle: str, code: str
) -> None:
    """Folded by half a turn the card is 4 wide and the note 2; open it would be 8, and nothing left of the
    note. Nobody has said so."""
    assert cut(SHUT.format("", 180) + BESIDE, "note") == "2 x 1"
    assert codes_of(SHUT.format(let, angle) + BESIDE) == [code]


def test_an_angle_of_another_pose_that_means_nothing_leaves_the_closed_card_as_it_is() -> None:
    text = SHUT.format("", "180\npose half\n  fold 1 at nope") + BESIDE.replace("6 -", "3 -")
    assert sorted(codes_of(text)) == ["size-not-positive", "unknown-name"]


def test_a_piece_whose_turn_means_nothing_makes_no_band_too_short() -> None:
    """Upright the tag ends where the band begins, 2 1/4 from the top; turned a little it lies under it."""
    text = f"{HEAD}{CARD}rectangle tag from ink on front outside\n  size 3 x 1\n  place 1 1/4 from top\n"
    band = f"{BAND}  length 8 9/16\n"
    assert "band-too-short" not in codes_of(text + band)
    assert "band-too-short" in codes_of(f"{text}  turned 1\n{band}")
    assert codes_of(f"{text}  turned nope\n{band}") == ["unknown-name"]


def nested(number: int) -> str:
    """Bases with a triangle that has a panel, each base as large as the panel on the one before."""
    text, large = HEAD, "10"
    for at in range(number):
        text += f"base card{at} from ink\n  flat {large} x {large}\n  sections near{at}, far{at}\n"
        text += f"  score from (0, {large}) to ({large}, 0)\npanel inner{at} from ink on near{at}\n"
        large = f"inner{at}.width"
    return text


def test_a_base_as_large_as_a_panel_on_a_triangle_may_carry_such_a_panel_again_and_so_on() -> None:
    """Each panel is 1/8 (2 + sqrt 2) = 0.427 shorter than its triangle, on marks 7/16."""
    text = nested(15)
    assert "unsolved" not in codes_of(text)
    assert piece(text, "inner14").width == 10 - 15 * F(7, 16)


def test_a_panel_on_a_section_of_no_known_size_is_not_said_to_reach_beyond_it() -> None:
    """The sections of the sixteenth base would take one round more than there are."""
    assert set(codes_of(nested(16))) == {"unsolved"}


def test_a_panel_that_is_scored_beyond_its_edge_is_told_beside_a_band_too() -> None:
    """A band waits for the closed card, which is not folded with a section of no width on it."""
    step = "base card from ink\n  fold side-step, width 4, height 4\n"
    beyond = f"{HEAD}{step}panel it from ink on step-2\n  score 2, 2 from left\n"
    assert codes_of(beyond) == codes_of(beyond + BAND) == ["score-off-sheet"]
