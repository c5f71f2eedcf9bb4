"""The checker itself: each way in which a plan can be wrong is found."""

import copy
from collections.abc import Callable

import pytest

from cardrecipe.plan.cutting.job import Blank, Job, Stock
from cardrecipe.plan.cutting.planner import plan
from tests.plan.cutting.checker import Cut, Wrong, check, check_total, stages_of, toil
from tests.plan.cutting.jobs import sheets_of, value_of, wanted_of

JOB = Job((Stock("S", 10, 8),), (Blank("a", 6, 4, 3, False), Blank("b", 4, 3, 4, True)))


def plan_value() -> Cut:
    found = plan(JOB)
    assert found is not None and found.is_proved
    return value_of(found)


def leaves(part: Cut) -> list[Cut]:
    return [each for half in part["cut"]["parts"] for each in leaves(half)] if "cut" in part else [part]


def move_a_cut(value: Cut) -> None:
    value["sheets"][0]["cut"]["at"] = "1"


def forget_a_sheet(value: Cut) -> None:
    value["sheets"].pop()


def turn_a_piece(value: Cut) -> None:
    next(each for each in leaves(value["sheets"][0]) if each.get("piece") == "a")["turned"] = True


def rename_a_piece(value: Cut) -> None:
    next(each for each in leaves(value["sheets"][0]) if each.get("piece"))["piece"] = "c"


def cut_askew(value: Cut) -> None:
    value["sheets"][0]["cut"]["across"] = "z"


def take_another_sheet(value: Cut) -> None:
    value["sheets"][0]["width"] = "11"


def lose_a_piece(value: Cut) -> None:
    leaf = next(each for each in leaves(value["sheets"][0]) if each.get("piece"))
    leaf.clear()
    leaf["offcut"] = True


BREAKS = [
    move_a_cut, forget_a_sheet, turn_a_piece, rename_a_piece, cut_askew, take_another_sheet, lose_a_piece,
]  # fmt: skip


@pytest.mark.parametrize("spoil", BREAKS)
def test_a_spoiled_plan_is_refused(spoil: Callable[[Cut], None]) -> None:
    value = plan_value()
    check(value["sheets"], wanted_of(JOB), sheets_of(JOB))
    spoil(value)
    with pytest.raises(Wrong):
        check(value["sheets"], wanted_of(JOB), sheets_of(JOB))


def lower_a_limit(total: Cut) -> None:
    limits = total["certificate"]["sheet_limit"]
    limits.update({name: limit - 1 for name, limit in limits.items()})


def raise_the_limits(total: Cut) -> None:
    limits = total["certificate"]["sheet_limit"]
    limits.update({name: 100 * limit for name, limit in limits.items()})


def claim_more(total: Cut) -> None:
    total["least"] += 1


def claim_less(total: Cut) -> None:
    total["least"] -= 1


def count_fewer_settings(total: Cut) -> None:
    total["settings"] -= 1


def count_fewer_strokes(total: Cut) -> None:
    total["strokes"] -= 1


CLAIMS = [lower_a_limit, raise_the_limits, claim_more, claim_less, count_fewer_settings, count_fewer_strokes]


@pytest.mark.parametrize("spoil", CLAIMS)
def test_a_claim_that_is_not_so_is_refused(spoil: Callable[[Cut], None]) -> None:
    value = plan_value()
    (total,) = value["totals"]
    check_total(total, value["sheets"], wanted_of(JOB), sheets_of(JOB))
    total = copy.deepcopy(total)
    spoil(total)
    with pytest.raises(Wrong):
        check_total(total, value["sheets"], wanted_of(JOB), sheets_of(JOB))


def cut(across: str, at: int, *parts: Cut) -> Cut:
    return {"cut": {"across": across, "at": str(at), "parts": list(parts)}}


def test_settings_strokes_and_stages_are_counted_as_they_are_defined() -> None:
    piece, rest = {"piece": "a", "turned": False}, {"offcut": True}
    row = cut("x", 3, piece, cut("x", 3, piece, rest))
    sheet = {**cut("y", 2, row, cut("y", 2, row, rest)), "count": 5}
    # Two rows at one setting, four pieces at another; the trimmed end is a part that is left over.
    assert toil([sheet]) == (2, 5 * 6)
    assert stages_of(sheet) == 2
    trimmed = {**cut("y", 2, cut("x", 3, piece, rest), rest), "count": 1}
    assert stages_of(trimmed) == 1
    assert toil([trimmed]) == (2, 2)
