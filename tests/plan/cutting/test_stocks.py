"""Sheets of several sizes and costs, sheets at hand, and limits of stages."""

import random

import pytest

from cardrecipe.plan.cutting import planner
from cardrecipe.plan.cutting.budget import PAPER
from cardrecipe.plan.cutting.columns import column
from cardrecipe.plan.cutting.easiest import _without_surplus
from cardrecipe.plan.cutting.grid import grid_for
from cardrecipe.plan.cutting.job import Blank, Job, Stock, blanks_in
from cardrecipe.plan.cutting.planner import plan
from cardrecipe.plan.cutting.worth import worth
from tests.plan.cutting import by_enumeration
from tests.plan.cutting.checker import Wrong, stages_of
from tests.plan.cutting.jobs import checked, class_kits, planned, random_job, value_of

BLANKS = (Blank("mat", 8, 6, 5), Blank("strip", 11, 2, 4), Blank("square", 4, 4, 6))


def test_the_cheaper_of_two_sizes_is_taken() -> None:
    small, large = Stock("small", 12, 9, 40), Stock("large", 24, 18, 150)
    found = planned(Job((small, large), (Blank("mat", 12, 9, 4),)))
    assert [each.stock for each in found.plan.layouts] == ["large"]
    assert (found.total["cost"], found.total["least_cost"]) == ("1.50", "1.50")
    found = planned(Job((small, large._replace(cost=170)), (Blank("mat", 12, 9, 4),)))
    assert [(each.stock, each.count) for each in found.plan.layouts] == [("small", 4)]
    assert (found.total["cost"], found.total["proved"]) == ("1.60", True)


def test_a_size_that_holds_more_for_its_cost_is_not_taken_for_little() -> None:
    small, large = Stock("small", 12, 9, 40), Stock("large", 24, 18, 60)
    found = planned(Job((small, large), (Blank("mat", 11, 8, 5),)))
    assert found.plan.cost == 100
    assert found.plan.is_proved


def test_a_sheet_that_holds_nothing_changes_no_plan_and_takes_no_work() -> None:
    """A long strip would have a table of thousands of places."""
    sheet, strip = Stock("sheet", 24, 18, 10), Stock("strip", 1, 8000, 1, 3)
    mat = Blank("mat", 12, 9, 40, may_turn=False)
    alone, taken = planner.planned(Job((sheet,), (mat,)), PAPER)
    for stocks in ((sheet, strip), (strip, sheet), (sheet, Stock("low", 40, 8, 1))):
        found, steps = planner.planned(Job(stocks, (mat,)), PAPER)
        assert alone is not None and found is not None
        assert found[1:4] == alone[1:4] and steps == taken  # layouts, what they cost, and the least
        assert found.job.stocks == stocks
        assert found.proof.limits == {each.name: alone.proof.limits.get(each.name, 0) for each in stocks}
        checked(found)
    assert planner.planned(Job((strip,), (mat,)), PAPER)[0] is None


@pytest.mark.parametrize("chunk", range(4))
def test_the_least_cost_with_two_sizes_and_sheets_at_hand_is_that_of_enumeration(chunk: int) -> None:
    for seed in range(chunk * 25, (chunk + 1) * 25):
        chance = random.Random(seed)
        one = Stock("one", chance.randint(8, 16), chance.randint(8, 16), chance.randint(1, 9))
        two = Stock("two", one.width + chance.randint(1, 8), one.height, chance.randint(1, 12))
        if chance.random() < 0.5:
            one = one._replace(cost=0, available=chance.randint(0, 2))
        blanks = tuple(
            Blank(
                f"p{at}",
                chance.randint(3, two.width),
                chance.randint(3, two.height),
                1,
                chance.random() < 0.5,
            )
            for at in range(chance.randint(3, 6))
        )
        pieces = [(each.width, each.height, each.may_turn) for each in blanks]
        kinds = [(each.width, each.height, each.cost, each.available) for each in (one, two)]
        least = by_enumeration.least_cost(pieces, kinds)
        found = planned(Job((one, two), blanks)).plan
        assert least is not None
        assert found.least <= least <= found.cost, f"seed {seed}"
        assert found.cost - least <= min(one.cost or two.cost, two.cost), f"seed {seed}"


def test_sheets_at_hand_that_cost_nothing_are_used_first() -> None:
    offcut = Stock("offcut", 12, 9, 0, available=1)
    found = planned(Job((offcut, Stock("sheet", 24, 18, 1)), (Blank("mat", 12, 9, 5),)))
    assert {each.stock: each.count for each in found.plan.layouts} == {"offcut": 1, "sheet": 1}
    assert (found.plan.cost, found.plan.least) == (1, 1)


def test_what_fits_on_sheets_at_hand_costs_nothing() -> None:
    offcut = Stock("offcut", 12, 9, 0, available=2)
    found = planned(Job((offcut, Stock("sheet", 24, 18, 1)), (Blank("mat", 12, 9, 2),)))
    assert (found.plan.cost, found.plan.is_proved) == (0, True)


def test_no_more_sheets_are_taken_than_there_are() -> None:
    """One at a time each blank would take sheets of its own; together they just suffice."""
    few = Stock("few", 12, 12, 1, available=2)
    blanks = (Blank("a", 6, 12, 2), Blank("b", 6, 6, 4))
    found = planned(Job((few,), blanks)).plan
    assert (found.sheets, found.is_proved) == (2, True)
    assert plan(Job((few._replace(available=1),), blanks)) is None
    assert plan(Job((few._replace(available=0),), blanks)) is None


def test_what_fits_no_sheet_has_no_plan() -> None:
    stock = Stock("S", 10, 20)
    assert plan(Job((stock,), (Blank("a", 20, 10, 1, may_turn=False),))) is None
    assert plan(Job((stock,), (Blank("a", 20, 10, 1, may_turn=True),))) is not None
    assert plan(Job((stock,), ())) is None


@pytest.mark.parametrize("stages", [1, 2, 3])
@pytest.mark.parametrize("first", [None, "x", "y"])
def test_a_limit_of_stages_is_kept_and_its_least_is_proved(stages: int, first: str | None) -> None:
    found = planned(Job((Stock("S", 24, 18),), BLANKS, stages, first)).plan
    free = planned(Job((Stock("S", 24, 18),), BLANKS)).plan
    assert found.sheets >= free.sheets


def test_a_plan_with_too_many_stages_would_be_seen() -> None:
    job = Job((Stock("S", 24, 18),), BLANKS)
    with pytest.raises(Wrong, match="stages"):
        found = planned(job).plan
        checked(found._replace(job=job._replace(stages=0)), prove=False)


def test_three_stages_are_enough_wherever_they_reach_the_least() -> None:
    """Where three stages are known to reach the least, no layout has more."""
    plain = 0
    for name, job, known in class_kits():
        if (
            "sheets" in known
            and known["three_stage"]["best"] == known["sheets"]
            and job.blanks[0].demand <= 12
        ):
            found = planned(job, prove=False).plan
            assert max(map(stages_of, value_of(found)["sheets"])) <= 3, name
            plain += 1
    assert plain >= 5


def test_surplus_is_left_out_of_the_cuts() -> None:
    """Seven are wanted where eight fit: the eighth is not cut where that leaves the others as they are."""
    stock = Stock("S", 10, 10)
    job = Job((stock,), (Blank("a", 5, 5, 7),))
    full = worth(grid_for([stock], job.blanks), job.blanks, [1]).layouts(10, 10)[0]
    assert [column(stock, full).counts] == [{"a": 4}]
    kept = _without_surplus(job, [(1, column(stock, full)), (1, column(stock, full))])
    assert sorted(each.counts["a"] for _, each in kept) == [3, 4]
    assert _without_surplus(job, [(2, column(stock, full))])[0][1].counts == {"a": 4}


@pytest.mark.parametrize("seed", range(30))
def test_no_sheet_holds_a_blank_that_all_its_layouts_could_do_without(seed: int) -> None:
    found = plan(random_job(seed))
    assert found is not None
    for blank in found.job.blanks:
        counts = [(each.count, blanks_in(each.root).get(blank.name, 0)) for each in found.layouts]
        spare = sum(count * held for count, held in counts) - blank.demand
        assert all(count > spare for count, held in counts if held)
