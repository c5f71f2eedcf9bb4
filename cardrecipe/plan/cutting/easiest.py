"""Among plans of the least cost, one that takes few settings of the trimmer and few strokes; of equal ones
one that leaves a larger offcut.

A second program in whole numbers over the layouts at hand: a layout that is used at all costs its settings,
each sheet its strokes.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress

import numpy as np

from cardrecipe.plan.cutting.attempts import fill
from cardrecipe.plan.cutting.budget import ENDLESS, Budget, Spent
from cardrecipe.plan.cutting.columns import PLAIN_STAGES, Column, at_hand, column, covering
from cardrecipe.plan.cutting.fewest import Fewest
from cardrecipe.plan.cutting.job import Job
from cardrecipe.plan.cutting.one_sheet import STROKE, on_one_sheet, toil
from cardrecipe.plan.cutting.parts import without
from cardrecipe.plan.cutting.programs import INFINITE, Row, solve
from cardrecipe.plan.cutting.uses import Uses, chosen, cost_of, covers
from cardrecipe.plan.cutting.worth import TooDear

NODES = 1_500
# Most of the time goes into the proof that nothing is easier, which nobody asked for. Twelve times the work
# instead of three made the plans of 137 kits by chance less than a hundredth easier; with four those of the
# class kits are the same.
PATIENCE = 3
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
    every = found.pool.columns
    for columns in (_plain(job, every, found.cost, budget), every):
        uses = _chosen(job, columns, found.cost, budget.share(1, budget.left * 3 // 4))
        if uses is not None:
            best = _with_larger_offcut(job, columns, uses, budget)
            return _laid_anew(job, _without_surplus(job, best), budget)
    return _laid_anew(job, _without_surplus(job, found.uses), budget)


def _enrich(job: Job, found: Fewest, budget: Budget) -> None:
    """Add layouts of every number of stages, so that there is something to choose from."""
    for limit in (2, PLAIN_STAGES, None) if job.stages is None else (job.stages,):
        limited = job._replace(stages=limit)
        for pieces, rounds in RICHER:
            fill(limited, found.grid, found.pool, pieces, rounds, budget, IDLE)


def _plain(job: Job, columns: Sequence[Column], cost: int, budget: Budget) -> list[Column]:
    """Give the columns of few stages; none where they do not reach a cost. To find that out while settings
    are counted takes HiGHS ten times as long."""
    plain = [each for each in columns if each.is_plain]
    try:
        uses = chosen(job, plain, budget.share(2))
    except Spent:
        return []
    return plain if uses is not None and cost_of(uses) <= cost else []


def _chosen(job: Job, columns: Sequence[Column], cost: int, budget: Budget) -> Uses | None:
    """Give the easiest plan of no more than a cost that is found; checked in whole numbers."""
    try:
        budget.spend(COMPARED * len(columns) ** 2)
    except Spent:
        return None
    columns = _undominated(job, columns)
    number, most = len(columns), [_most(job, each, cost) for each in columns]
    rows = covering(columns, {blank.name: blank.demand for blank in job.blanks})
    if any(not each.terms for each in rows) or max(most) > MOST_TIMES:
        return None
    rows.append(Row(0, cost, {at: each.stock.cost for at, each in enumerate(columns)}))
    rows += [Row(-INFINITE, 0, {at: 1, number + at: -most[at]}) for at in range(number)]
    rows += at_hand(job, columns)
    share = STROKE / max(1, cost // max(1, min(each.stock.cost for each in columns)))
    costs = [each.effort.strokes * share for each in columns]
    costs += [float(each.effort.settings) for each in columns]
    limits = [float(each) for each in most] + [1.0] * number
    try:
        answer = solve(costs, limits, rows, whole=True, nodes=NODES, patience=PATIENCE, budget=budget)
    except Spent:
        return None
    if answer is None:
        return None
    counts = zip(answer.values[:number], columns, strict=True)
    uses = tuple((round(value), each) for value, each in counts if round(value) > 0)
    return uses if cost_of(uses) <= cost and covers(job, uses) else None


def _undominated(job: Job, columns: Sequence[Column]) -> list[Column]:
    """Leave out layouts that hold no more than another of the same sheet and are no easier to cut."""
    figures = np.array(
        [
            (*(min(each.counts.get(blank.name, 0), blank.demand) for blank in job.blanks),
             -each.effort.settings, -each.effort.strokes)
            for each in columns
        ]
    )  # fmt: skip
    stocks = np.array([job.stocks.index(each.stock) for each in columns])
    kept = []
    for at, each in enumerate(columns):
        as_good = (figures >= figures[at]).all(axis=1) & (stocks == stocks[at])
        is_equal = as_good & (figures == figures[at]).all(axis=1)
        if not (as_good & ~is_equal).any() and not is_equal[:at].any():  # of equal ones the first stays
            kept.append(each)
    return kept


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


def _most(job: Job, each: Column, cost: int) -> int:
    """Give how often a layout can be of use."""
    held = [(blank.demand, each.counts[blank.name]) for blank in job.blanks if blank.name in each.counts]
    needed = max(-(-demand // count) for demand, count in held)
    return max(1, min(needed, cost // each.stock.cost if each.stock.cost else needed))


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
