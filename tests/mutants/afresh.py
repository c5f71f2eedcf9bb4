"""A mutant written into the copy of the tree → what the tests say that load the program from there.

The slow way, and the last word: the program is loaded anew from the changed file, by the tests and by every
process that they start.
"""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from tests.mutants.bounded import in_child
from tests.mutants.changes import Mutant
from tests.mutants.chosen import batches, tests_for
from tests.mutants.reached import Test
from tests.mutants.results import FOR_EVER, KILLED, SURVIVED, UNREACHED, Told

OPTIONS = ("--tb=no", "-p", "no:cacheprovider", "--capture=no", "--hypothesis-profile=mutants")
# Loaded before the first fork; nothing of the program may be among them.
LOADED = (
    "pytest", "hypothesis", "hypothesis.strategies", "lark", "numpy", "highspy", "sympy", "shapely", "pint",
    "jsonschema", "jinja2", "markdown_it",
)  # fmt: skip


def told_afresh(mutant: Mutant, tests: Sequence[Test], root: Path, seconds: float) -> Told:
    """Try a mutant on the tests that reach it, at most so many seconds of them."""
    for name in LOADED:
        importlib.import_module(name)
    chosen = tests_for(mutant, tests, root)
    path = root / mutant.module
    source, when = path.read_text("utf-8"), path.stat().st_mtime_ns
    count = 0
    path.write_text(mutant.applied(source), "utf-8")
    try:
        for batch in batches(chosen, seconds):
            came = in_child(_work(batch), 10 + sum(test.seconds for test in batch))
            count += len(batch)
            if came is None:
                return Told(FOR_EVER, count, len(chosen))
            if not came[0]:
                return Told(KILLED, count, len(chosen), came[1])
    finally:
        path.write_text(source, "utf-8")
        os.utime(path, ns=(when, when))
    return Told(SURVIVED if chosen else UNREACHED, count, len(chosen))


class _First:
    """A plug-in for pytest that says which test fails first."""

    def __init__(self, say: Callable[[str], None]) -> None:
        self.say = say

    def pytest_runtest_logreport(self, report: object) -> None:
        if getattr(report, "failed", False):
            self.say(getattr(report, "nodeid", ""))


def _work(batch: Sequence[Test]) -> Callable[[Callable[[str], None]], bool]:
    def work(say: Callable[[str], None]) -> bool:
        import pytest

        assert not any(name.startswith("cardrecipe") for name in sys.modules), "the program is loaded already"
        names = [test.name for test in batch]
        return pytest.main(["-x", *OPTIONS, *names], plugins=[_First(say)]) == 0

    return work
