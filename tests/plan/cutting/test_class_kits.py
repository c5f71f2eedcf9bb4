"""The class kits of `class_kits.json`: the proven number of sheets, in few settings and strokes."""

from functools import cache

import pytest

from tests.plan.cutting.jobs import Checked, class_kits, job_of, planned

KITS = {name: (job, known) for name, job, known in class_kits()}


@cache
def plan_of(name: str) -> Checked:
    return planned(KITS[name][0])


@pytest.mark.parametrize("name", KITS)
def test_a_kit_takes_the_proven_number_of_sheets_and_the_plan_proves_it(name: str) -> None:
    known, found = KITS[name][1], plan_of(name)
    assert found.plan.cost == known.get("cost", known.get("sheets"))
    assert found.total["proved"]


def test_all_kits_together_take_few_settings_and_strokes() -> None:
    """At most 1.15 times the settings and 1.1 times the strokes of the fewest that were ever found."""
    best = [known["fewest_settings_found"] for _, known in KITS.values()]
    totals = [plan_of(name).total for name in KITS]
    assert sum(each["settings"] for each in totals) <= 1.15 * sum(each["settings"] for each in best)
    assert sum(each["strokes"] for each in totals) <= 1.1 * sum(each["strokes"] for each in best)


def test_the_kits_have_what_the_file_says_of_them() -> None:
    assert len(KITS) == 16
    assert len({name.split()[0] for name in KITS}) == 6


def test_copies_multiply_what_is_wanted() -> None:
    piece = {"id": "a", "w": 2, "h": 3, "per_card": 4, "rotatable": True}
    job = job_of({"pieces": [piece], "stock": [{"id": "S", "w": 9, "h": 9, "cost": 1}]}, copies=5)
    assert job.blanks[0].demand == 20
