"""Published cutting-stock instances: the best known value on each; its source stands in the test's name.

The instances lie beside the repository and are not shipped with it; S1 to S7 are sources named in the file.
"""

import json
from typing import Any

import pytest

from cardrecipe.plan.cutting.exhausted import best_rectangle, sheet_for
from cardrecipe.plan.cutting.grid import grid_for
from cardrecipe.plan.cutting.job import Layout
from cardrecipe.plan.cutting.planner import Plan, Proof
from cardrecipe.plan.cutting.worth import worth
from tests.plan.cutting.checker import check
from tests.plan.cutting.jobs import SHARED, class_kits, job_of, planned, sheets_of, value_of, wanted_of

Instance = dict[str, Any]
IS_THERE = SHARED.exists()
MISSING = "guillotine_cutting.json is not there: it lies beside the repository, in shared/data"
# Every whole position of a sheet this large would take the second program minutes.
LARGE = 1_000
# Steps, less than a paper's budget.
ENOUGH = 2_000_000_000


def instances(objective: str) -> list[object]:
    if not IS_THERE:
        return [pytest.param({}, id="missing", marks=pytest.mark.skip(reason=MISSING))]
    return [
        pytest.param(each, id=f"{each['id']}, best known of {each['source']}")
        for each in json.loads(SHARED.read_text(encoding="utf-8"))["instances"]
        if each["objective"] == objective
    ]


@pytest.mark.parametrize("instance", instances("min_sheets"))
def test_as_few_sheets_as_the_best_known(instance: Instance) -> None:
    is_small = instance["stock"][0]["w"] <= LARGE
    found = planned(job_of(instance), ENOUGH, prove=is_small)
    assert found.plan.cost == instance["best_known"]
    assert found.plan.is_proved == instance["proven"]


@pytest.mark.parametrize("instance", instances("max_value"))
def test_one_sheet_is_worth_as_much_as_the_best_known(instance: Instance) -> None:
    job = job_of(instance)
    (stock,), prices = job.stocks, [each["value"] for each in instance["pieces"]]
    sheet = sheet_for(worth(grid_for(job.stocks, job.blanks), job.blanks, prices), stock.width, stock.height)
    most = {each.name: each.demand for each in job.blanks}
    found = best_rectangle(sheet, most, rounds=2_000_000)
    assert found.value == instance["best_known"]
    assert found.is_settled
    _check_one_sheet(job_of(instance), found.part)


def _check_one_sheet(job: Any, part: Any) -> None:
    """It is a layout, and holds no more than may be cut."""
    from cardrecipe.plan.cutting.job import blanks_in

    held = blanks_in(part)
    assert all(held.get(each.name, 0) <= each.demand for each in job.blanks)
    job = job._replace(blanks=tuple(each._replace(demand=held.get(each.name, 0)) for each in job.blanks))
    one = Plan(job, (Layout(job.stocks[0].name, part, 1),), 1, 1, Proof({}, {}))
    check(value_of(one)["sheets"], wanted_of(job), sheets_of(job))


@pytest.mark.skipif(not IS_THERE, reason=MISSING)
def test_our_own_class_kits_are_those_of_the_file() -> None:
    kits = json.loads(SHARED.read_text(encoding="utf-8"))["class_kits"]
    theirs = [
        (f"{kit['id']} {each['id']}", job_of(each, kit["copies"]), each["best_known"])
        for kit in kits
        for each in kit["materials"]
    ]
    assert class_kits() == theirs
