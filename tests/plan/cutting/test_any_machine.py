"""The same job gives the same plan in every process, and nothing is written to the terminal."""

import os
import subprocess
import sys

from tests.recipes import ROOT

PROGRAM = """
from tests.plan.cutting.jobs import class_kits
from cardrecipe.plan.cutting.planner import plan
for name, job, _ in class_kits():
    if name in ("kit-03 pattern-one-way", "kit-05 card-colour"):
        print(plan(job)[1:])
"""


def printed(seed: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", PROGRAM],
        cwd=ROOT,
        env={**os.environ, "PYTHONHASHSEED": seed},
        capture_output=True,
        text=True,
        check=True,
    )


def test_two_processes_give_one_plan_and_say_nothing_else() -> None:
    one, other = printed("1"), printed("2")
    assert one.stdout == other.stdout
    assert len(one.stdout.splitlines()) == 2
    assert one.stdout.startswith("((Layout(")
    assert (one.stderr, other.stderr) == ("", "")
