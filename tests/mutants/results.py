"""What came of each mutant, a line of JSON each, so that an interrupted run goes on where it stopped."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import NamedTuple

KILLED, FOR_EVER, SURVIVED, UNREACHED = "killed", "runs for ever", "survived", "no test reaches it"
NOT_EXCHANGED = "to be tried afresh"  # never a last word


class Told(NamedTuple):
    """What came of a mutant: on how many of the tests that reach it, and which noticed it."""

    verdict: str
    tests: int = 0
    reaching: int = 0
    by: str = ""
    seconds: float = 0


def told_so_far(path: Path) -> dict[int, Told]:
    """Give the last word on each mutant, by its place in the sample."""
    found: dict[int, Told] = {}
    if path.exists():
        for line in path.read_text("utf-8").splitlines():
            at, told = json.loads(line)
            found[at] = Told(*told)
    return found


def tell(path: Path, at: int, told: Told) -> None:
    """Write one more line; several processes may."""
    line = json.dumps([at, told], ensure_ascii=False) + "\n"
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND), "ab") as file:
        file.write(line.encode())
