"""Glue zones narrower than the marks of the maker's ruler."""

from fractions import Fraction

import pytest

from cardrecipe.fold.folded import GlueZone
from cardrecipe.fold.zone_words import part_in_words
from tests.hand_made import gate, piece, placed

F = Fraction


@pytest.mark.parametrize(("start", "end", "words"), [
    # Moved inwards to marks of 1/16 nothing would be left of them.
    (F(65, 64), F(66, 64), "between 1 1/64 in and 1 1/32 in"),
    (F(63, 64), F(65, 64), "between 63/64 in and 1 1/64 in"),
    # These hold more than one mark.
    (F(31, 32), F(35, 32), "between 1 in and 1 1/16 in"),
])  # fmt: skip
def test_a_strip_between_two_marks_is_told_as_it_is(start: Fraction, end: Fraction, words: str) -> None:
    card = gate(piece("plate", "panel", "white", (4, 2), placed("back", (5, 7), (4, 2))))
    nil, wide, high = F(0), F(4), F(2)
    for edge, ring in (
        ("top", ((nil, start), (wide, start), (wide, end), (nil, end))),
        ("left", ((start, nil), (end, nil), (end, high), (start, high))),
    ):
        said = part_in_words(card, card.piece("plate"), GlueZone("plate", 0, "back", (ring,)))
        plain = " ".join(said.replace("⁄", "/").split())
        assert plain == f"the strip of it {words} from its {edge} edge"
