"""The plan of a card: from folded sections to everything that is printed, before any page is laid out.

A plan knows nothing of pages and pictures but their names.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import filterfalse
from typing import NamedTuple

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.model.lengths import convert, round_near, with_unit
from cardrecipe.plan.cautions import GENERAL
from cardrecipe.plan.checks import check_plan
from cardrecipe.plan.cuts import cut_lines
from cardrecipe.plan.cutting.card_plans import PaperPlan, card_plans
from cardrecipe.plan.cutting_sheets import cut_by_knife, cutting_sheets, paper_totals, whole_cost
from cardrecipe.plan.envelopes import envelope_fits
from cardrecipe.plan.facts import TIME_RULE, facts
from cardrecipe.plan.full_sheets import full_sheets, is_of_full_sheets
from cardrecipe.plan.post import post
from cardrecipe.plan.scores import score_guides
from cardrecipe.plan.sheet import Sheet
from cardrecipe.plan.steps import steps
from cardrecipe.plan.supplies import supply_lines
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import sentence, the
from cardrecipe.solve.sized import SizedCard
from cardrecipe.syntax.diagnostics import Diagnostic


class CuttingOptions(NamedTuple):
    """How the maker wants to cut: at most so many changes of direction (None: any number), the longest cut of
    the trimmer, with its unit (None: that of a common one), and whether the papers of a class are all cut
    together, so that each setting comes up once."""

    stages: int | None = None
    trimmer: tuple[Fraction, str] | None = None
    by_setting: bool = False

    def trimmer_in(self, unit: str) -> Fraction | None:
        return convert(*self.trimmer, unit) if self.trimmer is not None else None


def plan(
    folded: FoldedCard,
    copies: int | None = None,
    other: FoldedCard | None = None,
    warnings: Sequence[Diagnostic] = (),
    options: CuttingOptions | None = None,
) -> tuple[Sheet, list[Diagnostic]]:
    """The sheet of a card, with that of the `other` unit system inside, and what was found.

    `copies` is the recipe's own number unless told; `warnings` of the stages before become notes.
    """
    found = check_plan(folded)
    options = options or CuttingOptions()
    sheet = _sheet(folded, copies, other, [*warnings, *filterfalse(_is_unused, found)], options)
    if other is not None:
        sheet = sheet._replace(other=plan_alone(other, copies, folded, (), options))
    return sheet, found


def _is_unused(diagnostic: Diagnostic) -> bool:
    """True of what nothing is made of. Who has read the whole recipe knows whether a variant uses it, and
    that a variant leaves out what did: only then is it among the warnings of the stages before."""
    return diagnostic.code.startswith("unused-")


def plan_alone(
    folded: FoldedCard,
    copies: int | None,
    other: FoldedCard | None,
    warnings: Sequence[Diagnostic] = (),
    options: CuttingOptions | None = None,
) -> Sheet:
    """The sheet in one unit system; from the `other` one come only the sizes beside its own."""
    found = [*warnings, *filterfalse(_is_unused, check_plan(folded))]
    return _sheet(folded, copies, other, found, options or CuttingOptions())


def _sheet(
    folded: FoldedCard,
    copies: int | None,
    other: FoldedCard | None,
    warnings: Sequence[Diagnostic],
    options: CuttingOptions,
) -> Sheet:
    card = folded.card
    count = card.makes if copies is None else copies
    envelopes, posted = envelope_fits(folded), post(folded)
    plans = card_plans(card, count, options.stages)
    totals, trimmer = paper_totals(card, plans), options.trimmer_in(card.unit)
    by_knife = cut_by_knife(card, plans, trimmer)
    supplies = supply_lines(card, count, totals, by_knife)
    return Sheet(
        folded,
        card.title,
        card.about,
        facts(folded, count, envelopes, other, posted, supplies),
        supplies,
        cut_lines(card, count, other.card if other else None),
        score_guides(card),
        steps(folded, count, plans, by_knife),
        envelopes,
        (GENERAL,),
        tuple(dict.fromkeys((
            *_notes(card, _with_full_sheets(card, plans, warnings)), *_cost_of_all(whole_cost(totals))
        ))),
        copies=count,
        cutting=cutting_sheets(card, plans, trimmer),
        paper_totals=totals,
        paper_plans=plans,
        post=posted,
    )


def _with_full_sheets(
    card: SizedCard, plans: Sequence[PaperPlan], warnings: Sequence[Diagnostic]
) -> Iterator[Diagnostic]:
    """How full sheets are was checked without a plan; what the plan shows takes its place."""
    yield from (each for each in warnings if not is_of_full_sheets(each))
    yield from full_sheets(card, plans)


def notes_of_sums(sheet: Sheet) -> frozenset[str]:
    """The notes that say what all papers cost and how far the two versions differ: of every card others."""
    return frozenset((*_cost_of_all(whole_cost(sheet.paper_totals)), *_differences(sheet.folded.card)))


def _cost_of_all(cost: str) -> Iterator[str]:
    if cost:
        yield say("total/all-papers", cost=cost)


def _differences(card: SizedCard) -> Iterator[str]:
    if card.metric_differs:
        most = with_unit(round_near(card.metric_differs, Fraction(1, 10)), "mm")
        yield f"The inch and the millimetre version differ by {most} at most, piece for piece."


def _notes(card: SizedCard, warnings: Iterable[Diagnostic]) -> Iterator[str]:
    """Warnings in their own words, roundings, how far the two versions differ, how time is told."""
    for warning in warnings:
        if warning.severity == "warning":
            yield sentence(warning.message)
    # A band is cut a little long and its ends overlap, so its rounding tells a maker nothing.
    for piece in (piece for piece in card.pieces if piece.around is None):
        for name, exact, cut in (
            ("width", piece.exact_width, piece.width),
            ("height", piece.exact_height, piece.height),
        ):
            if exact is not None and exact != cut:
                yield (
                    f"The {name} of {the(piece.name)} works out as {with_unit(exact, card.unit)}; "
                    f"{with_unit(cut, card.unit)} is the nearest mark that fits."
                )
    yield from _differences(card)
    yield TIME_RULE
