"""Every Python on this machine that the package supports."""

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

OLDEST = (3, 11)
_ASK = "import sys, venv, ensurepip; print(*sys.version_info[:3], sys.implementation.name)"


def supported() -> dict[str, Path]:
    """One interpreter of each version, this one first; those without `venv` cannot be given packages."""
    found: dict[str, Path] = {}
    for path in _candidates():
        version = version_of(path)
        if version is not None:
            found.setdefault(version, path)
    return found


def _candidates() -> Iterator[Path]:
    yield Path(sys.executable)
    home = Path.home() if os.environ.get("HOME") else Path("/nonexistent")
    installed = [home / ".pyenv" / "versions", home / ".local" / "share" / "uv" / "python"]
    for folder in installed:
        yield from sorted(folder.glob("*/bin/python3"))
    names = [f"python3.{minor}" for minor in range(OLDEST[1], OLDEST[1] + 10)]
    places = os.environ.get("PATH", os.defpath).split(os.pathsep)
    named = (shutil.which(name, path=place) for place in places for name in names)
    yield from (Path(each) for each in named if each is not None)


def version_of(path: Path) -> str | None:
    """`3.12.1`, or None for one that is too old, or only stands for others."""
    try:
        asked = subprocess.run([path, "-I", "-c", _ASK], capture_output=True, text=True, check=False)
    except OSError:
        return None
    match = re.match(r"(\d+) (\d+) (\d+) (\w+)", asked.stdout)
    if match is None or (int(match[1]), int(match[2])) < OLDEST:
        return None
    return f"{match[1]}.{match[2]}.{match[3]}" + ("" if match[4] == "cpython" else f"-{match[4]}")
