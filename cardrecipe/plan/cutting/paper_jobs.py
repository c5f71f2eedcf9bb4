"""The pieces of a card, so many copies of it → what has to be cut from each paper, in whole steps.

Shapes that are die-cut or trimmed are cut with a margin round them; grain and one-way patterns forbid a turn.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil, floor, lcm
from typing import NamedTuple

from cardrecipe.model.papers import Paper, StockSheet
from cardrecipe.plan.cutting.job import Blank, Job, Stock
from cardrecipe.plan.papers import cut_order
from cardrecipe.solve.sized import SizedCard, SizedPiece

# Paper that is left round a shape on each side, to hold it by: common practice, no published source.
MARGIN = {"inch": Fraction(1, 8), "mm": Fraction(3)}
SHAPED = ("circle", "oval", "banner", "tag", "cutout")
CENTS = 100
# A price beyond this is none; prices of blanks are counted in millionths of it and must fit into 64 bits.
MOST_CENTS = 1_000_000
# Steps along the longest sheet: areas in steps, times what they are weighed with, must fit into 64 bits.
MOST_STEPS = 1_000_000


class PaperJob(NamedTuple):
    """A job with its paper; a length of the job is so many `steps` to the recipe's unit.

    Pieces that are `turned` may only be cut lying on their side: their blanks lie so already.
    """

    paper: Paper
    job: Job
    steps: int
    by_cost: bool  # the stocks have different prices: the least cost is looked for, in hundredths
    turned: frozenset[str] = frozenset()

    def length(self, steps: int) -> Fraction:
        """Give a length of the job in the recipe's unit."""
        return Fraction(steps, self.steps)


def paper_jobs(card: SizedCard, copies: int, stages: int | None = None) -> Iterator[PaperJob]:
    """Give a job for each paper that something is cut from; pieces that fit no sheet are left out."""
    pieces = cut_order(card)
    for name in dict.fromkeys(piece.paper for piece in pieces if piece.paper in card.papers):
        paper = card.papers[name or ""]
        own = [piece for piece in pieces if piece.paper == name]
        blanks = [blank for piece in own for blank in wanted(card, paper, piece)]
        yield paper_job(paper, blanks, copies, stages)


class Wanted(NamedTuple):
    """The rectangle that a piece is cut from, so often for one card."""

    name: str
    width: Fraction
    height: Fraction
    count: int  # type: ignore[assignment]  # a tuple has a method of that name
    may_turn: bool
    is_turned: bool


def wanted(card: SizedCard, paper: Paper, piece: SizedPiece) -> Iterator[Wanted]:
    """Give the rectangle that a piece is cut from, lying as it must where it may not be turned."""
    width, height = blank_size(card, piece)
    upright, turned = ways_to_lie(paper, piece, width, height)
    if upright or turned:
        size = (width, height) if upright else (height, width)
        yield Wanted(piece.name, *size, piece.count, upright and turned, not upright)


def blank_size(card: SizedCard, piece: SizedPiece) -> tuple[Fraction, Fraction]:
    """Give the size that a piece is first cut to: shapes with a margin, all else as it is."""
    if not has_margin(piece):
        return piece.width, piece.height
    return piece.width + 2 * MARGIN[card.unit], piece.height + 2 * MARGIN[card.unit]


def has_margin(piece: SizedPiece) -> bool:
    """Tell whether a piece gets its outline from a die or from scissors."""
    verbs = {work.verb for work in piece.works}
    return piece.kind in SHAPED or bool(verbs & {"die", "trim"})


def ways_to_lie(paper: Paper, piece: SizedPiece, width: Fraction, height: Fraction) -> tuple[bool, bool]:
    """Tell whether a piece may lie upright on its paper, and whether turned by a quarter.

    A one-way pattern allows upright alone, where that fits. Scores lie along the grain where a sheet holds
    the piece so. What fits no sheet may not lie at all.
    """
    upright = any(width <= sheet.width and height <= sheet.height for sheet in paper.sheets)
    turned = any(height <= sheet.width and width <= sheet.height for sheet in paper.sheets)
    if paper.one_way and upright:
        return True, False
    axes = {score.axis for score in piece.scores if score.direction != "slit"}
    if paper.grain is None or len(axes) != 1:
        return upright, turned
    along = [each for each in paper.sheets if _runs_along_grain(paper, each, axes == {"x"})]
    across = [each for each in paper.sheets if each not in along]
    best = (
        any(width <= each.width and height <= each.height for each in along),
        any(height <= each.width and width <= each.height for each in across),
    )
    return best if any(best) else (upright, turned)


def _runs_along_grain(paper: Paper, sheet: StockSheet, is_upright: bool) -> bool:
    """Tell whether lines that run from top to bottom (or, not upright, across) run along a sheet's grain."""
    is_grain_upright = (sheet.height >= sheet.width) == (paper.grain == "long")
    return is_grain_upright == is_upright


def paper_job(paper: Paper, blanks: Sequence[Wanted], copies: int, stages: int | None) -> PaperJob:
    """Give the job of cutting so many copies of blanks from one paper."""
    steps = _steps(paper, blanks)
    by_cost = is_by_cost(paper)
    stocks = tuple(
        Stock(str(at), _whole(each.width * steps), _whole(each.height * steps), cents(each) if by_cost else 1)
        for at, each in enumerate(paper.sheets)
    )
    whole = tuple(
        Blank(name, ceil(width * steps), ceil(height * steps), count * copies, may_turn)
        for name, width, height, count, may_turn, _ in blanks
    )
    turned = frozenset(each.name for each in blanks if each.is_turned)
    return PaperJob(paper, Job(stocks, whole, stages), steps, by_cost, turned)


def _whole(steps: Fraction) -> int:
    """Give the whole steps of a side of a sheet: one where it is less, of a sheet that holds nothing."""
    return max(1, floor(steps))


def _steps(paper: Paper, blanks: Sequence[Wanted]) -> int:
    """Give the steps to a unit in which all lengths are whole; on the longest sheet no more than a limit.

    Beyond it blanks come out too large and sheets too small by less than a step, far less than paper swells.
    """
    lengths = [each for blank in blanks for each in (blank.width, blank.height)]
    sides = [each for sheet in paper.sheets for each in (sheet.width, sheet.height)]
    return min(lcm(*(each.denominator for each in lengths + sides)), max(1, floor(MOST_STEPS / max(sides))))


def is_by_cost(paper: Paper) -> bool:
    """Tell whether every size has its price, and the prices differ."""
    prices = [sheet.price for sheet in paper.sheets if sheet.price is not None]
    is_priced = len(prices) == len(paper.sheets) and max(map(cents, paper.sheets)) <= MOST_CENTS
    return is_priced and len(set(prices)) > 1


def cents(sheet: StockSheet) -> int:
    """Give the price of a sheet in hundredths, 0 where there is none."""
    return round((sheet.price or 0) * CENTS)
