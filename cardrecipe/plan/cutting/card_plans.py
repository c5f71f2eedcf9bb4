"""A card and its copies → the cutting plan of each of its papers, with the sheets numbered through."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from cardrecipe.model.papers import StockSheet
from cardrecipe.plan.cutting.budget import ALL_PAPERS, PAPER, Budget
from cardrecipe.plan.cutting.job import Layout, blanks_in
from cardrecipe.plan.cutting.paper_jobs import PaperJob, paper_jobs
from cardrecipe.plan.cutting.planner import Plan, plan
from cardrecipe.solve.sized import SizedCard


class NumberedLayout(NamedTuple):
    """A layout with its number on the page, from 1 through all papers, and the sheet it is cut from."""

    number: int
    layout: Layout
    stock: StockSheet


class PaperPlan(NamedTuple):
    """What is cut from one paper: the job, its plan, and the plan's layouts, most used first."""

    of: PaperJob
    plan: Plan
    layouts: tuple[NumberedLayout, ...]

    def numbers_with(self, piece: str) -> tuple[int, ...]:
        """Give the numbers of the layouts that a piece is cut from."""
        return tuple(each.number for each in self.layouts if piece in blanks_in(each.layout.root))


def card_plans(card: SizedCard, copies: int, stages: int | None = None) -> tuple[PaperPlan, ...]:
    """Plan every paper of a card; papers from which nothing can be cut are left out."""
    return tuple(_numbered(tuple(paper_jobs(card, copies, stages))))


def _numbered(jobs: Sequence[PaperJob]) -> Iterator[PaperPlan]:
    number, budget = 0, Budget(ALL_PAPERS)
    for at, each in enumerate(jobs):
        found = plan(each.job, budget.share(len(jobs) - at, PAPER))
        if found is not None:
            layouts = tuple(
                NumberedLayout(number + at, layout, each.paper.sheets[int(layout.stock)])
                for at, layout in enumerate(found.layouts, 1)
            )
            number += len(layouts)
            yield PaperPlan(each, found, layouts)
