"""Among plans of the least cost, one that takes few settings of the trimmer and few strokes; of equal ones
one that leaves a larger offcut.

A second program in whole numbers over the layouts at hand: a layout that is used at all costs its settings,
each sheet its strokes.
"""

from __future__ import annotations

from collections.abc import Sequence

from cardrecipe.plan.cutting.attempts import fill
from cardrecipe.plan.cutting.columns import PLAIN_STAGES, Column, Pool, at_hand, column, covering
from cardrecipe.plan.cutting.fewest import Fewest
from cardrecipe.plan.cutting.grid import grid_for
from cardrecipe.plan.cutting.job import Job
from cardrecipe.plan.cutting.one_sheet import STROKE, on_one_sheet, toil
from cardrecipe.plan.cutting.parts import without
from cardrecipe.plan.cutting.programs import INFINITE, Row, solve
from cardrecipe.plan.cutting.uses import Uses, cost_of, covers

NODES = 1_500
# Plans made sheet by sheet: for so many pieces, over so many rounds.
RICHER = ((20, 10), (50, 8))


def easiest(job: Job, found: Fewest) -> Uses:
    """Give the columns to use, and how often; those of few stages where they reach the least cost."""
    _enrich(job, found.pool)
    plain = [each for each in found.pool.columns if each.is_plain]
    for columns in (plain, found.pool.columns):
        uses = _chosen(job, columns, found.cost)
        if uses is not None:
            return _laid_anew(job, _without_surplus(job, _with_larger_offcut(job, columns, uses)))
    return _laid_anew(job, _without_surplus(job, found.uses))


def _enrich(job: Job, pool: Pool) -> None:
    """Add layouts of every number of stages, so that there is something to choose from."""
    grid = grid_for(job.stocks, job.blanks)
    for limit in (2, PLAIN_STAGES, None) if job.stages is None else (job.stages,):
        limited = job._replace(stages=limit)
        for pieces, rounds in RICHER:
            fill(limited, grid, pool, pieces, rounds)


def _chosen(job: Job, columns: Sequence[Column], cost: int) -> Uses | None:
    """Give the easiest plan of no more than a cost that is found; checked in whole numbers."""
    number, most = len(columns), [_most(job, each, cost) for each in columns]
    rows = covering(columns, {blank.name: blank.demand for blank in job.blanks})
    if any(not each.terms for each in rows):
        return None
    rows.append(Row(0, cost, {at: each.stock.cost for at, each in enumerate(columns)}))
    rows += [Row(-INFINITE, 0, {at: 1, number + at: -most[at]}) for at in range(number)]
    rows += at_hand(job, columns)
    share = STROKE / max(1, cost // max(1, min(each.stock.cost for each in columns)))
    costs = [each.effort.strokes * share for each in columns]
    costs += [float(each.effort.settings) for each in columns]
    answer = solve(costs, [float(each) for each in most] + [1.0] * number, rows, whole=True, nodes=NODES)
    if answer is None:
        return None
    counts = zip(answer.values[:number], columns, strict=True)
    uses = tuple((round(value), each) for value, each in counts if round(value) > 0)
    return uses if cost_of(uses) <= cost and covers(job, uses) else None


def _with_larger_offcut(job: Job, columns: Sequence[Column], uses: Uses) -> Uses:
    """Take another layout for one of those used, where it is as easy and leaves a larger offcut."""
    best, largest = uses, min(each.effort.offcut for _, each in uses)
    for at, (count, old) in enumerate(uses):
        for new in columns:
            is_easy = new.effort.settings <= old.effort.settings and new.effort.strokes <= old.effort.strokes
            is_used = any(new is each for _, each in uses)
            if is_used or new.stock != old.stock or not is_easy or new.effort.offcut >= largest:
                continue
            changed = (*uses[:at], (count, new), *uses[at + 1 :])
            if covers(job, changed):
                best, largest = changed, new.effort.offcut
    return best


def _laid_anew(job: Job, uses: Uses) -> Uses:
    """Lay the blanks of each layout in rows of columns where that is easier than what the search for the
    least came upon."""
    return tuple((count, _easier(job, each)) for count, each in uses)


def _easier(job: Job, each: Column) -> Column:
    blanks = tuple(blank._replace(demand=each.counts[blank.name])
                   for blank in job.blanks if blank.name in each.counts)  # fmt: skip
    stock = each.stock._replace(available=None)
    found = on_one_sheet(job._replace(stocks=(stock,), blanks=blanks))
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
    kept = list(uses)
    for blank in job.blanks:
        spare = sum(count * each.counts.get(blank.name, 0) for count, each in kept) - blank.demand
        for at in sorted(range(len(kept)), key=lambda place: -kept[place][0]):
            count, each = kept[at]
            while each.counts.get(blank.name, 0) and count <= spare:
                each = column(each.stock, without(each.part, blank.name))
                spare -= count
            kept[at] = (count, each)
    return tuple(use for use in kept if any(use[1].counts.values()))
