"""The same recipe gives the same bytes in every format, wherever, whenever and for whomever it is built."""

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
FORMATS = "html,pdf,md,json,svg"
WAYS = {
    "hash seed 0": {"PYTHONHASHSEED": "0"},
    "hash seed 4711 in another time zone": {"PYTHONHASHSEED": "4711", "TZ": "Pacific/Kiritimati"},
    "another locale and user": {"PYTHONHASHSEED": "7", "LC_ALL": "C", "USER": "nobody", "HOME": "/"},
    "another day": {"PYTHONHASHSEED": "99", "SOURCE_DATE_EPOCH": "86400"},
}


def built(folder: Path, sample: str, changes: dict[str, str]) -> dict[str, str]:
    """The digests of every file that a build in a copy of the samples at `folder` writes, by name."""
    shutil.copytree(ROOT / "samples", folder / "samples")
    recipe = f"samples/{sample}.recipe"
    subprocess.run(
        [sys.executable, "-m", "cardrecipe", "build", recipe, "-o", "out", "--to", FORMATS],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), **changes},
        check=True,
        capture_output=True,
    )
    files = sorted((folder / "out").iterdir())
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in files}


@pytest.mark.parametrize("sample", ["night-market", "harbour-morning"])
def test_every_way_to_build_gives_the_same_bytes(tmp_path: Path, sample: str) -> None:
    folders = ["plain", "with spaces", "überall", "d/e/e/p"]
    results = []
    for folder, changes in zip(folders, WAYS.values(), strict=True):
        (tmp_path / folder).mkdir(parents=True)
        results.append(built(tmp_path / folder, sample, changes))
    assert len(results[0]) > 20
    assert results[1:] == [results[0]] * 3
