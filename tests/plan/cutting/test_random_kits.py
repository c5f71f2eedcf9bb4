"""200 class kits by chance: nearly all are proved, none is more than a sheet above what is proved.

What the search can do is seen here apart from its budget; `test_budget` has what it does within one.
"""

import pytest

from cardrecipe.plan.cutting.budget import Budget
from cardrecipe.plan.cutting.fewest import Fewest, fewest
from cardrecipe.plan.cutting.job import Job, Layout
from cardrecipe.plan.cutting.planner import Plan, Proof
from tests.plan.cutting.jobs import checked, random_kit

KITS = 200
ENOUGH = 10**12
CHUNK = 20
# Nobody knows whether one sheet less would do; a change that opens another has made the planner worse.
OPEN = {51, 81, 85, 124}


@pytest.mark.parametrize("chunk", range(KITS // CHUNK))
def test_the_least_is_within_a_sheet_and_nearly_always_proved(chunk: int) -> None:
    for seed in range(chunk * CHUNK, (chunk + 1) * CHUNK):
        job = random_kit(seed)
        found = fewest(job, Budget(ENOUGH))
        assert found is not None
        total = checked(plan_of(job, found)).total
        assert total["least"] <= total["sheets"] <= total["least"] + 1, f"seed {seed}"
        assert total["proved"] or seed in OPEN, f"seed {seed}"


def test_at_least_98_in_100_are_proved() -> None:
    assert len(OPEN) <= 0.02 * KITS


def plan_of(job: Job, found: Fewest) -> Plan:
    """Give the plan before it is made easier to cut."""
    layouts = tuple(Layout(column.stock.name, column.part, count) for count, column in found.uses)
    proof = Proof(found.certificate.prices, found.certificate.limits, found.is_exhausted)
    return Plan(job, layouts, found.cost, found.least, proof)
