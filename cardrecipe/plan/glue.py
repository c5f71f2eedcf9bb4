"""How each piece is fixed: the adhesive the recipe names or, where it names none, a fitting one."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.lengths import to_mm
from cardrecipe.model.work import Glue
from cardrecipe.plan.words import bought_length
from cardrecipe.solve.sized import SizedCard, SizedPiece

# Below this side (about 1 1/4 in) strips of tape hardly fit: common practice, no published source.
SMALL_MM = 32
CUT_TO_SHAPE = ("die", "punch", "trim")
ROUNDISH = ("circle", "oval", "banner", "tag", "cutout")


class Fixing(NamedTuple):
    """`method` chooses the wording; `adhesive` is what the supply list calls it ("" for none)."""

    method: str  # "tape" | "liquid" | "dots" | "foam" | "own" | "loose"
    adhesive: str
    thick: Fraction | None = None


def fixing(card: SizedCard, piece: SizedPiece) -> Fixing:
    """How `piece` is fixed. A base, and a loose piece, is not."""
    if piece.loose or not (piece.placements or piece.around or piece.joins):
        return Fixing("loose", "")
    glue = piece.glue
    method = (glue.adhesive if glue else None) or _fitting(card, piece)
    thick = glue.thick if glue else None
    if method not in ADHESIVE_TITLES:
        return Fixing("own", method, thick)
    title = ADHESIVE_TITLES[method]
    return Fixing(
        method, f"{title}, {bought_length(thick, card.unit)} thick" if thick else title, thick
    )


def is_raised(piece: SizedPiece) -> bool:
    """True where foam lifts the piece off its host."""
    return piece.glue is not None and (
        piece.glue.adhesive == "foam" or piece.glue.thick is not None
    )


def is_cut_to_shape(piece: SizedPiece) -> bool:
    """True where a die, a punch or scissors give the piece its outline."""
    return piece.kind in ROUNDISH or any(work.verb in CUT_TO_SHAPE for work in piece.works)


ADHESIVE_TITLES = {
    "tape": "Double-sided tape",
    "liquid": "Liquid glue",
    "dots": "Glue dots",
    "foam": "Foam tape or foam pads",
}


def _fitting(card: SizedCard, piece: SizedPiece) -> str:
    """Tape for flat panels and bands, liquid glue for small and shaped pieces and whole faces."""
    if piece.kind == "band":
        return "tape"
    glue: Glue | None = piece.glue
    small = to_mm(min(piece.width, piece.height), card.unit) < SMALL_MM
    if (glue and glue.all_over) or is_cut_to_shape(piece):
        return "liquid"
    if small and piece.kind != "panel":
        return "liquid"
    return "tape"
