"""Pieces on something loose that lies on no base → where their glue is safe: on what carries them."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardrecipe.fold.closed import FlatFold, closed_base, flat_fold
from cardrecipe.fold.glue import Gluing, gluings
from cardrecipe.fold.outlines import own_outline
from cardrecipe.fold.placing import placed_pieces
from cardrecipe.fold.stack import open_pile
from cardrecipe.solve.sized import SizedCard, SizedPiece, SizedSection

ABSENT = -1  # a copy that is not on the sheet


def loose_gluings(card: SizedCard) -> Iterator[tuple[FlatFold, tuple[Gluing, ...]]]:
    """Give what is glued on each loose piece that lies on nothing, as on a sheet without a fold."""
    hosts = {placement.host_piece for piece in card.pieces for placement in piece.placements}
    for root in card.pieces:
        is_root = root.kind != "base" and not root.placements and root.around is None
        if not is_root or root.name not in hosts or root.scores:
            continue
        flat = flat_fold(_as_sheet(root))
        assert isinstance(flat, FlatFold)  # without a score there is nothing that could not be folded
        yield from ((flat, _on_copy(card, flat, copy)) for copy in range(root.count))


def _on_copy(card: SizedCard, flat: FlatFold, copy: int) -> tuple[Gluing, ...]:
    """Give what is glued on one of several that are alike."""
    sheet = flat.piece
    pieces = tuple(sheet if each.name == sheet.name else _seen_from(each, sheet.name, copy)
                   for each in card.pieces)  # fmt: skip
    alone = card._replace(pieces=pieces, poses=())
    placed = placed_pieces(alone, flat)
    pile = open_pile(flat, placed)
    return gluings(alone, flat, closed_base(flat), placed, (pile, pile))


def _seen_from(piece: SizedPiece, host: str, copy: int) -> SizedPiece:
    """Give a piece with the copy of its host that is looked at as the first, and no other."""
    placements = tuple(
        each._replace(host_copy=0 if each.host_copy == copy else ABSENT) if each.host_piece == host else each
        for each in piece.placements
    )
    return piece._replace(placements=placements)


def _as_sheet(root: SizedPiece) -> SizedPiece:
    """Give a piece as a base of one section, which has the piece's own outline."""
    nil = Fraction(0)
    whole = SizedSection(root.name, nil, nil, root.width, root.height, own_outline(root))
    return root._replace(kind="base", sections=(whole,), loose=False, turned=nil)
