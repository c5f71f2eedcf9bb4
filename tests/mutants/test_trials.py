"""Mutants of a made-up module on made-up tests: which are noticed, by which test, and which are not."""

import gc
from collections.abc import Callable, Iterator, Sequence
from functools import cache, partial
from pathlib import Path
from types import FunctionType, SimpleNamespace
from typing import Any

import pytest

from tests.mutants import chosen, reached, results, trials
from tests.mutants.changes import Mutant, mutants
from tests.mutants.results import FOR_EVER, KILLED, NOT_EXCHANGED, SURVIVED, UNREACHED, Told
from tests.mutants.trials import NO_EXCHANGE, Trials

MODULE = "cardrecipe/made_up.py"
SOURCE = """MOST = 3

def more(count: int) -> int:
    return count + 1

def fewer(count: int) -> int:
    return count - 1

def unused(count: int) -> int:
    return count * 2
"""
CHANGES = ("return count - 1", "return count + 1", "return count / 2")
SECONDS = 30.0


@pytest.fixture
def program(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[dict[str, Any]]:
    """The module in a tree of its own, loaded; what is frozen for the trials is let go again."""
    path = tmp_path / MODULE
    path.parent.mkdir()
    path.write_text(SOURCE, "utf-8")
    made: dict[str, Any] = {}
    exec(compile(SOURCE, str(path), "exec"), made)
    functions = {
        (str(path), each.__qualname__, each.__code__.co_firstlineno): [each]
        for each in made.values()
        if isinstance(each, FunctionType)
    }
    monkeypatch.setattr(trials, "functions_of_the_program", lambda root: functions)
    yield made
    gc.unfreeze()


def changed() -> dict[int, Mutant]:
    """One mutant of each function, in their order."""
    every = mutants(MODULE, SOURCE)
    names = ("more", "fewer", "unused")
    return {
        at: next(each for each in every if (each.function, each.after) == (name, after))
        for at, (name, after) in enumerate(zip(names, CHANGES, strict=True))
    }


def items(plugin: Trials, checks: Sequence[tuple[str, Callable[[], bool]]]) -> list[SimpleNamespace]:
    """Tests as pytest collects them: each tells the plug-in whether its check holds."""

    def protocol(item: SimpleNamespace, nextitem: object) -> None:
        plugin.pytest_runtest_logreport(SimpleNamespace(failed=not item.check(), nodeid=item.nodeid))  # type: ignore[arg-type]

    config = SimpleNamespace(hook=SimpleNamespace(pytest_runtest_protocol=protocol))
    return [SimpleNamespace(nodeid=name, check=check, config=config) for name, check in checks]


def tried(
    program: dict[str, Any], tmp_path: Path, drawn: dict[int, Mutant], jobs: int = 1
) -> dict[int, Told]:
    file = tmp_path / "results.jsonl"
    tests = [
        reached.Test("tests/test_more.py::test_types", 0.1, {MODULE: frozenset({4})}),
        reached.Test("tests/test_more.py::test_more", 0.2, {MODULE: frozenset({4})}),
        reached.Test("tests/test_fewer.py::test_types", 0.1, {MODULE: frozenset({7})}),
        reached.Test("tests/test_gone.py::test_fewer", 0.1, {MODULE: frozenset({7})}),  # collected no longer
    ]
    plugin = Trials(drawn, tests, tmp_path, SECONDS, jobs, partial(results.tell, file))
    more, fewer = program["more"], program["fewer"]
    remembered = cache(more)
    remembered(1)  # as a test may that works a card out while it is collected
    checks = [
        (tests[0].name, lambda: isinstance(more(1), int)),
        (tests[1].name, lambda: remembered(1) == 2),
        (tests[2].name, lambda: isinstance(fewer(1), int)),
    ]
    session = SimpleNamespace(items=items(plugin, checks))
    assert plugin.pytest_runtestloop(session)  # type: ignore[arg-type]
    return {at: told._replace(seconds=0) for at, told in results.told_so_far(file).items()}


@pytest.mark.parametrize("jobs", [1, 2])
def test_each_mutant_is_told_with_the_test_that_noticed_it(
    program: dict[str, Any], tmp_path: Path, jobs: int
) -> None:
    assert tried(program, tmp_path, changed(), jobs) == {
        0: Told(KILLED, 2, 2, "tests/test_more.py::test_more"),
        1: Told(SURVIVED, 1, 1),
        2: Told(UNREACHED, 0, 0),
    }


def test_the_program_is_as_it_was_after_the_trials(program: dict[str, Any], tmp_path: Path) -> None:
    tried(program, tmp_path, changed())
    assert (program["more"](1), program["fewer"](1)) == (2, 0)


def test_what_never_ends_runs_for_ever(
    program: dict[str, Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(trials, "in_child", lambda work, seconds: None)
    assert tried(program, tmp_path, changed())[0] == Told(FOR_EVER, 2, 2)


def test_a_change_that_reaches_no_function_is_left_to_be_tried_afresh(
    program: dict[str, Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(trials, "exchange", lambda mutant, root, functions: False)
    assert tried(program, tmp_path, changed())[0] == Told(NOT_EXCHANGED, 2, 2, NO_EXCHANGE)


def test_a_default_of_a_class_is_tried_on_all_tests_that_reach_its_module(tmp_path: Path) -> None:
    """The line itself is gone over only while the module is loaded, in whichever test came first."""
    source = "class Sheet:\n    count: int = 1\n\ndef twice(of: Sheet) -> int:\n    return 2 * of.count\n"
    (tmp_path / MODULE).parent.mkdir()
    (tmp_path / MODULE).write_text(source, "utf-8")
    default = next(each for each in mutants(MODULE, source) if each.function == "Sheet")
    assert not default.is_inside
    first = reached.Test("tests/a.py::first", 1.0, {MODULE: frozenset({1, 2, 4})})
    other = reached.Test("tests/a.py::other", 2.0, {MODULE: frozenset({5})})
    away = reached.Test("tests/a.py::away", 1.0, {})
    assert chosen.tests_for(default, [first, other, away], tmp_path) == [first, other]
