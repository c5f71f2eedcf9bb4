"""Ways to find a cheap plan for a job that is begun, or to prove that none is cheaper; quick ones first.

Each gives plans that hold in whole numbers, and what it has proved by an exact search. What HiGHS says of
its own answers proves nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from math import floor
from typing import NamedTuple

from cardrecipe.plan.cutting.budget import ENDLESS, Budget, Spent
from cardrecipe.plan.cutting.certificate import FINEST, whole
from cardrecipe.plan.cutting.columns import (
    PLAIN_STAGES,
    Column,
    Pool,
    Relaxed,
    begin,
    column,
    relaxed,
)
from cardrecipe.plan.cutting.exhausted import Found, best_rectangle, sheet_for
from cardrecipe.plan.cutting.filling import plans
from cardrecipe.plan.cutting.grid import Grid
from cardrecipe.plan.cutting.job import Job, Part, Stock
from cardrecipe.plan.cutting.near import TooMany, cannot_cover, near_layouts
from cardrecipe.plan.cutting.sets import GaveUp, by_all_sets
from cardrecipe.plan.cutting.uses import Uses, chosen, cost_of, covers
from cardrecipe.plan.cutting.worth import TooDear, worth

# Plans made sheet by sheet: for so many pieces (the demand is shared), over so many rounds.
FILLED = (80, 8)
FILLED_MORE = ((150, 8), (40, 16), (25, 16))
NEAR_ROUNDS = 600_000
EXACT_ROUNDS = 100_000
COVER_ROUNDS = 200_000
SET_ROUNDS = 20_000
PIECES_IN_ONE = 60  # a single sheet is searched exactly where so few pieces are to be cut


class Begun(NamedTuple):
    """A job with its grid, the layouts that are known so far, its program in fractions, and the work that an
    attempt may do."""

    job: Job
    grid: Grid
    pool: Pool
    program: Relaxed
    budget: Budget = ENDLESS


class Tried(NamedTuple):
    """Columns that hold all that is to be cut, None where none were found; and the cost that no plan is
    below, 0 where nothing was proved."""

    uses: Uses | None
    least: int = 0


Attempt = Callable[[Begun], Iterator[Tried]]


def fill(
    job: Job,
    grid: Grid,
    pool: Pool,
    pieces: int,
    rounds: int,
    budget: Budget = ENDLESS,
    idle: int | None = None,
) -> None:
    """Add the layouts of plans made sheet by sheet for a share of the demand, unless they are there; to the
    end, or until so many rounds one after the other, for each size of sheet, have brought no new layout."""
    every = sum(blank.demand for blank in job.blanks)
    share = max(1, every // pieces)
    if pool.filled.get((job.stages, share), 0) >= rounds:
        return
    pool.filled[job.stages, share] = rounds
    demand = {blank.name: -(-blank.demand // share) for blank in job.blanks}
    in_vain = 0
    for plan in plans(job, grid, demand, rounds, budget):
        is_new = [pool.add(stock, part) for stock, part in plan]
        in_vain = 0 if any(is_new) else in_vain + 1
        if idle is not None and in_vain == idle * len(job.stocks):
            break


# ---- attempts ------------------------------------------------------------------------------------


def _each_alone(begun: Begun) -> Iterator[Tried]:
    """Each blank on sheets of its own: there is always this."""
    job, uses = begun.job, []
    own: dict[str, list[Column]] = {blank.name: [] for blank in job.blanks}
    for each in begun.pool.columns:
        if len(each.counts) == 1:
            own[next(iter(each.counts))].append(each)
    for blank in job.blanks:
        alone = own[blank.name]
        best = max(alone, key=lambda each: each.counts[blank.name] / max(1, each.stock.cost), default=None)
        if best is None:
            return
        uses.append((-(-blank.demand // best.counts[blank.name]), best))
    if covers(job, uses):
        yield Tried(tuple(uses))


def with_few_stages(begun: Begun) -> Iterator[Tried]:
    """Layouts of two and of three stages, where the job allows them."""
    job, grid, pool, _, budget = begun
    for limit in (2, PLAIN_STAGES):
        if job.stages is None or limit <= job.stages:
            limited = job._replace(stages=limit)
            begin(limited, grid, pool, budget)
            relaxed(limited, grid, pool, {blank.name: blank.demand for blank in job.blanks}, budget)
            fill(limited, grid, pool, *FILLED, budget)
    yield Tried(chosen(job, [each for each in pool.columns if each.is_plain], budget))


def _with_any_stages(begun: Begun) -> Iterator[Tried]:
    """Layouts as the job allows them, those of plans for what rounding down leaves among them."""
    job, grid, pool, _, budget = begun
    fill(job, grid, pool, *FILLED, budget)
    uses = chosen(job, pool.columns, budget)
    with suppress(Spent, TooDear):
        # Where these are enough too: so an easy plan has more to choose from.
        _dive(job, grid, pool, budget)
    yield Tried(uses)
    yield Tried(chosen(job, pool.columns, budget))


def _on_one_sheet(begun: Begun) -> Iterator[Tried]:
    """All pieces on one sheet; or proof that none holds them all: then two of the cheapest are the least."""
    job, grid, pool, program, budget = begun
    total = sum(blank.demand for blank in job.blanks)
    cheapest = min(each.cost for each in job.stocks)
    dear_enough = [each for each in job.stocks if each.cost >= program.cost - 1e-6]
    if job.stages is not None or total > PIECES_IN_ONE or not dear_enough:
        return
    demand = {blank.name: blank.demand for blank in job.blanks}
    found = [_holding(job, grid, stock, demand, budget) for stock in dear_enough]
    for stock, each in zip(dear_enough, found, strict=True):
        if each.value:
            pool.add(stock, each.part)
    is_none = len(found) == len(job.stocks) and all(each.is_settled and not each.value for each in found)
    yield Tried(None, 2 * cheapest if is_none else 0)
    yield Tried(chosen(job, pool.columns, budget))


def _on_equal_sheets(begun: Begun) -> Iterator[Tried]:
    """The same layout on every sheet: each holds its share of all blanks."""
    job, grid, pool, program, budget = begun
    for stock in job.stocks:
        number = -(-floor(program.cost * 1_000_000 - 1) // (1_000_000 * stock.cost)) if stock.cost else 0
        share = {blank.name: -(-blank.demand // max(number, 1)) for blank in job.blanks}
        if job.stages is None and number > 1 and sum(share.values()) <= PIECES_IN_ONE:
            found = _holding(job, grid, stock, share, budget)
            if found.value:
                pool.add(stock, found.part)
    yield Tried(chosen(job, pool.columns, budget))


def _with_more_layouts(begun: Begun) -> Iterator[Tried]:
    """Many more plans made sheet by sheet, for demands of several sizes."""
    job, grid, pool, _, budget = begun
    if job.stages is None:
        for pieces, rounds in FILLED_MORE:
            fill(job, grid, pool, pieces, rounds, budget)
        yield Tried(chosen(job, pool.columns, budget))


def _near_the_best(begun: Begun) -> Iterator[Tried]:
    """All layouts that a plan at the bound can have, and proof where even they cannot do."""
    job, grid, pool, program, budget = begun
    if job.stages is not None or len(job.stocks) > 1:
        return
    (stock,) = job.stocks
    prices = whole(program.duals, FINEST)
    value = worth(grid, job.blanks, prices, budget=budget)
    limit = value.of(stock.width, stock.height)
    total = sum(price * blank.demand for price, blank in zip(prices, job.blanks, strict=True))
    if not limit:
        return
    sheets = -(-total // limit)
    least = total - (sheets - 1) * limit
    try:
        parts = near_layouts(value, stock.width, stock.height, least, NEAR_ROUNDS, budget)
    except TooMany:
        return
    for part in parts:
        pool.add(stock, part)
    uses = chosen(job, pool.columns, budget)
    yield Tried(uses)
    if uses is None or cost_of(uses) > sheets * stock.cost:
        is_none = cannot_cover(job, parts, sheets, COVER_ROUNDS, budget)
        yield Tried(None, (sheets + 1) * stock.cost if is_none else 0)


def in_all_sets(begun: Begun) -> Iterator[Tried]:
    """Every way to share a few pieces out."""
    job, grid, pool, _, budget = begun
    try:
        found = by_all_sets(job, grid, SET_ROUNDS, budget)
    except GaveUp:
        return
    if found is not None:
        for stock, part in found[1]:
            pool.add(stock, part)
        yield Tried(tuple((1, column(stock, part)) for stock, part in found[1]), found[0])


ATTEMPTS: tuple[Attempt, ...] = (
    _each_alone,
    with_few_stages,
    _with_any_stages,
    _on_one_sheet,
    _on_equal_sheets,
    _with_more_layouts,
    _near_the_best,
    in_all_sets,
)
# These need all places where a sheet may be cut.
PROVING: tuple[Attempt, ...] = (_on_one_sheet, _on_equal_sheets, _near_the_best, in_all_sets)


def _holding(job: Job, grid: Grid, stock: Stock, most: dict[str, int], budget: Budget) -> Found:
    """Give a layout of a sheet with all of some blanks, of value 0 where none was found."""
    prices = [blank.width * blank.height for blank in job.blanks]
    total = sum(price * most[blank.name] for price, blank in zip(prices, job.blanks, strict=True))
    nothing = Found(Part(stock.width, stock.height), 0, True)
    if total > stock.width * stock.height or stock.available == 0:
        return nothing
    value = worth(grid, job.blanks, prices, budget=budget)
    sheet = sheet_for(value, stock.width, stock.height, budget)
    found = best_rectangle(sheet, most, total, EXACT_ROUNDS, budget)
    return found if found.value == total else nothing._replace(is_settled=found.is_settled)


def _dive(job: Job, grid: Grid, pool: Pool, budget: Budget) -> None:
    """Round a program in fractions down, solve it again for what is left, and so on."""
    left = {blank.name: blank.demand for blank in job.blanks}
    while any(left.values()):
        program = relaxed(job, grid, pool, left, budget)
        if program is None:
            return
        taken = [(floor(at + 1e-6), each) for at, each in zip(program.values, program.columns, strict=True)]
        if not any(count for count, _ in taken):
            most = max(range(len(program.values)), key=lambda at: program.values[at])
            taken = [(1, program.columns[most])]
        for count, each in taken:
            for name, held in each.counts.items():
                left[name] = max(0, left[name] - count * held)
