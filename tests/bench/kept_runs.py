"""Runs that are kept in the repository: `runs/TAG.json` holds the ratios of one."""

import json
import os
import platform
import subprocess
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from tests.recipes import ROOT

RUNS = Path(__file__).parent / "runs"


class Run(NamedTuple):
    """`ratios` by the name of the row; `factors` by the name of what grows, for each tenfold."""

    tag: str
    date: str
    ratios: Mapping[str, float]
    factors: Mapping[str, list[float]]
    machine: Mapping[str, str] = {}


def keep(run: Run, folder: Path = RUNS) -> Path:
    """Write a run under its tag."""
    folder.mkdir(exist_ok=True)
    path = folder / f"{run.tag}.json"
    path.write_text(json.dumps(run._asdict(), indent=2) + "\n", "utf-8")
    return path


def last_kept(folder: Path = RUNS) -> Run | None:
    """The run of the latest date."""
    runs = [_read(path) for path in sorted(folder.glob("*.json"))]
    return max(runs, key=lambda run: run.date, default=None)


def this_machine() -> dict[str, str]:
    """What a reader of the figures needs to know, and nothing that names the machine or its owner."""
    return {
        "system": f"{platform.system()} {platform.machine()}",
        "processors": str(os.cpu_count()),
        "python": f"{platform.python_implementation()} {platform.python_version()}",
        "commit": _commit(),
    }


def _read(path: Path) -> Run:
    value: dict[str, Any] = json.loads(path.read_text("utf-8"))
    return Run(**value)


def _commit() -> str:
    """The commit that was measured, with a + where files differ from it."""
    named = _git("rev-parse", "--short", "HEAD")
    return f"{named}+" if named and _git("status", "--porcelain", "--untracked-files=no") else named


def _git(*arguments: str) -> str:
    try:
        found = subprocess.run(["git", *arguments], cwd=ROOT, capture_output=True, text=True, check=False)
    except OSError:
        return ""
    return found.stdout.strip()
