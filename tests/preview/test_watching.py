"""What counts as a change: every kind of save, and nothing else."""

import os
import threading
import time
from pathlib import Path

import pytest

from cardrecipe.files import CannotRead
from cardrecipe.preview.watching import CLOCK_TICK_NS, PATIENCE, RecipeFiles, stamp_of
from tests.preview.previewing import GOOD, save_beside


@pytest.fixture
def recipe(tmp_path: Path) -> Path:
    path = tmp_path / "a.recipe"
    path.write_text(GOOD)
    return path


def read(path: Path, *used: str) -> RecipeFiles:
    files = RecipeFiles(str(path))
    files.source()
    for name in used:
        files.read(str(path.parent / name))
    return files


def age(path: Path) -> None:
    """Make a file older than any clock's tick."""
    long_ago = time.time_ns() - 10 * CLOCK_TICK_NS
    os.utime(path, ns=(long_ago, long_ago))


def test_nothing_changed(recipe: Path) -> None:
    files = read(recipe)
    assert not files.have_changed()
    assert not files.have_changed()


def test_a_save_in_place(recipe: Path) -> None:
    files = read(recipe)
    recipe.write_text(GOOD + "\n")
    assert files.have_changed()


def test_a_save_beside_and_renamed(recipe: Path) -> None:
    age(recipe)
    files = read(recipe)
    save_beside(recipe, GOOD.replace("note", "nota"))
    assert files.have_changed()


def test_a_save_of_the_same_text_is_no_change(recipe: Path) -> None:
    age(recipe)
    files = read(recipe)
    save_beside(recipe, GOOD)
    assert not files.have_changed()
    recipe.write_text(GOOD + "\n")
    assert files.have_changed()


def test_two_saves_within_one_tick_of_the_clock(recipe: Path) -> None:
    files, stamp = read(recipe), recipe.stat()
    recipe.write_text(GOOD.replace("note", "nota"))
    os.utime(recipe, ns=(stamp.st_atime_ns, stamp.st_mtime_ns))
    seen = files._seen[str(recipe)]
    files._seen[str(recipe)] = seen._replace(stamp=stamp_of(str(recipe)))  # all that a coarse clock shows
    assert files.have_changed()


def test_an_old_file_is_not_read_again(recipe: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    age(recipe)
    files = read(recipe)
    monkeypatch.setattr("cardrecipe.preview.watching.read_source", None)
    assert not files.have_changed()


def test_a_file_written_while_it_is_read_has_changed(recipe: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from cardrecipe.preview import watching

    genuine = watching.read_source

    def slow(path: str):  # type: ignore[no-untyped-def]
        found = genuine(path)
        recipe.write_text(GOOD + "# later\n")
        return found

    monkeypatch.setattr(watching, "read_source", slow)
    files = read(recipe)
    monkeypatch.setattr(watching, "read_source", genuine)
    assert files.have_changed()


def test_a_used_file_that_changes_goes_and_comes(recipe: Path) -> None:
    papers = recipe.parent / "papers.recipe"
    files = read(recipe, "papers.recipe")
    papers.write_text("# one\n")
    assert files.have_changed()
    files = read(recipe, "papers.recipe")
    papers.write_text("# two\n")
    assert files.have_changed()
    files = read(recipe, "papers.recipe")
    papers.unlink()
    assert files.have_changed()


def test_a_folder_in_the_place_of_a_file(recipe: Path) -> None:
    files = read(recipe)
    recipe.unlink()
    recipe.mkdir()
    assert files.have_changed()
    with pytest.raises(CannotRead):
        read(recipe)


def test_a_link_that_leads_elsewhere(recipe: Path) -> None:
    other = recipe.with_name("b.recipe")
    other.write_text(GOOD + "# b\n")
    link = recipe.with_name("link.recipe")
    link.symlink_to(recipe)
    files = read(link)
    assert not files.have_changed()
    link.unlink()
    link.symlink_to(other)
    assert files.have_changed()


def test_a_file_that_is_gone_comes_back(recipe: Path) -> None:
    recipe.unlink()
    files = RecipeFiles(str(recipe))
    with pytest.raises(CannotRead):
        files.source()
    assert not files.have_changed()
    recipe.write_text(GOOD)
    assert files.have_changed()


def test_a_half_written_file_is_waited_for(recipe: Path) -> None:
    files = read(recipe)
    recipe.write_text("")
    writing = threading.Timer(0.1, recipe.write_text, (GOOD + "# whole\n",))
    writing.start()
    files.wait_until_written()
    assert recipe.read_text() == GOOD + "# whole\n"
    writing.join()


def test_a_file_that_is_gone_for_good_is_not_waited_for_long(recipe: Path) -> None:
    files, waited = read(recipe), []
    recipe.unlink()
    start = time.monotonic()
    files.wait_until_written(lambda seconds: (waited.append(seconds), time.sleep(seconds)))
    assert time.monotonic() - start >= PATIENCE
    assert sum(waited) <= 2 * PATIENCE


def test_a_file_that_was_never_there_is_not_waited_for(recipe: Path) -> None:
    files, waited = read(recipe, "papers.recipe"), []
    files.wait_until_written(waited.append)
    assert len(waited) == 1
