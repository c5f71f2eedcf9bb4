"""What a class costs and how long its preparation takes, which paper it is, and which names a `have` line
may have meant: each by a sum that anyone can do."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

import pytest

from cardrecipe.model.lengths import GRID
from cardrecipe.plan.classes.blanks import class_cut
from cardrecipe.plan.classes.plans import class_plans
from cardrecipe.plan.classes.sheet import ClassSheet, PrepTask
from cardrecipe.plan.classes.shopping import cost_of_all, cost_told
from tests.plan.classes.making import HEAD, METRIC, cards, class_text, compiled, cut_of, planned
from tests.plan.classes.test_words import ONE, recipe, sheet_of, task

TWO = [*ONE, '  make 4 of "b.recipe"']
FOLDED = ("base card from ink", "  flat 8 x 5", "  score 2, 4, 6 from left")


def two_papers(first: str, second: str) -> dict[str, str]:
    """Two recipes of one loose tag, each with a paper of its own."""
    tag = "rectangle tag from {}\n  size 2 x 3\n  loose\n"
    return {
        f"{name}.recipe": HEAD.format(name) + f"paper {paper.split()[0]} is {paper.partition(' ')[2]}\n"
        + tag.format(paper.split()[0])
        for name, paper in (("a", first), ("b", second))
    }  # fmt: skip


# ---- what it costs -------------------------------------------------------------------------------


def test_the_cost_of_all_is_the_sum_of_what_is_bought() -> None:
    files = two_papers('ink cardstock "Ink" 12 x 12, price 0.50', 'ash cardstock "Ash" 12 x 12, price 0.35')
    sheet = planned(class_text(TWO), files)
    assert cost_of_all(sheet.shopping) == sheet.cost == "0.85"
    assert cost_told(sheet.shopping).startswith("0.85")


def test_a_paper_without_a_price_is_named_beside_the_cost_of_the_others() -> None:
    files = two_papers('ink cardstock "Ink" 12 x 12, price 0.50', 'ash cardstock "Ash" 12 x 12')
    sheet = planned(class_text(TWO), files)
    assert cost_of_all(sheet.shopping) == ""
    assert cost_told(sheet.shopping).startswith("0.50 for the papers with a price")
    assert "Ash" in cost_told(sheet.shopping)


def test_whole_packs_are_counted_where_they_are_more_than_is_needed() -> None:
    pack = {name: text.replace("price 0.50", "pack of 10") for name, text in recipe().items()}
    many = planned(class_text(['  make 49 of "a.recipe"']), pack)  # a sheet holds 24
    assert "3 to buy, 10 in whole packs" in dict(many.facts)["Papers"]
    single = {name: text.replace(", price 0.50", "") for name, text in recipe().items()}
    assert "packs" not in dict(planned(class_text(ONE), single).facts)["Papers"]


def test_a_piece_of_paper_at_hand_that_could_be_spared_is_no_new_sheet() -> None:
    """Two new sheets are proved to be needed, though not that the odd one beside them is."""
    made = cards(class_text(['  make 49 of "a.recipe"', "  have ink 1 sheet 3 x 3"]), recipe())
    (found,) = class_plans(class_cut(made), made.papers, None, lambda name: None)
    short = found.paper_plan.plan._replace(least=found.paper_plan.plan.least - 1)
    less = found._replace(paper_plan=found.paper_plan._replace(plan=short))
    assert (less.new, less.least_new, short.is_proved) == (2, 2, False)
    assert less.is_proved


# ---- how long it takes ---------------------------------------------------------------------------


def test_a_cut_takes_a_quarter_of_a_minute_and_its_setting_a_whole_one() -> None:
    cut = [each for each in sheet_of().prep if each.amount.endswith(("cut", "cuts"))]
    assert cut
    for each in cut:
        strokes = int(each.amount.split("\u00a0")[0])
        assert each.minutes == ceil(1 + Fraction(strokes, 4))


def test_every_line_of_every_piece_is_scored() -> None:
    """Three lines on each of three cards at a quarter of a minute, and a minute to lay the board ready."""
    assert task(sheet_of(*FOLDED), "scoring board").minutes == ceil(1 + Fraction(3 * 3, 4))


def test_the_corners_of_a_piece_take_half_a_minute() -> None:
    assert task(sheet_of("  corners round 1/4"), "corner rounder").minutes == ceil(1 + Fraction(3, 2))


def test_to_cut_a_piece_from_any_paper_takes_half_a_minute() -> None:
    """Three tags, and a minute to lay the trimmer ready."""
    files = {"a.recipe": HEAD.format("A") + "rectangle tag\n  size 2 x 3\n  loose\n"}
    assert task(planned(class_text(ONE), files), "trimmer").minutes == ceil(1 + Fraction(3, 2))


def test_each_task_begins_when_the_one_before_it_is_done() -> None:
    """For three seats, up to whole minutes: to print 2 and 3 quarters, to cut three tags 1 and 3 halves, to
    part three labels 3 quarters, to fill three bags 1 and 3; then the table."""
    files = {"a.recipe": HEAD.format("A") + "rectangle tag\n  size 2 x 3\n  loose\n"}
    prep = planned(class_text(ONE), files).prep
    assert [each.minutes for each in prep[:-1]] == [3, 3, 1, 4]
    assert [each.starts for each in prep] == [0, 3, 6, 7, 11]


def test_what_is_embossed_from_end_to_end_has_no_middle_to_mark() -> None:
    (whole,) = task(sheet_of('  emboss "Ripple" on middle 3'), "die-cutting machine").lines
    assert "from each end" not in whole
    (part,) = task(sheet_of('  emboss "Ripple" on middle 2'), "die-cutting machine").lines
    assert "1\u20442\u00a0in from each end" in part


# ---- which kits ----------------------------------------------------------------------------------


def counted(sheet: ClassSheet) -> dict[str, PrepTask]:
    return {each.paper: each for each in sheet.prep if each.amount.endswith(("pile", "piles"))}


def test_the_piles_of_a_paper_are_counted_for_the_kits_that_need_it() -> None:
    sheet = planned(class_text(TWO), two_papers('ink cardstock "Ink" 12 x 12', 'ash cardstock "Ash" 12 x 12'))
    assert {name: each.kits for name, each in counted(sheet).items()} == {"ink": ("K",), "ash": ("L",)}


def test_a_kit_tells_what_its_own_recipe_was_warned_of() -> None:
    wide = recipe("panel top from ink on tag", "  size 4 x 1") | recipe(title="B")
    (note,) = (note for note in planned(class_text(TWO), wide).notes if "reaches beyond" in note)
    assert "K" in note and "top" in note
    plain = planned(class_text(TWO), recipe() | recipe(title="B"))
    assert not [note for note in plain.notes if "reaches beyond" in note]


# ---- which paper ---------------------------------------------------------------------------------


@pytest.mark.parametrize("colored", ["a", "b"])
def test_a_paper_has_the_color_that_any_recipe_gives_it(colored: str) -> None:
    inks = ('ink cardstock "Ink" 12 x 12', 'ink cardstock "Ink" 12 x 12')
    files = {
        name: text.replace("12 x 12", '12 x 12, color "#22304a"') if name.startswith(colored) else text
        for name, text in two_papers(*inks).items()
    }
    (line,) = (each for each in planned(class_text(TWO), files).shopping if each.kind == "paper")
    assert line.color == "#22304a"


def test_the_grain_is_asked_for_only_where_a_piece_has_to_lie_along_it() -> None:
    def need(*lines: str) -> str:
        files = recipe(*lines)
        files = {name: text.replace("12 x 12", "8 1/2 x 11, grain long") for name, text in files.items()}
        (line,) = (each for each in planned(class_text(ONE), files).shopping if each.kind == "paper")
        return line.need

    assert "grain" not in need()
    assert need(*FOLDED).endswith("grain along the long side")


def test_what_is_cut_from_a_metric_paper_is_measured_on_a_metric_ruler() -> None:
    ash = 'paper ash is cardstock "Ash" 300 x 300\nrectangle tag from ash\n  size 50 x 70\n  loose\n'
    files = recipe() | {"b.recipe": METRIC.format("B") + ash}
    text = class_text(TWO, "  units inch nearest 1/8")
    found = cut_of(text, files)
    assert (found.cards["ink"].unit, found.cards["ink"].nearest) == ("inch", Fraction(1, 8))
    assert (found.cards["ash"].unit, found.cards["ash"].nearest) == ("mm", GRID["mm"])
    sheet = planned(text, files)
    assert [sheet.card_of(name).unit for name in ("ink", "ash")] == ["inch", "mm"]


# ---- what is meant -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("have inck 3 sheets", "did you mean `ink`?"),
        ('have "Inck" 3 sheets', 'did you mean "Ink"?'),
        ("have coall", "did you mean `coal`?"),
        ('have "Coal blak"', 'did you mean "Coal black"?'),
    ],
)
def test_a_misspelt_paper_or_supply_at_hand_is_recognized(written: str, meant: str) -> None:
    files = recipe('  stamp "A star" in coal', 'supply coal is ink "Coal black"')
    (found,) = compiled(class_text([*ONE, f"  {written}"]), files).diagnostics
    assert (found.code, found.hint) == ("unknown-name", meant)
