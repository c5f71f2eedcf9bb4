"""SIGKILL at random moments while sheets are written: every file is an old one or a new one, whole.

`python -m tests.trust.kills [--times 200] [--builds 20] [--seed 7]` kills that many writers in the act, which
do nothing but write, and that many whole builds anywhere between their start and their end.
"""

import argparse
import hashlib
import os
import random
import re
import signal
import subprocess
import sys
import time
from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from cardrecipe.render.signs import SIGNS
from tests.recipes import HEAD, ROOT

NAMES = ("a.html", "a.pdf", "a.md")
LEFT = re.compile(r"\.cardrecipe-[0-9a-f]{16}\.part")

# Writes one sheet after the other, each of files of its own length, and says when the first is there.
_WRITER = """
import os, sys
from itertools import count
from cardrecipe.writing import write_files
from tests.trust.kills import NAMES, content
said = os.dup(1)
os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
for number in count(int(sys.argv[1])):
    write_files({os.path.splitext(name)[1]: content(name, number) for name in NAMES}, "out/a", set())
    if number == int(sys.argv[1]):
        os.write(said, b"writing\\n")
"""


class Killed(NamedTuple):
    """What became of one run: how it ended, which sheets were there, what was torn, what it left."""

    by_signal: bool
    torn: tuple[str, ...]
    sheets: tuple[int, ...]
    left: tuple[str, ...]


def content(name: str, number: int) -> bytes:
    """A file of the sheet of that number, which can be told whole or torn by itself."""
    body = f"{name} {number}\n".encode() * (2_000 + 7_919 * number % 20_000)
    return hashlib.sha256(body).hexdigest().encode() + b"\n" + body + SIGNS[os.path.splitext(name)[1]]


def number_in(name: str, found: bytes) -> int | None:
    """The sheet that a file belongs to; None where it is torn."""
    match = re.match(rb"[0-9a-f]{64}\n[a-z.]+ (\d+)\n", found)
    number = int(match[1]) if match else -1
    return number if number >= 0 and found == content(name, number) else None


def kill_while_writing(folder: Path, first: int, pause: float) -> Killed:
    """Kill a writer that begins with the sheet `first`, so many seconds after that sheet is there."""
    (folder / "out").mkdir(exist_ok=True)
    writer = subprocess.Popen([sys.executable, "-c", _WRITER, str(first)], cwd=folder, stdout=subprocess.PIPE,
                              env={**os.environ, "PYTHONPATH": str(ROOT)})  # fmt: skip
    assert writer.stdout is not None
    with writer:
        assert writer.stdout.readline() == b"writing\n"
        time.sleep(pause)
        writer.kill()
    return _found(folder / "out", writer.returncode)


def _found(out: Path, status: int) -> Killed:
    numbers = {name: number_in(name, (out / name).read_bytes()) for name in NAMES}
    torn = tuple(name for name, number in numbers.items() if number is None)
    left = tuple(path.name for path in out.iterdir() if path.name not in NAMES)
    whole = tuple(number for number in numbers.values() if number is not None)
    return Killed(status == -signal.SIGKILL, torn, whole, left)


# ---- whole builds ------------------------------------------------------------------------------------

_RECIPE = f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5\npanel note from ink on back\n"
RECIPES = (_RECIPE, _RECIPE.replace("width 4", "width 3 1/2"))
_BUILD = [sys.executable, "-m", "cardrecipe", "build", "a.recipe", "-o", "out", "--to", "html,pdf,md"]


def whole_sheets(folder: Path) -> tuple[list[Mapping[str, bytes]], float]:
    """Every file of the sheet of each recipe, and how many seconds a build takes."""
    sheets = []
    for text in RECIPES:
        began = time.monotonic()
        build(folder, text).communicate()
        took = time.monotonic() - began
        sheets.append({name: (folder / "out" / name).read_bytes() for name in NAMES})
    return sheets, took


def build(folder: Path, text: str) -> "subprocess.Popen[bytes]":
    (folder / "a.recipe").write_text(text)
    return subprocess.Popen(_BUILD, cwd=folder, stdout=subprocess.DEVNULL,
                            env={**os.environ, "PYTHONPATH": str(ROOT)})  # fmt: skip


def kill_while_building(folder: Path, at: int, sheets: list[Mapping[str, bytes]], pause: float) -> Killed:
    """Kill a build of the recipe of that number; the sheets of both are known."""
    building = build(folder, RECIPES[at % 2])
    time.sleep(pause)
    building.kill()
    building.wait()
    found = {name: (folder / "out" / name).read_bytes() for name in NAMES}
    torn = tuple(name for name in NAMES if found[name] not in (sheets[0][name], sheets[1][name]))
    whole = tuple(int(found[name] == sheets[1][name]) for name in NAMES if name not in torn)
    left = tuple(path.name for path in (folder / "out").iterdir() if path.name not in NAMES)
    return Killed(building.returncode == -signal.SIGKILL, torn, whole, left)


# ---- from the command line ---------------------------------------------------------------------------


def main() -> int:
    typed = argparse.ArgumentParser(prog="python -m tests.trust.kills")
    typed.add_argument("--times", type=int, default=200)
    typed.add_argument("--builds", type=int, default=20)
    typed.add_argument("--seed", type=int, default=7)
    options = typed.parse_args()
    moments = random.Random(options.seed)
    began, killed = time.monotonic(), list[Killed]()
    with TemporaryDirectory() as place:
        for at in range(options.times):
            killed.append(kill_while_writing(Path(place), 1000 * at, moments.uniform(0, 0.1)))
    with TemporaryDirectory() as place:
        (Path(place) / "out").mkdir()
        sheets, took = whole_sheets(Path(place)) if options.builds else ([], 0)
        for at in range(options.builds):
            killed.append(kill_while_building(Path(place), at, sheets, moments.uniform(0, took)))
    torn = [each for each in killed if each.torn]
    strange = {name for each in killed for name in each.left if not LEFT.fullmatch(name)}
    between = sum(len(set(each.sheets)) > 1 for each in killed)
    print(f"{options.times} writers and {options.builds} builds, seed {options.seed},"
          f" {time.monotonic() - began:.0f} s: {sum(each.by_signal for each in killed)} were killed,"
          f" {len(torn)} left a torn file, {between} stopped between two files of a sheet;"
          f" beside the sheets at the end: {max(len(each.left) for each in killed)} files that a later run"
          f" takes away, of other names: {strange or 'none'}")  # fmt: skip
    return 1 if torn or strange else 0


if __name__ == "__main__":
    sys.exit(main())
