"""What can be lifted off a face of a card: the sheet first, then each level of what lies on it."""

from cardrecipe.fold.card import fold
from cardrecipe.fold.levels import levels_on
from cardrecipe.fold.stages import stages_of
from cardrecipe.solve.sized import SizedCard
from tests.hand_made import piece, placed, side_fold
from tests.plan.cards import FRONT, matted


def names(card: SizedCard, view: str) -> list[list[str]]:
    """What is on each level, a section by its own name."""
    (stages,) = stages_of(fold(card)[0])
    return [sorted(layer.section or layer.piece.name for layer in level)
            for level in levels_on(stages, card, view)]  # fmt: skip


def test_on_the_closed_front_lies_what_is_glued_to_the_front() -> None:
    photo = piece("photo", "panel", "white", (3, 4), placed("front", FRONT, (3, 4), side="outside"))
    star = piece("star", "circle", "glow", (1, 1),
                 placed("photo", (3, 4), (1, 1), host_piece="photo", is_section=False))  # fmt: skip
    message = piece("message", "panel", "white", (3, 4), placed("back", FRONT, (3, 4)))
    card = side_fold(photo, star, message)
    assert names(card, "closed-front") == [["front"], ["photo"], ["star"]]
    assert names(card, "open-inside") == [["back", "front"], ["message"]]


def test_a_mat_is_a_level_though_the_piece_on_it_hides_it() -> None:
    assert names(matted(), "open-inside") == [["back", "front"], ["mat"], ["message"]]
    assert names(matted(), "closed-front") == [["front"]]


def test_what_is_hidden_all_over_is_a_level_only_where_something_seen_lies_on_it() -> None:
    """Of two panels of one size the upper is seen; the lower is not its mat, so it is not asked about."""
    low, high = (piece(name, "panel", "white", (3, 4), placed("back", FRONT, (3, 4)))
                 for name in ("low", "high"))  # fmt: skip
    assert names(side_fold(low, high), "open-inside") == [["back", "front"], ["high"]]


def test_pieces_beside_each_other_share_a_level() -> None:
    left, right = (piece(name, "panel", "white", (1, 4), placed("back", FRONT, (1, 4), at=(at, 0)))
                   for name, at in (("left", 0), ("right", 2)))  # fmt: skip
    assert names(side_fold(left, right), "open-inside") == [["back", "front"], ["left", "right"]]
