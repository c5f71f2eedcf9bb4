"""`python -m tests.bench`: how long the program takes, as ratios to a floor that any machine can measure.

Nothing here asserts; a ratio says the same on a slow machine and on a fast one. Each figure is the least
of several runs, since everything else that a machine does only adds to it.
"""

import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

from tests.bench.editing import rows_of_editing
from tests.bench.large_card import seconds_to_fold
from tests.bench.rebuild import seconds_to_rebuild

HERE = Path(__file__).parent
SAMPLE = HERE.parents[1] / "samples" / "first-frost.recipe"
HUNDRED = HERE / "hundred-lines.recipe"
RUNS = 15


def least_seconds(command: Sequence[str], runs: int = RUNS) -> float:
    """The least time of a whole process, over so many runs; the first warms the caches."""
    times = []
    for _ in range(runs + 1):
        start = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True)
        times.append(time.perf_counter() - start)
    return min(times[1:])


def main() -> None:
    program = [sys.executable, "-m", "cardrecipe"]
    floor = least_seconds([sys.executable, "-c", "import lark"])
    with tempfile.TemporaryDirectory() as folder:
        rows = [
            ("check of a 100-line recipe, cold", 1.6, [*program, "check", str(HUNDRED)]),
            ("build of a three-page sample (Letter, A4, HTML, Markdown, SVG), cold", 6.0,
             [*program, "build", str(SAMPLE), "-o", folder, "--page", "letter,a4",
              "--to", "html,pdf,md,svg"]),
        ]  # fmt: skip
        print(f"floor: python -c 'import lark' {floor * 1000:.0f} ms\n")
        print(f"{'what':<70} {'ms':>6} {'ratio':>6} {'at most':>8}")
        for name, most, command in rows:
            seconds = least_seconds(command)
            print(f"{name:<70} {seconds * 1000:>6.0f} {seconds / floor:>6.2f} {most:>8.1f}")
        warm, name = seconds_to_rebuild(), "rebuild of the same sample in watch, warm"
        print(f"{name:<70} {warm * 1000:>6.0f} {warm / floor:>6.2f} {1.0:>8.1f}")
    shapely, large = least_seconds([sys.executable, "-c", "import shapely"], 5), seconds_to_fold()
    name = f"fold of 20 sections and 60 pieces, to `import shapely` {shapely * 1000:.0f} ms"
    print(f"{name:<70} {large * 1000:>6.0f} {large / shapely:>6.2f} {10.0:>8.1f}\n")
    print("\n".join(rows_of_editing()))


if __name__ == "__main__":
    main()
