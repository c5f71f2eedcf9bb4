"""Each test → the lines of the modules under trial that it reaches and the seconds that it takes.

A file of tests is recorded by itself, so that no card that another file left in a memory hides what it
reaches; what is recorded is kept beside the copy and made anew only for files that have changed.
"""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
import time
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.mutants.sample import FOLDERS

# What needs a browser or another process than its own says little about one line, and takes long.
WORTH_TRYING = (
    "tests/solve", "tests/fold", "tests/plan", "tests/test_cases.py", "tests/compare", "tests/generated",
    "tests/against_the_world", "tests/model", "tests/library", "tests/render/drawings",
    "tests/render/class_pack", "tests/limits", "tests/test_sums.py", "tests/test_class_compile.py",
    "tests/test_class_declarations.py",
)  # fmt: skip
LONGEST = 1200  # seconds for one file; what is slower or needs what this machine lacks is not recorded
_OUT = "MUTANTS_RECORD"


class Test(NamedTuple):
    """A test that passes: what pytest calls it, its seconds of the processor, the lines of each module."""

    name: str
    seconds: float
    lines: Mapping[str, frozenset[int]]


def test_files(root: Path, among: Iterable[str] = WORTH_TRYING) -> Iterator[Path]:
    """Give the files of tests that can tell something about the modules under trial."""
    for place in among:
        path = root / place
        yield from [path] if path.is_file() else sorted(path.rglob("test_*.py"))


def record(root: Path, kept: Path, among: Iterable[str] = WORTH_TRYING) -> None:
    """Run each file of tests that has no record yet, in a process of its own."""
    kept.mkdir(exist_ok=True)
    for path in test_files(root, among):
        out = record_of(root, kept, path)
        if out.exists():
            continue
        command = [sys.executable, "-m", "pytest", "-p", "tests.mutants.reached", "-p", "no:cacheprovider",
                   "--tb=no", path.relative_to(root).as_posix()]  # fmt: skip
        environment = {**os.environ, _OUT: str(out)}
        try:
            subprocess.run(command, cwd=root, env=environment, capture_output=True, timeout=LONGEST)
        except subprocess.TimeoutExpired:
            out.write_text("[]")


def record_of(root: Path, kept: Path, path: Path) -> Path:
    digest = hashlib.sha256(path.read_bytes()).hexdigest()[:12]
    return kept / f"{path.relative_to(root).as_posix().replace('/', '.')}.{digest}.json"


def recorded(root: Path, kept: Path) -> list[Test]:
    """Give all tests that are recorded as they stand now."""
    found = []
    for path in test_files(root):
        out = record_of(root, kept, path)
        if out.exists():
            for name, seconds, lines in json.loads(out.read_text("utf-8")):
                found.append(Test(name, seconds, {each: frozenset(of) for each, of in lines.items()}))
    return found


# ---- the plug-in that records, in the process of the tests ---------------------------------------


class _Recorder:
    def __init__(self, out: Path) -> None:
        import coverage

        self.out, self.seconds, self.unfit = out, dict[str, float](), set[str]()
        self.coverage = coverage.Coverage(data_file=None, source=list(FOLDERS), config_file=False)
        self.coverage.start()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        self.coverage.switch_context(item.nodeid)
        start = time.process_time()
        try:
            return (yield)
        finally:
            self.seconds[item.nodeid] = time.process_time() - start

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.outcome != "passed":
            self.unfit.add(report.nodeid)

    def pytest_sessionfinish(self) -> None:
        self.coverage.stop()
        data = self.coverage.get_data()
        lines: dict[str, dict[str, list[int]]] = {name: {} for name in self.seconds}
        for path in data.measured_files():
            module = Path(path).relative_to(Path.cwd()).as_posix()
            for line, names in data.contexts_by_lineno(path).items():
                for name in names:
                    if name in lines:
                        lines[name].setdefault(module, []).append(line)
        fit = [name for name in self.seconds if name not in self.unfit]
        rows = [(name, round(self.seconds[name], 3), lines[name]) for name in fit]
        self.out.write_text(json.dumps(rows), "utf-8")


def pytest_configure(config: pytest.Config) -> None:
    if _OUT in os.environ:
        config.pluginmanager.register(_Recorder(Path(os.environ[_OUT])))
