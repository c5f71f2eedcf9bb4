"""The pictures that steps ask for are drawn: the names are agreed between the two stages."""

import pytest

from cardrecipe.render.drawings.index import drawings
from cardrecipe.solve.sized import SizedCard
from tests.plan.cards import every_card, folded, steps_of


@pytest.mark.parametrize("card", every_card(), ids=lambda card: card.title)
def test_every_picture_is_drawn(card: SizedCard) -> None:
    drawn = drawings(folded(card))
    asked = [step.picture for step in steps_of(card) if step.picture]
    assert asked and [name for name in asked if name not in drawn] == []
