"""On the class kits, never more sheets than general packing libraries need."""

import pytest

from cardrecipe.plan.cutting.fewest import fewest
from tests.plan.cutting.jobs import class_kits, random_kit
from tests.plan.cutting.packing_libraries import by_hyperpack, by_rectpack

KITS = {name: job for name, job, _ in class_kits() if len(job.stocks) == 1}


def test_never_more_sheets_than_a_packing_library_on_the_class_kits() -> None:
    ours, theirs, others = [], [], []
    for job in KITS.values():
        found = fewest(job)
        assert found is not None
        ours.append(found.cost)
        theirs.append(by_rectpack(job))
        others.append(by_hyperpack(job))
    assert all(our <= their for our, their in zip(ours, theirs, strict=True))
    assert all(our <= their for our, their in zip(ours, others, strict=True))
    assert sum(ours) < min(sum(theirs), sum(others))


@pytest.mark.parametrize("seed", range(8))
def test_never_more_sheets_than_a_packing_library_on_random_kits(seed: int) -> None:
    job = random_kit(seed)
    found = fewest(job)
    assert found is not None
    assert found.cost <= by_rectpack(job)
