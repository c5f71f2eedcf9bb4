"""A mutant and the recorded tests → the tests that may notice it, the most telling ones first."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from itertools import zip_longest
from pathlib import Path

from tests.mutants.changes import Mutant
from tests.mutants.reached import Test

FIRST_SECONDS = 2.0  # most mutants fall at once; the rest of the tests is collected only where one does not


def tests_for(mutant: Mutant, tests: Sequence[Test], root: Path) -> list[Test]:
    """Give the tests that reach the changed statement, or the lines that read the changed name; for what is
    worked out while the module is loaded, as the defaults of a class are, all that reach the module.

    The quickest test of every function comes first, those of the stage's own folder before others, then the
    next of each: what a hundred examples of one test say, one of them mostly says.
    """
    lines = _lines(mutant, root)
    reaching = [test for test in tests if not lines.isdisjoint(test.lines.get(mutant.module, ()))]
    if not mutant.is_inside and (mutant.function or not reaching):
        reaching = [test for test in tests if mutant.module in test.lines]
    own = mutant.module.split("/")[1]
    by_function: dict[str, list[Test]] = defaultdict(list)
    for test in sorted(reaching, key=lambda each: (f"tests/{own}" not in each.name, each.seconds)):
        by_function[test.name.split("[")[0]].append(test)
    return [test for round_ in zip_longest(*by_function.values()) for test in round_ if test is not None]


def batches(tests: Sequence[Test], seconds: float) -> Iterator[list[Test]]:
    """Split tests into a first batch that is quick and the rest, up to so many seconds in all."""
    first: list[Test] = []
    rest: list[Test] = []
    total = 0.0
    for test in tests:
        if total + test.seconds <= FIRST_SECONDS or not first:
            first.append(test)
        elif total + test.seconds <= seconds:
            rest.append(test)
        else:
            continue
        total += test.seconds
    yield from (each for each in (first, rest) if each)


def _lines(mutant: Mutant, root: Path) -> Collection[int]:
    statement = range(mutant.lines[0], mutant.lines[1] + 1)
    if mutant.function:
        return set(statement)
    tree = ast.parse((root / mutant.module).read_text("utf-8"))
    names = {
        node.id
        for node in ast.walk(tree)
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store) and node.lineno in statement
    }
    return {node.lineno for node in ast.walk(tree) if isinstance(node, ast.Name) and node.id in names}
