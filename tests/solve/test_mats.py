"""Mats under mats: what they cost grows as they do, and the card may have as many as it has pieces."""

from fractions import Fraction

from cardrecipe.solve.assemble import assembled
from cardrecipe.solve.sized import SizedCard
from tests.counted import calls
from tests.recipes import HEAD, compile_text


def _mats(number: int) -> str:
    """A panel and its mats, each reaching a little beyond the one above."""
    first = f"{HEAD}base card from ink\n  flat 12 x 8\n  score 6 from left\n  sections front, back\n"
    panel = "panel mat-0 from ink on back\n  size 1 x 1\n  place 1 from left, 1 from top\n"
    return first + panel + "".join(
        f"panel mat-{at} from ink under mat-{at - 1}\n  border 1/4096\n" for at in range(1, number)
    )  # fmt: skip


def _card(number: int) -> SizedCard:
    folded = compile_text(_mats(number)).folded
    assert folded is not None
    return folded.card


def test_each_mat_lies_where_all_above_it_leave_it() -> None:
    card = _card(5)
    at = {piece.name: piece.placements[0] for piece in card.pieces if piece.placements}
    assert (at["mat-4"].host_piece, at["mat-4"].border.left) == ("card", 1 - Fraction(4, 4096))
    assert all(at[f"mat-{each}"].host_piece == f"mat-{each + 1}" for each in range(4))
    assert {at[f"mat-{each}"].border.left for each in range(4)} == {Fraction(1, 4096)}


def test_four_times_as_many_mats_cost_little_more_than_four_times() -> None:
    few, many = (compile_text(_mats(number)).solution for number in (50, 200))
    assert few is not None and many is not None
    assert calls(lambda: assembled(many)) < 5 * calls(lambda: assembled(few))


def test_there_may_be_more_mats_than_calls_may_be_deep() -> None:
    assert len(_card(1_100).pieces) == 1_101
