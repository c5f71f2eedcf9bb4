"""Layouts to choose from, in tables: what they hold, what they take, how much toil they are.

A plan is a row of counts here: how many sheets are cut by each layout. All sums are in whole numbers.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

import numpy as np

from cardrecipe.plan.cutting.columns import Column
from cardrecipe.plan.cutting.grid import Table
from cardrecipe.plan.cutting.job import Job
from cardrecipe.plan.cutting.one_sheet import STROKE
from cardrecipe.plan.cutting.programs import INFINITE, Row
from cardrecipe.plan.cutting.uses import Uses

# Toil is counted in parts of a setting so small that strokes are whole numbers of them.
PARTS = 2


class Choice(NamedTuple):
    """Tables with a row for each layout; counts have its shape, (layouts,).

    `holds`: blanks, no more than are to be cut, (layouts, blanks). `takes`: what a sheet takes of what is
    limited, money and sheets that are at hand, (layouts, limits). `once`: the toil of a layout's settings,
    `each`: that of the strokes of a sheet, (layouts,). `most`: how often a layout can be of use.
    """

    columns: tuple[Column, ...]
    holds: Table
    demand: Table
    takes: Table
    limits: Table
    once: Table
    each: Table
    most: Table

    def toil(self, counts: Table) -> int:
        """Give what a plan takes to cut: each layout is set once, each sheet cut for itself."""
        return int(self.once[counts > 0].sum() + (counts * self.each).sum())

    def missing(self, counts: Table) -> Table:
        """Give how many of each blank some sheets lack."""
        return np.maximum(0, self.demand - counts @ self.holds)

    def room(self, counts: Table) -> Table:
        """Give what some sheets leave of what is limited; below 0 where they take too much."""
        room: Table = self.limits - counts @ self.takes
        return room

    def is_plan(self, counts: Table) -> bool:
        return not self.missing(counts).any() and bool((self.room(counts) >= 0).all())

    def rows(self, among: Sequence[int]) -> list[Row]:
        """Give the rows of a program over some layouts: what is to be cut, and what is limited."""
        holds, takes = self.holds[among], self.takes[among]
        needed = [Row(int(least), INFINITE, _terms(holds[:, at])) for at, least in enumerate(self.demand)]
        return needed + [Row(0, int(most), _terms(takes[:, at])) for at, most in enumerate(self.limits)]

    def uses(self, counts: Table) -> Uses:
        return tuple((int(counts[at]), self.columns[at]) for at in np.flatnonzero(counts))


def _terms(values: Table) -> dict[int, float]:
    return {int(at): float(values[at]) for at in np.flatnonzero(values)}


def choice_of(job: Job, columns: Sequence[Column], cost: int, first: Uses) -> tuple[Choice, Table]:
    """Give the tables for plans of no more than a cost, and the counts of a first one.

    Layouts are left out that hold no more than another of the same sheet and are no easier to cut, unless
    the first plan has them.
    """
    kept = undominated(job, columns)
    place = {id(each): at for at, each in enumerate(kept)}
    for _, each in first:
        if place.setdefault(id(each), len(kept)) == len(kept):
            kept.append(each)
    of_stock = [stock for stock in job.stocks if stock.available is not None]
    sheets = max(1, cost // max(1, min(each.stock.cost for each in kept)))
    choice = Choice(
        columns=tuple(kept),
        holds=_holds(job, kept),
        demand=_table(blank.demand for blank in job.blanks),
        takes=_table([each.stock.cost, *(each.stock == stock for stock in of_stock)] for each in kept),
        limits=_table([cost, *(stock.available or 0 for stock in of_stock)]),
        # A stroke counts as if each sheet of a plan had a layout of its own.
        once=_table(PARTS * sheets * each.effort.settings for each in kept),
        each=_table(int(PARTS * STROKE) * each.effort.strokes for each in kept),
        most=_table(_most(job, each, cost) for each in kept),
    )
    counts = np.zeros(len(kept), dtype=np.int64)
    for count, each in first:
        counts[place[id(each)]] += count
    return choice, counts


def _table(values: Iterable[int] | Iterable[Sequence[int]]) -> Table:
    return np.array(list(values), dtype=np.int64)


def _holds(job: Job, columns: Sequence[Column]) -> Table:
    return _table(
        [min(each.counts.get(blank.name, 0), blank.demand) for blank in job.blanks] for each in columns
    )


def undominated(job: Job, columns: Sequence[Column]) -> list[Column]:
    """Leave out layouts that hold no more than another of the same sheet and are no easier to cut."""
    easy = [(-each.effort.settings, -each.effort.strokes) for each in columns]
    figures = np.hstack([_holds(job, columns), _table(easy)])
    stocks = _table(job.stocks.index(each.stock) for each in columns)
    kept = []
    for at, each in enumerate(columns):
        as_good = (figures >= figures[at]).all(axis=1) & (stocks == stocks[at])
        is_equal = as_good & (figures == figures[at]).all(axis=1)
        if not (as_good & ~is_equal).any() and not is_equal[:at].any():  # of equal ones the first stays
            kept.append(each)
    return kept


def _most(job: Job, each: Column, cost: int) -> int:
    """Give how often a layout can be of use."""
    held = [(blank.demand, each.counts[blank.name]) for blank in job.blanks if blank.name in each.counts]
    needed = max(-(-demand // count) for demand, count in held)
    return max(1, min(needed, cost // each.stock.cost if each.stock.cost else needed))
