"""A compiled recipe → its sheet in both unit systems, with the sums of every piece."""

from cardrecipe.compile import Compiled, Folding, solve_and_fold
from cardrecipe.files import CannotRead
from cardrecipe.fold.card import glued
from cardrecipe.plan.card import CuttingOptions, plan
from cardrecipe.plan.sheet import Sheet
from cardrecipe.solve.other_unit import OTHER, largest_difference_mm, nudges_for
from cardrecipe.sums import with_sums
from cardrecipe.syntax.diagnostics import has_errors

PAGE_OF = {"inch": "letter", "mm": "a4"}  # the paper to print on where nobody names one, by the card's unit


def sheet_of(
    result: Compiled,
    units: str | None = None,
    copies: int | None = None,
    cutting: CuttingOptions | None = None,
) -> Sheet:
    """The sheet of a compiled recipe in both unit systems, `units` first (default: the recipe's own)."""
    first, second = both_versions(result, units, copies)
    assert first.folded is not None
    twin = glued(second.folded)[0] if second.folded is not None else None
    sheet, _ = plan(glued(first.folded)[0], copies, twin, first.diagnostics, cutting)
    return with_sums(sheet, first.solution, second.solution, result.sources)


def both_versions(result: Compiled, units: str | None, copies: int | None) -> tuple[Folding, Folding]:
    """A compiled recipe folded in both unit systems, `units` first; the second may be impossible."""
    assert result.folded is not None and result.solution is not None
    own = Folding(result.folded, result.solution, result.diagnostics)
    other = _in_other_unit(own)
    first, second = (other, own) if units == other.solution.unit else (own, other)
    if first.folded is None:
        named = f'variant "{result.folded.card.variant}"' if result.folded.card.variant else "this card"
        reason = next(each.message for each in first.diagnostics if each.severity == "error")
        raise CannotRead(f"{named} cannot be made in {units}: {reason}")
    card = first.folded.card
    if second.folded is not None:
        card = card._replace(metric_differs=largest_difference_mm(card, second.folded.card))
    if copies is not None:
        card = card._replace(makes=copies)
    return first._replace(folded=first.folded._replace(card=card)), second


def _in_other_unit(own: Folding) -> Folding:
    card, unit = own.solution.card, OTHER[own.solution.unit]
    other = solve_and_fold(card, unit, nudges_for(card, own.solution, unit))
    # Rounded to the other ruler a strip may be too narrow for glue, say: such a card is not there.
    return other._replace(folded=None) if has_errors(other.diagnostics) else other
