"""Tries the laws with seeds of one's own: `python -m tests.laws 1000 3000`, and the names of laws after them.

Prints what was tried of each law and the seeds that break it; exit status 1 where one does.
"""

import sys
import time

from tests.laws.laws import LAWS, Law


def main(first: int, last: int, names: list[str]) -> int:
    broken = 0
    for law in LAWS:
        if not names or law.holds.__name__ in names:
            broken += _tried(law, range(first, last))
    return 1 if broken else 0


def _tried(law: Law, seeds: range) -> int:
    began, told, broken = time.process_time(), 0, []
    for seed in seeds:
        try:
            told += law.holds(seed)
        except Exception as problem:  # whatever goes wrong is told with its seed, and the next one tried
            broken.append(f"{seed} ({type(problem).__name__})")
    seconds = time.process_time() - began
    print(f"{law.holds.__name__}: {len(seeds)} seeds, {told} that say something, {seconds:.0f} s,"
          f" broken: {', '.join(broken) or 'none'}", flush=True)  # fmt: skip
    return len(broken)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]), int(sys.argv[2]), sys.argv[3:]))
