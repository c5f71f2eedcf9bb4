"""The order of the turns that lead to an order of layers: what lies within a fold goes there first."""

import pytest

from cardrecipe.fold.by_hand import turns_from
from cardrecipe.fold.joints import joints, tree
from cardrecipe.fold.layers import LayerOrder, all_orders
from cardrecipe.fold.strips import fold_strip
from tests.hand_made import strip_base


def turns_to(order: LayerOrder, count: int) -> list[int]:
    """The parts in the order in which they are folded over; the first one stays."""
    base = strip_base([4] * count, "V" * (count - 1))
    branches = tree(count, joints(base.sections, base.scores), 0)
    turns = turns_from(order, branches).turns
    return [branch.child for turn in turns for branch in turn]


@pytest.mark.parametrize(("is_tucked_in", "order"), [(True, [2, 1]), (False, [1, 2])])
def test_the_last_of_three_is_tucked_in_before_or_wrapped_round_after(
    is_tucked_in: bool, order: list[int]
) -> None:
    """Three equal parts rolled up: the right one lies between the others, or under the left one."""
    every = all_orders(*fold_strip([4, 4, 4], "VV"))
    (lying,) = (each for each in every if each.above(2, 0) is is_tucked_in)
    assert turns_to(lying, 3) == order


def test_four_are_rolled_up_from_the_part_that_lies_innermost() -> None:
    """With the first innermost each of the others goes round what is rolled up; with the last innermost it
    is the first to be folded."""
    every = list(all_orders(*fold_strip([4, 4, 4, 4], "VVV")))
    (outwards,) = (each for each in every if each.above(3, 1) and not each.above(2, 0))
    assert turns_to(outwards, 4) == [1, 2, 3]
    (inwards,) = (each for each in every if each.above(2, 0) and each.above(1, 3) and each.above(3, 2))
    assert turns_to(inwards, 4) == [3, 2, 1]
