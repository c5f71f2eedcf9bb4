"""What can be lifted off a face of the card, level by level: from the sheet up to what lies on top of all."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from cardrecipe.fold.folded import Outline
from cardrecipe.fold.geometry import bounding_box
from cardrecipe.fold.outlines import laid
from cardrecipe.fold.stack import Layer
from cardrecipe.fold.stages import Stages
from cardrecipe.solve.sized import SizedCard

Corners = tuple[Fraction, Fraction, Fraction, Fraction]


def levels_on(stages: Stages, card: SizedCard, view: str) -> tuple[tuple[Layer, ...], ...]:
    """Give the layers of a view, "closed-front" or "open-inside", by level, the sheet first.

    To it belong the sections that are seen, the pieces that are seen, and what lies right under those; of a
    band the half that is on the front. A
    piece is one level above the highest that it lies over, and so is a section that is folded over pieces.
    """
    every = frozenset(piece.name for piece in card.pieces)
    seen = stages.seen(view, every)
    sections = {part.section for part in seen.parts if part.piece == stages.base}
    shown = _with_what_is_under(card, {part.piece for part in seen.parts if part.section is None})
    pile = [
        layer for layer in stages.layers(view, every)
        if (layer.section in sections if layer.piece.name == stages.base else layer.piece.name in shown)
        and not (layer.piece.around and not layer.is_face_up)
    ]  # fmt: skip
    return _sorted(pile)


def _with_what_is_under(card: SizedCard, shown: set[str]) -> set[str]:
    """Add the hosts and the mats of pieces, as far down as they go."""
    found = set(shown)
    waiting = list(shown)
    while waiting:
        piece = card.piece(waiting.pop())
        hosts = {place.host_piece for place in piece.placements}
        under = {name for name in hosts if card.piece(name).kind != "base"}
        under |= {mat.name for mat in card.pieces if mat.under == piece.name}
        waiting += under - found
        found |= under
    return found


def _sorted(pile: Sequence[Layer]) -> tuple[tuple[Layer, ...], ...]:
    """Sort a pile into levels. What peeps out from behind the sheet lies on nothing and is left out."""
    levels: list[list[Layer]] = [[]]
    known: list[tuple[Layer, int, Corners]] = []
    for layer in pile:
        box = _box(layer)
        under = [(below, level) for below, level, other in known if _meet(box, other)]
        if layer.section is not None and layer.piece.kind == "base":
            under = [(below, level) for below, level in under if below.section is None]
        elif not under:
            continue
        level = 1 + max((level for _, level in under), default=-1)
        known.append((layer, level, box))
        while len(levels) <= level:
            levels.append([])
        levels[level].append(layer)
    return tuple(map(tuple, levels))


def _box(layer: Layer) -> Corners:
    outline: Outline = layer.outline if layer.section is not None else laid(layer.piece, layer.outline)
    box = bounding_box(outline)
    return Fraction(box.left), Fraction(box.top), Fraction(box.right), Fraction(box.bottom)


def _meet(one: Corners, other: Corners) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
