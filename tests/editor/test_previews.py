"""Previews that do not come up leave nothing behind, however many are asked for."""

import gc
import os
from pathlib import Path

import pytest

from cardrecipe.editor.previews import NoPreview, Previews


def open_files() -> int:
    return len(os.listdir("/dev/fd"))


def test_a_preview_that_ends_gives_its_pipes_back(tmp_path: Path) -> None:
    previews = Previews()
    with pytest.raises(NoPreview):
        previews.address_of(str(tmp_path / "none.recipe"))
    gc.disable()  # nothing is closed by chance
    try:
        before = open_files()
        for _ in range(3):
            with pytest.raises(NoPreview, match=r"none\.recipe"):
                previews.address_of(str(tmp_path / "none.recipe"))
        assert open_files() <= before
    finally:
        gc.enable()
        previews.end()
    assert open_files() < before


def test_a_preview_that_was_killed_is_begun_anew(tmp_path: Path) -> None:
    path = tmp_path / "a.recipe"
    path.write_text('recipe "A"\n', "utf-8")
    previews = Previews()
    try:
        first = previews.address_of(str(path))
        assert previews.address_of(str(path)) == first
        [process] = previews._begun
        process.kill()
        process.wait()
        assert previews.address_of(str(path)) != first
        assert len(previews._begun) == 1 and process.stdin is not None and process.stdin.closed
    finally:
        previews.end()
