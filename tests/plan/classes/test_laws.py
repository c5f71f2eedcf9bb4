"""Laws of planning a class, on classes by chance: the order of lines changes nothing, together is no dearer
than apart, more at hand means no more to buy."""

from __future__ import annotations

import random
from functools import cache

import pytest

from cardrecipe.plan.classes.sheet import ClassSheet
from cardrecipe.plan.cutting.card_plans import card_plans
from tests.plan.classes.making import blanks_cut, cards, class_by_chance, class_text, planned
from tests.plan.cutting.jobs import checked
from tests.recipes import compile_text

SEEDS = range(16)
HAVES = ("ink 2 sheets", "moss 1 sheet", "fog 1 sheet 6 x 9", "ink 2 sheets 5 x 6")


@cache
def by_chance(seed: int) -> tuple[list[str], dict[str, str], ClassSheet]:
    lines, files = class_by_chance(seed)
    return lines, files, planned(class_text(lines), files)


def totals(sheet: ClassSheet) -> list[tuple[object, ...]]:
    """What a class comes to, apart from the order of its kits and its papers."""
    papers = [(line.title, line.need, line.buy, line.cost, line.counts) for line in sheet.shopping]
    numbers = [(total.title, total.sheets, total.settings, total.strokes) for total in sheet.paper_totals]
    return [*sorted(map(repr, papers)), *sorted(map(repr, numbers)), sheet.cost]  # type: ignore[list-item]


def bought(sheet: ClassSheet) -> dict[str, tuple[int, str]]:
    return {line.title: (line.counts.buy, line.cost) for line in sheet.shopping if line.counts is not None}


@pytest.mark.parametrize("seed", SEEDS)
def test_the_order_of_the_lines_changes_no_total(seed: int) -> None:
    lines, files, sheet = by_chance(seed)
    mixed = list(lines)
    random.Random(seed).shuffle(mixed)
    # The unit of the first recipe would be the class's: then only the words for sizes differ.
    again = planned(class_text(mixed, f"  units {sheet.unit}"), files)
    assert totals(again) == totals(sheet)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_line_in_two_halves_changes_no_total(seed: int) -> None:
    lines, files, sheet = by_chance(seed)
    halves = []
    for line in lines:
        _, count, rest = line.split(maxsplit=2)
        head = rest.split(",")[0]
        first = int(count) // 2
        halves += [f"  make {first} of {head.removeprefix('of ')}"] * bool(first)
        halves.append(f"  make {int(count) - first} {rest}")
    assert totals(planned(class_text(halves), files)) == totals(sheet)


@pytest.mark.parametrize("seed", SEEDS)
def test_together_takes_no_more_than_each_recipe_alone(seed: int) -> None:
    """Alone they are planned by the command for one card, so many copies of it."""
    _, files, sheet = by_chance(seed)
    alone: dict[str, int] = {}
    for kit in sheet.kits:
        found = compile_text(files[kit.path], files, name=kit.path).folded
        assert found is not None
        for plan in card_plans(found.card, kit.kits):
            cost = plan.plan.cost if plan.of.by_cost else plan.plan.sheets
            alone[plan.of.paper.title] = alone.get(plan.of.paper.title, 0) + cost
    for plan in sheet.paper_plans:
        cost = plan.plan.cost if plan.of.by_cost else plan.plan.sheets
        assert cost <= alone[plan.of.paper.title]


@pytest.mark.parametrize("seed", SEEDS)
def test_more_at_hand_means_no_more_to_buy(seed: int) -> None:
    lines, files, sheet = by_chance(seed)
    known = {plan.of.paper.name for plan in sheet.paper_plans}
    have: list[str] = []
    least = bought(sheet)
    for more in HAVES:
        if more.split()[0] not in known:
            continue
        have.append(f"  have {more}")
        now = bought(planned(class_text(lines, *have, "  units inch"), files))
        assert {title: count for title, (count, _) in now.items()}.keys() == least.keys()
        for title, (count, cost) in now.items():
            if least[title][1] and cost:  # of two sizes with prices the cheaper way to buy may be more sheets
                assert float(cost) <= float(least[title][1])
            else:
                assert count <= least[title][0]
        least = now


@pytest.mark.parametrize("seed", SEEDS)
def test_every_plan_can_be_cut_from_what_there_is(seed: int) -> None:
    lines, files, sheet = by_chance(seed)
    known = {plan.of.paper.name for plan in sheet.paper_plans}
    have = [f"  have {each}" for each in HAVES if each.split()[0] in known]
    for made in (sheet, planned(class_text(lines, *have, "  units inch"), files)):
        for plan in made.paper_plans:
            checked(plan.plan, prove=False)
        assert all(blanks_cut(made)[piece.name] >= piece.count for piece in made.card.pieces)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_same_class_has_the_same_sheet(seed: int) -> None:
    lines, files, sheet = by_chance(seed)
    again = planned(class_text(lines), files)
    assert again._replace(kits=(), card=sheet.card) == sheet._replace(kits=())


def test_the_classes_by_chance_have_what_makes_classes_hard() -> None:
    sheets = [by_chance(seed)[2] for seed in SEEDS]
    assert {len(each.kits) for each in sheets} >= {1, 2, 3, 4}
    assert any(len({kit.sheet.folded.card.unit for kit in each.kits}) == 2 for each in sheets)
    assert any(plan.of.by_cost for each in sheets for plan in each.paper_plans)
    assert any(len(line.used_for) > 1 for each in sheets for line in each.shopping if line.counts)
    assert all(cards(class_text(by_chance(seed)[0]), by_chance(seed)[1]).cards for seed in SEEDS)
