"""How the card has to lie for a piece that goes on its outside: a reader has it open, inside up."""

from __future__ import annotations

from cardrecipe.fold.closed import in_reach
from cardrecipe.fold.folded import ClosedBase, FoldedCard
from cardrecipe.fold.geometry import signed_area
from cardrecipe.plan.wording import say
from cardrecipe.solve.sized import SizedPiece


def facing(folded: FoldedCard, piece: SizedPiece) -> str:
    """`Close the card and lay it front up, the fold at the top.`; "" for a piece on an inside."""
    base, view = facing_view(folded, piece)
    if view not in SAID:
        return ""
    closed = next(each for each in folded.closed if each.base == base)
    return say(SAID[view], fold=_fold(folded, closed, view))


SAID = {"closed-front": "place/front", "closed-back": "place/behind", "open-outside": "place/over"}


def facing_view(folded: FoldedCard, piece: SizedPiece) -> tuple[str, str]:
    """The base that a placed piece lies on itself, and the view of it that a maker has before her; ("", "")
    where it lies on no base, or on several."""
    outside = {placement.host for placement in piece.placements
               if placement.is_section and placement.side == "outside"}  # fmt: skip
    hosts = {placement.host_piece for placement in piece.placements}
    bases = [closed for closed in folded.closed if closed.base in hosts]
    if len(bases) != 1:
        return "", ""
    if not outside:
        return bases[0].base, "open-inside"
    for view in ("closed-front", "closed-back"):
        if outside <= _outsides(folded, bases[0], view):
            return bases[0].base, view
    return bases[0].base, "open-outside"


def _outsides(folded: FoldedCard, base: ClosedBase, view: str) -> set[str]:
    """The sections whose whole outside is seen: a flap that lies over part of one is in the way."""
    whole = {each.name: abs(signed_area(each.outline)) for each in folded.card.piece(base.base).sections}
    rows = in_reach(folded.card, base)
    return {section for name, section, side, areas in rows
            if (name, side) == (view, "outside")
            and sum(abs(signed_area(area)) for area in areas) == whole[section]}  # fmt: skip


def _fold(folded: FoldedCard, base: ClosedBase, view: str) -> str:
    """Where the only fold of a card is to be; "" for a card with several."""
    scores = [score for score in folded.card.piece(base.base).scores if score.direction != "slit"]
    if len(scores) != 1 or scores[0].axis not in ("x", "y"):
        return ""
    if scores[0].axis == "y":
        return ", the fold at the top"
    return ", the fold at the left" if view == "closed-front" else ", the fold at the right"
