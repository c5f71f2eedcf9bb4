"""`python -m tests.mutants --seed 7 --count 500 --folder DIR`: a sample of mutants, and how many are noticed.

`DIR` keeps a copy of the tree, the record of the tests and what came of each mutant, so that an interrupted
run goes on where it stopped. `--again` tries those that survived once more, on the tests as they stand now;
the modules under trial stay as they were when `DIR` was made.
"""

from __future__ import annotations

import argparse
import os
import shutil
import sys
from collections import Counter
from collections.abc import Mapping, Sequence
from functools import partial
from pathlib import Path

import pytest
from hypothesis import Phase, settings

from tests.mutants import results
from tests.mutants.afresh import OPTIONS, told_afresh
from tests.mutants.changes import Mutant
from tests.mutants.explained import explanations
from tests.mutants.reached import Test, record, recorded
from tests.mutants.results import NOT_EXCHANGED, SURVIVED, UNREACHED, Told
from tests.mutants.sample import sample

ROOT = Path(__file__).parents[2]
IN_COPY = "MUTANTS_IN_COPY"
OPEN = {SURVIVED, UNREACHED}


def main(words: Sequence[str]) -> int:
    given = _arguments(words)
    tree = given.folder.resolve() / "tree"
    if IN_COPY not in os.environ:
        _go_to(_copy(tree), words, given.folder.resolve())
    _settle_surroundings(given.folder.resolve())
    drawn = dict(enumerate(sample(tree, given.seed, given.count)))
    file = given.folder / f"results-{given.seed}.jsonl"
    kept = given.folder / "record"
    if not given.as_recorded:
        record(tree, kept)
    tests = recorded(tree, kept)
    told = results.told_so_far(file)
    again = {*OPEN, NOT_EXCHANGED} if given.again else set()
    left = {at: each for at, each in drawn.items() if at not in told or told[at].verdict in again}
    if left:
        _try_exchanged(left, tests, tree, given, file)
    told = results.told_so_far(file)
    for at, mutant in drawn.items():
        verdict = told[at].verdict if at in told else NOT_EXCHANGED
        if verdict == NOT_EXCHANGED or (at in left and given.afresh and verdict in OPEN):
            results.tell(file, at, told_afresh(mutant, tests, tree, given.seconds))
    return _report(drawn, results.told_so_far(file))


def _arguments(words: Sequence[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.mutants")
    parser.add_argument("--seed", type=int, default=7)
    parser.add_argument("--count", type=int, default=500)
    parser.add_argument("--folder", type=Path, required=True)
    parser.add_argument("--seconds", type=float, default=30, help="of tests for each mutant, at most")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--as-recorded", action="store_true", help="record no more tests")
    parser.add_argument("--again", action="store_true", help="try the survivors on the tests of today")
    parser.add_argument("--afresh", action="store_true", help="and load the program anew for each of them")
    return parser.parse_args(words)


def _copy(tree: Path) -> Path:
    """Copy the tree; where there is a copy, only the tests."""
    left_out = shutil.ignore_patterns(".git", "__pycache__", ".venv", ".*_cache", ".hypothesis")
    if not tree.exists():
        shutil.copytree(ROOT, tree, ignore=left_out, symlinks=True)
    shutil.copytree(ROOT / "tests", tree / "tests", ignore=left_out, dirs_exist_ok=True)
    return tree


def _go_to(tree: Path, words: Sequence[str], folder: Path) -> None:
    """Go on in the copy, in a process that has loaded nothing from here."""
    os.chdir(tree)
    os.environ[IN_COPY] = "1"
    os.execv(sys.executable, [sys.executable, "-m", "tests.mutants", *words, "--folder", str(folder)])


def _settle_surroundings(folder: Path) -> None:
    """The same examples as in the suite, but a failure is not made smaller: that it fails is enough."""
    phases = (Phase.explicit, Phase.generate)
    settings.register_profile("mutants", derandomize=True, deadline=None, phases=phases)
    (folder / "temporary").mkdir(exist_ok=True)
    os.environ["PYTEST_DEBUG_TEMPROOT"] = str(folder / "temporary")
    os.environ["PYTHONDONTWRITEBYTECODE"] = "1"
    sys.dont_write_bytecode = True


def _try_exchanged(
    left: Mapping[int, Mutant], tests: Sequence[Test], tree: Path, given: argparse.Namespace, file: Path
) -> None:
    """Try mutants in a process that holds the program; this one must not, for those that are tried afresh."""
    child = os.fork()
    if child == 0:
        from tests.mutants.trials import Trials

        plugin = Trials(left, tests, tree, given.seconds, given.jobs, partial(results.tell, file))
        files = sorted({test.name.split("::")[0] for test in tests})
        os._exit(int(pytest.main([*OPTIONS, *files], plugins=[plugin])))
    os.waitpid(child, 0)


def _report(drawn: Mapping[int, Mutant], told: Mapping[int, Told]) -> int:
    """Print the survivors and the figures; one that is not explained makes the exit code 1."""
    reasons = explanations()
    count: Counter[str] = Counter()
    for at, mutant in drawn.items():
        verdict = told[at].verdict
        if verdict in OPEN and mutant.key in reasons:
            verdict = "explained"
        count[verdict] += 1
        if verdict in OPEN:
            tried = f"{told[at].verdict}, {told[at].tests} of {told[at].reaching} tests"
            print(f"{at}: {mutant.module}:{mutant.line} {mutant.function}: {mutant.operator}, {tried}")
            print(f"  - {mutant.before}\n  + {mutant.after}")
    for verdict, number in count.most_common():
        print(f"{verdict}: {number}")
    noticed = len(drawn) - sum(told[at].verdict in OPEN for at in drawn)
    print(f"noticed: {noticed} of {len(drawn)}, {100 * noticed / len(drawn):.1f} %")
    return int(any(count[verdict] for verdict in OPEN))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
