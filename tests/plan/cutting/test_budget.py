"""A search ends with its budget, always at the same step, with the best plan so far and no false proof."""

import random
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardrecipe.plan.cutting import programs
from cardrecipe.plan.cutting.budget import ENDLESS, PAPER, Budget, Spent
from cardrecipe.plan.cutting.exhausted import best_rectangle, sheet_for
from cardrecipe.plan.cutting.first_plan import MOST_COLUMNS, MOST_ROWS, first_plan
from cardrecipe.plan.cutting.grid import grid_for, searchable_grid, table_work
from cardrecipe.plan.cutting.job import Blank, Job, Part, Stock, blanks_in
from cardrecipe.plan.cutting.near import near_layouts
from cardrecipe.plan.cutting.parts import MOST_BEHIND, MOST_BLANKS, cuts_before, cuts_of, in_reason, row
from cardrecipe.plan.cutting.planner import _rounded, plan, planned
from cardrecipe.plan.cutting.worth import worth
from tests.plan.cutting.jobs import a_covering_program, checked, random_job, random_kit

SHEET = Stock("S", 768, 768)


def many_sizes(number: int, demand: int, seed: int = 1) -> Job:
    """Give a job of as many sizes as a card may have pieces, from a step to three quarters of the sheet."""
    chance = random.Random(seed)
    sizes = [(chance.randint(1, 500), chance.randint(1, 600)) for _ in range(number)]
    return Job((SHEET,), tuple(Blank(f"p{at}", *size, demand) for at, size in enumerate(sizes)))


# ---- the budget itself ---------------------------------------------------------------------------


def test_all_of_a_budget_can_be_spent_and_a_step_more_cannot() -> None:
    budget = Budget(10)
    budget.spend(10)
    with pytest.raises(Spent):
        budget.spend(1)
    assert budget.left == 0


def test_what_does_not_fit_takes_nothing() -> None:
    budget = Budget(10)
    with pytest.raises(Spent):
        budget.spend(11)
    assert budget.left == 10


def test_a_share_is_spent_of_the_whole_too_and_ends_before_it() -> None:
    whole = Budget(100)
    share = whole.share(4)
    share.spend(25)
    assert (share.left, whole.left) == (0, 75)
    with pytest.raises(Spent):
        share.spend(1)
    assert whole.left == 75
    assert whole.share(3, most=20).left == 20
    assert whole.share(0).left == 75


def test_papers_that_are_planned_one_after_the_other_get_equal_shares() -> None:
    whole, given = Budget(90), []
    for at in range(3):
        share = whole.share(3 - at)
        given.append(share.left)
        share.spend(share.left)
    assert given == [30, 30, 30]


# ---- each long loop ends at its step ---------------------------------------------------------------

BLANKS = (Blank("a", 7, 9, 4), Blank("b", 11, 3, 3), Blank("c", 5, 5, 2))
SMALL = Job((Stock("S", 20, 20),), BLANKS)
GRID = grid_for(SMALL.stocks, BLANKS)
VALUE = worth(GRID, BLANKS, [63, 33, 25])
MOST = {each.name: each.demand for each in BLANKS}


def a_table(budget: Budget) -> object:
    return worth(GRID, BLANKS, [63, 33, 25], budget=budget).of(20, 20)


def a_table_of_stages(budget: Budget) -> object:
    return worth(GRID, BLANKS, [63, 33, 25], 2, budget=budget).of(20, 20)


def a_searched_sheet(budget: Budget) -> object:
    return best_rectangle(sheet_for(VALUE, 20, 20, budget), MOST, budget=budget).value


def layouts_near_the_best(budget: Budget) -> object:
    return len(near_layouts(VALUE, 20, 20, VALUE.of(20, 20) - 9, 100_000, budget))


def a_program(budget: Budget) -> object:
    rows = [programs.Row(3, programs.INFINITE, {0: 1.0, 1: 2.0})]
    return programs.solve([1.0, 1.0], [9.0, 9.0], rows, whole=False, budget=budget)


WORKS: tuple[Callable[[Budget], object], ...] = (
    a_table,
    a_table_of_stages,
    a_searched_sheet,
    layouts_near_the_best,
    a_program,
)


@pytest.mark.parametrize("work", WORKS)
def test_work_is_done_with_so_many_steps_and_not_with_one_less(work: Callable[[Budget], object]) -> None:
    purse = Budget(PAPER)
    found = work(purse)
    needed = PAPER - purse.left
    assert needed > 0
    assert work(Budget(needed)) == found == work(ENDLESS)
    with pytest.raises(Spent):
        work(Budget(needed - 1))


def covering_cost(rows: list[programs.Row], budget: Budget, patience: int | None = None) -> int:
    """Solve it, see that the answer holds, and give what it costs."""
    found = programs.solve(
        [1.0] * 40, [99.0] * 40, rows, whole=True, nodes=1_000, patience=patience, budget=budget
    )
    assert found is not None
    values = [round(each) for each in found.values]
    assert all(sum(values[at] * held for at, held in each.terms.items()) >= each.least for each in rows)
    return sum(values)


def test_a_whole_number_program_ends_with_the_best_answer_so_far() -> None:
    """Asked after every step of its own, HiGHS stops; what it has in hand then may be dear but holds."""
    rows = a_covering_program()
    assert covering_cost(rows, Budget(40_000_000)) <= covering_cost(rows, Budget(2_000_000))


def test_with_patience_a_program_ends_some_time_after_its_best_answer() -> None:
    rows, spent, cost = a_covering_program(), {}, {}
    for patience in (1, 4, None):
        budget = Budget(PAPER)
        cost[patience] = covering_cost(rows, budget, patience)
        spent[patience] = PAPER - budget.left
    assert cost[1] > cost[4] == cost[None]
    assert 2 * spent[1] < spent[4] < spent[None] / 4


def test_a_plan_that_is_remembered_takes_as_much_of_a_budget_as_one_that_is_searched() -> None:
    """So the plans of the papers that come after it are the same, whatever was planned before."""
    job, left = many_sizes(5, 1), []
    for _ in range(2):
        budget = Budget(PAPER)
        assert plan(job, budget.share(2)) == plan(job, Budget(PAPER // 2))
        left.append(budget.left)
    assert left[0] == left[1] < PAPER
    assert planned.cache_info().misses == 1


def test_a_plan_for_another_budget_is_searched_anew() -> None:
    job = many_sizes(5, 1)
    assert plan(job, Budget(PAPER)) is plan(job, Budget(PAPER))
    plan(job, Budget(PAPER - 1))
    assert (planned.cache_info().misses, planned.cache_info().hits) == (2, 1)


def test_a_budget_of_a_little_less_gives_the_plan_that_is_remembered() -> None:
    """The papers before take a little more or less of the whole after an edit."""
    job = many_sizes(5, 1)
    assert plan(job, Budget(PAPER - 1)) is plan(job, Budget(PAPER - PAPER // 16))
    assert planned.cache_info().misses == 1


@given(st.integers(0, 3 * PAPER))
def test_a_search_gets_no_more_than_its_budget_and_at_least_eight_ninths(steps: int) -> None:
    assert steps * 8 <= _rounded(steps) * 9 <= steps * 9
    assert _rounded(PAPER) == PAPER


# ---- layouts in reason -----------------------------------------------------------------------------


def grid_of(wide: int, tall: int) -> Part:
    """Give a sheet with so many squares of a step."""
    line = row("x", wide, 1, [Part(1, 1, "a")] * wide)
    return row("y", wide, tall, [line] * tall)


def test_a_sheet_holds_so_many_blanks_and_not_one_more() -> None:
    full, wide = grid_of(48, 48), row("x", 49, 48, [Part(1, 48, "b"), grid_of(48, 48)])
    assert blanks_in(full) == {"a": MOST_BLANKS}
    assert in_reason(full) is full
    assert sum(blanks_in(in_reason(wide)).values()) == MOST_BLANKS
    assert sum(blanks_in(in_reason(grid_of(100, 100))).values()) == MOST_BLANKS


def test_a_piece_lies_behind_so_many_cuts_and_not_one_more() -> None:
    long = row("x", MOST_BEHIND + 1, 1, [Part(1, 1, "a")] * (MOST_BEHIND + 1))
    assert cuts_before(long) == MOST_BEHIND
    assert in_reason(long) is long
    longer = row("x", MOST_BEHIND + 2, 1, [Part(1, 1, "a")] * (MOST_BEHIND + 2))
    assert cuts_before(in_reason(longer)) == MOST_BEHIND
    assert blanks_in(in_reason(longer)) == {"a": MOST_BEHIND}


def test_grids_are_made_coarser_where_their_tables_are_too_much_work() -> None:
    job = many_sizes(20, 1)
    whole = grid_for(job.stocks, job.blanks)
    same = searchable_grid(job.stocks, job.blanks, whole.work(None) * 2)
    coarse = searchable_grid(job.stocks, job.blanks, whole.work(None) // 4)
    assert (same.widths, same.heights, same.is_whole) == (whole.widths, whole.heights, whole.is_whole)
    assert not coarse.is_whole
    assert coarse.work(None) < whole.work(None) // 2
    wide, tall = len(whole.widths), len(whole.heights)
    just = table_work((wide, wide // 2), (tall, tall // 2), None)  # a side has pairs for half of its places
    assert searchable_grid(job.stocks, job.blanks, just).is_whole
    assert not searchable_grid(job.stocks, job.blanks, just - 1).is_whole


# ---- the plan that is there at once ------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(40))
def test_rows_alone_make_a_plan_that_can_be_cut(seed: int) -> None:
    """With no budget at all there is the plan in rows, within the stages that are allowed."""
    job = random_job(seed)
    found = plan(job, Budget(0))
    if job.first_cut is None or found is not None:
        assert found is not None
        checked(found)


def test_rows_columns_and_stacks_keep_within_the_cuts_of_a_layout() -> None:
    job = Job((Stock("S", 2_000, 2_000),), (Blank("a", 1, 1, 20_000), Blank("b", 1, 900, 500)))
    sheets = first_plan(job)
    assert sheets is not None
    assert MOST_ROWS + MOST_COLUMNS < MOST_BEHIND
    assert max(cuts_before(part) for _, _, part in sheets) <= MOST_BEHIND
    assert max(sum(blanks_in(part).values()) for _, _, part in sheets) == MOST_BLANKS


def test_ten_times_the_copies_are_cut_from_as_many_layouts() -> None:
    once, tenfold = first_plan(many_sizes(40, 1_000)), first_plan(many_sizes(40, 10_000))
    assert once is not None and tenfold is not None
    assert len(tenfold) <= 1.2 * len(once)


def test_two_stages_are_kept_by_rows() -> None:
    sheets = first_plan(many_sizes(30, 7)._replace(stages=2))
    assert sheets is not None
    assert max(cuts_of(part).stages for _, _, part in sheets) <= 2


# ---- whole plans -------------------------------------------------------------------------------------


@pytest.mark.parametrize("steps", [0, 10_000, 1_000_000, 10_000_000, 40_000_000])
def test_a_plan_that_ended_early_can_be_cut_and_proves_nothing_false(steps: int) -> None:
    """The independent checker adds its pieces up, and works every limit of its certificate out anew."""
    for seed in (2, 8, 14):
        job = random_kit(seed)
        budget = Budget(steps)
        found = plan(job, budget)
        assert found is not None
        checked(found)
        assert budget.left >= 0


def test_more_work_never_makes_a_dearer_plan_and_at_last_a_proof() -> None:
    found = [plan(random_kit(14), Budget(steps)) for steps in (0, 20_000_000, PAPER)]
    costs = [each.cost for each in found if each is not None]
    assert costs == sorted(costs, reverse=True) and len(costs) == 3
    assert found[-1] is not None and found[-1].is_proved


def a_speck() -> Job:
    return Job((Stock("S", 1_000_000, 1_000_000),), (Blank("a", 1, 1, 10_000),))


def specks() -> Job:
    sizes = ((16, 16), (17, 19), (16, 23), (18, 31), (19, 16))
    blanks = tuple(Blank(f"p{at}", *size, 10_000) for at, size in enumerate(sizes))
    return Job((Stock("S", 2_304, 3_072),), blanks)


def steps_of_a_spiral() -> Job:
    """Each strip fits what the one before it leaves: a layout as deep as there are strips."""
    sizes = [(400 - at // 2, 1) if at % 2 else (1, 400 - at // 2) for at in range(700)]
    return Job((Stock("S", 400, 400),), tuple(Blank(f"p{at}", *s, 1, False) for at, s in enumerate(sizes)))


WILD = {"speck": a_speck(), "specks": specks(), "spiral": steps_of_a_spiral(), "sizes": many_sizes(2_000, 1)}


@pytest.mark.parametrize("name", WILD)
def test_what_nobody_would_cut_is_planned_and_within_the_cuts_of_a_layout(name: str) -> None:
    found = plan(WILD[name], Budget(PAPER // 10))
    assert found is not None
    checked(found, prove=False)
    assert all(cuts_before(each.root) <= MOST_BEHIND for each in found.layouts)
    assert all(sum(blanks_in(each.root).values()) <= MOST_BLANKS for each in found.layouts)


def test_a_coarse_grid_is_no_ground_for_a_proof_but_area_may_be() -> None:
    found = plan(specks(), Budget(PAPER // 10))
    assert found is not None
    assert not found.proof.is_exhausted
    assert found.proof.prices == {each.name: each.width * each.height for each in found.job.blanks}
