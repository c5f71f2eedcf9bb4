"""The blanks of a class and the sheets at hand → one cutting plan for each paper, numbered through.

Sheets at hand come first: fewest new ones, then fewest of those at hand. Where all at hand are whole sheets
of a paper's only size, the fewest sheets are the fewest new ones, and nothing else has to be planned.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from cardrecipe.model.lengths import convert
from cardrecipe.model.papers import Paper, StockSheet
from cardrecipe.plan.classes.blanks import ClassBlank, ClassCut
from cardrecipe.plan.classes.cards import PaperAtHand
from cardrecipe.plan.classes.papers import ClassPaper
from cardrecipe.plan.cutting.budget import ALL_PAPERS, PAPER, Budget
from cardrecipe.plan.cutting.card_plans import NumberedLayout, PaperPlan
from cardrecipe.plan.cutting.job import Job, Layout
from cardrecipe.plan.cutting.paper_jobs import PaperJob, cents, is_by_cost, paper_job
from cardrecipe.plan.cutting.planner import Plan, plan

# The plan of all kits together may take so much of a paper's work, the kits' own plans what is left.
TOGETHER, OF_ALL = 3, 4

Progress = Callable[[int, int, str], None]


class ClassPlan(NamedTuple):
    """The plan of one paper of a class. Stocks from number `bought_sizes` on are sheets at hand; `at_hand`
    counts whole sheets that were not planned apart, `there` all sheets at hand."""

    of: ClassPaper
    paper_plan: PaperPlan
    bought_sizes: int
    at_hand: int
    there: tuple[PaperAtHand, ...]

    @property
    def needed(self) -> int:
        """How many sheets are cut, of any size."""
        return self.paper_plan.plan.sheets

    @property
    def used(self) -> int:
        """How many of them are at hand."""
        return min(self.at_hand, self.needed) + sum(
            each.count for each in self.paper_plan.plan.layouts if int(each.stock) >= self.bought_sizes
        )

    @property
    def new(self) -> int:
        return self.needed - self.used

    @property
    def least_new(self) -> int:
        """How many new sheets are proved to be needed, of whatever size."""
        found, job = self.paper_plan.plan, self.paper_plan.of.job
        if self.bought_sizes == len(job.stocks):
            return max(0, found.least_sheets - self.at_hand)
        most = sum(each.available or 0 for each in job.stocks[self.bought_sizes :])
        dearest = max(each.cost for each in job.stocks[: self.bought_sizes])
        return max(0, -(-(found.least - most) // dearest))

    @property
    def is_proved(self) -> bool:
        """Tell whether no plan takes fewer new sheets (or costs less, where sizes have their prices)."""
        by_cost = is_by_cost(self.of.paper)
        return self.paper_plan.plan.is_proved or (not by_cost and self.new == self.least_new)


def class_plans(
    cut: ClassCut, there: Sequence[PaperAtHand], stages: int | None, begin: Callable[[str], None]
) -> tuple[ClassPlan, ...]:
    """Plan every paper of a class; sizes at hand are in the class's unit. `begin` is told each paper's title
    before. A paper for which no plan is found is left out, as on the sheet of a card."""
    return tuple(_numbered(cut, there, stages, begin))


def _numbered(
    cut: ClassCut, there: Sequence[PaperAtHand], stages: int | None, begin: Callable[[str], None]
) -> Iterator[ClassPlan]:
    number, budget = 0, Budget(ALL_PAPERS)
    for at, each in enumerate(cut.papers):
        begin(each.paper.title)
        own = tuple(one for one in there if one.packet == each.packet)
        measured = [_in_unit(one, cut.card.unit, each.unit) for one in own]
        blanks = cut.of_paper(each.paper.name)
        of, bought_sizes, at_hand = _job(each.paper, blanks, measured, stages)
        own_budget = budget.share(len(cut.papers) - at, PAPER)
        found = plan(of.job, Budget(own_budget.left * TOGETHER // OF_ALL, own_budget))
        if found is None:  # sizes so odd that they are told in steps, and one that fills its sheet
            continue
        if not found.is_proved:
            found = _no_worse_than_apart(found, blanks, own_budget)
        layouts = tuple(
            NumberedLayout(number + at, layout, of.paper.sheets[int(layout.stock)])
            for at, layout in enumerate(found.layouts, 1)
        )
        number += len(layouts)
        yield ClassPlan(each, PaperPlan(of, found, layouts), bought_sizes, at_hand, own)


def _job(
    paper: Paper, blanks: Sequence[ClassBlank], there: Sequence[PaperAtHand], stages: int | None
) -> tuple[PaperJob, int, int]:
    """The job of a paper, how many of its sizes are bought, and how many whole sheets are there besides."""
    rects = [each.rect for each in blanks]
    bought_sizes = len(paper.sheets)
    if bought_sizes == 1 and all(_is_whole(each, paper) for each in there):
        return paper_job(paper, rects, 1, stages), 1, sum(each.count for each in there)
    if not there:
        return paper_job(paper, rects, 1, stages), bought_sizes, 0
    sheets = tuple(StockSheet(*(each.size or paper.sheets[0][:2])) for each in there)
    of = paper_job(paper._replace(sheets=paper.sheets + sheets), rects, 1, stages)
    by_cost = is_by_cost(paper)
    pieces = sum(each.count for each in rects)
    counts = [min(each.count, pieces) for each in there]
    weight = 1 + sum(counts)  # no sheet at hand is worth saving at the cost of a new one
    stocks = [each._replace(cost=weight * (cents(sheet) if by_cost else 1))
              for each, sheet in zip(of.job.stocks, paper.sheets, strict=False)]  # fmt: skip
    stocks += [each._replace(cost=1, available=count)
               for each, count in zip(of.job.stocks[bought_sizes:], counts, strict=True)]  # fmt: skip
    # What such a plan costs is no sum of money, so nobody may print it as one.
    return of._replace(job=of.job._replace(stocks=tuple(stocks)), by_cost=False), bought_sizes, 0


def _in_unit(each: PaperAtHand, unit: str, into: str) -> PaperAtHand:
    if each.size is None:
        return each
    return each._replace(size=(convert(each.size[0], unit, into), convert(each.size[1], unit, into)))


def _is_whole(each: PaperAtHand, paper: Paper) -> bool:
    """Tell whether sheets at hand are as the paper is bought; one without a direction may lie turned."""
    bought = paper.sheets[0][:2]
    is_turned = each.size == bought[::-1] and paper.grain is None and not paper.one_way
    return each.size is None or each.size == bought or is_turned


def _no_worse_than_apart(found: Plan, blanks: Sequence[ClassBlank], budget: Budget) -> Plan:
    """The plan, or the kits' own plans together where the search for one plan of them all did worse."""
    letters = dict.fromkeys(letter for each in blanks for letter, _ in each.counts)
    if len(letters) == 1 or any(each.available is not None for each in found.job.stocks):
        return found
    apart = [
        plan(_of_kit(found.job, blanks, letter), budget.share(len(letters) - at))
        for at, letter in enumerate(letters)
    ]
    layouts: dict[tuple[str, object], Layout] = {}
    for each in apart:
        for layout in each.layouts if each is not None else ():
            known = layouts.get((layout.stock, layout.root))
            count = layout.count + (known.count if known is not None else 0)
            layouts[layout.stock, layout.root] = layout._replace(count=count)
    cost = sum(each.cost for each in apart if each is not None)
    if cost >= found.cost:
        return found
    return found._replace(layouts=tuple(sorted(layouts.values(), key=lambda each: -each.count)), cost=cost)


def _of_kit(job: Job, blanks: Sequence[ClassBlank], letter: str) -> Job:
    """The same job with what one kit needs of it alone."""
    counts = {each.rect.name: dict(each.counts).get(letter, 0) for each in blanks}
    own = tuple(each._replace(demand=counts[each.name]) for each in job.blanks if counts[each.name])
    return job._replace(blanks=own)
