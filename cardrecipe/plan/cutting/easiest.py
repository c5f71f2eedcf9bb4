"""Among plans of the least cost, one that takes few settings of the trimmer and few strokes; of equal ones
one that leaves a larger offcut.

Of the layouts at hand some are picked that go together; programs in whole numbers over these, and exchanges
among them, make the plan easier and easier: a layout that is used at all costs its settings, each sheet its
strokes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress

import numpy as np

from cardrecipe.plan.cutting.attempts import fill
from cardrecipe.plan.cutting.budget import ENDLESS, Budget, Spent
from cardrecipe.plan.cutting.choice import Choice, choice_of
from cardrecipe.plan.cutting.columns import PLAIN_STAGES, Column, column
from cardrecipe.plan.cutting.exchange import exchanged
from cardrecipe.plan.cutting.fewest import Fewest
from cardrecipe.plan.cutting.grid import Table
from cardrecipe.plan.cutting.job import Job
from cardrecipe.plan.cutting.one_sheet import on_one_sheet, toil
from cardrecipe.plan.cutting.parts import without
from cardrecipe.plan.cutting.programs import INFINITE, Row, solve
from cardrecipe.plan.cutting.slopes import Slopes
from cardrecipe.plan.cutting.uses import Uses, chosen, cost_of, covers
from cardrecipe.plan.cutting.worth import TooDear

# So many layouts that go together are looked at in a program at first, and beside those of a plan later. With
# all at hand, HiGHS takes twice as long for plans that are no easier.
AT_FIRST, LATER = 40, 30
# The search ends after so many programs, or with one that finds nothing easier.
ROUNDS = 6
# Most of the time of a program goes into the proof that nothing is easier, which nobody asked for.
NODES, PATIENCE = 60, 2
# Plans made sheet by sheet: for so many pieces, over so many rounds.
RICHER = ((20, 10), (50, 8))
# Rounds without a new layout after which the values that make them have settled: with more, no class kit had
# an easier plan. (For the fewest sheets a late layout may count.)
IDLE = 4
# Where a layout may be used more often, HiGHS takes seconds to find out that hardly anything is gained.
MOST_TIMES = 2_000
# What comparing a layout with another takes, in steps: in Python, and in a table.
CHOICE, COMPARED = 60, 10


def easiest(job: Job, found: Fewest, budget: Budget = ENDLESS) -> Uses:
    """Give the columns to use, and how often; those of few stages where they reach the least cost."""
    with suppress(Spent, TooDear):
        _enrich(job, found, budget.share(2))
    columns, first = found.pool.columns, found.uses
    plain = [each for each in columns if each.is_plain]
    in_plain = _in_plain(job, plain, found.cost, budget)
    if in_plain is not None:
        columns, first = plain, in_plain
    uses = _chosen(job, columns, found.cost, first, budget.share(1, budget.left * 3 // 4))
    return _laid_anew(job, _without_surplus(job, _with_larger_offcut(job, columns, uses, budget)), budget)


def _enrich(job: Job, found: Fewest, budget: Budget) -> None:
    """Add layouts of every number of stages, so that there is something to choose from."""
    for limit in (2, PLAIN_STAGES, None) if job.stages is None else (job.stages,):
        limited = job._replace(stages=limit)
        for pieces, rounds in RICHER:
            fill(limited, found.grid, found.pool, pieces, rounds, budget, IDLE)


def _in_plain(job: Job, plain: Sequence[Column], cost: int, budget: Budget) -> Uses | None:
    """Give a plan of a cost in columns of few stages; None where they do not reach it."""
    try:
        uses = chosen(job, plain, budget.share(2))
    except Spent:
        return None
    return uses if uses is not None and cost_of(uses) <= cost else None


def _chosen(job: Job, columns: Sequence[Column], cost: int, first: Uses, budget: Budget) -> Uses:
    """Give the easiest plan of no more than a cost that is found; checked in whole numbers."""
    try:
        budget.spend(COMPARED * len(columns) ** 2)
    except Spent:
        return first
    choice, best = choice_of(job, columns, cost, first)
    if max(choice.most) > MOST_TIMES:
        return first
    with suppress(Spent):
        for easier in _easier_and_easier(choice, best, budget):
            best = easier
    return choice.uses(best)


def _easier_and_easier(choice: Choice, best: Table, budget: Budget) -> Iterator[Table]:
    """Give plans, each as easy as the one before or easier."""
    slopes = Slopes(choice, budget)
    together = slopes.first(AT_FIRST)
    for number in range(ROUNDS):
        before = choice.toil(best)
        if number:
            together = slopes.beside(best, LATER)
        else:
            yield (best := exchanged(choice, best, slopes.seen, budget))
        among = sorted({*together, *(int(at) for at in np.flatnonzero(best))})
        yield (best := _by_program(choice, best, among, budget))
        yield (best := exchanged(choice, best, slopes.seen, budget))
        if choice.toil(best) == before or len(among) == len(choice.columns):
            break


def _by_program(choice: Choice, known: Table, among: Sequence[int], budget: Budget) -> Table:
    """Give the easiest plan of some layouts that a program in whole numbers finds, none less easy than one
    that is known."""
    number, most = len(among), [float(choice.most[at]) for at in among]
    rows = choice.rows(among)
    rows += [Row(-INFINITE, 0, {at: 1, number + at: -most[at]}) for at in range(number)]
    costs = [float(each) for each in (*choice.each[among], *choice.once[among])]
    limits, start = [*most, *[1.0] * number], [*known[among], *(known[among] > 0)]
    answer = solve(costs, limits, rows, whole=True, nodes=NODES, patience=PATIENCE,
                   start=[float(each) for each in start], budget=budget)  # fmt: skip
    if answer is None:
        return known
    counts = np.zeros_like(known)
    counts[among] = [round(each) for each in answer.values[:number]]
    return counts if choice.is_plan(counts) and choice.toil(counts) < choice.toil(known) else known


def _with_larger_offcut(job: Job, columns: Sequence[Column], uses: Uses, budget: Budget) -> Uses:
    """Take another layout for one of those used, where it is as easy and leaves a larger offcut."""
    best, largest = uses, min(each.effort.offcut for _, each in uses)
    for at, (count, old) in enumerate(uses):
        try:
            budget.spend(CHOICE * len(columns) * len(uses))
        except Spent:
            return best
        for new in columns:
            is_easy = new.effort.settings <= old.effort.settings and new.effort.strokes <= old.effort.strokes
            # No layout that is used already leaves more than the largest, so none is taken twice.
            if new.stock != old.stock or not is_easy or new.effort.offcut >= largest:
                continue
            changed = (*uses[:at], (count, new), *uses[at + 1 :])
            if covers(job, changed):
                best, largest = changed, new.effort.offcut
    return best


def _laid_anew(job: Job, uses: Uses, budget: Budget) -> Uses:
    """Lay the blanks of each layout in rows of columns where that is easier than what the search for the
    least came upon."""
    return tuple((count, _easier(job, each, budget)) for count, each in uses)


def _easier(job: Job, each: Column, budget: Budget) -> Column:
    blanks = tuple(blank._replace(demand=each.counts[blank.name])
                   for blank in job.blanks if blank.name in each.counts)  # fmt: skip
    stock = each.stock._replace(available=None)
    found = on_one_sheet(job._replace(stocks=(stock,), blanks=blanks), budget)
    if found is None or toil(found[1]) >= toil(each.part):
        return each
    return column(each.stock, found[1])


def _without_surplus(job: Job, uses: Uses) -> Uses:
    """Leave out blanks that nobody asked for, where all sheets of a layout can do without."""
    kept, held = list(uses), dict[str, int]()
    with_blank: dict[str, list[int]] = {}
    for at in sorted(range(len(kept)), key=lambda place: -kept[place][0]):
        for name, number in kept[at][1].counts.items():
            held[name] = held.get(name, 0) + kept[at][0] * number
            with_blank.setdefault(name, []).append(at)
    for blank in job.blanks:
        spare = held[blank.name] - blank.demand
        for at in with_blank[blank.name]:
            count, each = kept[at]
            number = min(each.counts[blank.name], spare // count)
            if number:
                kept[at] = (count, column(each.stock, without(each.part, blank.name, number)))
                spare -= count * number
    return tuple(use for use in kept if any(use[1].counts.values()))
