"""What is said to be proved is proved: by prices, in whole numbers, or by a search that tried everything.

Each test takes a place where a false "fewest possible" could come from, and tries to make it say so.
"""

import random
from collections.abc import Callable, Sequence
from itertools import product

import pytest

from cardrecipe.plan.cutting import attempts, columns, fewest, uses
from cardrecipe.plan.cutting.attempts import ATTEMPTS, PROVING
from cardrecipe.plan.cutting.bound import least_cost
from cardrecipe.plan.cutting.budget import PAPER, Budget
from cardrecipe.plan.cutting.certificate import by_area, certified, whole
from cardrecipe.plan.cutting.exhausted import best_rectangle, sheet_for
from cardrecipe.plan.cutting.grid import grid_for
from cardrecipe.plan.cutting.job import Blank, Job, Stock, blanks_in
from cardrecipe.plan.cutting.near import MOST_SHEETS, TooMany, cannot_cover, near_layouts
from cardrecipe.plan.cutting.planner import plan
from cardrecipe.plan.cutting.programs import Answer, Row
from cardrecipe.plan.cutting.sets import GaveUp, by_all_sets
from cardrecipe.plan.cutting.worth import TooDear, worth
from tests.plan.cutting import by_enumeration
from tests.plan.cutting.checker import Rule, most_worth
from tests.plan.cutting.jobs import checked, planned, random_kit, sheets_of, wanted_of


def small_job(seed: int, most: int = 6) -> Job:
    """Give a job of few pieces of demand 1, more than a sheet can hold."""
    chance = random.Random(seed)
    width, height = chance.choice([(12, 9), (20, 20), (17, 11)])
    sizes = [
        (chance.randint(3, width // 2 + 3), chance.randint(3, height // 2 + 2))
        for _ in range(chance.randint(4, most))
    ]
    fitting = [(w, h) for w, h in sizes if w <= width and h <= height]
    blanks = (Blank(f"p{at}", w, h, 1, chance.random() < 0.5) for at, (w, h) in enumerate(fitting))
    return Job((Stock("S", width, height),), tuple(blanks))


def least_of(job: Job) -> int:
    """Give the true least cost, by enumeration."""
    pieces = [(each.width, each.height, each.may_turn) for each in job.blanks for _ in range(each.demand)]
    kinds = [(each.width, each.height, each.cost, each.available) for each in job.stocks]
    found = by_enumeration.least_cost(pieces, kinds)
    assert found is not None
    return found


# ---- HiGHS is not believed -----------------------------------------------------------------------

Solve = Callable[..., Answer | None]


def no_answer(*_: object, **__: object) -> None:
    """A solver that stopped at its limit with nothing in hand."""


def nothing_at_all(costs: Sequence[float], most: Sequence[float], rows: Sequence[Row], **_: object) -> Answer:
    """A solver that says no sheet is needed, and that this is best."""
    return Answer([0.0] * len(costs), [0.0] * len(rows))


def one_of_each(costs: Sequence[float], most: Sequence[float], rows: Sequence[Row], **_: object) -> Answer:
    """A solver that gives a dear answer."""
    return Answer([3.0] * len(costs), [0.0] * len(rows))


@pytest.mark.parametrize("solver", [no_answer, nothing_at_all, one_of_each])
def test_a_solver_of_whole_numbers_that_errs_makes_plans_dear_but_never_false(
    monkeypatch: pytest.MonkeyPatch, solver: Solve
) -> None:
    monkeypatch.setattr(uses, "solve", solver)
    for seed in range(12):
        job = small_job(seed)
        found = plan(job)
        assert found is not None
        checked(found)
        assert found.least <= least_of(job) <= found.cost
        assert found.is_proved == (found.cost == least_of(job)) or not found.is_proved


def test_prices_of_a_solver_that_errs_prove_less_and_never_too_much(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its duals come back a thousand times too high, and shuffled."""
    solve = columns.solve

    def wrong(*given: object, **named: object) -> Answer | None:
        found = solve(*given, **named)  # type: ignore[arg-type]
        return found and found._replace(prices=[1_000 * each for each in reversed(found.prices)])

    monkeypatch.setattr(columns, "solve", wrong)
    for seed in range(12):
        job = small_job(seed)
        found = planned(job).plan
        assert found.least <= least_of(job) <= found.cost


# ---- exact searches ------------------------------------------------------------------------------


def test_a_search_without_rounds_settles_nothing() -> None:
    job = Job((Stock("S", 20, 20),), (Blank("a", 7, 9, 4), Blank("b", 11, 3, 3), Blank("c", 5, 5, 2)))
    value = worth(grid_for(job.stocks, job.blanks), job.blanks, [63, 33, 25])
    most = {each.name: each.demand for each in job.blanks}
    sheet = sheet_for(value, 20, 20)
    assert not best_rectangle(sheet, most, rounds=1).is_settled
    assert best_rectangle(sheet, most, rounds=100_000).is_settled


def test_all_sets_give_up_where_a_sheet_is_not_settled() -> None:
    job = Job((Stock("S", 20, 20),), (Blank("a", 7, 9, 2), Blank("b", 11, 3, 3), Blank("c", 5, 5, 2)))
    grid = grid_for(job.stocks, job.blanks)
    with pytest.raises(GaveUp):
        by_all_sets(job, grid, 0)
    found = by_all_sets(job, grid, 20_000)
    assert found is not None and found[0] == least_of(job)


def test_all_sets_give_the_least_cost_of_two_sizes() -> None:
    for seed in range(25):
        job = small_job(seed, most=5)
        chance = random.Random(seed)
        width, height = job.stocks[0].width, job.stocks[0].height
        job = job._replace(
            stocks=(
                job.stocks[0]._replace(cost=chance.randint(2, 9)),
                Stock("L", 2 * width, height, chance.randint(4, 12)),
            )
        )
        found = by_all_sets(job, grid_for(job.stocks, job.blanks), 20_000)
        assert found is not None and found[0] == least_of(job), f"seed {seed}"


@pytest.mark.parametrize("attempt", PROVING)
def test_each_attempt_alone_proves_no_more_than_is_true(
    monkeypatch: pytest.MonkeyPatch, attempt: attempts.Attempt
) -> None:
    """Without prices to help it, and with too little budget every other time."""
    monkeypatch.setattr(fewest, "ATTEMPTS", (ATTEMPTS[0], attempt))
    raised = 0
    for seed in range(60):
        for name, scant in (
            ("EXACT_ROUNDS", 30),
            ("NEAR_ROUNDS", 40),
            ("COVER_ROUNDS", 2),
            ("SET_ROUNDS", 30),
        ):
            full = {
                "EXACT_ROUNDS": 100_000,
                "NEAR_ROUNDS": 600_000,
                "COVER_ROUNDS": 200_000,
                "SET_ROUNDS": 20_000,
            }
            monkeypatch.setattr(attempts, name, scant if seed % 2 else full[name])
        job = small_job(seed)
        found = fewest.fewest(job)
        assert found is not None
        assert found.certificate.least <= found.least <= least_of(job) <= found.cost, f"seed {seed}"
        raised += found.least > found.certificate.least
    if attempt is not attempts._on_equal_sheets:
        assert raised, "the attempt has proved nothing that prices do not"


# ---- near the best -------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(12))
def test_every_choice_of_blanks_near_the_best_is_found(seed: int) -> None:
    """Compared with an enumeration of all choices that fit a small sheet."""
    chance = random.Random(seed)
    width, height = chance.randint(8, 12), chance.randint(8, 12)
    blanks = tuple(
        Blank(f"p{at}", chance.randint(3, 7), chance.randint(3, 7), 9, chance.random() < 0.5)
        for at in range(3)
    )
    prices = [chance.randint(3, 9) for _ in blanks]
    value = worth(grid_for([Stock("S", width, height)], blanks), blanks, prices)
    least = value.of(width, height) * 3 // 4
    found = near_layouts(value, width, height, least, 1_000_000)
    every = (tuple(blanks_in(part).get(each.name, 0) for each in blanks) for part in found)
    ours = {counts for counts in every if sum(counts) <= 9}
    areas = [each.width * each.height for each in blanks]
    most = [width * height // area for area in areas]
    theirs = {
        counts
        for counts in product(*(range(each + 1) for each in most))
        if sum(map(int.__mul__, counts, areas)) <= width * height
        and sum(map(int.__mul__, counts, prices)) >= least
        and sum(counts) <= 9
        and fits_so_often(blanks, counts, width, height)
    }
    assert ours == theirs


def fits_so_often(blanks: Sequence[Blank], counts: Sequence[int], width: int, height: int) -> bool:
    pieces = [
        (each.width, each.height, each.may_turn)
        for each, count in zip(blanks, counts, strict=True)
        for _ in range(count)
    ]
    return by_enumeration.fits(pieces, width, height)


def test_too_many_layouts_are_too_many() -> None:
    blanks = (Blank("a", 3, 4, 9), Blank("b", 5, 2, 9))
    value = worth(grid_for([Stock("S", 20, 20)], blanks), blanks, [12, 10])
    with pytest.raises(TooMany):
        near_layouts(value, 20, 20, 0, 50)


@pytest.mark.parametrize("seed", range(40))
def test_what_is_said_not_to_be_covered_cannot_be(seed: int) -> None:
    """Every choice of three layouts out of some, by trying all."""
    chance = random.Random(seed)
    blanks = tuple(Blank(f"p{at}", 1, 1, chance.randint(1, 8)) for at in range(3))
    parts = [near_part(blanks, [chance.randint(0, 3) for _ in blanks]) for _ in range(4)]
    job = Job((Stock("S", 30, 1),), blanks)
    held = [blanks_in(part) for part in parts]
    truth = any(
        all(sum(each.get(blank.name, 0) for each in some) >= blank.demand for blank in blanks)
        for some in product(held, repeat=3)
    )
    assert cannot_cover(job, parts, 3, 10_000) == (not truth)
    assert not cannot_cover(job, parts, 3, 0) or not truth
    assert not cannot_cover(job, parts, MOST_SHEETS + 1, 10_000)


def near_part(blanks: Sequence[Blank], counts: Sequence[int]) -> attempts.Part:
    from cardrecipe.plan.cutting.parts import row

    parts = [
        attempts.Part(1, 1, blank.name)
        for blank, count in zip(blanks, counts, strict=True)
        for _ in range(count)
    ]
    return row("x", 30, 1, parts)


# ---- bounds --------------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(60))
def test_the_least_cost_of_whole_sheets_is_that_of_trying_all(seed: int) -> None:
    chance = random.Random(seed)
    stocks = [
        Stock(str(at), 1, 1, chance.randint(0, 9), chance.choice([None, None, chance.randint(0, 3)]))
        for at in range(3)
    ]
    limits = {each.name: chance.randint(0, 12) for each in stocks}
    total = chance.randint(1, 40)
    numbers = product(*(range((41 if each.available is None else each.available) + 1) for each in stocks))
    costs = [
        sum(n * each.cost for n, each in zip(some, stocks, strict=True))
        for some in numbers
        if sum(n * limits[each.name] for n, each in zip(some, stocks, strict=True)) >= total
    ]
    found = least_cost(stocks, limits, total)
    if costs:
        assert found == min(costs)
        assert least_cost(stocks, limits, total, choices=2) <= found


@pytest.mark.parametrize("stages", [2, 3])
def test_the_certificate_of_a_limit_of_stages_is_about_such_layouts(stages: int) -> None:
    """With few stages sheets hold less, so more can be proved; each limit by a second program."""
    higher = 0
    for seed in range(40):
        job = random_kit(seed)._replace(stages=stages)
        if sum(each.demand for each in job.blanks) > 60:
            continue
        grid = grid_for(job.stocks, job.blanks)
        prices = [each.width * each.height for each in job.blanks]
        found = certified(job, grid, prices)
        (sheet,) = sheets_of(job)
        limit = most_worth(dict(found.prices), wanted_of(job), sheet, Rule(stages))
        assert found.limits["S"] == limit
        higher += limit < certified(job._replace(stages=None), grid, prices).limits["S"]
    assert higher


def test_prices_are_rounded_down_and_never_below_nothing() -> None:
    assert whole([0.9999999, -0.2, 1 / 3], 3) == [2, 0, 1]


def test_areas_prove_what_they_can() -> None:
    job = Job((Stock("S", 10, 10),), (Blank("a", 6, 4, 5), Blank("b", 2, 3, 10)))
    assert by_area(job) == ({"a": 4, "b": 1}, {"S": 16}, 2)


# ---- too much for the tables ---------------------------------------------------------------------


def test_with_too_few_places_to_cut_only_areas_prove(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(fewest, "searchable_grid", lambda stocks, blanks, _: grid_for(stocks, blanks, 4))
    for seed in range(30):
        job = small_job(seed)
        found = fewest.fewest(job)
        assert found is not None
        assert found.certificate == by_area(job)
        assert not found.is_exhausted
        assert found.least <= least_of(job) <= found.cost


def test_a_grid_with_too_few_places_is_no_ground_for_a_proof() -> None:
    job = small_job(3)
    grid = grid_for(job.stocks, job.blanks, most=4)
    assert not grid.is_whole
    with pytest.raises(AssertionError):
        certified(job, grid, [1] * len(job.blanks))
    with pytest.raises(AssertionError):
        sheet_for(worth(grid, job.blanks, [1] * len(job.blanks)), job.stocks[0].width, job.stocks[0].height)


def test_prices_that_could_overflow_are_refused() -> None:
    job = Job((Stock("S", 100, 100),), (Blank("a", 1, 1, 5),))
    grid = grid_for(job.stocks, job.blanks)
    assert worth(grid, job.blanks, [2**62 // 10**4]).of(100, 100) == 2**62 // 10**4 * 10**4
    with pytest.raises(TooDear):
        worth(grid, job.blanks, [2**62 // 10**4 + 1])


def test_as_many_sheets_as_are_searched_can_be_proved_too_few_and_not_one_more() -> None:
    """A sheet holds one of the blanks, so as many sheets as blanks are needed, and one less cannot do."""
    blanks = (Blank("a", 1, 1, MOST_SHEETS + 1),)
    job, parts = Job((Stock("S", 30, 1),), blanks), [near_part(blanks, [1])]
    assert cannot_cover(job, parts, MOST_SHEETS, 10_000)
    fewer = job._replace(blanks=(blanks[0]._replace(demand=MOST_SHEETS),))
    assert not cannot_cover(fewer, parts, MOST_SHEETS, 10_000)
    more = job._replace(blanks=(blanks[0]._replace(demand=MOST_SHEETS + 2),))
    assert not cannot_cover(more, parts, MOST_SHEETS + 1, 10_000)


def test_a_longer_search_for_a_choice_of_layouts_takes_more_of_the_budget() -> None:
    """One layout meets the first demand; for the second many choices have to be tried."""
    spent = []
    for demand in (1, 7):
        blanks = tuple(Blank(name, 1, 1, demand) for name in "abc")
        parts = [near_part(blanks, counts) for counts in ([3, 2, 0], [0, 3, 2], [2, 0, 3], [1, 3, 1])]
        budget = Budget(PAPER)
        cannot_cover(Job((Stock("S", 30, 1),), blanks), parts, 4, 10_000, budget)
        spent.append(PAPER - budget.left)
    assert spent[1] > spent[0]
