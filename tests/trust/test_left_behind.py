"""What a run left that was killed is taken away by a later one, and nothing else is."""

import os
from pathlib import Path

import pytest

from cardrecipe import writing
from cardrecipe.writing import LEFT_AFTER, write_files
from tests.trust.test_outputs import NEW, OLD, everything, folder

__all__ = ["folder"]  # each test runs in a folder of its own


def leave(name: str, age: float = LEFT_AFTER + 60) -> str:
    Path(name).parent.mkdir(exist_ok=True)
    Path(name).write_bytes(b"half a she")
    now = os.stat(name).st_mtime
    os.utime(name, (now - age, now - age))
    return name


def test_a_later_run_takes_away_what_a_killed_one_left() -> None:
    leave("out/.cardrecipe-0123456789abcdef.part")
    leave("out/.cardrecipe-fedcba9876543210.part")
    write_files(NEW, "out/a", set())
    assert sorted(everything()) == ["out/a.html", "out/a.pdf"]


def test_and_nothing_else() -> None:
    kept = [
        leave("out/.cardrecipe-0123456789abcdef.part", LEFT_AFTER / 2),  # a run that is still writing
        leave("out/.cardrecipe-0123456789abcdef.part.txt"),
        leave("out/.cardrecipe-0123456789ABCDEF.part"),
        leave("out/.cardrecipe-0123456789abcde.part"),
        leave("out/cardrecipe-0123456789abcdef.part"),
        leave("out/.a.html.0123456789ab"),
        leave(".cardrecipe-0123456789abcdef.part"),  # in another folder
        leave("precious.txt"),
    ]
    os.symlink("../precious.txt", "out/.cardrecipe-00000000000000aa.part")
    Path("out/.cardrecipe-00000000000000bb.part").mkdir()
    os.link(leave("linked.txt"), "out/.cardrecipe-00000000000000cc.part")
    write_files(NEW, "out/a", set())
    assert set(everything()) >= {*kept, "linked.txt", "out/.cardrecipe-00000000000000aa.part"}
    assert os.path.isdir("out/.cardrecipe-00000000000000bb.part")
    assert Path("out/.cardrecipe-00000000000000cc.part").exists()


def test_nor_what_is_another_users(monkeypatch: pytest.MonkeyPatch) -> None:
    left = leave("out/.cardrecipe-0123456789abcdef.part")
    monkeypatch.setattr(writing.os, "geteuid", lambda: os.stat(left).st_uid + 1)
    write_files(NEW, "out/a", set())
    assert Path(left).exists()


def test_what_cannot_be_taken_away_stops_no_sheet(monkeypatch: pytest.MonkeyPatch) -> None:
    leave("out/.cardrecipe-0123456789abcdef.part")

    def refused(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(writing.os, "unlink", refused)
    write_files(NEW, "out/a", set())
    monkeypatch.setattr(writing.os, "scandir", refused)
    write_files(OLD, "out/a", set())
    assert Path("out/a.html").read_bytes() == OLD[".html"]
