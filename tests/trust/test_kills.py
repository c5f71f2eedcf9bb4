"""Runs that are killed outright while they write: `python -m tests.trust.kills` does it two hundred times."""

import os
import random
import time
from pathlib import Path

from cardrecipe.writing import LEFT_AFTER, write_files
from tests.trust.kills import (
    LEFT,
    NAMES,
    content,
    kill_while_building,
    kill_while_writing,
    number_in,
    whole_sheets,
)


def test_a_torn_file_would_be_noticed() -> None:
    whole = content("a.md", 3)
    assert number_in("a.md", whole) == 3
    for torn in (b"", whole[:-1], whole[:100], whole + b"\n", whole.replace(b"3", b"4"), whole[1:]):
        assert number_in("a.md", torn) is None
    assert number_in("a.pdf", whole) is None


def test_no_file_is_torn_by_a_kill_and_a_later_run_takes_away_what_is_left(tmp_path: Path) -> None:
    moments = random.Random(7)
    for at in range(8):
        found = kill_while_writing(tmp_path, 1000 * at, moments.uniform(0, 0.1))
        assert found.by_signal and found.torn == ()
        assert max(found.sheets) - min(found.sheets) <= 1, "the files of a sheet go one right after the other"
        assert all(map(LEFT.fullmatch, found.left))
    out = tmp_path / "out"
    (out / ".cardrecipe-0123456789abcdef.part").write_bytes(b"half a she")  # should none have left one
    for path in out.glob(".cardrecipe-*"):
        os.utime(path, (time.time() - LEFT_AFTER - 60,) * 2)
    write_files({".md": b"new"}, str(out / "a"), set())
    assert sorted(path.name for path in out.iterdir()) == sorted(NAMES)


def test_no_file_is_torn_by_a_kill_of_a_whole_build(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    sheets, took = whole_sheets(tmp_path)
    assert all(sheets[0][name] != sheets[1][name] for name in NAMES)
    for at, part in enumerate((0.3, 0.95)):
        found = kill_while_building(tmp_path, at, sheets, part * took)
        assert found.torn == () and all(map(LEFT.fullmatch, found.left))
