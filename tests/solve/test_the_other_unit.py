"""How numbers are moved where sections would no longer agree in the other unit system: the cheapest first."""

from fractions import Fraction

from cardrecipe.model.lengths import GRID
from cardrecipe.solve.other_unit import _moves
from cardrecipe.syntax.spans import Span

F = Fraction
WIDE, NARROW = Span("a", 0, 1), Span("a", 2, 3)
EXACT = {WIDE: F(635, 10), NARROW: F(102, 10)}  # mm: rounded to 64 and 10


def cost(move: dict[Span, int]) -> Fraction:
    """How far its numbers are moved from where they exactly are, in mm."""
    rounded = {WIDE: 64, NARROW: 10}
    return sum((abs(rounded[span] + by * GRID["mm"] - EXACT[span]) for span, by in move.items()), F(0))


def test_one_number_is_moved_before_two_and_a_little_before_much() -> None:
    moves = list(_moves(EXACT, "mm"))
    single, double = moves[:8], moves[8:]
    assert {len(each) for each in single} == {1} and {len(each) for each in double} == {2}
    for group in (single, double):
        assert [cost(each) for each in group] == sorted(map(cost, group))
    assert single[0] == {WIDE: -1}  # 63 is as near as 64


def test_every_number_is_moved_by_a_mark_and_by_two_both_ways() -> None:
    moves = list(_moves(EXACT, "mm"))
    alone = [each for each in moves if len(each) == 1]
    for span in EXACT:
        assert sorted(each[span] for each in alone if span in each) == [-2, -1, 1, 2]
    assert len(moves) == len(alone) + 16
