"""Builds and edits leave nothing behind; `python -m tests.long_use` does twenty times as many."""

import gc
import os
import subprocess
import sys
import threading
import weakref
from typing import Any

import pytest

from cardrecipe.editor.desk.background import MOST_THREADS
from cardrecipe.model.remembered import KEPT, once_for_each
from tests.long_use.course import stations
from tests.long_use.held import grown, held
from tests.recipes import ROOT


@pytest.mark.skipif("COVERAGE_PROCESS_START" in os.environ, reason="what counts lines keeps things, too")
@pytest.mark.parametrize("what", ["builds", "edits"])
def test_a_hundred_leave_nothing_behind(what: str) -> None:
    """In a process of their own, where nothing else comes and goes; the same objects whatever the machine."""
    found = subprocess.run(
        [sys.executable, "-m", "tests.long_use", "--short", what], cwd=ROOT, text=True, capture_output=True,
        env={**os.environ, "PYTHONHASHSEED": "0"}, check=False,
    )  # fmt: skip
    assert found.returncode == 0, found.stdout + found.stderr
    assert "nothing has grown" in found.stdout


def test_the_last_values_alone_are_remembered() -> None:
    class Value:
        pass

    asked = once_for_each(lambda value: [value])
    values = [Value() for _ in range(10 * KEPT)]
    alive = [weakref.ref(each) for each in values]
    assert all(asked(each) == [each] for each in values)
    del values
    gc.collect()
    assert sum(each() is not None for each in alive) == KEPT


# ---- what would be seen --------------------------------------------------------------------------


class _Left:
    """What a leak leaves behind."""


class _Leaking:
    """A worker that leaves something behind each time."""

    def __init__(self, leave: Any) -> None:
        self._leave = leave

    def work(self, number: int) -> None:
        self._leave(number)

    def close(self) -> None:
        pass


def growth(leave: Any) -> list[str]:
    first, last = stations(_Leaking(leave), 10, 40, 40)
    return grown(first.held, last.held, 2)


def test_nothing_is_seen_where_nothing_is_left() -> None:
    assert not growth(lambda number: [_Left() for _ in range(number)])


def test_objects_are_seen() -> None:
    left = list[_Left]()
    assert any("_Left: 10 → 50" in each for each in growth(lambda number: left.append(_Left())))


def test_texts_in_one_table_are_seen() -> None:
    left = dict[str, str]()
    seen = growth(lambda number: left.setdefault(str(number), "text"))
    assert any(each.startswith("items of containers") for each in seen)


def test_open_files_are_seen() -> None:
    left = list[int]()
    try:
        assert any(each.startswith("files") for each in growth(lambda number: left.extend(os.pipe())))
    finally:
        for each in left:
            os.close(each)


def test_threads_and_processes_are_seen() -> None:
    before, end = held(), threading.Event()
    threads = [threading.Thread(target=end.wait) for _ in range(MOST_THREADS)]
    for each in threads:
        each.start()
    child = subprocess.Popen([sys.executable, "-c", "input()"], stdin=subprocess.PIPE)
    seen = grown(before, held(), 1_000)
    child.communicate(b"\n")
    end.set()
    for each in threads:
        each.join()
    assert any(each.startswith("threads") for each in seen)
    assert any(each.startswith("children") for each in seen) or not os.path.exists("/proc/self/task")
