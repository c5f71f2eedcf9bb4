"""Where the copies of a piece go, as numbers."""

from fractions import Fraction

from cardrecipe.plan.places import spots
from cardrecipe.solve.sized import Edges
from tests.hand_made import piece, placed, side_fold
from tests.plan.cards import FRONT

F = Fraction


def test_what_shows_round_each_of_several_copies_is_measured_on_their_section() -> None:
    """The back is 4 1/4 wide and 5 1/2 high; the whole sheet is 8 1/2 wide."""
    places = [placed("back", FRONT, (1, 1), at=at) for at in (("1/4", "1/2"), (2, 4))]
    card = side_fold(piece("tile", "square", "white", (1, 1), *places))
    assert [spot.border for spot in spots(card, card.piece("tile"))] == [
        Edges(F(1, 4), F(3), F(1, 2), F(4)), Edges(F(2), F(5, 4), F(4), F(1, 2)),
    ]  # fmt: skip
