"""The preparation followed with parts in hand: every cut finds its part, every bag its pieces."""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction
from itertools import groupby
from typing import NamedTuple

import pytest

from cardrecipe.plan.card import CuttingOptions
from cardrecipe.plan.classes.blanks import ClassCut, class_cut
from cardrecipe.plan.classes.cut_order import Cut
from cardrecipe.plan.classes.order import Doing, Ring, Setting, in_groups
from cardrecipe.plan.classes.piece_prep import PieceDoing, pieces_to_do
from cardrecipe.plan.classes.plan import plan_class
from cardrecipe.plan.classes.prep import prep_groups
from cardrecipe.plan.classes.sheet import ClassSheet
from cardrecipe.plan.cutting.card_plans import PaperPlan
from cardrecipe.plan.cutting.cut_list import letters
from cardrecipe.plan.cutting.job import Part
from tests.plan.classes.making import (
    FOUR,
    HEAD,
    class_by_chance,
    class_text,
    cut_of,
    four_samples,
    planned,
    sample_class,
    saturday_bench,
)

MM = {"inch": Fraction(254, 10), "mm": Fraction(1)}


class OnTheTable(NamedTuple):
    """A part as it lies there: its row, and how many parts of the row are cut off already."""

    part: Part
    done: int


class Table:
    """All that is in hand, sheet by sheet; whoever asks for what is not there is told so."""

    def __init__(self, plans: tuple[PaperPlan, ...]) -> None:
        self.parts: dict[int, Counter[OnTheTable]] = {}
        self.named = {}
        for plan in plans:
            for layout in plan.layouts:
                root = layout.layout.root
                self.parts[layout.number] = Counter({OnTheTable(root, 0): layout.layout.count})
                self.named[layout.number] = letters(root)

    def cut(self, number: int, letter: str, axis: str, size: int, times: int, count: int) -> None:
        """Cut `count` parts of a letter, each so many times at a size."""
        here = self.parts[number]
        for _ in range(count):
            fitting = (each for each in here if here[each] and self._is(number, each, letter, axis, size))
            held = next(fitting)
            here[held] -= 1
            for _ in range(times):
                off = held.part.parts[held.done]
                assert (off.width if axis == "x" else off.height) == size
                here[OnTheTable(off, 0)] += 1
                held = held._replace(done=held.done + 1)
            if held.done == len(held.part.parts) - 1:
                held = OnTheTable(held.part.parts[-1], 0)
            here[held] += 1

    def _is(self, number: int, each: OnTheTable, letter: str, axis: str, size: int) -> bool:
        """A part of that letter whose next piece has that size."""
        if not each.part.parts or self.named[number].get(each.part) != letter or each.part.axis != axis:
            return False
        off = each.part.parts[each.done]
        return each.done < len(each.part.parts) - 1 and (off.width if axis == "x" else off.height) == size

    def blanks(self) -> Counter[str]:
        found: Counter[str] = Counter()
        for here in self.parts.values():
            for each, count in here.items():
                if each.part.blank is not None:
                    found[each.part.blank] += count
        return found

    def uncut(self) -> list[OnTheTable]:
        return [each for here in self.parts.values() for each in here if here[each] and each.part.parts]


def follow(cut: ClassCut, plans: tuple[PaperPlan, ...], by_setting: bool) -> Table:
    """Do everything in its order with what is in hand."""
    table, ready = Table(plans), set()
    for setting, doings in prep_groups(cut, plans, by_setting):
        for doing in doings:
            what = doing.what
            if isinstance(what, Cut):
                unit = cut.cards[what.plan.of.paper.name].unit
                assert what.plan.of.length(what.setting.size) * MM[unit] == setting.size
                count = what.held.count * what.layout.layout.count
                table.cut(what.layout.number, what.held.letter, what.setting.axis, what.setting.size,
                          what.held.times, count)  # fmt: skip
            else:
                assert isinstance(what, PieceDoing)
                there = table.blanks()
                pieces = (
                    [what.piece]
                    if what.piece
                    else [
                        piece.name
                        for kit in cut.kits
                        if kit.letter == what.letter
                        for piece in kit.card.pieces
                    ]
                )
                for piece in pieces:
                    name = cut.names.get((what.letter, piece))
                    assert name is None or there[name] >= _of(cut, name), f"{name} is not cut yet"
                if not what.piece:
                    assert what.letter not in ready
                    ready.add(what.letter)
    assert ready == {kit.letter for kit in cut.kits}
    return table


def test_a_bag_waits_for_all_that_is_done_to_the_pieces_of_its_kit() -> None:
    """The oval is cut out; the rectangle is cut from any paper and its corners are rounded, and in the one
    kit it is die-cut."""
    files = {
        f"{name}.recipe": f'{HEAD.format(name)}paper ink is cardstock "Ink" 12 x 12\n'
        "oval a from ink\n  size 2 x 3\n  loose\n"
        f"rectangle b\n  size 2 x 3\n  loose\n  corners round 1/4\n{worked}"
        for name, worked in (("a", '  die "scallop"\n'), ("b", ""))
    }
    doings = pieces_to_do(cut_of(class_text(['  make 2 of "a.recipe"', '  make 3 of "b.recipe"']), files))
    waits: dict[str, list[object]] = {"K": [], "L": []}
    for each in doings:
        assert isinstance(each.what, PieceDoing)
        if each.what.piece:
            waits[each.what.letter].append(each.key)
        else:
            assert set(each.after) == set(waits[each.what.letter])
    assert {letter: len(keys) for letter, keys in waits.items()} == {"K": 4, "L": 3}


def _of(cut: ClassCut, name: str) -> int:
    return next(each.rect.count for each in cut.blanks if each.rect.name == name)


def check(cut: ClassCut, sheet: ClassSheet, by_setting: bool = False) -> None:
    table = follow(cut, sheet.paper_plans, by_setting)
    assert table.uncut() == []
    assert all(table.blanks()[each.rect.name] >= each.rect.count for each in cut.blanks)


@pytest.mark.parametrize("by_setting", [False, True])
def test_four_samples_can_be_prepared_in_that_order(by_setting: bool) -> None:
    found = sample_class(FOUR)
    assert found.cards is not None
    check(class_cut(found.cards), four_samples(), by_setting)


@pytest.mark.parametrize("seed", range(24))
def test_classes_by_chance_can_be_prepared_in_that_order(seed: int) -> None:
    lines, files = class_by_chance(seed)
    cut, sheet = cut_of(class_text(lines), files), planned(class_text(lines), files)
    for by_setting in (False, True):
        check(cut, sheet, by_setting)


def test_a_table_says_when_a_strip_is_cut_across_before_it_is_there() -> None:
    """The follower itself: from the last cut to the first nothing can be done."""
    sheet = four_samples()
    cuts = [each.what for _, doings in prep_groups(_cut_of_four(), sheet.paper_plans) for each in doings
            if isinstance(each.what, Cut) and each.what.held.letter]  # fmt: skip
    table = Table(sheet.paper_plans)
    with pytest.raises(StopIteration):
        table.cut(cuts[0].layout.number, cuts[0].held.letter, cuts[0].setting.axis, cuts[0].setting.size,
                  cuts[0].held.times, 1)  # fmt: skip


def _cut_of_four() -> ClassCut:
    found = sample_class(FOUR)
    assert found.cards is not None
    return class_cut(found.cards)


# ---- few settings --------------------------------------------------------------------------------


@pytest.mark.parametrize("sheet", [four_samples, saturday_bench], ids=["four", "bench"])
def test_all_cuts_of_one_size_stand_together_but_where_the_order_of_cuts_forbids_it(sheet: object) -> None:
    """Those of one paper: no strip waits while another paper is cut."""
    made: ClassSheet = sheet()  # type: ignore[operator]
    at_trimmer = [task for task in made.prep if task.tool == "trimmer" and task.setting]
    for plan in made.paper_plans:
        own = [task for task in at_trimmer if task.paper == plan.of.paper.name]
        assert len(_sizes(plan)) <= len(own) <= 1.35 * len(_sizes(plan))
    runs = [paper for paper, _ in groupby(task.paper for task in at_trimmer)]
    assert runs == [plan.of.paper.name for plan in made.paper_plans if plan.plan.strokes]
    assert len(at_trimmer) < sum(total.settings for total in made.paper_totals) / 1.5
    strokes = sum(int(task.amount.split("\u00a0")[0].replace(",", "")) for task in at_trimmer)
    assert strokes == sum(total.strokes for total in made.paper_totals)


def test_by_setting_the_trimmer_is_set_to_most_sizes_once_over_all_papers() -> None:
    found = sample_class(FOUR)
    assert found.cards is not None
    both = four_samples(), plan_class(found.cards, CuttingOptions(by_setting=True))
    paper_by_paper, together = (
        [task for task in sheet.prep if task.tool == "trimmer" and task.setting] for sheet in both
    )
    sizes = {task.setting for task in together}
    assert len(sizes) <= len(together) <= 1.35 * len(sizes)
    assert len(together) < len(paper_by_paper)
    first, second = (sum(int(task.amount.split("\u00a0")[0].replace(",", "")) for task in tasks)
                     for tasks in (paper_by_paper, together))  # fmt: skip
    assert first == second
    assert not any(task.paper for task in together)


def _sizes(plan: PaperPlan) -> set[int]:
    found = set()
    waiting = [layout.layout.root for layout in plan.layouts]
    while waiting:
        part = waiting.pop()
        found |= {each.width if part.axis == "x" else each.height for each in part.parts[:-1]}
        waiting += part.parts
    return found


def test_tools_come_one_after_the_other_and_the_bags_last() -> None:
    tools = [task.tool for task in saturday_bench().prep]
    order_of_tools = ["printer", "trimmer", "scissors", "die-cutting machine", "scoring board", "table"]
    assert tools == sorted(tools, key=order_of_tools.index)
    assert [task.kits for task in saturday_bench().prep[-5:-1]] == [("K",), ("L",), ("M",), ("N",)]
    assert saturday_bench().prep[-6].text == "Cut the labels apart."


CASES = pytest.mark.parametrize("sheet", [four_samples, saturday_bench], ids=["four", "bench"])
MADE = re.compile(r"([\d,]+)\u00a0([A-Z+]+\u00a0[^,]+?) of (?=\d)")


@CASES
def test_what_the_lines_of_a_paper_give_in_all_is_what_is_counted_and_what_is_needed(sheet: object) -> None:
    made: ClassSheet = sheet()  # type: ignore[operator]
    needed = {piece.name: piece.count for piece in made.card.pieces}
    told = 0
    for plan in made.paper_plans:
        own = [task for task in made.prep if task.paper == plan.of.paper.name]
        if not own:
            continue
        given: Counter[str] = Counter()
        for line in (line for task in own[:-1] for line in task.lines):
            for count, name in MADE.findall(line.partition("In all ")[2]):
                given[_singular(name)] += int(count)
        found = [MADE.findall(line)[0] for line in own[-1].lines]
        counted = {_singular(name): int(count) for count, name in found}
        assert given == counted
        for line in own[-1].lines:
            name = _singular(MADE.findall(line)[0][1])
            (need,) = re.findall(r": (\d+) needed", line)
            assert counted[name] >= int(need) == needed[_written(name, needed)]
            split = [int(each) for each in re.findall(r"(\d+) for kit", line)]
            assert not split or sum(split) == int(need)
        told += len(own[-1].lines)
    assert told == len(needed)


def _singular(name: str) -> str:
    """Only the class's own nouns are asked for: those of the samples."""
    return re.sub(r"(?:(?<=sh)es|s)$", "", name.replace("\u00a0", " "))


def test_no_name_of_a_blank_can_break_after_its_letters() -> None:
    for task in (task for task in saturday_bench().prep if task.paper):
        assert not [line for line in task.lines if re.search(r"[K-N+]+ (?!and)[a-z]", line.split(": 1")[0])]


def _written(name: str, names: dict[str, int]) -> str:
    (found,) = (each for each in names if _singular(each.replace("-", " ")) == name)
    return found


@CASES
def test_a_task_is_for_the_kits_that_its_cuts_come_to(sheet: object) -> None:
    """Told by the letters of what it gives: what gives pieces of one kit alone is not for all."""
    made: ClassSheet = sheet()  # type: ignore[operator]
    for task in (task for task in made.prep if task.paper and task.setting):
        named = {letter for line in task.lines for _, name in MADE.findall(line)
                 for letter in name.split("\u00a0")[0].split("+")}  # fmt: skip
        assert named <= set(task.kits)
        if not any("strip" in line.partition("that gives")[2] for line in task.lines):
            assert named == set(task.kits)


def test_times_follow_each_other() -> None:
    for sheet in (four_samples(), saturday_bench()):
        at = 0
        for number, task in enumerate(sheet.prep, 1):
            assert (task.number, task.starts) == (number, at)
            assert task.minutes >= 1
            at += task.minutes


# ---- the order of things by itself ---------------------------------------------------------------


def doing(key: str, size: int, *after: str, stage: int = 0) -> Doing:
    return Doing(key, Setting(stage, "trimmer", Fraction(size)), after, None)


def order(*doings: Doing) -> list[str]:
    return ["".join(str(each.key) for each in group) for _, group in in_groups(doings)]


def test_one_setting_is_one_group_where_nothing_forbids_it() -> None:
    assert order(doing("a", 3), doing("b", 5), doing("c", 3), doing("d", 5)) == ["bd", "ac"]


def test_a_setting_waits_until_all_of_it_can_be_done() -> None:
    assert order(doing("a", 5), doing("b", 3), doing("c", 5, "b")) == ["b", "ac"]


def test_what_frees_another_of_its_own_size_stays_with_it() -> None:
    assert order(doing("a", 5), doing("b", 5, "a"), doing("c", 5, "b")) == ["abc"]


def test_a_setting_comes_twice_where_it_must() -> None:
    assert order(doing("a", 5), doing("b", 3, "a"), doing("c", 5, "b")) == ["a", "b", "c"]


def test_a_smaller_size_comes_first_where_that_saves_a_setting() -> None:
    """Once a is cut, a piece of each size left has to wait. Size 1 comes twice in any order, for d waits for
    c and c for b; c and e, both of size 2, come together only where b is cut first."""
    doings = doing("a", 3), doing("b", 1), doing("c", 2, "b"), doing("d", 1, "c"), doing("e", 2, "a")
    assert order(*doings) == ["a", "b", "ce", "d"]


def test_a_tool_is_finished_before_the_next_where_it_can_be() -> None:
    assert order(doing("s", 9, stage=1), doing("a", 5), doing("b", 3, "s")) == ["a", "s", "b"]


def test_things_that_wait_for_each_other_are_refused() -> None:
    with pytest.raises(Ring):
        order(doing("a", 5, "b"), doing("b", 3, "a"))
