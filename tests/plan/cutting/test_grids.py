"""Grids: where sheets may be cut, and how each length is made of two."""

from bisect import bisect_right
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardrecipe.plan.cutting import grid
from cardrecipe.plan.cutting import worth as tables
from cardrecipe.plan.cutting.grid import Side, grid_for
from cardrecipe.plan.cutting.job import Blank, Stock
from cardrecipe.plan.cutting.worth import worth

BLANKS = (Blank("a", 7, 4, 3), Blank("b", 5, 5, 2), Blank("c", 3, 11, 4))


def cuts_of(side: Side, place: int) -> list[tuple[int, int]]:
    return [(near, int(far)) for near, far in enumerate(side.rest[place], 1)]


def cuts_in_order(side: Side) -> list[list[tuple[int, int]]]:
    """Give the cuts of the places that can be cut at all, as they stand in the blocks one after the other."""
    found, place = [], side.blocks[0].first if side.blocks else len(side.at)
    for first, end, near, far, starts in side.blocks:
        assert (first, len(starts)) == (place, end - first)
        cuts = list(zip(near.tolist(), far.tolist(), strict=True))
        found += [cuts[begin:end] for begin, end in pairwise([*starts.tolist(), len(cuts)])]
        place = end
    assert place == len(side.at)
    return found


@given(st.integers(2, 60), st.lists(st.integers(1, 20), min_size=1, max_size=4))
def test_a_place_is_cut_into_a_shorter_part_and_the_longest_that_fits_beside_it(
    length: int, sizes: list[int]
) -> None:
    blanks = [Blank(f"p{at}", size, size, 1) for at, size in enumerate(sizes)]
    side = grid_for([Stock("S", length, 30)], blanks).across
    assert side.at[0] == 0
    assert side.at[-1] == length
    for place, whole in enumerate(side.at):
        shorter = [near for near, at in enumerate(side.at) if 0 < 2 * at <= whole]
        assert cuts_of(side, place) == [
            (near, bisect_right(side.at, whole - side.at[near]) - 1) for near in shorter
        ]
    can_be_cut = [place for place in range(len(side.at)) if cuts_of(side, place)]
    assert can_be_cut == list(range(len(side.at) - len(can_be_cut), len(side.at)))
    assert cuts_in_order(side) == [cuts_of(side, place) for place in can_be_cut]


@given(st.integers(1, 30), st.integers(2, 60), st.integers(0, 60))
def test_blocks_hold_the_same_cuts_however_few_at_once(most: int, length: int, last: int) -> None:
    stock = [Stock("S", length, 30)]
    whole = grid_for(stock, BLANKS).across
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(grid, "AT_ONCE", most)
        parted = grid_for(stock, BLANKS).across
    assert cuts_in_order(parted) == cuts_in_order(whole)
    assert all(len(each.near) <= most or len(each.starts) == 1 for each in parted.blocks)
    last = min(last, len(whole.at) - 1)
    assert cuts_in_order(parted.up_to(last)) == cuts_in_order(whole.up_to(last))


@pytest.mark.parametrize("stages", [None, 2, 3])
@pytest.mark.parametrize("most", [1, 5, 40])
def test_a_table_is_the_same_however_few_sums_are_worked_out_at_once(
    most: int, stages: int | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    prices, sheet = [27, 23, 36], [Stock("S", 97, 83)]

    def values() -> list[int]:
        places = grid.grid_for(sheet, BLANKS)
        found = worth(places, BLANKS, prices, stages)
        return [found.of(wide, tall) for wide in places.widths for tall in places.heights]

    whole = values()
    monkeypatch.setattr(grid, "AT_ONCE", most)
    monkeypatch.setattr(tables, "AT_ONCE", most)
    assert values() == whole


@pytest.mark.parametrize("last", range(12))
def test_the_side_of_a_smaller_rectangle_has_the_cuts_that_lie_in_it(last: int) -> None:
    whole = grid_for([Stock("S", 40, 30)], BLANKS).across
    assert len(whole.at) > 12
    part = whole.up_to(last)
    assert part.at == whole.at[: last + 1]
    assert cuts_in_order(part) == [each for place in range(last + 1) if (each := cuts_of(whole, place))]
    assert part.size == (last + 1, max(1, len(whole.rest[last])))


@pytest.mark.parametrize("stages", [None, 2, 3])
def test_a_sheet_is_worth_the_same_whichever_way_it_lies(stages: int | None) -> None:
    """Of 40 x 17 there are more places across than down, of 17 x 40 fewer."""
    prices = [each.width * each.height for each in BLANKS]
    turned = [each._replace(width=each.height, height=each.width) for each in BLANKS]
    lying = worth(grid_for([Stock("S", 40, 17)], BLANKS), BLANKS, prices, stages)
    upright = worth(grid_for([Stock("S", 17, 40)], turned), turned, prices, stages)
    assert len(lying.grid.widths) > len(lying.grid.heights)
    for width in range(1, 41):
        for height in range(1, 18):
            assert lying.of(width, height) == upright.of(height, width)
    assert lying.of(40, 17) > 0
