"""A job → its plan: which sheets to cut, how, and the proof that fewer cannot do.

What fits on one sheet is planned at once; only for more are numpy and HiGHS loaded.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from cardrecipe.plan.cutting.bound import least_cost
from cardrecipe.plan.cutting.budget import PAPER, Budget
from cardrecipe.plan.cutting.job import Job, Layout, Part, Stock, fits
from cardrecipe.plan.cutting.one_sheet import on_one_sheet
from cardrecipe.plan.cutting.parts import effort

# The search for the fewest sheets may do so much of the work, that for an easy plan what is left.
FEWEST, OF_ALL = 3, 4
# So many plans are remembered; a card has a plan for each of its papers, a class seldom more than ten.
KEPT = 64


class Proof(NamedTuple):
    """Why it cannot be less: whole-number prices by blank and the most that a sheet of each stock can hold of
    them; or an exact search that tried everything."""

    prices: Mapping[str, int]
    limits: Mapping[str, int]
    is_exhausted: bool = False


class Plan(NamedTuple):
    """Layouts of the least cost that was found; `least` is proved to be the least that any plan costs."""

    job: Job
    layouts: tuple[Layout, ...]
    cost: int
    least: int
    proof: Proof

    @property
    def is_proved(self) -> bool:
        return self.cost == self.least

    @property
    def sheets(self) -> int:
        return sum(each.count for each in self.layouts)

    @property
    def least_sheets(self) -> int:
        """How many sheets, of whatever size, are proved to be needed."""
        stocks = [each._replace(cost=1) for each in self.job.stocks]
        if stocks == list(self.job.stocks):
            return self.least
        total = sum(self.proof.prices[blank.name] * blank.demand for blank in self.job.blanks)
        return least_cost(stocks, self.proof.limits, total)

    @property
    def settings(self) -> int:
        return sum(effort(each.root).settings for each in self.layouts)

    @property
    def strokes(self) -> int:
        return sum(each.count * effort(each.root).strokes for each in self.layouts)


def plan(job: Job, budget: Budget | None = None) -> Plan | None:
    """Give the plan for a job; None where some blank fits no sheet, or the sheets do not suffice.

    The search ends with its budget, that of a paper unless told, and gives the best plan so far.
    """
    if not job.blanks:
        return None
    budget = budget or Budget(PAPER)
    found, steps = planned(job, _rounded(budget.left))
    budget.spend(steps)
    return found


def _rounded(steps: int) -> int:
    """Give at least eight ninths of a budget: one that comes up again, though the papers planned before took
    a little more or less of the whole."""
    whole = PAPER
    while whole > steps:
        whole //= 2
    grain = max(1, whole // 8)
    return steps // grain * grain


@lru_cache(maxsize=KEPT)
def planned(job: Job, steps: int) -> tuple[Plan | None, int]:
    """Give the plan that is found with so many steps of work, and how many it took.

    The last ones are kept: a variant, the other side of a comparison and a sheet that is made anew after an
    edit mostly cut the same. What is remembered is what would be found again.
    """
    budget = Budget(steps)
    return _searched(job, budget), steps - budget.left


def _searched(job: Job, budget: Budget) -> Plan | None:
    stocks = tuple(each for each in job.stocks if _holds_any(each, job))
    if stocks == job.stocks:
        return _of_useful_sheets(job, budget)
    found = _of_useful_sheets(job._replace(stocks=stocks), budget) if stocks else None
    if found is None:
        return None
    limits = {each.name: found.proof.limits.get(each.name, 0) for each in job.stocks}
    return found._replace(job=job, proof=found.proof._replace(limits=limits))


def _holds_any(stock: Stock, job: Job) -> bool:
    return any(fits(blank, stock.width, stock.height) for blank in job.blanks)


def _of_useful_sheets(job: Job, budget: Budget) -> Plan | None:
    """Give the plan where each stock holds some blank; tables of others would be large and say nothing."""
    single = on_one_sheet(job, budget.share(4))
    if single is not None and single[0].cost == min(each.cost for each in job.stocks if each.available != 0):
        return _single(job, *single)
    return _many(job, budget)


def _single(job: Job, stock: Stock, root: Part) -> Plan:
    """One sheet is the least: something has to be cut. Its limit is what its area allows."""
    first = max(job.blanks, key=lambda each: each.width * each.height)
    prices = {blank.name: int(blank is first) for blank in job.blanks}
    area = first.width * first.height
    limits = {each.name: each.width * each.height // area for each in job.stocks}
    return Plan(job, (Layout(stock.name, root, 1),), stock.cost, stock.cost, Proof(prices, limits))


def _many(job: Job, budget: Budget) -> Plan | None:
    from cardrecipe.plan.cutting.easiest import easiest
    from cardrecipe.plan.cutting.fewest import fewest

    found = fewest(job, Budget(budget.left * FEWEST // OF_ALL, budget))
    if found is None:
        return None
    uses = sorted(easiest(job, found, budget), key=lambda use: -use[0])
    layouts = tuple(Layout(column.stock.name, column.part, count) for count, column in uses)
    certificate = found.certificate
    proof = Proof(certificate.prices, certificate.limits, found.is_exhausted)
    return Plan(job, layouts, found.cost, found.least, proof)
