"""Rows of parts, what they cost to cut, and the settings that the maker sees for them."""

from functools import partial
from itertools import pairwise

import pytest

from cardrecipe.plan.cutting.budget import ENDLESS
from cardrecipe.plan.cutting.columns import Pool, column
from cardrecipe.plan.cutting.cut_list import settings
from cardrecipe.plan.cutting.cut_points import cut_points, sums
from cardrecipe.plan.cutting.easiest import _with_larger_offcut
from cardrecipe.plan.cutting.job import Blank, Job, Part, Stock, blanks_in
from cardrecipe.plan.cutting.parts import effort, in_order, row, trimmed, without
from cardrecipe.plan.cutting.planner import plan
from tests.plan.cutting.checker import toil
from tests.plan.cutting.jobs import random_job, value_of

A, B = Part(4, 5, "a"), Part(3, 5, "b")


def test_rows_along_one_axis_become_one_and_offcuts_one_at_the_end() -> None:
    inner = row("x", 9, 5, [A, B])
    assert inner.parts[-1] == Part(2, 5)
    outer = row("x", 13, 5, [inner, A])
    assert [each.blank for each in outer.parts] == ["a", "b", "a", None]
    assert outer.parts[-1].width == 2


def test_a_part_that_fills_its_row_is_no_row() -> None:
    assert row("x", 4, 5, [A]) == A
    assert row("y", 4, 5, []) == Part(4, 5)


def test_the_larger_offcut_stays_whole() -> None:
    wide = trimmed(A, 10, 6)
    assert max(each.width * each.height for each in wide.parts if each.blank is None) == 6 * 6
    tall = trimmed(A, 5, 15)
    assert max(each.width * each.height for each in tall.parts if each.blank is None) == 5 * 10


def test_equal_parts_are_cut_one_after_the_other() -> None:
    mixed = row("x", 14, 5, [A, B, A, B])
    assert [each.blank for each in in_order(mixed).parts] == ["a", "a", "b", "b"]
    assert effort(in_order(mixed)).settings == 2


def test_a_part_that_is_alone_of_its_size_ends_a_full_row_without_a_setting() -> None:
    full = row("x", 10, 5, [A, B, B])
    assert [each.blank for each in in_order(full).parts] == ["b", "b", "a"]
    assert effort(in_order(full)) == (1, 2, 0)


def test_without_a_blank_its_place_is_an_offcut() -> None:
    assert blanks_in(without(row("x", 11, 5, [A, B, A]), "a")) == {"a": 1, "b": 1}
    assert without(row("x", 7, 5, [A, B]), "b").parts == (A, Part(3, 5))


def test_of_layouts_as_easy_the_one_with_the_larger_offcut_is_kept() -> None:
    stock, small, large = Stock("S", 10, 10), trimmed(A, 10, 10, "y"), trimmed(A, 10, 10, "x")
    assert effort(small)[:2] == effort(large)[:2] and effort(large).offcut < effort(small).offcut
    for order in ((small, large), (large, small)):
        pool = Pool()
        for part in order:
            pool.add(stock, part)
        assert [each.part for each in pool.columns] == [in_order(large)]


def test_a_plan_as_easy_with_a_larger_offcut_is_taken() -> None:
    """Two small blanks or one of them: both take as many settings, and one alone is wanted."""
    stock = Stock("S", 20, 5)
    job = Job((stock,), (Blank("a", 4, 5, 1), Blank("b", 3, 5, 1), Blank("c", 6, 5, 0)))
    pieces = {each.name: Part(each.width, 5, each.name) for each in job.blanks}
    dear = column(stock, row("x", 20, 5, [pieces["a"], pieces["c"]]))
    other = column(stock, row("x", 20, 5, [pieces["a"], pieces["b"]]))
    last = column(stock, row("x", 20, 5, [pieces["b"], pieces["c"]]))
    larger = partial(_with_larger_offcut, budget=ENDLESS)
    assert larger(job, [dear, other, last], ((1, dear), (1, last))) == ((1, other), (1, last))
    # Where the one that is left out is wanted, nothing is changed.
    twice = job._replace(blanks=(job.blanks[0], job.blanks[1], job.blanks[2]._replace(demand=2)))
    assert larger(twice, [dear, other, last], ((1, dear), (1, last))) == ((1, dear), (1, last))


@pytest.mark.parametrize("seed", range(60))
def test_the_settings_of_the_maker_are_those_that_are_counted(seed: int) -> None:
    """The list of settings, the planner's own count and the checker's agree on every layout."""
    found = plan(random_job(seed))
    assert found is not None
    listed = [settings(each.root) for each in found.layouts]
    strokes = sum(
        each.count * sum(setting.strokes for setting in one)
        for each, one in zip(found.layouts, listed, strict=True)
    )
    assert (sum(map(len, listed)), strokes) == toil(value_of(found)["sheets"])
    assert (found.settings, found.strokes) == toil(value_of(found)["sheets"])


def test_sums_are_all_there_or_none() -> None:
    assert sums([3, 5], 11, 8) == ([0, 3, 5, 6, 8, 9, 10, 11], True)
    assert sums([3, 5], 11, 7) == ([], False)
    assert sums([5, 12, 10], 11, 9) == ([0, 5, 10], True)


def test_where_there_are_too_many_places_sizes_rows_and_places_between_are_taken() -> None:
    few = cut_points([7, 100, 333], 1_000, 60)
    assert not few.is_whole
    assert {0, 7, 14, 21, 100, 200, 333, 666, 1_000} <= set(few.at)
    assert max(two - one for one, two in pairwise(few.at)) <= 1_000 // 20
    assert len(few.at) <= 70


def test_reduced_points_leave_out_what_nothing_is_left_for() -> None:
    """Of 7 on 10 nothing else fits the 3 that are left: its part may as well be the whole sheet."""
    assert cut_points([4, 7], 10) == ([0, 4, 8, 10], True)
