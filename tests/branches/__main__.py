"""`python -m tests.branches`: each line and branch that the last run of the tests left out without a reason.

Count first, then ask; subprocesses are counted too:

    export COVERAGE_PROCESS_START=$PWD/pyproject.toml COVERAGE_FILE=$PWD/.coverage
    python -m pytest -n 2
    python -m tests.branches

Exit 1 where a branch is left out that `exceptions.toml` does not name, or where it names one that is covered
now.
"""

import sys
from pathlib import Path

from tests.branches.left_out import exceptions, left_out

HERE = Path(__file__).parent


def main() -> int:
    known = exceptions(HERE / "exceptions.toml")
    found = left_out(HERE.parents[1])
    strangers = [each for each in found if each.key not in known]
    stale = sorted(set(known) - {each.key for each in found})
    for each in strangers:
        print(f"{each.file}:{each.number}: {each.what}: {each.line}")
    for file, line in stale:
        print(f"exceptions.toml: nothing is left out at this line of {file} any more: {line}")
    print(f"{len(found)} left out, {len(found) - len(strangers)} of them for one of {len(known)} reasons")
    return 1 if strangers or stale else 0


if __name__ == "__main__":
    sys.exit(main())
