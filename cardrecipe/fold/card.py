"""A sized card → the card as an object: closed, seen from every side, as thick as it will be.

This stage knows no recipe text but the spans it hands on, no steps and no drawing.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.checks import checks
from cardrecipe.fold.closed import (
    CannotFold,
    FlatFold,
    closed_base,
    closed_pose,
    flat_fold,
    unfoldable,
)
from cardrecipe.fold.folded import FoldedCard, Thickness
from cardrecipe.fold.placing import placed_pieces
from cardrecipe.fold.refusals import cannot_fold, idle_or_loose
from cardrecipe.fold.stack import Layer, closed_pile, open_pile
from cardrecipe.fold.thickness import closed_thickness
from cardrecipe.fold.views import views
from cardrecipe.solve.sized import SizedCard, SizedPiece
from cardrecipe.syntax.diagnostics import Diagnostic


def fold(card: SizedCard) -> tuple[FoldedCard, list[Diagnostic]]:
    """Fold every base shut and look at it from each side; a base that cannot be folded is left out.

    Without a base, or where none can be folded, there are no views and no thickness.
    """
    flats, refusals = _flat_folds(card)
    placed = [placed_pieces(card, flat) for flat in flats]
    closed = [closed_pile(flat, pieces) for flat, pieces in zip(flats, placed, strict=True)]
    opened = [open_pile(flat, pieces) for flat, pieces in zip(flats, placed, strict=True)]
    folded = FoldedCard(
        card,
        tuple(closed_base(flat) for flat in flats),
        tuple(
            view
            for flat, shut, spread in zip(flats, closed, opened, strict=True)
            for view in views(flat, shut, spread, card.papers)
        ),
        _thickest(card, closed),
    )
    warnings = [warning for flat in flats for check in checks for warning in check(card, flat)]
    return folded, refusals + warnings


class ShutBase(NamedTuple):
    """The size of a base folded shut, in the card's unit."""

    base: str
    width: Fraction
    height: Fraction


def folded_shut(card: SizedCard) -> tuple[tuple[ShutBase, ...], list[Diagnostic]]:
    """Fold every base shut only to measure it; what cannot be folded is refused as `fold` does."""
    flats, refusals = _flat_folds(card)
    return tuple(ShutBase(flat.piece.name, flat.width, flat.height) for flat in flats), refusals


def thickness_of(card: SizedCard) -> Thickness | None:
    """The closed thickness of the thickest base, bands and what is on them included."""
    flats, _ = _flat_folds(card)
    return _thickest(card, [closed_pile(flat, placed_pieces(card, flat)) for flat in flats])


def _flat_folds(card: SizedCard) -> tuple[list[FlatFold], list[Diagnostic]]:
    flats: list[FlatFold] = []
    refusals: list[Diagnostic] = []
    for base in card.bases:
        flat = _flat_or_refusal(card, base)
        if isinstance(flat, FlatFold):
            flats.append(flat)
        else:
            refusals.append(flat)
    return flats, refusals


def _flat_or_refusal(card: SizedCard, base: SizedPiece) -> FlatFold | Diagnostic:
    odd = unfoldable(base)
    if odd:
        return idle_or_loose(base, odd)
    flat = flat_fold(base, closed_pose(card))
    return cannot_fold(card, base, flat) if isinstance(flat, CannotFold) else flat


def _thickest(card: SizedCard, closed: Sequence[Sequence[Layer]]) -> Thickness | None:
    """Give the thickness of the thickest base."""
    every = [closed_thickness(card, pile) for pile in closed]
    return max(every, key=lambda each: each.likely_mm, default=None)
