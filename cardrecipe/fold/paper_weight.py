"""How thick a paper is and what the card weighs, from what the packets say: grammage or caliper."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from cardrecipe.library.basis_weights import grams_per_square_metre
from cardrecipe.model.lengths import to_mm
from cardrecipe.model.papers import Paper
from cardrecipe.solve.sized import SizedCard, SizedPiece

MM_PER_METRE = 1000

# Bulk in cm3/g, likely, least and most: smooth coated card 0.8 to 1.0, uncoated 1.2 to 1.5, from
# memory; a merchant's chart gives 1.20 to 1.40 for uncoated sheets. Acetate: the film's density.
BULK = (Fraction(5, 4), Fraction(4, 5), Fraction(3, 2))
BULK_OF_FILM = (Fraction(77, 100), Fraction(7, 10), Fraction(4, 5))

# Ellipses are measured with this; it is right to three parts in ten million.
PI = Fraction(355, 113)


class Caliper(NamedTuple):
    """A paper's thickness in mm with its range; `estimated` where it was not written down."""

    likely_mm: Fraction
    least_mm: Fraction
    most_mm: Fraction
    estimated: bool


# Caliper in mm by kind alone, likely, least and most. From memory, for want of anything better.
BY_KIND = {
    "cardstock": (Fraction(30, 100), Fraction(20, 100), Fraction(45, 100)),
    "patterned": (Fraction(20, 100), Fraction(10, 100), Fraction(30, 100)),
    "plain": (Fraction(10, 100), Fraction(8, 100), Fraction(14, 100)),
    "vellum": (Fraction(10, 100), Fraction(6, 100), Fraction(16, 100)),
    "acetate": (Fraction(15, 100), Fraction(8, 100), Fraction(30, 100)),
}


def caliper(paper: Paper | None, unit: str) -> Caliper:
    """Give a paper's thickness: as written, else grammage times bulk, else by its kind alone.

    mm = gsm x bulk / 1000, which is the definition of bulk. A piece without a paper counts as card.
    """
    if paper is not None and paper.thick is not None:
        thick = to_mm(paper.thick, unit)
        return Caliper(thick, thick, thick, estimated=False)
    if paper is not None and paper.weight is not None:
        gsm = grams_per_square_metre(paper.weight)
        bulk = BULK_OF_FILM if paper.kind == "acetate" else BULK
        likely, least, most = (gsm * each / 1000 for each in bulk)
        return Caliper(likely, least, most, estimated=True)
    kind = paper.kind if paper is not None else "cardstock"
    return Caliper(*BY_KIND[kind], True)


def weight_in_grams(card: SizedCard) -> Fraction | None:
    """Give the mass of one card's papers; None where a paper's weight is not known.

    Glue, foam and what is added are not counted, nor what slits, windows and rounded corners take
    away; tags, banners and cutouts count as their full rectangle.
    """
    total = Fraction(0)
    for piece in card.pieces:
        paper = card.papers.get(piece.paper or "")
        if paper is None or paper.weight is None:
            return None
        metres = to_mm(Fraction(1), card.unit) / MM_PER_METRE
        total += _area(piece) * piece.count * metres**2 * grams_per_square_metre(paper.weight)
    return total


def _area(piece: SizedPiece) -> Fraction:
    is_round = piece.kind in ("circle", "oval")
    return piece.width * piece.height * (PI / 4 if is_round else 1)
