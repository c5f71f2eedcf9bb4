"""Easy plans out of layouts that are there: the tables, what goes together, exchanges, and the whole search
against every plan there is."""

from collections.abc import Iterator
from itertools import combinations, product
from random import Random

import numpy as np
import pytest

from cardrecipe.plan.cutting import easiest as search
from cardrecipe.plan.cutting.budget import PAPER, Budget, Spent
from cardrecipe.plan.cutting.choice import PARTS, Choice, choice_of, undominated
from cardrecipe.plan.cutting.columns import Column
from cardrecipe.plan.cutting.easiest import AT_FIRST, _by_program, _chosen, _easier_and_easier
from cardrecipe.plan.cutting.exchange import MOST_SHEETS, exchanged
from cardrecipe.plan.cutting.grid import Table
from cardrecipe.plan.cutting.job import Blank, Job, Part, Stock
from cardrecipe.plan.cutting.one_sheet import STROKE
from cardrecipe.plan.cutting.parts import Effort
from cardrecipe.plan.cutting.programs import INFINITE, Answer, Repriced, Row, solve
from cardrecipe.plan.cutting.slopes import Slopes
from tests.plan.cutting.jobs import a_covering_program

SHEET = Stock("S", 100, 100)
FEW = Stock("few", 100, 100, 2, available=3)
BLANKS = (Blank("a", 10, 10, 6), Blank("b", 20, 10, 5), Blank("c", 30, 10, 4))
JOB = Job((SHEET, FEW), BLANKS)


def layout(counts: dict[str, int], settings: int, strokes: int, stock: Stock = SHEET) -> Column:
    return Column(stock, counts, Part(stock.width, stock.height), Effort(settings, strokes, 0), True)


def random_choice(seed: int, layouts: int, blanks: int = 3) -> tuple[Choice, Table]:
    """Give some layouts by chance and a plan that uses each blank's own."""
    chance = Random(seed)
    job = Job((SHEET,), tuple(Blank(f"b{at}", 10, 10, chance.randint(3, 9)) for at in range(blanks)))
    own = [layout({each.name: chance.randint(1, 3)}, chance.randint(1, 3), chance.randint(1, 3))
           for each in job.blanks]  # fmt: skip
    mixed = [
        layout({each.name: held for each in job.blanks if (held := chance.randint(0, 3))} or {"b0": 1},
               chance.randint(1, 6), chance.randint(1, 6))
        for _ in range(layouts - blanks)
    ]  # fmt: skip
    uses = tuple((-(-blank.demand // each.counts[blank.name]), each)
                 for blank, each in zip(job.blanks, own, strict=True))  # fmt: skip
    return choice_of(job, [*own, *mixed], sum(count for count, _ in uses), uses)


def every_plan(choice: Choice) -> Iterator[Table]:
    for counts in product(*(range(int(most) + 1) for most in choice.most)):
        if choice.is_plan(tried := np.array(counts)):
            yield tried


# ---- tables --------------------------------------------------------------------------------------


def test_toil_is_each_layouts_settings_once_and_the_strokes_of_each_sheet() -> None:
    two, one = layout({"a": 2, "b": 2, "c": 2}, 5, 7), layout({"a": 6}, 2, 3, FEW)
    choice, counts = choice_of(JOB, [two, one], 8, ((3, two), (1, one)))
    assert counts.tolist() == [3, 1]
    assert choice.toil(counts) == PARTS * (8 * (5 + 2) + STROKE * (3 * 7 + 3))
    assert choice.missing(np.array([1, 1])).tolist() == [0, 3, 2]
    assert choice.room(counts).tolist() == [8 - 3 - 2, 3 - 1]
    assert choice.uses(counts) == ((3, two), (1, one))


@pytest.mark.parametrize(
    ("costs", "cost", "sheets"), [((3, 4), 20, 6), ((1, 1), 5, 5), ((0, 2), 7, 7), ((0, 0), 0, 1)]
)
def test_a_stroke_counts_as_if_each_sheet_that_may_be_paid_for_had_a_layout_of_its_own(
    costs: tuple[int, int], cost: int, sheets: int
) -> None:
    stocks = [Stock(f"S{at}", 100, 100, each) for at, each in enumerate(costs)]
    every = [layout({"a": 6, "b": 5, "c": 4}, 5, 7, stock) for stock in stocks]
    choice, _ = choice_of(Job(tuple(stocks), BLANKS), every, cost, ())
    assert choice.once.tolist() == [PARTS * sheets * 5] * 2
    assert choice.each.tolist() == [PARTS * STROKE * 7] * 2


def test_a_plan_holds_all_costs_no_more_and_takes_no_more_sheets_than_there_are() -> None:
    two, few = layout({"a": 2, "b": 2, "c": 2}, 5, 7), layout({"a": 6, "b": 1}, 2, 3, FEW)
    choice, counts = choice_of(JOB, [two, few], 9, ((3, two),))
    assert choice.is_plan(counts)
    assert not choice.is_plan(np.array([1, 3]))  # two of c, and four are to be cut
    assert choice.is_plan(np.array([3, 3])) and not choice.is_plan(np.array([4, 3]))  # nine, and ten
    assert not choice.is_plan(np.array([3, 4]))  # three are there


def test_a_blank_more_than_is_to_be_cut_does_not_count() -> None:
    choice, _ = choice_of(JOB, [many := layout({"a": 9, "b": 9, "c": 9}, 5, 7)], 2, ((1, many),))
    assert choice.holds.tolist() == [[6, 5, 4]]
    assert choice.most.tolist() == [1]


def test_layouts_that_another_is_never_worse_than_are_left_out_but_those_of_the_first_plan() -> None:
    good = layout({"a": 3, "b": 1}, 3, 4)
    fewer, harder, longer = layout({"a": 3}, 3, 4), layout({"a": 3, "b": 1}, 4, 4), layout({"a": 2}, 3, 5)
    easier, elsewhere = layout({"a": 1}, 2, 4), layout({"a": 3}, 3, 4, FEW)
    columns = [fewer, good, harder, longer, easier, elsewhere, good._replace(is_plain=False)]
    assert undominated(JOB, columns) == [good, easier, elsewhere]
    full = layout({"c": 4, "b": 5}, 9, 9)
    choice, counts = choice_of(JOB, [*columns, full], 9, ((2, harder), (1, full)))
    assert choice.columns == (good, easier, elsewhere, full, harder)
    assert counts.tolist() == [0, 0, 0, 1, 2]


# ---- exchanges -----------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(40))
def test_after_all_exchanges_no_other_one_makes_the_plan_easier(seed: int) -> None:
    choice, first = random_choice(seed, 9)
    found = exchanged(choice, first, range(len(first)))
    toil = choice.toil(found)
    assert choice.is_plan(found) and toil <= choice.toil(first)
    used = [at for at in range(len(found)) if found[at]]
    for out in [(at,) for at in used] + list(combinations(used, 2)):
        rest = found.copy()
        rest[list(out)] = 0
        for one, two in product(range(len(found)), repeat=2):
            for count, other in product(range(MOST_SHEETS + 1), range(10)):
                tried = rest.copy()
                tried[one] += count
                tried[two] += other
                assert not choice.is_plan(tried) or choice.toil(tried) >= toil


def test_exchanges_keep_to_the_layouts_that_they_are_told_and_to_their_budget() -> None:
    choice, first = random_choice(3, 9)
    assert choice.toil(exchanged(choice, first, range(len(first)))) < choice.toil(first)
    alone = exchanged(choice, first, ())
    assert not (alone[first == 0]).any()
    assert exchanged(choice, first, range(len(first)), Budget(0)) is first


def test_a_layout_that_a_plan_does_without_is_taken_out() -> None:
    full, more = layout({"a": 6, "b": 5, "c": 4}, 3, 3), layout({"a": 1}, 1, 1)
    choice, first = choice_of(JOB, [full, more], 5, ((1, full), (1, more)))
    assert exchanged(choice, first, ()).tolist() == [1, 0]


def test_free_sheets_that_need_no_cut_hold_no_blank_that_they_lack() -> None:
    free = Stock("free", 100, 100, 0)
    job = Job((free,), BLANKS[:2])
    uncut, mixed = layout({"a": 1}, 0, 0, free), layout({"a": 1, "b": 1}, 3, 3, free)
    choice, first = choice_of(job, [uncut, mixed], 0, ((6, mixed),))
    found = exchanged(choice, first, range(2))
    assert choice.is_plan(found)
    assert found.tolist() == [1, 5]


# ---- what goes together --------------------------------------------------------------------------


def test_settings_are_shared_out_over_the_sheets_that_are_used_and_not_over_those_that_might_be() -> None:
    """Of six pieces one layout holds five, one a single one: a program in fractions takes the first 1.2 times
    and thinks its settings shared by two sheets. They are not, and then the other is easier."""
    job = Job((SHEET,), (Blank("a", 10, 10, 6),))
    five, single = layout({"a": 5}, 4, 0), layout({"a": 1}, 3, 0)
    choice, _ = choice_of(job, [five, single], 6, ((6, single),))
    assert choice.most.tolist() == [2, 6]
    slopes, shared = Slopes(choice), choice.most.astype(np.float64)
    answer = slopes._program.solve(choice.each + choice.once / shared)
    assert answer is not None and answer[0].tolist() == pytest.approx([1.2, 0])
    together, worth = slopes._settled(shared, np.ones(2))
    assert together == {1} and slopes.seen == {0, 1}
    assert worth is not None and worth[0] == pytest.approx(5 * worth[1]) and worth[1] >= 6 - 1e-6
    assert slopes._settled(shared, np.array([1 / 3, 1.0]))[0] == {0}  # where its settings count less


def test_so_many_layouts_go_together_or_all_and_they_are_those_seen() -> None:
    choice, first = random_choice(5, 150, blanks=7)
    number = len(choice.columns)
    slopes = Slopes(choice)
    for least in (0, 12, 1000):
        together = slopes.first(least)
        assert min(least, number) <= len(together) <= number
        assert together == sorted(set(together)) and set(together) <= slopes.seen
    assert slopes.beside(first, 12) != Slopes(choice).beside(first, 12)  # chance goes on, from one place
    assert Slopes(choice).beside(first, 12) == Slopes(choice).beside(first, 12)


def test_without_room_for_any_plan_nothing_goes_together() -> None:
    choice, _ = random_choice(5, 9)
    nothing = choice._replace(limits=choice.limits * 0)
    assert Slopes(nothing).first(0) == []
    assert len(Slopes(nothing).first(4)) == 4


# ---- programs ------------------------------------------------------------------------------------


def test_a_program_is_solved_again_for_other_costs_as_a_new_one_is() -> None:
    chance = Random(7)
    rows = [
        Row(chance.randint(5, 9), INFINITE, {at: chance.randint(1, 4) for at in range(6)}) for _ in range(3)
    ]
    again = Repriced([9.0] * 6, rows)
    for _ in range(10):
        costs = np.array([chance.randint(1, 9) for _ in range(6)], dtype=float)
        answer, anew = again.solve(costs), solve(list(costs), [9.0] * 6, rows, whole=False)
        assert answer is not None and anew is not None
        assert costs @ answer[0] == pytest.approx(costs @ np.array(anew.values))
        assert (answer[1] <= costs + 1e-6).all()  # what is worth more would be used more
    assert Repriced([0.1] * 6, rows).solve(costs) is None  # too few of each


def test_programs_that_are_solved_again_end_with_their_budget() -> None:
    rows = [Row(3, INFINITE, {0: 1.0, 1: 2.0})]
    budget = Budget(PAPER)
    program = Repriced([9.0, 9.0], rows, budget)
    program.solve(np.array([1.0, 1.0]))
    needed = PAPER - budget.left
    with pytest.raises(Spent):
        Repriced([9.0, 9.0], rows, Budget(needed - 1)).solve(np.array([1.0, 1.0]))
    with pytest.raises(Spent):
        Repriced([9.0, 9.0], rows, Budget(10))
    assert Repriced([9.0, 9.0], rows, Budget(needed)).solve(np.array([1.0, 1.0])) is not None


def test_a_program_begins_with_the_answer_that_is_known() -> None:
    """With no node to look at there is that answer at the least."""
    rows = a_covering_program()
    known = solve([1.0] * 40, [99.0] * 40, rows, whole=True, nodes=1_000)
    assert known is not None
    again = solve([1.0] * 40, [99.0] * 40, rows, whole=True, nodes=0, patience=1, start=known.values)
    assert again is not None and sum(again.values) <= sum(known.values) + 1e-6


# ---- the whole search ----------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(30))
def test_of_a_few_layouts_the_easiest_plan_there_is_is_found(seed: int) -> None:
    choice, first = random_choice(seed, 6)
    *_, found = _easier_and_easier(choice, first, Budget(PAPER))
    assert choice.is_plan(found)
    assert choice.toil(found) == min(choice.toil(each) for each in every_plan(choice))


@pytest.mark.parametrize("seed", range(4))
def test_each_plan_of_a_search_is_as_easy_as_the_one_before_or_easier(seed: int) -> None:
    choice, first = random_choice(seed, 150, blanks=7)
    assert len(choice.columns) > AT_FIRST  # more than a program looks at
    toils = [choice.toil(first)]
    for each in _easier_and_easier(choice, first, Budget(PAPER)):
        assert choice.is_plan(each)
        toils.append(choice.toil(each))
    assert toils == sorted(toils, reverse=True) and toils[-1] < toils[0]


def test_a_search_ends_after_its_rounds_though_it_still_finds_easier_plans(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    choice, first = random_choice(0, 150, blanks=7)
    whole = len(list(_easier_and_easier(choice, first, Budget(PAPER))))
    monkeypatch.setattr(search, "ROUNDS", 1)
    assert len(list(_easier_and_easier(choice, first, Budget(PAPER)))) == 3 < whole


def test_a_search_ends_with_its_budget_and_gives_what_it_has() -> None:
    choice, _ = random_choice(1, 90, blanks=6)
    job = Job((SHEET,), tuple(Blank(f"b{at}", 10, 10, int(each)) for at, each in enumerate(choice.demand)))
    own = tuple((int(choice.demand[at]), layout({f"b{at}": 1}, 9, 9)) for at in range(6))
    columns, cost = [*choice.columns, *(each for _, each in own)], sum(count for count, _ in own)
    effort = [
        sum(each.effort.settings for _, each in _chosen(job, columns, cost, own, Budget(steps)))
        for steps in (0, 1_000_000, 10_000_000, PAPER)
    ]
    assert effort[0] == 9 * 6 and effort == sorted(effort, reverse=True) and effort[-1] < effort[1]


def test_layouts_that_are_used_thousands_of_times_are_left_as_they_are() -> None:
    job = Job((SHEET,), (Blank("a", 10, 10, search.MOST_TIMES + 1),))
    one, hard = layout({"a": 1}, 1, 1), layout({"a": 1}, 5, 5)
    uses = ((search.MOST_TIMES + 1, hard),)
    assert _chosen(job, [one], search.MOST_TIMES + 1, uses, Budget(PAPER)) is uses
    fewer = job._replace(blanks=(Blank("a", 10, 10, search.MOST_TIMES),))
    assert _chosen(fewer, [one], search.MOST_TIMES + 1, uses, Budget(PAPER)) == ((search.MOST_TIMES, one),)


def test_an_answer_that_is_no_plan_or_no_easier_is_not_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    choice, first = random_choice(2, 6)
    among = range(len(choice.columns))
    best = _by_program(choice, first, among, Budget(PAPER))
    assert choice.toil(best) < choice.toil(first)
    assert _by_program(choice, best, among, Budget(PAPER)) is best
    for values in ([0.0] * 2 * len(among), [float(each) for each in (*first, *first)]):
        answer = Answer(values, [])
        monkeypatch.setattr(search, "solve", lambda *_, answer=answer, **__: answer)
        assert _by_program(choice, best, among, Budget(PAPER)) is best
    monkeypatch.setattr(search, "solve", lambda *_, **__: None)
    assert _by_program(choice, best, among, Budget(PAPER)) is best
