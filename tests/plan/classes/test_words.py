"""What a class's sheet says: bags, shopping, preparation, facts and notes, each from a small recipe."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from cardrecipe.plan.card import CuttingOptions
from cardrecipe.plan.classes import plans as class_plans
from cardrecipe.plan.classes.blanks import class_cut, letter_of
from cardrecipe.plan.classes.papers import class_papers
from cardrecipe.plan.classes.plan import plan_class
from cardrecipe.plan.classes.plans import ClassPlan
from cardrecipe.plan.classes.sheet import ClassSheet, PrepTask, ShoppingLine
from cardrecipe.plan.classes.shopping import class_totals
from cardrecipe.plan.cutting.budget import Budget
from cardrecipe.plan.cutting.job import Job, Layout, Part
from cardrecipe.plan.cutting.planner import Plan, plan
from tests.plan.classes.making import HEAD, METRIC, cards, class_text, planned, saturday_bench

INK = 'paper ink is cardstock "Ink" 12 x 12, price 0.50\n'
ONE = ['  make 3 of "a.recipe"']


def recipe(*lines: str, head: str = HEAD, title: str = "A") -> dict[str, str]:
    """A recipe of one loose tag with some lines under it, as the file that `ONE` makes."""
    text = f"{head.format(title)}{INK}rectangle tag from ink\n  size 2 x 3\n  loose\n"
    return {f"{title.lower()}.recipe": text + "".join(f"{line}\n" for line in lines)}


def sheet_of(*lines: str) -> ClassSheet:
    return planned(class_text(ONE), recipe(*lines))


def tasks(sheet: ClassSheet) -> list[tuple[str, str]]:
    """What is done to pieces: all tasks but printing, cutting by the plan, and what comes at the end."""
    return [(task.tool, task.setting) for task in worked(sheet)]


def worked(sheet: ClassSheet) -> list[PrepTask]:
    assert [task.tool for task in (sheet.prep[0], sheet.prep[-1])] == ["printer", "table"]
    (apart,) = (at for at, task in enumerate(sheet.prep) if task.text == "Cut the labels apart.")
    assert all(task.text.startswith("Fill the bags") for task in sheet.prep[apart + 1 : -1])
    return [task for task in sheet.prep[1:apart] if not task.paper]


def task(sheet: ClassSheet, tool: str) -> PrepTask:
    return next(each for each in sheet.prep if each.tool == tool)


def bought(sheet: ClassSheet, kind: str) -> list[tuple[str, str, str, str]]:
    return [(line.title, line.need, line.have, line.buy) for line in sheet.shopping if line.kind == kind]


# ---- before the class and in it ------------------------------------------------------------------


def test_a_die_is_used_before_the_class_and_a_stamp_after_it_is_left_for_it() -> None:
    sheet = sheet_of('  die "scallop"', '  stamp "A star"')
    assert tasks(sheet) == [("die-cutting machine", "die “scallop”")]
    (bag,) = sheet.bags
    assert bag.lines[0].note == "die-cut"
    assert "stamp “A star”" in bag.shared and "die “scallop”" not in bag.shared


def test_a_stamp_that_a_die_waits_for_is_used_before_the_class_and_a_note_says_so() -> None:
    sheet = sheet_of('  stamp "A star"', '  die "scallop"')
    assert [each.tool for each in worked(sheet)] == ["table", "die-cutting machine"]
    assert worked(sheet)[0].text == "Stamp the pieces with “A star”."
    assert sheet.bags[0].lines[0].note == "stamped and die-cut"
    assert not [each for each in sheet.bags[0].shared if "star" in each]
    told = "“A star” on the tag of kit K comes before its die-cutting machine: it is done before the class."
    assert told in sheet.notes


def test_one_die_for_two_kits_is_one_task() -> None:
    files = recipe('  die "scallop"') | recipe('  die "scallop"', title="B")
    sheet = planned(class_text([*ONE, '  make 4 of "b.recipe"']), files)
    found = task(sheet, "die-cutting machine")
    assert (found.amount, found.kits) == ("7\u00a0pieces", ("K", "L"))
    (line,) = found.lines
    assert line == "Kits K and L, 7\u00a0tags of 2 × 3\u00a0in. Cut the tag out with the die “scallop”."


def test_scores_of_one_setting_are_made_together() -> None:
    card = "base card from ink\n  flat 10 x 7\n  score 2 1/2 from both sides"
    other = "base card from ink\n  flat 8 x 7\n  score 4 from left"
    files = recipe(card) | recipe(card, title="B") | recipe(other, title="C")
    sheet = planned(class_text([*ONE, '  make 4 of "b.recipe"', '  make 1 of "c.recipe"']), files)
    scored = [(each.setting, each.amount) for each in sheet.prep if each.tool == "scoring board"]
    assert scored == [
        ("2\u202f1⁄2 and 7\u202f1⁄2\u00a0in from the left", "7\u00a0pieces"),
        ("4\u00a0in from the left", "1\u00a0piece"),
    ]


def test_windows_slits_outlines_and_corners_are_cut_before_the_class() -> None:
    sheet = sheet_of(
        "base card from ink", "  flat 8 x 7", "  score 4 from left", "  window 1 x 1 at (1, 1)",
        "  corners round 1/4",
        "oval plate from ink on section-2", "  size 3 x 2",
    )  # fmt: skip
    assert [tool for tool, _ in tasks(sheet)] == [
        "craft knife", "scissors", "corner rounder", "scoring board",
    ]  # fmt: skip
    notes = {line.what: line.note for line in sheet.bags[0].lines}
    assert notes["card"] == "window cut, corners rounded and scored" and notes["plate"] == "oval"
    assert task(sheet, "corner rounder").text == "Set the corner rounder to radius 1⁄4\u00a0in."


def test_a_piece_that_is_only_slit_is_slit_before_the_class() -> None:
    sheet = sheet_of("panel top from ink on tag", "  size 1 x 2", "  cut 1/2 from left, between 1/2 and 1")
    assert task(sheet, "craft knife").lines == (
        "Kit K, 3\u00a0tops of 1 × 2\u00a0in. Cut a slit at 1⁄2\u00a0in from the left, between 1⁄2 and "
        "1\u00a0in from the top.",
    )
    assert {line.what: line.note for line in sheet.bags[0].lines}["top"] == "slit"


def test_what_has_no_paper_is_cut_from_any_and_told() -> None:
    files = {"a.recipe": HEAD.format("A") + "rectangle tag\n  size 2 x 3\n  loose\n"}
    sheet = planned(class_text(ONE), files)
    assert worked(sheet)[0].text == "Cut what has no paper of its own."
    assert "Kit K: the tag may be of any paper, and is not in the cutting plan." in sheet.notes
    assert sheet.cutting == () and sheet.bags[0].lines[0].what == "tag"


def test_trimming_by_hand_is_left_for_the_class_with_its_tools() -> None:
    sheet = sheet_of("  trim by hand")
    assert sheet.bags[0].lines[0].note == "with a margin, to be trimmed"
    assert {"Small scissors", "Pencil", "Craft knife"} <= set(sheet.bags[0].shared)
    assert tasks(sheet) == []


# ---- shopping ------------------------------------------------------------------------------------


def test_a_stamp_is_one_for_all_and_lengths_and_gems_and_glue_add_up() -> None:
    lines = ('  stamp "A star" in coal', '  add ribbon "Sea" 8 long', '  add gem "Dot"',
             "rectangle top from ink on tag\n  size 1 x 1", 'supply coal is ink "Coal"')  # fmt: skip
    files = recipe(*lines) | recipe(*lines, title="B")
    text = class_text([*ONE, '  make 2 of "b.recipe", 1 spare', "  have coal", '  have "a star"'])
    sheet = planned(text, files)
    assert bought(sheet, "stamp") == [("A star", "one to share", "at hand", "")]
    assert bought(sheet, "ink") == [("Coal", "one to share", "at hand", "")]
    assert bought(sheet, "ribbon") == [("Sea", "about 48\u00a0in", "", "about 48\u00a0in")]
    assert bought(sheet, "gem") == [("Dot", "6\u00a0pieces", "", "6\u00a0pieces")]
    assert bought(sheet, "adhesive")[0][1] == "one to share, for 6\u00a0pieces"
    assert ("ribbon “Sea”", 1, "8\u00a0in") in [line[:3] for line in sheet.bags[0].lines]


def test_lengths_of_both_units_are_added_exactly() -> None:
    metric = {"b.recipe": METRIC.format("B") + 'paper ink is cardstock "Ash"\nrectangle tag from ink\n'
              '  size 50 x 70\n  loose\n  add ribbon "Sea" 254 long\n'}  # fmt: skip
    files = recipe('  add ribbon "Sea" 8 long') | metric
    sheet = planned(class_text([*ONE, '  make 2 of "b.recipe"']), files)
    assert bought(sheet, "ribbon")[0][1] == "about 44\u00a0in"  # 3 × 8 + 2 × 10


def test_a_supply_that_is_named_only_where_it_is_used_can_be_at_hand() -> None:
    sheet = planned(class_text([*ONE, "  have coal"]), recipe('  stamp "A star" in coal'))
    assert bought(sheet, "ink") == [("Coal", "one to share", "at hand", "")]


def paper(sheet: ClassSheet) -> ShoppingLine:
    (line,) = (each for each in sheet.shopping if each.kind == "paper")
    return line


def test_odd_sheets_at_hand_come_first_and_say_so() -> None:
    text = class_text(['  make 49 of "a.recipe"', "  have ink 1 sheet 2 x 3", "  have ink 3 sheets 1 x 12"])
    sheet = planned(text, recipe())
    counts = paper(sheet).counts
    assert counts is not None and counts._asdict() == {"needed": 3, "at_hand": 1, "buy": 2, "left": 0}
    there = "1\u00a0sheet of 2 × 3\u00a0in and 3\u00a0sheets of 1 × 12\u00a0in"
    assert paper(sheet).have == f"{there} (too small for any piece)"
    assert paper(sheet).buy == "2\u00a0sheets of 12 × 12\u00a0in" and paper(sheet).cost == "1.00"
    assert "fewest new sheets possible" in sheet.paper_totals[0].words
    assert dict(sheet.facts)["Papers"].endswith("1 at hand, 2 to buy; no fewer would do")
    assert [(each.size, each.count) for each in sheet.cutting if "at hand" in each.size] == [
        ("2 × 3\u00a0in, at hand", 1)
    ]


def test_a_whole_sheet_may_be_told_by_its_size_either_way_round() -> None:
    files = {name: text.replace("12 x 12", "8 1/2 x 11") for name, text in recipe().items()}
    for size in ("", " 8 1/2 x 11", " 11 x 8 1/2"):
        counts = paper(planned(class_text([*ONE, f"  have ink 5 sheets{size}"]), files)).counts
        assert counts is not None and counts[:3] == (1, 1, 0)


def test_a_direction_keeps_a_turned_sheet_apart_from_a_whole_one() -> None:
    files = {name: text.replace("12 x 12", "8 x 11, grain long") for name, text in recipe().items()}
    sheet = planned(class_text([*ONE, "  have ink 5 sheets 11 x 8"]), files)
    assert [each.size for each in sheet.cutting] == ["11 × 8\u00a0in, at hand"]


def test_a_plan_that_is_not_proved_says_between_what() -> None:
    sheet = planned(class_text([*ONE, "  have ink 1 sheet 2 x 3"]), recipe())
    (made,) = sheet.paper_plans
    short = made.plan._replace(least=made.plan.cost - 2, layouts=(Layout("0", Part(12, 12), 4),))
    of = class_papers([("K", sheet.kits[0].sheet.folded.card)])[0]
    (total,) = class_totals([ClassPlan(of, made._replace(plan=short, layouts=()), 1, 0, ())])
    assert "the fewest new sheets possible are between 0 and 4" in total.words


def test_a_paper_without_a_plan_is_told() -> None:
    """Sheets between all marks are told in steps, and then a piece as large as a sheet is too large."""
    sizes = "8 1/2 x 11 or 5 1/7 x 5 1/11 or 5 1/13 x 5 1/17 or 5 1/19 x 5"
    files = recipe("rectangle whole from ink", "  size 8 1/2 x 11", "  loose")
    files = {name: text.replace("12 x 12, price 0.50", sizes) for name, text in files.items()}
    sheet = planned(class_text(ONE), files)
    assert "No cutting plan was found for “Ink”: count and cut its pieces by the bags." in sheet.notes
    assert sheet.cutting == () and tasks(sheet) == []


@pytest.mark.parametrize(
    ("have", "new"),
    [("", 3), ("have ink 1 sheet", 2), ("have ink 1 sheet 3 x 3", 2), ("have ink 9 sheets", 0)],
)
def test_the_new_sheets_are_as_few_as_are_proved_to_be_needed(have: str, new: int) -> None:
    made = cards(class_text(['  make 49 of "a.recipe"', f"  {have}"]), recipe())  # a sheet holds 24
    (found,) = class_plans.class_plans(class_cut(made), made.papers, None, lambda name: None)
    assert found.is_proved and found.new == found.least_new == new


def test_kits_are_planned_apart_where_the_plan_of_all_does_worse(monkeypatch: pytest.MonkeyPatch) -> None:
    files = recipe() | {"b.recipe": recipe(title="B")["b.recipe"].replace("2 x 3", "4 x 5")}
    lines = [*ONE, '  make 3 of "b.recipe"']

    def wasteful(job: Job, budget: Budget) -> Plan | None:
        """One blank on each sheet, as a bad search would have it, where several kits are planned."""
        found = plan(job, budget)
        if found is None or len(job.blanks) == 1:
            return found
        layouts = tuple(each for each in found.layouts for _ in range(9))
        return found._replace(layouts=layouts, cost=9 * found.cost)

    best = paper(planned(class_text(lines), files)).counts
    monkeypatch.setattr(class_plans, "plan", wasteful)
    counts = paper(planned(class_text(lines), files)).counts
    assert best is not None and counts is not None
    assert (best.needed, counts.needed) == (1, 2)


# ---- options, facts, progress --------------------------------------------------------------------


def test_stages_and_trimmer_are_kept_to() -> None:
    files = recipe(
        "rectangle a from ink on tag\n  size 1 x 2", "rectangle b from ink on tag\n  size 1 1/2 x 1 1/4"
    )
    options = CuttingOptions(2, (Fraction(3), "inch"))
    sheet = planned(class_text(['  make 30 of "a.recipe"']), files, options)
    assert all(each.of.job.stages == 2 for each in sheet.paper_plans)
    told = [
        line for each in sheet.prep for line in each.lines if "more than the 3\u00a0in of the trimmer" in line
    ]
    assert told and any("craft knife" in line for line in told)
    assert any("sharp blade" in each for each in sheet.cautions)
    assert ("tool", "Craft knife") in [(line.kind, line.title) for line in sheet.shopping]


def test_progress_is_told_before_each_kit_and_each_paper(capsys: pytest.CaptureFixture[str]) -> None:
    files = recipe() | {"b.recipe": recipe(title="B")["b.recipe"].replace('"Ink"', '"Ash"')}
    told: list[tuple[int, int, str]] = []
    plan_class(
        cards(class_text([*ONE, '  make 3 of "b.recipe"']), files), None, lambda *step: told.append(step)
    )
    assert told == [(1, 4, "kit K"), (2, 4, "kit L"), (3, 4, "Ink"), (4, 4, "Ash")]
    assert capsys.readouterr() == ("", "")


def test_facts_of_the_shipped_class() -> None:
    facts = dict(saturday_bench().facts)
    assert facts["Makes"] == "30\u00a0cards in 4\u00a0kits, and 5\u00a0spares"
    made = "7\u00a0papers, 48\u00a0sheets: 7 at hand, 41 to buy, 65 in whole packs; no fewer would do"
    assert facts["Papers"] == made
    without = "none is given for Millstone, 200 gsm and Harvest plaid, 150 gsm"
    known = f"23.90 for the papers with a price; {without}"
    assert facts["Cost"] == saturday_bench().cost_told == known
    minutes = sum(each.minutes for each in saturday_bench().prep)
    time = f"about {minutes // 60}\u00a0h {minutes % 60}\u00a0min"
    assert facts["Preparation"].startswith(f"{time}, by a rough rule")


def test_letters_of_kits_and_of_strips_do_not_meet() -> None:
    kits = [kit.letter for kit in saturday_bench().kits]
    assert kits == ["K", "L", "M", "N"]
    told = [line for task in saturday_bench().prep if task.paper for line in task.lines]
    strips = set(re.findall(r"\bstrips? ([A-Z])\b", " ".join(told)))
    assert strips and not strips & set(kits)


def test_more_than_fifteen_kits_have_letters_of_their_own() -> None:
    letters = [letter_of(at) for at in range(50)]
    assert len(set(letters)) == 50 and letters[14:17] == ["Z", "KK", "KL"]
    assert all("O" not in each for each in letters)


# ---- what is bought and handed out ----------------------------------------------------------------


def need_of(sheet: ClassSheet, title: str) -> str:
    (line,) = (each for each in sheet.shopping if each.title.startswith(title))
    return line.need


def seats(count: int, *lines: str) -> ClassSheet:
    return planned(class_text([f'  make {count} of "a.recipe", 1 spare']), recipe(*lines))


@pytest.mark.parametrize(("count", "stamps"), [(8, "one"), (9, "two"), (24, "three"), (25, "four")])
def test_more_seats_share_more_stamps(count: int, stamps: str) -> None:
    assert need_of(seats(count, '  stamp "A star" in coal'), "A star") == f"{stamps} to share"


def test_a_pen_and_a_ruler_are_for_two_seats_and_what_prepares_is_one() -> None:
    card = "base card from ink\n  flat 8 x 7\n  score 4 from left"
    card += "\npanel top from ink on section-2\n  size 1 x 2"
    sheet = seats(9, f'  write "Hello"\n{card}')
    assert need_of(sheet, "Pen") == need_of(sheet, "Ruler") == "5, one for two seats"
    assert need_of(sheet, "Paper trimmer") == need_of(sheet, "Scoring board") == "one, before the class"


def test_tape_is_bought_by_its_length_and_dots_by_their_number() -> None:
    """Two strips along the long side of each piece, up to whole 5 ft: 11 kits × 2 × 5 in = 110 in."""
    taped = seats(10, "panel top from ink on tag\n  size 2 x 5\n  glue with tape")
    assert need_of(taped, "Double-sided tape") == "about 10\u00a0ft, for 11\u00a0pieces"
    dotted = seats(10, "panel top from ink on tag\n  size 2 x 1\n  glue with dots")
    assert need_of(dotted, "Glue dots") == "about 44\u00a0dots, for 11\u00a0pieces"


def test_bags_hold_every_piece_and_each_seat_has_its_steps_and_its_envelope() -> None:
    sheet = saturday_bench()
    assert need_of(sheet, "Bags that hold 11\u202f7⁄8 × 5\u202f1⁄2\u00a0in flat") == "35"
    assert need_of(sheet, "Labels") == "35" and need_of(sheet, "Sheets with the steps") == "30"
    envelopes = [line for line in sheet.shopping if line.title.startswith("Envelopes")]
    assert [(line.need, line.used_for) for line in envelopes] == [("22", ("K", "M", "N")), ("8", ("L",))]


def test_what_is_cut_out_has_its_size_in_the_task_and_a_die_to_get_instead_of_scissors() -> None:
    sheet = seats(2, "oval plate from ink on tag\n  size 1 x 2", "circle dot from ink on tag\n  size 1 x 1")
    assert task(sheet, "scissors").lines == (
        "Kit K, 3\u00a0plates of 1 × 2\u00a0in.",
        "Kit K, 3\u00a0dots of 1\u00a0in across. Without a die or a punch draw it with compasses.",
    )
    for title in ("Oval die or punch, 1 × 2\u00a0in", "Circle die or punch, 1\u00a0in across"):
        assert need_of(sheet, title) == "instead of scissors"


def test_two_sizes_of_one_shape_are_two_lines() -> None:
    oval = "oval plate from ink on tag\n  size {} x 2"
    files = recipe(oval.format(1)) | recipe(oval.format("1 1/2"), title="B")
    sheet = planned(class_text([*ONE, '  make 4 of "b.recipe"']), files)
    assert [line.split(".")[0] for line in task(sheet, "scissors").lines] == [
        "Kit K, 3\u00a0plates of 1 × 2\u00a0in", "Kit L, 4\u00a0plates of 1\u202f1⁄2 × 2\u00a0in",
    ]  # fmt: skip


def test_an_embossed_middle_is_marked_from_each_end() -> None:
    sheet = seats(2, '  emboss "Ripple" on middle 2')
    assert task(sheet, "die-cutting machine").lines[0].endswith("Mark it lightly 1⁄2\u00a0in from each end.")


def test_of_a_square_no_side_is_told() -> None:
    lines = [line for each in sheet_of().prep if each.paper for line in each.lines]
    assert any("Lay the sheet along the ruler." in line for line in lines)  # 12 x 12
    assert not [line for line in lines if "Lay the sheet with" in line]


def test_the_grain_is_asked_for_where_a_fold_needs_it() -> None:
    needs = {line.title.split(",")[0]: line.need for line in saturday_bench().shopping if line.counts}
    assert needs["Ink blue"] == "16\u00a0sheets of 8\u202f1⁄2 × 11\u00a0in, grain along the short side"
    assert needs["Soft white"] == "11\u00a0sheets of 8\u202f1⁄2 × 11\u00a0in"


def test_the_command_for_a_kit_gives_the_sheet_of_one_card_of_that_variant() -> None:
    """`--variant all` is no variant's name there, and a recipe that makes four is made once a seat."""
    recipe = (
        f'{HEAD}paper ink is cardstock "Ink" 12 x 12\nbase card from ink\n'
        '  fold side-fold, width 4, height 5\nvariant "all"\n  set makes 4\n'
    )
    files = {"a.recipe": recipe}
    text = class_text(['  make 2 of "a.recipe" variant "all"', '  make 1 of "a.recipe"'])
    first, second = planned(text, files).prep[0].lines
    assert first.endswith("cardrecipe build a.recipe --variant each --copies 1")
    assert second.endswith("cardrecipe build a.recipe")


# ---- one number, one name, and what is not used ---------------------------------------------------


def test_the_sheets_of_all_papers_are_numbered_from_one_on() -> None:
    ash = {"b.recipe": recipe(title="B")["b.recipe"].replace('"Ink"', '"Ash"')}
    sheet = planned(class_text([*ONE, '  make 3 of "b.recipe"']), recipe() | ash)
    assert [each.number for each in sheet.cutting] == [1, 2]
    told = [line.split(",")[0] for each in sheet.prep for line in each.lines if line.startswith("Sheet ")]
    assert list(dict.fromkeys(told)) == ["Sheet 1", "Sheet 2"]


@pytest.mark.parametrize(
    ("count", "unused"), [(24, "not needed: they save no new sheet"), (25, "2 not needed"), (27, "")]
)
def test_of_pieces_at_hand_it_is_told_how_many_are_not_used(count: int, unused: str) -> None:
    """A sheet of 12 x 12 gives 24 tags of 2 x 3, a piece of 3 x 3 one."""
    text = class_text([f'  make {count} of "a.recipe"', "  have ink 3 sheets 3 x 3"])
    there = "3\u00a0sheets of 3 × 3\u00a0in"
    assert paper(planned(text, recipe())).have == (f"{there} ({unused})" if unused else there)


def test_bags_labels_and_steps_are_to_get_as_many_as_are_needed() -> None:
    """Three seats and a spare kit: nobody said that any of it is at hand."""
    found = bought(planned(class_text(['  make 3 of "a.recipe", 1 spare']), recipe()), "to hand out")
    assert [(title.split()[0], *counts) for title, *counts in found] == [
        ("Bags", "4", "", "4"), ("Labels:", "4", "", "4"), ("Sheets", "3", "", "3"),
    ]  # fmt: skip


def test_a_pile_that_is_for_one_kit_is_not_split() -> None:
    def pile(text: str, files: dict[str, str]) -> str:
        (line,) = (each.lines for each in planned(text, files).prep if each.amount == "1\u00a0pile")
        return line[0].replace("\u00a0", " ")

    assert pile(class_text(ONE), recipe()) == "3 K tags of 2 × 3 in: 3 needed"
    both = class_text([*ONE, '  make 4 of "b.recipe"'])
    assert pile(both, recipe() | recipe(title="B")).endswith("7 needed, 3 for kit K and 4 for kit L")


@pytest.mark.parametrize(("title", "named"), [("Coal black", "Coal black ink"), ("Coal Ink", "Coal Ink")])
def test_an_ink_on_the_table_is_called_an_ink_once(title: str, named: str) -> None:
    sheet = sheet_of('  stamp "A star" in coal', f'supply coal is ink "{title}"')
    assert sheet.bags[0].shared == ("stamp “A star”", named)
