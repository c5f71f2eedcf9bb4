"""The same job gives the same plan in every process, and nothing is written to the terminal."""

import os
import subprocess
import sys

from tests.recipes import ROOT

CLASS_KITS = """
from tests.plan.cutting.jobs import class_kits
from cardrecipe.plan.cutting.planner import plan
for name, job, _ in class_kits():
    if name in ("kit-03 pattern-one-way", "kit-05 card-colour"):
        print(plan(job)[1:])
"""


ENDED = """
from cardrecipe.plan.cutting.budget import Budget
from cardrecipe.plan.cutting.planner import plan
from tests.plan.cutting.jobs import random_kit
for steps in (1_000_000, 30_000_000):
    print(plan(random_kit(2), Budget(steps))[1:])
"""


def printed(program: str, seed: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", program],
        cwd=ROOT,
        env={**os.environ, "PYTHONHASHSEED": seed},
        capture_output=True,
        text=True,
        check=True,
    )


def test_two_processes_give_one_plan_and_say_nothing_else() -> None:
    one, other = printed(CLASS_KITS, "1"), printed(CLASS_KITS, "2")
    assert one.stdout == other.stdout
    assert len(one.stdout.splitlines()) == 2
    assert one.stdout.startswith("((Layout(")
    assert (one.stderr, other.stderr) == ("", "")


def test_a_search_ends_at_the_same_step_in_every_process() -> None:
    one, *others = (printed(ENDED, seed) for seed in ("0", "1", "77"))
    assert [each.stdout for each in others] == 2 * [one.stdout]
    assert len(one.stdout.splitlines()) == 2
