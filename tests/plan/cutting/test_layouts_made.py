"""The layouts that plans are chosen from: as many sheets as there are, stages kept, enough to choose from."""

import random

import pytest

from cardrecipe.plan.cutting import attempts
from cardrecipe.plan.cutting.attempts import Begun, _dive, _near_the_best, _with_more_layouts, fill
from cardrecipe.plan.cutting.budget import ENDLESS
from cardrecipe.plan.cutting.columns import Pool, begin, column, relaxed
from cardrecipe.plan.cutting.easiest import _with_larger_offcut
from cardrecipe.plan.cutting.filling import plans
from cardrecipe.plan.cutting.grid import grid_for
from cardrecipe.plan.cutting.job import Blank, Job, Part, Stock, blanks_in
from cardrecipe.plan.cutting.one_sheet import MOST_PIECES, on_one_sheet
from cardrecipe.plan.cutting.parts import is_allowed, row
from cardrecipe.plan.cutting.planner import plan
from cardrecipe.plan.cutting.uses import cost_of
from cardrecipe.plan.cutting.worth import worth


def test_plans_made_sheet_by_sheet_take_no_more_of_a_size_than_there_is() -> None:
    few, many = Stock("few", 12, 12, 1, available=2), Stock("many", 12, 6, 5)
    job = Job((few, many), (Blank("a", 6, 6, 14),))
    for made in plans(job, grid_for(job.stocks, job.blanks), {"a": 14}, 3):
        names = [stock.name for stock, _ in made]
        assert names.count("few") <= 2
    alone = Job((few,), job.blanks)
    for made in plans(alone, grid_for(alone.stocks, alone.blanks), {"a": 14}, 2):
        assert sum(blanks_in(part)["a"] for _, part in made) == 8


def test_a_blank_may_turn_unless_something_forbids_it() -> None:
    stock = Stock("S", 10, 20)
    found = plan(Job((stock,), (Blank("a", 20, 10, 1),)))
    assert found is not None and found.sheets == 1
    assert plan(Job((stock,), (Blank("a", 20, 10, 1)._replace(may_turn=False),))) is None


def test_as_many_pieces_as_a_few_cards_have_are_laid_on_one_sheet_at_once() -> None:
    job = Job((Stock("S", 2 * MOST_PIECES, 10),), (Blank("a", 2, 10, MOST_PIECES),))
    found = on_one_sheet(job)
    assert found is not None and blanks_in(found[1]) == {"a": MOST_PIECES}
    more = job._replace(blanks=(Blank("a", 1, 10, MOST_PIECES + 1),))
    assert on_one_sheet(more) is None


MIXED = Job((Stock("S", 20, 20),), (Blank("a", 7, 9, 4), Blank("b", 11, 3, 3), Blank("c", 5, 5, 2)))


def begun() -> Begun:
    """A job with layouts of one blank alone in its pool."""
    grid, pool, known = grid_for(MIXED.stocks, MIXED.blanks), Pool(), Pool()
    begin(MIXED, grid, pool)
    begin(MIXED, grid, known)
    program = relaxed(MIXED, grid, known, {each.name: each.demand for each in MIXED.blanks})
    assert program is not None
    assert all(len(each.counts) == 1 for each in pool.columns)
    return Begun(MIXED, grid, pool, program)


def test_what_rounding_down_leaves_is_laid_out_anew() -> None:
    job, grid, pool, _, _ = begun()
    _dive(job, grid, pool, ENDLESS)
    assert any(len(each.counts) > 1 for each in pool.columns)


def test_where_the_layouts_near_the_best_make_a_plan_nothing_is_left_to_prove() -> None:
    (tried,) = _near_the_best(begun())
    assert tried.uses is not None and cost_of(tried.uses) == 2


def test_plans_for_shares_of_the_demand_give_layouts_of_several_blanks() -> None:
    found = begun()
    (tried,) = _with_more_layouts(found)
    assert any(len(each.counts) > 1 for each in found.pool.columns)
    assert tried.uses is not None and sum(count for count, _ in tried.uses) == 2  # 401 of 400 a sheet


@pytest.mark.parametrize("first", ["x", "y"])
def test_a_layout_with_a_limit_of_stages_keeps_to_it(first: str) -> None:
    """Pieces that are narrower and lower than their strip are trimmed without a further stage."""
    for seed in range(40):
        chance = random.Random(seed)
        blanks = tuple(Blank(f"p{at}", chance.randint(3, 11), chance.randint(3, 9), 3) for at in range(3))
        job = Job((Stock("S", 20, 16),), blanks, 2, first)
        prices = [each.width * each.height for each in blanks]
        value = worth(grid_for(job.stocks, blanks), blanks, prices, 2, first)
        assert all(is_allowed(job, part) for part in value.layouts(20, 16)), f"seed {seed}"


def test_a_third_stage_holds_what_two_do_not() -> None:
    """A strip of 2, and beside it one above two: upright cuts, a lying one, then an upright one."""
    sizes = {"strip": (2, 10), "lying": (7, 4), "left": (3, 6), "right": (4, 6)}
    blanks = [Blank(name, *size, 1, may_turn=False) for name, size in sizes.items()]
    prices = [each.width * each.height for each in blanks]
    grid = grid_for([Stock("S", 9, 10)], blanks)
    assert worth(grid, blanks, prices, 3, "x").of(9, 10) == 90
    assert worth(grid, blanks, prices, 2, "x").of(9, 10) < 90


@pytest.mark.parametrize(("idle", "sizes", "made"), [(None, 1, 9), (2, 1, 3), (2, 2, 5)])
def test_plans_end_where_rounds_bring_no_new_layout(
    idle: int | None, sizes: int, made: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One blank fills a sheet: the first round has found all there is."""
    stocks = (Stock("S", 10, 10), Stock("T", 12, 12))[:sizes]
    job, rounds = Job(stocks, (Blank("a", 9, 9, 2),)), []

    def counted(*given: object) -> object:
        for each in plans(*given):  # type: ignore[arg-type]
            rounds.append(each)
            yield [(stocks[0], Part(10, 10, "a"))]

    monkeypatch.setattr(attempts, "plans", counted)
    fill(job, grid_for(job.stocks, job.blanks), Pool(), 1, 9, idle=idle)
    assert len(rounds) == made


def test_layouts_are_counted_round() -> None:
    job = MIXED._replace(stages=2)
    value = worth(grid_for(job.stocks, job.blanks), job.blanks, [63, 33, 25], 2)
    every = value.layouts(20, 20)
    assert [value.layout(20, 20, at) for at in range(4)] == [every[at % len(every)] for at in range(4)]
    square = worth(grid_for(job.stocks, job.blanks), (Blank("c", 5, 5, 2),), [1], 2)
    assert [each.axis for each in square.layouts(20, 20)] == ["x", "y"]
    assert [square.layout(20, 20, at).axis for at in range(3)] == ["x", "y", "x"]


def test_of_layouts_with_the_same_blanks_the_easiest_to_cut_stays() -> None:
    stock, pool = Stock("S", 10, 10), Pool()
    two = Part(10, 10, None, False, "x", (Part(5, 10, "a"), Part(5, 10, "a")))
    uneven = Part(10, 10, None, False, "x", (Part(5, 10, "a"), Part(4, 10, "a"), Part(1, 10)))
    assert pool.add(stock, uneven) and not pool.add(stock, uneven) and not pool.add(stock, two)
    assert [each.part for each in pool.columns] == [two]
    assert pool.add(stock._replace(name="T"), two)
    assert not pool.add(stock, Part(10, 10)) and len(pool.columns) == 2


def test_a_larger_offcut_is_no_reason_to_take_a_layout_twice() -> None:
    """A layout that is used already would stand there as two, each for a part of the sheets."""
    stock = Stock("S", 20, 10)
    tight = column(stock, row("x", 20, 10, [row("y", 5, 10, [Part(5, 5, "a"), Part(5, 5)])] * 4))
    loose = column(stock, row("x", 20, 10, [Part(5, 10, "b"), Part(5, 10, "a"), Part(10, 10)]))
    job = Job((stock,), (Blank("a", 5, 5, 2), Blank("b", 5, 10, 2)))
    assert loose.effort.offcut < tight.effort.offcut and loose.effort.settings <= tight.effort.settings
    uses = _with_larger_offcut(job, [tight, loose], ((1, tight), (2, loose)), ENDLESS)
    assert len({id(each) for _, each in uses}) == len(uses)


def test_a_sheet_costs_one_unless_it_has_its_price() -> None:
    found = plan(Job((Stock("S", 10, 10),), (Blank("a", 9, 9, 3),)))
    assert found is not None and (found.cost, found.least, found.sheets) == (3, 3, 3)
