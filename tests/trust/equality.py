"""The same recipes, built in every way that must not matter → one set of digests.

`python -m tests.trust.equality [--pairs] [PYTHON…]` builds every sample in every format: three
seeds of hashing, two time zones, two locales and two dates, all together or each pair of them, in folders of
different names, with each Python that is named and has the packages (`tests.trust.install --keep DIR` makes
some), and says where files differ.
"""

import argparse
import hashlib
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Sequence
from itertools import product
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from tests.recipes import ROOT, SAMPLES

SEEDS, ZONES, LOCALES = ("0", "1", "4711"), ("UTC", "Pacific/Kiritimati"), ("C", "C.UTF-8")
DAYS = (0, 400)  # from today: another year, another day of the week
FOLDERS = ("plain", "with spaces", "überall – 纸", "d/e/e/p")
CARD_FORMATS, CLASS_FORMATS = "html,pdf,md,json,svg,dxf", "html,pdf,md,json,svg"

# One process for all of them: what is left from one sheet must not show in the next either.
_BUILD = """
import sys
from importlib.util import find_spec
from cardrecipe.cli import main
cards, classes, to, class_to = (each.split("|") for each in sys.argv[1:])
formats = [each for each in to if each != "dxf" or find_spec("ezdxf")]
status = main(["build", *cards, "-o", "out", "--variant", "each", "--to", ",".join(formats)])
for each in filter(None, classes):
    status = max(status, main(["build", each, "-o", "out", "--to", ",".join(class_to)]))
sys.exit(status)
"""

# The clock of the whole process, whatever asks for it: it is moved below the interpreter and its libraries.
_CLOCK = """
#define _GNU_SOURCE
#include <dlfcn.h>
#include <stdlib.h>
#include <sys/time.h>
#include <time.h>
static time_t moved(void) { const char *by = getenv("CLOCK_MOVED_BY"); return by ? atoll(by) : 0; }
int clock_gettime(clockid_t clock, struct timespec *now) {
  static int (*genuine)(clockid_t, struct timespec *);
  if (!genuine) *(void **)&genuine = dlsym(RTLD_NEXT, "clock_gettime");
  int status = genuine(clock, now);
  if (!status && (clock == CLOCK_REALTIME || clock == CLOCK_REALTIME_COARSE)) now->tv_sec += moved();
  return status;
}
time_t time(time_t *into) {
  struct timespec now; clock_gettime(CLOCK_REALTIME, &now);
  if (into) *into = now.tv_sec;
  return now.tv_sec;
}
int gettimeofday(struct timeval *into, void *zone) {
  struct timespec now; int status = clock_gettime(CLOCK_REALTIME, &now);
  into->tv_sec = now.tv_sec; into->tv_usec = now.tv_nsec / 1000;
  return status;
}
"""


class Way(NamedTuple):
    """One way to build."""

    seed: str = SEEDS[0]
    zone: str = ZONES[0]
    locale: str = LOCALES[0]
    days: int = DAYS[0]
    folder: str = FOLDERS[0]


def every_way() -> list[Way]:
    """The whole product, in the folders by turns."""
    ways = product(SEEDS, ZONES, LOCALES, DAYS)
    return [Way(*each, FOLDERS[at % len(FOLDERS)]) for at, each in enumerate(ways)]


def each_pair() -> list[Way]:
    """The fewest ways that have every two values of different kinds together."""
    rows = [(0, 0, 0, 0), (0, 1, 1, 1), (1, 0, 1, 1), (1, 1, 0, 0), (2, 0, 0, 1), (2, 1, 1, 0)]
    return [Way(SEEDS[seed], ZONES[zone], LOCALES[locale], DAYS[day], FOLDERS[at % len(FOLDERS)])
            for at, (seed, zone, locale, day) in enumerate(rows)]  # fmt: skip


def clock_in(place: Path) -> Path | None:
    """What is loaded before all else to move a process's clock; None where there is no compiler."""
    compiler, made = shutil.which("cc"), place / "clock.so"
    if compiler is None or not sys.platform.startswith("linux"):
        return None
    (place / "clock.c").write_text(_CLOCK)
    subprocess.run([compiler, "-shared", "-fPIC", "-o", made, place / "clock.c", "-ldl"], check=True)
    return made


def environment_of(way: Way, clock: Path | None) -> dict[str, str]:
    """What differs from way to way; the user and the date that builds are told differ too."""
    moved = {"LD_PRELOAD": str(clock), "CLOCK_MOVED_BY": str(way.days * 86400)} if clock and way.days else {}
    told = {"SOURCE_DATE_EPOCH": str(way.days * 86400)} if way.days else {}
    return {"PYTHONHASHSEED": way.seed, "TZ": way.zone, "LC_ALL": way.locale, "USER": f"user-{way.seed}",
            "HOME": "/nonexistent", "PYTHONPATH": str(ROOT), **moved, **told}  # fmt: skip


def digests(
    way: Way,
    place: Path,
    cards: Sequence[str],
    classes: Sequence[str] = (),
    python: str = sys.executable,
    formats: Sequence[str] = (CARD_FORMATS, CLASS_FORMATS),
    clock: Path | None = None,
) -> dict[str, str]:
    """The digest of every file that is built of the samples of those names, in a copy below `place`."""
    folder = place / way.folder
    shutil.copytree(SAMPLES, folder / "samples")
    named = ["|".join(f"samples/{name}.recipe" for name in each) for each in (cards, classes)]
    subprocess.run([python, "-c", _BUILD, *named, *(each.replace(",", "|") for each in formats)], cwd=folder,
                   env={"PATH": os.defpath, **environment_of(way, clock)}, check=True,
                   stdout=subprocess.DEVNULL)  # fmt: skip
    files = sorted((folder / "out").iterdir())
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in files}


def differences(first: dict[str, str], other: dict[str, str]) -> list[str]:
    """The files that are not the same, or only on one side; DXF needs a package that not every Python has."""
    no_dxf = not any(name.endswith(".dxf") for name in (first if len(first) < len(other) else other))
    names = {name for name in first.keys() | other.keys() if not (no_dxf and name.endswith(".dxf"))}
    return sorted(name for name in names if first.get(name) != other.get(name))


# ---- the whole of it, from the command line --------------------------------------------------------


def main() -> int:
    typed = argparse.ArgumentParser(prog="python -m tests.trust.equality")
    typed.add_argument("--pairs", action="store_true", help="each pair of values, not the whole product")
    typed.add_argument("pythons", nargs="*", default=[sys.executable], metavar="PYTHON")
    options = typed.parse_args()
    texts = {path.stem: path.read_text("utf-8") for path in sorted(SAMPLES.glob("*.recipe"))}
    cards = [name for name, text in texts.items() if "\nrecipe " in f"\n{text}"]
    classes = [name for name, text in texts.items() if "\nclass " in f"\n{text}"]
    ways, first, wrong = each_pair() if options.pairs else every_way(), dict[str, str](), 0
    began = time.monotonic()
    with TemporaryDirectory() as kept:
        clock = clock_in(Path(kept))
        for python, way in product(options.pythons, ways):
            with TemporaryDirectory() as place:
                found = digests(way, Path(place), cards, classes, python, clock=clock)
            first = first or found
            differ = differences(first, found)
            wrong += len(differ)
            told = f"{len(found)} files, {len(differ)} differ {differ[:5] or ''}"
            print(f"{python}: {' '.join(map(str, way))}: {told}", flush=True)
    dates = "two dates" if clock else "one date (no compiler to move the clock with)"
    print(f"{len(options.pythons)} Pythons × {len(ways)} ways, {dates}, {time.monotonic() - began:.0f} s:"
          f" {'all the same' if not wrong else f'{wrong} files differ'}")  # fmt: skip
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
