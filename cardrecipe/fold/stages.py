"""A base while the card is being made: the views of it with only some of its pieces in place."""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.folded import FoldedCard, View
from cardrecipe.fold.placing import placed_pieces
from cardrecipe.fold.space import shut_card
from cardrecipe.fold.stack import Layer, closed_pile, open_pile
from cardrecipe.fold.views import seen_of
from cardrecipe.model.papers import Paper
from cardrecipe.model.remembered import once_for_each


class Stages(NamedTuple):
    """A base folded shut and laid open with all that comes on it."""

    base: str
    shut: Assembly
    closed: tuple[Layer, ...]
    opened: tuple[Layer, ...]
    papers: dict[str, Paper]

    def seen(self, name: str, done: Collection[str]) -> View:
        """Give a view, named as those of the finished card, with only the pieces of these names."""
        return seen_of(name, self.shut, [*self.layers(name, done)], self.papers)

    def layers(self, name: str, done: Collection[str]) -> tuple[Layer, ...]:
        """Give what lies in that view, from the bottom to the top as the card lies front up, or inside up."""
        pile = self.closed if name.startswith("closed") else self.opened
        return tuple(layer for layer in pile if layer.piece.name == self.base or layer.piece.name in done)


@once_for_each
def stages_of(folded: FoldedCard) -> tuple[Stages, ...]:
    """Give the stages of every base that has a closed form."""
    found = []
    for closed in folded.closed:
        shut = shut_card(folded.card, closed.base)
        assert shut is not None  # it has been folded shut before
        opened = open_pile(shut.flat, placed_pieces(folded.card, shut.flat))
        found.append(Stages(closed.base, shut, closed_pile(shut), opened, folded.card.papers))
    return tuple(found)
