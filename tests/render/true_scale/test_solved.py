"""The two ways in which the tests work out a piece agree: its area by formula and its outline by points."""

import pytest

from tests.render.true_scale import cards, solved


@pytest.mark.parametrize("name", [piece.name for piece in cards.all_shapes().pieces])
def test_area_and_outline(name: str) -> None:
    card = cards.all_shapes()
    piece = card.piece(name)
    assert solved.paper(piece, card.unit).area == pytest.approx(solved.cut_area(piece, card.unit), rel=1e-5)
