"""Which recipes may hold a name of this one: those that use it, or a file that it uses too, or make it."""

from pathlib import Path

from cardrecipe.editor.desk.users import shelf_of, users_on, users_open
from cardrecipe.editor.names.names import rename
from tests.editor.desks import Shown
from tests.recipes import HEAD

PAPERS = 'paper ink is cardstock "Ink" 12 x 12\n'
USER = 'recipe "A"\nuse "papers.recipe"\n'


def users(shown: Shown, name: str, root: Path | None = None) -> set[str]:
    recipe = shown.desk.recipes[name]
    shelf = shelf_of(shown.desk, recipe, [str(root)] if root else [])
    found = [*users_open(shown.desk, recipe), *users_on(shelf)]
    return {each.source.name.removeprefix(f"{shown.folder}/") for each in found}


def test_those_that_are_open_and_those_on_the_disk(tmp_path: Path) -> None:
    on_disk = {"papers.recipe": PAPERS, "disk.recipe": USER, "other.recipe": HEAD, "no.txt": USER}
    shown = Shown(tmp_path, on_disk)
    (tmp_path / "wrong.recipe").write_bytes(b"use \xff")
    shown.open("papers.recipe", PAPERS)
    shown.open("open.recipe", USER)
    shown.open("alone.recipe", HEAD)
    shown.background.let_go()
    assert users(shown, "papers.recipe") == {"disk.recipe", "open.recipe"}
    assert users(shown, "open.recipe") == {"disk.recipe"}


def test_the_text_of_a_window_counts_not_that_on_the_disk(tmp_path: Path) -> None:
    shown = Shown(tmp_path, {"papers.recipe": PAPERS, "a.recipe": USER})
    shown.open("papers.recipe", PAPERS)
    shown.open("a.recipe", HEAD)
    shown.background.let_go()
    assert users(shown, "papers.recipe") == set()


def test_folders_above_as_far_as_the_workspace(tmp_path: Path) -> None:
    (tmp_path / "shelf").mkdir()
    shown = Shown(tmp_path, {"above.recipe": 'use "shelf/papers.recipe"\n', "shelf/papers.recipe": PAPERS})
    shown.open("shelf/papers.recipe", PAPERS)
    shown.background.let_go()
    assert users(shown, "shelf/papers.recipe", tmp_path) == {"above.recipe"}
    assert users(shown, "shelf/papers.recipe") == set()


def test_a_class_that_makes_it(tmp_path: Path) -> None:
    shown = Shown(tmp_path, {"bench.recipe": 'class "Bench"\n  make 2 of "a.recipe"\n'})
    shown.open("a.recipe", HEAD)
    shown.background.let_go()
    assert users(shown, "a.recipe") == {"bench.recipe"}


def test_a_class_that_makes_a_recipe_which_is_not_there_too(tmp_path: Path) -> None:
    bench = 'class "Bench"\n  make 3 of "gone.recipe"\n  make 2 of "a.recipe"\n'
    shown = Shown(tmp_path, {"bench.recipe": bench, "other.recipe": bench.replace('"a.', '"b.')})
    shown.open("a.recipe", HEAD)
    shown.background.let_go()
    assert users(shown, "a.recipe") == {"bench.recipe"}


def test_a_recipe_in_a_folder_that_is_not_made_yet_has_users_in_those_above(tmp_path: Path) -> None:
    shown = Shown(tmp_path, {"above.recipe": 'use "shelf/papers.recipe"\n'})
    shown.open("shelf/papers.recipe", PAPERS)
    shown.background.let_go()
    assert users(shown, "shelf/papers.recipe") == set()
    assert users(shown, "shelf/papers.recipe", tmp_path) == {"above.recipe"}


def test_a_class_whose_recipe_uses_the_papers_it_has(tmp_path: Path) -> None:
    bench = 'class "Bench"\n  make 2 of "a.recipe"\n  have ink 6 sheets\n'
    other = 'class "Other"\n  make 2 of "b.recipe"\n'
    on_disk = {"a.recipe": USER, "b.recipe": HEAD, "bench.recipe": bench, "other.recipe": other}
    shown = Shown(tmp_path, on_disk)
    shown.open("papers.recipe", PAPERS)
    shown.background.let_go()
    assert users(shown, "papers.recipe") == {"a.recipe", "bench.recipe"}
    recipe = shown.desk.recipes["papers.recipe"]
    found = shown.desk.snapshot("papers.recipe", users_on(shelf_of(shown.desk, recipe, [])))
    edits = rename(found, PAPERS.index("ink"), "night")
    changed = {each.span.file.removeprefix(f"{shown.folder}/") for each in edits}
    assert changed == {"papers.recipe", "bench.recipe"}
