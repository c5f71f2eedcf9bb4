"""2,000 jobs by chance, of any kind: each plan through the checker, its proof through a second program."""

import pytest

from cardrecipe.plan.cutting.planner import plan
from tests.plan.cutting.jobs import checked, random_job

JOBS = 2_000
CHUNK = 100


@pytest.mark.parametrize("chunk", range(JOBS // CHUNK))
def test_every_plan_can_be_cut_and_claims_what_is_so(chunk: int) -> None:
    proved = 0
    for seed in range(chunk * CHUNK, (chunk + 1) * CHUNK):
        found = plan(random_job(seed))
        assert found is not None, f"seed {seed}"
        proved += checked(found).plan.is_proved
    assert proved >= 0.85 * CHUNK


def test_the_jobs_are_of_many_kinds() -> None:
    jobs = [random_job(seed) for seed in range(200)]
    assert {job.stages for job in jobs} == {None, 2, 3}
    assert {job.first_cut for job in jobs} == {None, "x", "y"}
    assert {len(job.stocks) for job in jobs} == {1, 2}
    assert any(stock.available is not None for job in jobs for stock in job.stocks)
    assert {blank.may_turn for job in jobs for blank in job.blanks} == {True, False}
