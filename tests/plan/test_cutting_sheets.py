"""The cutting plan in words: settings in their order, offcuts, totals, and the steps that speak of it."""

from fractions import Fraction

import pytest

from cardrecipe.plan.card import CuttingOptions, plan
from cardrecipe.plan.cutting.job import Part
from cardrecipe.plan.cutting_sheets import _offcuts, whole_cost
from cardrecipe.plan.sheet import CuttingSheet, PaperTotal, Sheet
from tests.hand_made import double_gate, piece, strip_card
from tests.plan.cards import folded, loose_pieces
from tests.plan.test_steps import plain
from tests.recipes import compile_text

HEAD = '''recipe "Bench"
  units inch nearest 1/16
  border 1/8
'''


def sheet_of(text: str, copies: int = 1, **options: object) -> Sheet:
    result = compile_text(HEAD + text)
    assert result.folded is not None, result.diagnostics
    return plan(result.folded, copies, options=CuttingOptions(**options))[0]  # type: ignore[arg-type]


def told(layout: CuttingSheet) -> list[str]:
    return [plain(f"{each.size}: {each.text}") for each in layout.settings]


def total(sheet: Sheet, paper: str) -> PaperTotal:
    return next(each for each in sheet.paper_totals if each.paper == paper)


SQUARES = """paper ink is cardstock "Ink" 8 1/2 x 11, price 0.40, pack of 10
rectangle tile from ink
  size 4 x 5
  loose
"""


def test_the_settings_can_be_followed_from_the_list_alone() -> None:
    (layout,) = sheet_of(SQUARES, 4).cutting
    assert (layout.count, layout.holds) == (1, (("tile", 4),))
    assert told(layout) == [
        "5 in: Lay the sheet with its 11 in side along the ruler. Cut twice: that gives two strips A"
        " (8 1/2 × 5 in each); what is left is a piece to keep, 8 1/2 × 1 in (for tags and trials).",
        "4 in: Turn: lay each strip A (8 1/2 × 5 in) with its 8 1/2 in side along the ruler. Cut twice:"
        " that gives two tiles; what is left is scrap, 1/2 × 5 in.",
    ]
    assert [each.is_turned for each in layout.settings] == [False, True]


def test_equal_sheets_are_cut_together() -> None:
    (layout,) = sheet_of(SQUARES, 40).cutting
    assert layout.count == 10
    assert "each sheet" in layout.settings[0].text
    found = total(sheet_of(SQUARES, 40), "ink")
    assert plain(found.words) == "10 sheets of 8 1/2 × 11 in, the fewest possible"
    assert (found.packs, found.cost, found.left) == ("one pack of 10", "4.00", "")


def test_packs_cost_and_leftovers_are_counted_whole() -> None:
    found = total(sheet_of(SQUARES, 44), "ink")
    assert (found.sheets, found.packs, found.cost) == (11, "two packs of 10", "8.00")
    assert plain(found.left) == "9 sheets left over"


def test_the_cheaper_of_two_sizes_is_chosen_by_cost() -> None:
    text = SQUARES.replace('8 1/2 x 11, price 0.40, pack of 10', '8 1/2 x 11 or 12 x 12, price 0.40 or 0.55')
    found = total(sheet_of(text, 12), "ink")
    assert plain(found.words) == "2 sheets of 12 × 12 in, the least cost possible"
    assert found.cost == "1.10"


def test_a_step_names_the_sheets_that_it_cuts() -> None:
    steps = plan(folded(double_gate()), 1)[0].steps
    assert "Sheet 1 of the cutting plan shows how." in steps[0].text
    many = plan(folded(double_gate()), 30)[0]
    numbers = [each.number for each in many.cutting]
    assert numbers == list(range(1, len(numbers) + 1))
    assert "of the cutting plan show how." in " ".join(step.text for step in many.steps)


def test_a_shape_is_cut_with_room_round_it() -> None:
    text = """paper ink is cardstock "Ink" 8 1/2 x 11
circle disc from ink
  diameter 2
  loose
"""
    sheet = sheet_of(text)
    told = "First cut the disc as a rectangle of 2 1/4 × 2 1/4 in: 1/8 in stays round it"
    assert told in plain(sheet.steps[0].text)
    assert plain(sheet.cutting[0].settings[0].size) == "2 1/4 in"
    assert "one disc (2 1/4 × 2 1/4 in, with the margin)" in plain(sheet.cutting[0].settings[1].text)
    assert "First cut each disc as" in sheet_of(text, 2).steps[0].text


def test_a_cut_longer_than_the_trimmer_is_named() -> None:
    short = sheet_of(SQUARES, 4, trimmer=(Fraction(8), "inch")).cutting[0]
    assert "This cut is 8 1/2 in long, more than the 8 in of the trimmer" in plain(short.settings[0].text)
    long = sheet_of(SQUARES, 4).cutting[0]
    assert "craft knife" not in long.settings[0].text


def test_a_cut_longer_than_the_trimmer_needs_a_knife_and_its_caution() -> None:
    sheet = sheet_of(SQUARES, 4, trimmer=(Fraction(8), "inch"))
    assert {"craft knife", "metal ruler"} <= set(sheet.steps[0].picks_up)
    assert any("sharp blade" in each for each in sheet.steps[0].cautions)
    assert {"Craft knife", "Metal ruler", "Cutting mat"} <= {each.name for each in sheet.supplies}
    plain_sheet = sheet_of(SQUARES, 4)
    assert "craft knife" not in plain_sheet.steps[0].picks_up
    assert "Craft knife" not in {each.name for each in plain_sheet.supplies}


def test_a_trimmer_is_as_long_in_either_unit() -> None:
    for trimmer, is_named in (((Fraction(215), "mm"), True), ((Fraction(216), "mm"), False)):
        text = sheet_of(SQUARES, 4, trimmer=trimmer).cutting[0].settings[0].text
        assert ("This cut is" in text) == is_named


BAR = """paper ink is cardstock "Ink" 8 1/2 x 11
rectangle bar from ink
  size 8 1/2 x 3
  loose
rectangle strip from ink
  size 8 1/2 x 1 1/4
  loose
"""


def test_what_is_cut_again_is_the_rest_and_is_not_laid_down_twice() -> None:
    first, second = told(sheet_of(BAR).cutting[0])
    assert first == "3 in: Lay the sheet with its 11 in side along the ruler. Cut once: that gives one bar."
    assert second == (
        "1 1/4 in: Cut the rest of the sheet once: that gives one strip; what is left is a piece to keep,"
        " 8 1/2 × 6 3/4 in (room for two more bars)."
    )


def test_what_the_last_cut_leaves_is_counted_with_the_others() -> None:
    text = BAR.split("rectangle strip")[0].replace("8 1/2 x 3", "8 1/2 x 5 1/2")
    assert told(sheet_of(text, 2).cutting[0]) == [
        "5 1/2 in: Lay the sheet with its 11 in side along the ruler. Cut once: that gives two bars."
    ]


def test_a_setting_says_turn_once_for_all_that_is_in_hand() -> None:
    many = plan(folded(double_gate()), 30)[0]
    turns = [each.text.count("Turn: ") for layout in many.cutting for each in layout.settings]
    assert max(turns) == 1
    for layout in many.cutting:
        for each in layout.settings:
            assert each.text.startswith("Turn: ") == each.is_turned


def test_a_square_sheet_with_a_pattern_says_how_the_pattern_lies() -> None:
    text = """paper dots is patterned "Dots" 12 x 12, one-way
rectangle tile from dots
  size 5 x 7
  loose
"""
    first, second = told(sheet_of(text, 2).cutting[0])
    assert "along the ruler, the pattern on its side. Cut once: that gives strip A (12 × 7 in)" in first
    assert "along the ruler, the pattern upright. Cut twice: that gives two tiles" in second
    assert "pattern" not in " ".join(told(sheet_of(text.replace(", one-way", ""), 2).cutting[0]))


def test_what_is_left_of_a_sheet_of_the_other_unit_is_told_to_a_mark() -> None:
    text = 'recipe "Bench"\n  units mm nearest 1\npaper dots is patterned "Dots" 12 in x 12 in\n'
    result = compile_text(text + "rectangle tile from dots\n  size 100 x 50\n  loose\n")
    assert result.folded is not None, result.diagnostics
    (layout,) = plan(result.folded, 1)[0].cutting
    words = " ".join(told(layout))
    assert layout.size.replace("\u00a0", " ") == "12 × 12 in"
    assert "304 mm side" in words and "304.8" not in words


def test_the_shopping_list_tells_packs_what_is_left_and_the_cost() -> None:
    line = next(each for each in sheet_of(SQUARES, 44).supplies if each.kind == "paper")
    assert plain(line.amount) == (
        "11 sheets of 8 1/2 × 11 in, the fewest possible; two packs of 10, 9 sheets left over; cost 8.00"
    )
    free = sheet_of(SQUARES.replace(", price 0.40, pack of 10", ""), 44)
    amount = next(each.amount for each in free.supplies if each.kind == "paper")
    assert plain(amount) == "11 sheets of 8 1/2 × 11 in, the fewest possible"


def test_sheets_that_are_nearly_full_are_noted_for_the_copies_that_are_made() -> None:
    text = SQUARES.replace("4 x 5", "4 1/4 x 5 3/8")
    noted = [any("nearly fills" in note for note in sheet_of(text, copies).notes) for copies in (1, 3, 4, 5)]
    assert noted == [False, False, True, False]
    whole = SQUARES.replace("4 x 5", "4 1/4 x 5 1/2")
    assert not any("nearly fills" in note for note in sheet_of(whole, 4).notes)


@pytest.mark.parametrize("stages", [2, 3])
def test_the_stages_are_kept(stages: int) -> None:
    for layout in plan(folded(double_gate()), 6, options=CuttingOptions(stages))[0].cutting:
        assert sum(each.is_turned for each in layout.settings) <= stages


def test_a_sheet_that_is_a_piece_needs_no_cut() -> None:
    card = strip_card(["17/4", "17/4"], "V", ["front", "back"], 11)
    (layout,) = plan(folded(card))[0].cutting
    assert layout.settings == () and layout.holds == (("card", 1),)


def test_loose_pieces_alone_have_a_plan_too() -> None:
    sheet = plan(folded(loose_pieces()))[0]
    assert sheet.cutting and sheet.paper_totals


def test_what_no_paper_is_told_for_has_no_plan() -> None:
    card = strip_card([3, 3], "V", [], 4, paper=None, more=(piece("slip", "panel", None, (1, 2)),))
    assert plan(folded(card))[0].cutting == ()


def test_what_all_papers_cost_is_told_where_there_are_several_with_prices() -> None:
    totals = [PaperTotal("ink", "Ink", 1, "", 1, 1, "", cost, "", "") for cost in ("4.00", "1.10")]
    assert whole_cost(totals) == "5.10"
    assert whole_cost(totals[:1]) == "" == whole_cost([*totals, totals[0]._replace(cost="")])


def test_what_is_left_over_is_told_by_its_area() -> None:
    """An upright strip of 20 comes before a lying one of 8, though that is longer than it is high."""
    lying, upright = Part(8, 1), Part(2, 10)
    column = Part(8, 10, None, False, "y", (Part(8, 9, "mat"), lying))
    assert list(_offcuts(Part(10, 10, None, False, "x", (column, upright)))) == [upright, lying]


@pytest.mark.parametrize(
    ("tiles", "said"), [(4, "Sheet 1 of the cutting plan shows how."),
                        (5, "Sheets 1 and 2 of the cutting plan show how.")],
)  # fmt: skip
def test_two_sheets_that_are_cut_differently_are_both_named(tiles: int, said: str) -> None:
    """Four tiles of 4 x 5 in come out of 8 1/2 x 11 in; a fifth needs a second sheet."""
    assert said in sheet_of(SQUARES, tiles).steps[0].text
