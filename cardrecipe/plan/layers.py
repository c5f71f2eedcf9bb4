"""Which faces of the card carry so many layers that a picture of them drawn apart is worth its room."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.fold.levels import levels_on
from cardrecipe.fold.stack import Layer
from cardrecipe.fold.stages import Stages, stages_of
from cardrecipe.model.remembered import once_for_each
from cardrecipe.plan.words import listed, spoken, the_count_of
from cardrecipe.solve.sized import Placement, SizedPiece

LEAST_LEVELS = 3
FACES = {"closed-front": "The layers of the front", "open-inside": "The layers inside"}


class Layers(NamedTuple):
    """The layers of one face of a base, the sheet first; `picture` names their drawing. `elsewhere` says
    which pieces are not in it since they lie inside: "inside, and so not in it: the message"."""

    picture: str
    caption: str
    base: str
    levels: tuple[tuple[Layer, ...], ...]
    elsewhere: str = ""


@once_for_each
def stacked_layers(folded: FoldedCard) -> tuple[Layers, ...]:
    """The front and the inside of each base, where at least three layers lie on each other."""
    return tuple(_found(folded, stages_of(folded))) if _may_be(folded) else ()


def _may_be(folded: FoldedCard) -> bool:
    """True where something lies on a piece, on a band, under another, or on a face with another: quick, and
    most often enough."""
    card = folded.card
    if any(piece.around is not None or piece.under is not None for piece in card.pieces):
        return True
    places = {(piece.name, place.host, place.side, place.host_piece)
              for piece in card.pieces for place in piece.placements}  # fmt: skip
    faces = Counter((host, side) for _, host, side, _ in places)
    return any(count > 1 for count in faces.values()) or any(
        card.piece(host_piece).kind != "base" for *_, host_piece in places
    )


def _found(folded: FoldedCard, every: Sequence[Stages]) -> Iterator[Layers]:
    for index, stages in enumerate(every):
        for view, caption in FACES.items():
            levels = levels_on(stages, folded.card, view)
            if len(levels) >= LEAST_LEVELS:
                name = "layers" if view == "closed-front" else "layers-inside"
                of = "" if index == 0 else f": {spoken(stages.base)}"
                own = name if index == 0 else f"{name}-{stages.base}"
                inside = _inside(folded, levels) if view == "closed-front" and len(every) == 1 else ""
                yield Layers(own, f"{caption}{of}", stages.base, levels, inside)


def _inside(folded: FoldedCard, levels: Sequence[Sequence[Layer]]) -> str:
    """The pieces inside, which nobody finds in a picture of the front."""
    shown = {layer.piece.name for level in levels for layer in level}
    names = [the_count_of(piece.name, piece.count) for piece in folded.card.pieces
             if piece.placements and piece.name not in shown and all(
                 place.side == "inside" for place in _on_base(folded, piece))]  # fmt: skip
    return f"inside, and so not in it: {listed(names)}" if names else ""


def _on_base(folded: FoldedCard, piece: SizedPiece) -> Sequence[Placement]:
    """Where it lies on a base, or where what it lies on does."""
    while piece.placements and not any(place.is_section for place in piece.placements):
        piece = folded.card.piece(piece.placements[0].host_piece)
    return piece.placements
