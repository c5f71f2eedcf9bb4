"""Which faces of the card carry so many layers that a picture of them drawn apart is worth its room."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.fold.levels import levels_on
from cardrecipe.fold.stack import Layer
from cardrecipe.fold.stages import Stages, stages_of
from cardrecipe.plan.words import spoken

LEAST_LEVELS = 3
FACES = {"closed-front": "The layers of the front", "open-inside": "The layers inside"}


class Layers(NamedTuple):
    """The layers of one face of a base, the sheet first; `picture` names their drawing."""

    picture: str
    caption: str
    base: str
    levels: tuple[tuple[Layer, ...], ...]


def stacked_layers(folded: FoldedCard, stages: Sequence[Stages] | None = None) -> tuple[Layers, ...]:
    """The front and the inside of each base, where at least three layers lie on each other; `stages` are
    the card's where they are known."""
    for card, found in _known:
        if card is folded:
            return found
    found = tuple(_found(folded, stages_of(folded) if stages is None else stages)) if _may_be(folded) else ()
    _known.append((folded, found))
    return found


# What was found for the last cards: every page asks for its own, and a card never changes.
_known: deque[tuple[FoldedCard, tuple[Layers, ...]]] = deque(maxlen=4)


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
                yield Layers(own, f"{caption}{of}", stages.base, levels)
