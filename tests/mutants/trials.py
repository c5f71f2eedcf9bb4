"""Mutants → whether a test fails, runs for ever, or notices nothing.

Collecting the tests takes longer than most of them do, so it is done once. For each mutant the process
forks, and the child exchanges the code of the changed functions wherever they are held. What that cannot
reach, such as a constant at the head of a module, is tried in `afresh`.
"""

from __future__ import annotations

import gc
import os
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import pytest

from tests.mutants.bounded import in_child
from tests.mutants.changes import Mutant
from tests.mutants.chosen import batches, tests_for
from tests.mutants.exchanged import exchange, functions_of_the_program
from tests.mutants.reached import Test
from tests.mutants.results import FOR_EVER, KILLED, NOT_EXCHANGED, SURVIVED, UNREACHED, Told

NO_EXCHANGE = "no function has this code"


class Trials:
    """A plug-in for pytest that runs trials in the place of the tests that it has collected."""

    def __init__(
        self, mutants: Mapping[int, Mutant], tests: Sequence[Test], root: Path, seconds: float, jobs: int,
        tell: Callable[[int, Told], None],
    ) -> None:  # fmt: skip
        self.mutants, self.tests, self.root = mutants, tests, root
        self.seconds, self.jobs, self.tell = seconds, jobs, tell
        self.failed: list[str] = []

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failed.append(report.nodeid)

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.items = {item.nodeid: item for item in session.items}
        self.tests = [test for test in self.tests if test.name in self.items]
        self.functions = functions_of_the_program(self.root)
        gc.collect()
        gc.freeze()
        children = []
        for job in range(self.jobs):
            child = os.fork()
            if child == 0:
                try:
                    self._try_each(job)
                finally:
                    os._exit(0)
            children.append(child)
        for child in children:
            os.waitpid(child, 0)
        return True

    def _try_each(self, job: int) -> None:
        for at, mutant in list(self.mutants.items())[job :: self.jobs]:
            start = time.monotonic()
            told = self._told(mutant)
            self.tell(at, told._replace(seconds=round(time.monotonic() - start, 1)))

    def _told(self, mutant: Mutant) -> Told:
        chosen = tests_for(mutant, self.tests, self.root)
        count = 0
        for batch in batches(chosen, self.seconds):
            came = in_child(self._work(mutant, batch), sum(test.seconds for test in batch))
            count += len(batch)
            if came is None:
                return Told(FOR_EVER, count, len(chosen))
            is_well, by = came
            if not is_well:
                return Told(NOT_EXCHANGED if by == NO_EXCHANGE else KILLED, count, len(chosen), by)
        return Told(SURVIVED if chosen else UNREACHED, count, len(chosen))

    def _work(self, mutant: Mutant, batch: Sequence[Test]) -> Callable[[Callable[[str], None]], bool]:
        def work(say: Callable[[str], None]) -> bool:
            try:
                is_exchanged = exchange(mutant, self.root, self.functions)
            except SyntaxError:  # the copy is not what it was when the sample was drawn
                is_exchanged = False
            if not is_exchanged:
                say(NO_EXCHANGE)
                return False
            return self._passes([test.name for test in batch], say)

        return work

    def _passes(self, names: Sequence[str], say: Callable[[str], None]) -> bool:
        items = [self.items[name] for name in names]
        for item, after in zip(items, [*items[1:], None], strict=True):
            say(item.nodeid)
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
            if self.failed:
                return False
        return True
