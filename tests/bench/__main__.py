"""`python -m tests.bench`: how long the program takes, as ratios to floors that any machine can measure.

Nothing here asserts; a ratio says the same on a slow machine and on a fast one. `--quick` does each thing
fewer times and leaves out a hundred times the work; `--keep TAG` writes the ratios to `runs/TAG.json`.
"""

import argparse
import sys
from datetime import UTC, datetime

from tests.bench.growth import GROWINGS, grown
from tests.bench.kept_runs import Run, keep, last_kept, this_machine
from tests.bench.rows import FLOORS, ROWS
from tests.bench.tables import growth_of, heading_of_growth, heading_of_rows, row_of

RUNS, QUICK_RUNS = 15, 3


def main() -> int:
    options = _options()
    kept = last_kept()
    ratios = _measured_rows(kept, QUICK_RUNS if options.quick else RUNS)
    factors = _measured_growth(kept, 1 if options.quick else 2)
    if options.keep:
        now = datetime.now(UTC).date().isoformat()
        print(f"\nkept as {keep(Run(options.keep, now, ratios, factors, this_machine())).name}")
    return 0


def _measured_rows(kept: Run | None, runs: int) -> dict[str, float]:
    """The ratios, printed as they come."""
    print(heading_of_rows(kept.tag if kept else ""))
    floors, ratios = dict[str, float](), dict[str, float]()
    for row in ROWS:
        if row.floor not in floors:
            floors[row.floor] = FLOORS[row.floor](runs)
        seconds = row.measure(runs)
        ratios[row.name] = round(seconds / floors[row.floor], 4)
        was = kept.ratios.get(row.name) if kept else None
        print(row_of(row, seconds, floors[row.floor], was), flush=True)
    print("floors: " + ", ".join(f"{name} {seconds * 1000:.0f} ms" for name, seconds in floors.items()))
    return ratios


def _measured_growth(kept: Run | None, decades: int) -> dict[str, list[float]]:
    """The factors for each tenfold, printed as they come."""
    print(f"\n{heading_of_growth(kept.tag if kept else '')}")
    factors = {}
    for growing in GROWINGS:
        found = grown(growing, decades)
        factors[growing.name] = [round(each, 2) for each in found.factors]
        print(growth_of(growing, found, kept.factors.get(growing.name, []) if kept else []), flush=True)
    return factors


def _options() -> argparse.Namespace:
    reader = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    reader.add_argument("--quick", action="store_true")
    reader.add_argument("--keep", metavar="TAG", default="")
    return reader.parse_args()


if __name__ == "__main__":
    sys.exit(main())
