"""The score guide: every number from one end, and the short way where there is one."""

from fractions import Fraction

import pytest

from cardrecipe.plan.fold_steps import score_step
from cardrecipe.plan.scores import score_guides
from cardrecipe.plan.sheet import ScoreGuide
from tests.hand_made import double_gate, rolled_trifold, strip_card, tent
from tests.plan.test_steps import plain
from tests.recipes import compile_text


def guide(lengths: list[Fraction | int | str], axis: str = "x", unit: str = "inch") -> ScoreGuide:
    card = strip_card(lengths, "V" * (len(lengths) - 1), axis=axis, unit=unit)
    (found,) = score_guides(card)
    return found


def test_the_double_gate_has_the_same_two_numbers_from_each_end() -> None:
    # Common practice, no published source: 11 in scored at 1 1/4 and 3 3/8 from both ends.
    (found,) = score_guides(double_gate())
    assert [plain(line.at) for line in found.lines] == ["1 1/4", "3 3/8", "7 5/8", "9 3/4"]
    assert [plain(line.from_other_end) for line in found.lines] == [
        "9 3/4",
        "7 5/8",
        "3 3/8",
        "1 1/4",
    ]
    assert [line.direction for line in found.lines] == ["mountain", "valley", "valley", "mountain"]
    assert plain(found.short_way) == (
        "Score at 1 1/4 and 3 3/8 in from the left, then turn the card round, the same face up, and "
        "score at the same two numbers."
    )


@pytest.mark.parametrize(
    ("lengths", "axis", "unit", "said"),
    [
        ([3, 3, 3], "x", "inch", "Score at 3 in from the left, then turn the card round, the same"),
        ([2, 2, 2, 2], "x", "inch", "at the same number. Score the middle at 4 in."),
        (["17/4", "17/4"], "x", "inch", "Score at 4 1/4 in: it is the middle"),
        ([3, 3, 3], "y", "inch", "Score at 3 in from the top"),
        ([100, 90, 120], "x", "mm", "score at 120 mm from the end that is now at the left."),
        ([160, 150], "x", "mm", "Turn the card round, the same face up, and score at 150 mm"),
    ],
)
def test_the_short_way(lengths: list[int | str], axis: str, unit: str, said: str) -> None:
    assert said in plain(guide([*lengths], axis, unit).short_way)


def test_no_short_way_where_one_ruler_reaches() -> None:
    assert score_guides(rolled_trifold())[0].short_way == ""
    assert guide([100, 90, 110], unit="mm").short_way == ""


def test_a_tall_card_is_measured_from_the_top_and_a_slit_is_no_score() -> None:
    card = tent()
    assert score_guides(card)[0].along == "top"
    base = card.pieces[0]
    slit = base._replace(scores=tuple(one._replace(direction="slit") for one in base.scores))
    assert score_guides(card._replace(pieces=(slit,))) == ()


def test_slits_and_slanted_scores_are_told_from_point_to_point() -> None:
    lines = "score 3 from left\n  cut 2 from top, between 3 and 6\n  score from (0, 1) to (1, 0), mountain"
    folded = compile_text(
        'recipe "Points"\npaper ink is cardstock "Ink" 12 x 12\nbase card from ink\n'
        f"  flat 6 x 4\n  {lines}\n"
    ).folded
    assert folded is not None
    text = score_step(folded.card, folded.card.piece("card")).text.replace("\u00a0", " ")
    assert "Cut a slit at 2 in from the top, from 3 in from the left as far as the right edge." in text
    assert "straight from the left edge, 1 in from the top, to the top edge, 1 in from the left." in text
    check = score_step(folded.card, folded.card.piece("card")).check.replace("\u00a0", " ")
    assert check == "From left to right the parts measure 3 and 3 in."
