"""What jobs seldom come to: no sheet left, nothing near, limits of the single searches."""

from collections.abc import Iterator
from contextlib import suppress

import pytest

from cardrecipe.plan.cutting import attempts, columns, exhausted, fewest, worth
from cardrecipe.plan.cutting.attempts import Begun, in_all_sets
from cardrecipe.plan.cutting.budget import Budget, Spent
from cardrecipe.plan.cutting.certificate import by_area, simplest
from cardrecipe.plan.cutting.columns import Pool, Relaxed, begin, relaxed
from cardrecipe.plan.cutting.cut_points import MOST_LENGTH, sums
from cardrecipe.plan.cutting.first_plan import first_plan
from cardrecipe.plan.cutting.grid import grid_for
from cardrecipe.plan.cutting.job import Blank, Job, Stock, blanks_in
from cardrecipe.plan.cutting.near import TooMany, near_layouts
from cardrecipe.plan.cutting.one_sheet import on_one_sheet
from cardrecipe.plan.cutting.parts import MOST_BEHIND
from cardrecipe.plan.cutting.planner import plan
from cardrecipe.plan.cutting.programs import MOST_TERMS, Row, solve
from cardrecipe.plan.cutting.uses import chosen
from tests.plan.cutting.jobs import checked

SHEET = Stock("S", 100, 100)
TWO = Job((SHEET,), (Blank("a", 60, 60, 2), Blank("b", 40, 40, 3)))
LARGE = Job((SHEET,), (Blank("a", 120, 60, 1),))


def begun(job: Job, pool: Pool | None = None) -> Begun:
    blanks = len(job.blanks)
    nothing = Relaxed([], [], [0.0] * blanks, 0.0)
    return Begun(job, grid_for(job.stocks, job.blanks), pool or Pool(), nothing)


def test_there_is_no_plan_where_the_sheets_run_out() -> None:
    for number in (0, 1):
        assert plan(TWO._replace(stocks=(SHEET._replace(available=number),))) is None
    found = plan(TWO._replace(stocks=(SHEET._replace(available=2),)))
    assert found is not None and checked(found).plan.sheets == 2


@pytest.mark.parametrize("attempt", [attempts._each_alone, attempts._near_the_best], ids=["alone", "near"])
def test_an_attempt_that_has_nothing_to_go_by_gives_nothing(attempt: attempts.Attempt) -> None:
    """No layout is there, and no blank has a price."""
    assert list(attempt(begun(TWO))) == []


def test_no_set_of_pieces_is_shared_out_where_one_fits_no_sheet() -> None:
    assert list(in_all_sets(begun(LARGE))) == []
    (found,) = in_all_sets(begun(TWO))
    assert found.least == 2 and found.uses is not None


def test_what_rounding_leaves_is_not_looked_for_where_it_fits_no_sheet() -> None:
    pool = Pool()
    attempts._dive(LARGE, grid_for(LARGE.stocks, LARGE.blanks), pool, Budget(10**9))
    assert pool.columns == []


def test_nothing_is_chosen_of_layouts_that_lack_a_blank() -> None:
    pool = Pool()
    begin(TWO._replace(blanks=TWO.blanks[:1]), grid_for(TWO.stocks, TWO.blanks), pool)
    assert chosen(TWO, pool.columns) is None
    begin(TWO, grid_for(TWO.stocks, TWO.blanks), pool)
    assert chosen(TWO, pool.columns) is not None


def test_layouts_are_made_in_so_many_rounds_at_the_most(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(columns, "MOST_ROUNDS", 1)
    pool, grid = Pool(), grid_for(TWO.stocks, TWO.blanks)
    begin(TWO, grid, pool)
    demand = {blank.name: blank.demand for blank in TWO.blanks}
    found = relaxed(TWO, grid, pool, demand)
    monkeypatch.setattr(columns, "MOST_ROUNDS", 300)
    best = relaxed(TWO, grid, pool, demand)
    assert found is not None and best is not None
    assert found.cost > best.cost >= 2 - 1e-6


def test_layouts_that_cannot_even_be_weighed_are_given_up() -> None:
    pool, grid = Pool(), grid_for(TWO.stocks, TWO.blanks)
    begin(TWO, grid, pool)
    with pytest.raises(Spent):
        relaxed(TWO, grid, pool, {"a": 2, "b": 3}, Budget(1))


def test_layouts_that_are_there_are_weighed_where_no_more_can_be_made() -> None:
    grid, demand = grid_for(TWO.stocks, TWO.blanks), {"a": 2, "b": 3}
    costs = []
    for steps in range(100_000, 1_000_000, 20_000):
        pool = Pool()
        begin(TWO, grid, pool)
        with suppress(Spent):
            found = relaxed(TWO, grid, pool, demand, Budget(steps))
            assert found is not None
            costs.append(found.cost)
    assert costs == sorted(costs, reverse=True) and costs[0] > costs[-1] >= 2 - 1e-6


def test_without_a_budget_the_areas_prove_what_they_can() -> None:
    grid = grid_for(TWO.stocks, TWO.blanks)
    assert simplest(TWO, grid, [0.5, 0.25], Budget(1)) == by_area(TWO)
    assert simplest(TWO, grid, [0.5, 0.25]).least == 2


def test_an_attempt_that_ends_early_and_leaves_nothing_to_choose_with_gives_nothing() -> None:
    def spent(_begun: Begun) -> Iterator[attempts.Tried]:
        raise Spent
        yield

    pool = Pool()
    begin(TWO, grid_for(TWO.stocks, TWO.blanks), pool)
    assert list(fewest._until_spent(spent, begun(TWO, pool), Budget(0))) == []
    (found,) = fewest._until_spent(spent, begun(TWO, pool), Budget(10**9))
    assert found.uses is not None and found.least == 0


def test_a_length_beyond_measure_has_no_places() -> None:
    assert sums([3, 5], MOST_LENGTH + 1, 10) == ([], False)
    assert sums([MOST_LENGTH], MOST_LENGTH, 10) == ([0, MOST_LENGTH], True)


def test_a_sheet_of_too_many_places_is_not_searched_to_the_end(monkeypatch: pytest.MonkeyPatch) -> None:
    job = Job((SHEET,), (Blank("a", 30, 100, 5, False),))
    value = worth.worth(grid_for(job.stocks, job.blanks), job.blanks, [1])
    monkeypatch.setattr(exhausted, "MOST_PLACES", 4)
    assert exhausted.sheet_for(value, 100, 100).bound(0, 0) == 3
    monkeypatch.setattr(exhausted, "MOST_PLACES", 3)
    with pytest.raises(Spent):
        exhausted.sheet_for(value, 100, 100)


def test_layouts_near_the_best_are_not_looked_for_behind_too_many_cuts() -> None:
    for number, is_too_many in ((MOST_BEHIND // 2, False), (MOST_BEHIND // 2 + 1, True)):
        job = Job((Stock("S", number, number),), (Blank("a", 1, 1, 5),))
        value = worth.worth(grid_for(job.stocks, job.blanks), job.blanks, [1])
        if is_too_many:
            with pytest.raises(TooMany):
                near_layouts(value, number, number, number * number, 10**9)
        else:
            (part,) = near_layouts(value, number, number, number * number, 10**9)
            assert blanks_in(part) == {"a": number * number}


def test_no_layout_is_better_than_the_best() -> None:
    value = worth.worth(grid_for(TWO.stocks, TWO.blanks), TWO.blanks, [9, 4])
    best = value.of(100, 100)
    assert near_layouts(value, 100, 100, best, 10**6) != []
    assert near_layouts(value, 100, 100, best + 1, 10**6) == []


def test_a_program_of_too_many_terms_is_not_begun() -> None:
    for number, is_begun in ((MOST_TERMS - 2, True), (MOST_TERMS - 1, False)):
        answer = solve([1.0] * number, [1.0] * number, [Row(0, 1, {0: 1})], whole=False)
        assert (answer is not None) == is_begun


def test_a_layout_that_goes_too_deep_leaves_out_what_lies_deepest(monkeypatch: pytest.MonkeyPatch) -> None:
    value = worth.worth(grid_for(TWO.stocks, TWO.blanks), TWO.blanks, [9, 4])
    (whole,) = value.layouts(100, 100)
    monkeypatch.setattr(worth, "MOST_DEEP", 1)
    (flat,) = worth.worth(value.grid, TWO.blanks, [9, 4]).layouts(100, 100)
    assert sum(blanks_in(flat).values()) < sum(blanks_in(whole).values())


def test_of_all_ways_to_lay_rows_the_one_of_fewest_sheets_counts() -> None:
    """Two pieces fill the sheet if they stand; lying, only one is on a sheet."""
    sheets = first_plan(Job((Stock("S", 10, 7),), (Blank("a", 5, 7, 2),)))
    assert sheets is not None
    assert [(count, blanks_in(part)) for count, _, part in sheets] == [(1, {"a": 2})]


def test_a_sheet_that_is_not_at_hand_is_not_taken_however_cheap_it_is() -> None:
    none_left, dear = Stock("T", 100, 50, cost=1, available=0), Stock("U", 100, 100, cost=3)
    job = Job((none_left, dear), (Blank("a", 40, 40, 1),))
    found, at_hand = on_one_sheet(job), on_one_sheet(job._replace(stocks=(none_left._replace(available=1),)))
    assert found is not None and found[0] == dear
    assert at_hand is not None and blanks_in(at_hand[1]) == {"a": 1}


def test_a_sheet_too_narrow_for_every_piece_holds_nothing() -> None:
    job = Job((Stock("T", 10, 100), SHEET), (Blank("a", 60, 60, 1),))
    value = worth.worth(grid_for(job.stocks, job.blanks), job.blanks, [5])
    narrow, wide = (
        exhausted.best_rectangle(exhausted.sheet_for(value, each.width, each.height), {"a": 1})
        for each in job.stocks
    )
    assert (narrow.value, blanks_in(narrow.part), narrow.is_settled) == (0, {}, True)
    assert (wide.value, blanks_in(wide.part), wide.is_settled) == (5, {"a": 1}, True)


def test_the_first_round_of_a_search_is_paid_for() -> None:
    """The sheet has room for a second piece, so the only round asks for one, which is not wanted."""
    job = Job((SHEET,), (Blank("a", 40, 40, 1),))
    value = worth.worth(grid_for(job.stocks, job.blanks), job.blanks, [5])
    sheet = exhausted.sheet_for(value, 100, 100)
    with pytest.raises(Spent):
        exhausted.best_rectangle(sheet, {"a": 1}, budget=Budget(0))
    assert exhausted.best_rectangle(sheet, {"a": 1}, budget=Budget(10**6)).value == 5
