"""Papers whose sheets are nearly used up by what is cut from them: a slip of the knife takes one more."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.model.papers import Paper, StockSheet
from cardrecipe.plan.papers import pieces_of
from cardrecipe.plan.words import bought_size, paper_words
from cardrecipe.solve.sized import SizedCard
from cardrecipe.syntax.diagnostics import Diagnostic, Related, warning

if TYPE_CHECKING:
    from cardrecipe.plan.cutting.card_plans import PaperPlan
    from cardrecipe.plan.cutting.paper_jobs import PaperJob

# A sheet is nearly full with less than this of it left: common practice, no published source. Sheets that
# are used up wholly are halved or quartered, and meant so.
LEFT = Fraction(1, 20)


def check_full_sheets(folded: FoldedCard) -> Iterator[Diagnostic]:
    """A sheet that holds all that is cut from a paper has a twentieth left, or nothing at all."""
    card = folded.card
    if not any(_may_be_full(card, paper) for paper in card.papers.values()):
        return
    # Only a card that may have such a sheet pays for the plan of one.
    from cardrecipe.plan.cutting.one_sheet import on_one_sheet
    from cardrecipe.plan.cutting.paper_jobs import paper_jobs

    for each in paper_jobs(card, card.makes):
        sheets = each.paper.sheets
        if len(sheets) == 1 and _is_nearly_full(each, [0]) and on_one_sheet(each.job):
            yield _too_full(card, each.paper, sheets)


def _may_be_full(card: SizedCard, paper: Paper) -> bool:
    """Tell whether the pieces alone, without the margins of shapes, take most of a single sheet."""
    if len(paper.sheets) != 1:
        return False
    sheet = paper.sheets[0].width * paper.sheets[0].height
    pieces = pieces_of(card, paper.name)
    used = sum((each.width * each.height * each.count for each in pieces), Fraction(0)) * card.makes
    return used * 2 > sheet and used <= sheet


def full_sheets(card: SizedCard, plans: Sequence[PaperPlan]) -> Iterator[Diagnostic]:
    """The same of sheets that are planned, however many."""
    for each in plans:
        sheets = [one.stock for one in each.layouts for _ in range(one.layout.count)]
        stocks = [int(one.layout.stock) for one in each.layouts for _ in range(one.layout.count)]
        if _is_nearly_full(each.of, stocks):
            yield _too_full(card, each.of.paper, sheets)


def is_of_full_sheets(found: Diagnostic) -> bool:
    """Tell whether a diagnostic is one of these."""
    return found.code == "sheet-nearly-full"


def _is_nearly_full(of: PaperJob, stocks: Sequence[int]) -> bool:
    areas = [of.job.stocks[at].width * of.job.stocks[at].height for at in stocks]
    used = sum(blank.width * blank.height * blank.demand for blank in of.job.blanks)
    return 0 < sum(areas) - used < LEFT * min(areas)


def _too_full(card: SizedCard, paper: Paper, sheets: Sequence[StockSheet]) -> Diagnostic:
    size = bought_size(sheets[0].width, sheets[0].height, card.unit)
    taken = f"a sheet of {size}" if len(sheets) == 1 else f"{len(sheets)}\u00a0sheets"
    message = (
        f"what is cut from {paper_words(paper)} nearly fills {taken}: less than a twentieth of a sheet is "
        "left for a slip"
    )
    hint = "have another sheet at hand, or make a piece a little smaller"
    largest = max(pieces_of(card, paper.name), key=lambda piece: piece.width * piece.height)
    related = (Related(paper.span, "the paper is declared here"),)
    return warning("sheet-nearly-full", largest.span, message, hint, related)
