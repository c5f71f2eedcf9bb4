"""A used file that is swapped for something else after the look at it is neither followed nor waited for."""

import os
import threading
from pathlib import Path

import pytest

from cardrecipe import files
from cardrecipe import folder as in_folder
from cardrecipe.files import FolderTexts
from cardrecipe.folder import Folder
from cardrecipe.model.used_names import Refused
from tests.recipes import run
from tests.trust.traps import HIDDEN, PLAIN, SECRET, SHELF, Trap, prepared


def _replaced_by_link(folder: Path) -> None:
    (folder / "shelf" / "papers.recipe").unlink()
    (folder / "shelf" / "papers.recipe").symlink_to("../../outside/papers.recipe")


def _replaced_by_linked_folder(folder: Path) -> None:
    (folder / "shelf").rename(folder / "was")
    (folder / "shelf").symlink_to("../outside")


def _replaced_by_pipe(folder: Path) -> None:
    (folder / "shelf" / "papers.recipe").unlink()
    os.mkfifo(folder / "shelf" / "papers.recipe")


SWAPS = [_replaced_by_link, _replaced_by_linked_folder, _replaced_by_pipe]


def _on_the_shelf(tmp_path: Path) -> Path:
    def lay(folder: Path) -> None:
        (folder / "shelf").mkdir()
        (folder / "shelf" / "papers.recipe").write_text(SHELF)

    return prepared(tmp_path, Trap(lay, "shelf/papers.recipe", "", ""))


@pytest.mark.parametrize("swap", SWAPS)
def test_what_is_swapped_after_the_look_is_not_followed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, swap: object
) -> None:
    folder = _on_the_shelf(tmp_path)
    genuine = Folder.as_on_disk

    def swapped(self: Folder, name: str) -> str | None:
        found = genuine(self, name)
        swap(folder)  # type: ignore[operator]
        return found

    monkeypatch.setattr(Folder, "as_on_disk", swapped)
    ran = run("check", str(folder / "a.recipe"))
    assert ran.status == 1 and SECRET not in ran.err and "error[use-" in ran.err


@pytest.mark.parametrize("swap", [_replaced_by_link, _replaced_by_pipe])
def test_nor_is_what_is_swapped_between_the_last_look_and_the_opening(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, swap: object
) -> None:
    """A pipe without a writer would be waited for until the end of days."""
    folder = _on_the_shelf(tmp_path)

    def swapped(mode: int, path: str) -> None:
        if not swap.done:  # type: ignore[attr-defined]
            swap.done = True  # type: ignore[attr-defined]
            swap(folder)  # type: ignore[operator]

    swap.done = False  # type: ignore[attr-defined]
    monkeypatch.setattr(in_folder, "refuse_unless_regular", swapped)
    ran = run("check", str(folder / "a.recipe"))
    assert ran.status == 1 and SECRET not in ran.err and "error[use-" in ran.err


def test_a_typed_file_that_becomes_a_pipe_is_not_waited_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.recipe"
    path.write_text(PLAIN)
    genuine = files.refuse_unless_regular

    def swapped(mode: int, name: str) -> None:
        genuine(mode, name)
        if path.is_file():
            path.unlink()
            os.mkfifo(path)

    monkeypatch.setattr(files, "refuse_unless_regular", swapped)
    ran = run("check", str(path))
    assert (ran.status, ran.err) == (2, f"cardrecipe: {path}: this is a pipe or a device, not a file\n")


def test_a_race_is_never_lost(tmp_path: Path) -> None:
    """While somebody changes the file for a link and back, over and over, there is our text or a refusal."""
    folder = _on_the_shelf(tmp_path)
    shelf, texts = folder / "shelf", FolderTexts(str(folder / "a.recipe"))
    (folder / "good.recipe").write_text(SHELF)
    stop = threading.Event()

    def swap() -> None:
        while not stop.is_set():
            (folder / "next").symlink_to("../../outside/papers.recipe")
            os.replace(folder / "next", shelf / "papers.recipe")
            os.link(folder / "good.recipe", folder / "next")
            os.replace(folder / "next", shelf / "papers.recipe")

    swapping = threading.Thread(target=swap)
    swapping.start()
    try:
        found = [texts.read(f"{folder}/shelf/papers.recipe") for _ in range(2000)]
    finally:
        stop.set()
        swapping.join()
    assert HIDDEN not in found
    assert SHELF in found and any(isinstance(each, Refused) for each in found)


def test_a_link_is_not_followed_up_from_a_folder_that_is_made_after_the_look(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = prepared(tmp_path, Trap(lambda folder: None, "papers.recipe", "", ""))
    (folder / "papers.recipe").symlink_to("later/../../outside/papers.recipe")
    genuine = Folder.as_on_disk

    def made(self: Folder, name: str) -> str | None:
        (folder / "later").mkdir(exist_ok=True)
        return genuine(self, name)

    monkeypatch.setattr(Folder, "as_on_disk", made)
    for _ in range(2):
        ran = run("check", str(folder / "a.recipe"))
        assert "error[use-outside]" in ran.err and SECRET not in ran.err


def test_a_system_without_open_folders_still_follows_no_link(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "supports_dir_fd", set())
    folder = _on_the_shelf(tmp_path)
    assert run("check", str(folder / "a.recipe")).status == 0
    _replaced_by_pipe(folder)
    assert "is a pipe or a device" in run("check", str(folder / "a.recipe")).err
    (folder / "shelf" / "papers.recipe").unlink()
    (folder / "shelf" / "papers.recipe").symlink_to("../../outside/papers.recipe")
    assert "error[use-outside]" in run("check", str(folder / "a.recipe")).err
