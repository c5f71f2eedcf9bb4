"""A sized card → the card as an object: closed, seen from every side, as thick as it will be.

This stage knows no recipe text but the spans it hands on, no steps and no drawing.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from cardrecipe.fold.assembly import Assembly, CannotAssemble, folded_together
from cardrecipe.fold.checks import checks
from cardrecipe.fold.closed import (
    CannotFold,
    FlatFold,
    closed_base,
    closed_pose,
    flat_fold,
    unfoldable,
)
from cardrecipe.fold.cover import as_rectangle
from cardrecipe.fold.folded import GLUE_MARGIN, WIDE_ENOUGH, FoldedCard, Thickness
from cardrecipe.fold.placing import placed_pieces
from cardrecipe.fold.refusals import cannot_assemble, cannot_fold, idle_or_loose
from cardrecipe.fold.sheets import is_sheet
from cardrecipe.fold.stack import Layer, closed_pile, open_pile
from cardrecipe.fold.thickness import closed_thickness
from cardrecipe.fold.views import views
from cardrecipe.solve.sized import Placement, Pose, SizedCard, SizedPiece
from cardrecipe.syntax.diagnostics import Diagnostic

if TYPE_CHECKING:
    from cardrecipe.fold.glue import Gluing


def fold(card: SizedCard) -> tuple[FoldedCard, list[Diagnostic]]:
    """Fold every base shut and look at it from each side; a base that cannot be folded is left out.

    Without a base, or where none can be folded, there are no views and no thickness. Glue is looked
    at apart, in `glued`.
    """
    flats, refusals = _flat_folds(card)
    assemblies, more = _assemblies(card, flats)
    closed = [closed_pile(each) for each in assemblies]
    folded = FoldedCard(
        card,
        tuple(closed_base(each.flat) for each in assemblies),
        tuple(
            view
            for each, shut in zip(assemblies, closed, strict=True)
            for view in views(each, shut, open_pile(each.flat, placed_pieces(card, each.flat)), card.papers)
        ),
        _thickest(card, closed),
    )
    warnings = [warning for flat in flats for check in checks for warning in check(card, flat)]
    return folded, [*refusals, *more, *_odd_poses(card, assemblies), *warnings]


def _odd_poses(card: SizedCard, assemblies: Sequence[Assembly]) -> list[Diagnostic]:
    if not card.poses:
        return []
    from cardrecipe.fold.poses import pose_mistakes  # most cards are only closed and opened

    return list(pose_mistakes(card, assemblies))


def glued(folded: FoldedCard) -> tuple[FoldedCard, list[Diagnostic]]:
    """The same card with the safe zone of every glued piece, and what its glue would lock."""
    found = _gluings(folded)
    zones = tuple(each.zone for _, of_base in found for each in of_base if each.has_body)
    return folded._replace(zones=zones), _mistakes(folded, found)


def what_glue_locks(folded: FoldedCard) -> list[Diagnostic]:
    """Say what the glue of a card would lock or not hold, as `glued` does; zones take longer."""
    if not may_lock(folded.card):
        return []
    return _mistakes(folded, _gluings(folded))


def _gluings(folded: FoldedCard) -> list[tuple[FlatFold, tuple[Gluing, ...]]]:
    from cardrecipe.fold.glue import gluings  # only those who ask about glue pay for it

    assemblies, _ = _assemblies(folded.card, _flat_folds(folded.card)[0])
    found = []
    for each, base in zip(assemblies, folded.closed, strict=True):
        placed = placed_pieces(folded.card, each.flat)
        piles = closed_pile(each), open_pile(each.flat, placed)
        found.append((each.flat, gluings(folded.card, each.flat, base, placed, piles)))
    if any(piece.loose and not piece.placements for piece in folded.card.pieces):
        from cardrecipe.fold.loose_roots import loose_gluings

        found += loose_gluings(folded.card)
    return found


def _mistakes(
    folded: FoldedCard, found: Sequence[tuple[FlatFold, Sequence[Gluing]]]
) -> list[Diagnostic]:
    from cardrecipe.fold.glue_checks import glue_mistakes

    return [each for flat, of_base in found for each in glue_mistakes(folded.card, flat, of_base)]


def may_lock(card: SizedCard) -> bool:
    """Tell quickly whether there is anything to look at: False where nothing can be glued wrong.

    That is so where every piece lies within its host, or on a band reaches beyond it without leaving
    it, and no line says where the glue goes.
    """
    return any(
        _is_told_where(piece) or any(_is_loose_fit(card, piece, at) for at in range(len(piece.placements)))
        for piece in card.pieces
    )


def _is_told_where(piece: SizedPiece) -> bool:
    glue = piece.glue
    told = glue is not None and bool(glue.all_over or glue.along or glue.only_on)
    return told or bool(piece.joins) or (piece.loose and bool(piece.placements))


def _is_loose_fit(card: SizedCard, piece: SizedPiece, at: int) -> bool:
    """Tell whether a copy reaches beyond its host, or lies on a base as a whole, across its scores."""
    placement = piece.placements[at]
    host = card.piece(placement.host_piece)
    if host.kind == "base" and not placement.is_section and len(host.sections) > 1:
        return True
    if piece.outline is not None and min(placement.border) >= 0 and not host.windows:
        return False  # drawn in from the outline of its host
    if host.windows or _is_behind(host, piece, placement) or _has_odd_outline(host, placement):
        return True
    # A turned piece reaches beyond its frame by less than half its longer side.
    spare = max(piece.width, piece.height) / 2 if piece.turned else 0
    if min(placement.border) >= spare:
        return False
    left, right, top, bottom = (min(edge, Fraction(0)) for edge in placement.border)
    on_host = min(piece.width + left + right, piece.height + top + bottom)
    is_held = on_host >= WIDE_ENOUGH * GLUE_MARGIN[card.unit] and not piece.turned
    return not is_held or not _is_on_band(card, host)


def _is_behind(host: SizedPiece, piece: SizedPiece, placement: Placement) -> bool:
    """Tell whether a piece may lie wholly on the ends of a band, which are behind the card."""
    if host.around is None:
        return False
    length, at, own = host.width, placement.x, piece.width
    if host.around.downward:
        length, at, own = host.height, placement.y, piece.height
    hidden = (length - host.around.wrap / 2) / 2
    return at + own <= hidden + own / 2 or at >= length - hidden - own / 2


def _has_odd_outline(host: SizedPiece, placement: Placement) -> bool:
    """Tell whether a piece is on a section that does not fill the box that it is measured in."""
    outlines = [section.outline for section in host.sections if section.name == placement.host]
    outlines += [host.outline] if host.outline is not None else []
    return any(len(outline) != 4 or as_rectangle(outline) is None for outline in outlines)


def _is_on_band(card: SizedCard, piece: SizedPiece) -> bool:
    while piece.placements:
        piece = card.piece(piece.placements[0].host_piece)
    return piece.around is not None


def pose_for_tabs(folded: FoldedCard, base: str) -> Pose | None:
    """Give the pose in which a base's own tabs are glued; None where that is done as it lies closed."""
    from cardrecipe.fold.join_checks import pose_to_glue_in  # for a sheet, not for a check

    every, _ = _assemblies(folded.card, _flat_folds(folded.card)[0])
    shut = next((each for each in every if each.piece.name == base), None)
    return pose_to_glue_in(folded.card, shut) if shut is not None else None


class ShutBase(NamedTuple):
    """The size of a base folded shut, in the card's unit."""

    base: str
    width: Fraction
    height: Fraction


def folded_shut(card: SizedCard) -> tuple[tuple[ShutBase, ...], list[Diagnostic]]:
    """Fold every base shut only to measure it; what cannot be folded is refused as `fold` does."""
    flats, refusals = _flat_folds(card)
    if any(is_sheet(piece) for piece in card.pieces):
        together = [folded_together(card, flat) for flat in flats]
        flats = [each.flat for each in together if isinstance(each, Assembly)] or flats
    return tuple(ShutBase(flat.piece.name, flat.width, flat.height) for flat in flats), refusals


def thickness_of(card: SizedCard) -> Thickness | None:
    """The closed thickness of the thickest base, bands and what is on them included."""
    assemblies, _ = _assemblies(card, _flat_folds(card)[0])
    return _thickest(card, [closed_pile(each) for each in assemblies])


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


def _assemblies(card: SizedCard, flats: Sequence[FlatFold]) -> tuple[list[Assembly], list[Diagnostic]]:
    """Fold each base shut with the sheets that are glued to it; where they cannot, it is refused."""
    found: list[Assembly] = []
    odd = ((piece, unfoldable(piece)) for piece in card.pieces if is_sheet(piece))
    refusals = [idle_or_loose(piece, why) for piece, why in odd if why]
    for flat in flats:
        shut = folded_together(card, flat)
        if isinstance(shut, Assembly):
            found.append(shut)
            refusals += _badly_joined(card, shut) if shut.welds else []
        else:
            refusals += _torn_apart(shut)
    if any(piece.joins for piece in card.pieces):
        from cardrecipe.fold.join_checks import glued_elsewhere

        refusals += glued_elsewhere(card)
    return found, refusals


def _badly_joined(card: SizedCard, shut: Assembly) -> list[Diagnostic]:
    from cardrecipe.fold.join_checks import held_scores, laid_beside, never_met  # only glued sections need it

    return [*laid_beside(shut), *never_met(card, shut), *held_scores(card, shut)]


def _torn_apart(shut: CannotAssemble) -> list[Diagnostic]:
    from cardrecipe.fold.join_checks import laid_beside

    return list(laid_beside(shut.layout)) or [cannot_assemble(shut)]


def _thickest(card: SizedCard, closed: Sequence[Sequence[Layer]]) -> Thickness | None:
    """Give the thickness of the thickest base."""
    every = [closed_thickness(card, pile) for pile in closed]
    return max(every, key=lambda each: each.likely_mm, default=None)
