"""A class is watched like a recipe: its pack is shown, and every recipe that it makes is followed."""

from pathlib import Path

from cardrecipe.preview.rebuilding import Wanted, rebuild
from tests.preview.previewing import BROKEN, GOOD, save_beside, shown_of

CLASS = 'class "Two at a table"\n  make 2 of "note.recipe"\n'


def class_in(folder: Path, recipe: str = GOOD) -> Path:
    (folder / "note.recipe").write_text(recipe, "utf-8")
    path = folder / "table.recipe"
    path.write_text(CLASS, "utf-8")
    return path


def test_the_pack_is_shown(tmp_path: Path) -> None:
    page = shown_of(class_in(tmp_path)).page.decode()
    assert "Two at a table" in page
    assert "What goes into each bag" in page


def test_it_is_made_anew_when_a_recipe_of_it_is_saved(tmp_path: Path) -> None:
    rebuilt = rebuild(Wanted(str(class_in(tmp_path))))
    assert rebuilt.html is not None
    assert not rebuilt.files.have_changed()
    save_beside(tmp_path / "note.recipe", GOOD.replace("Evening walk", "Morning walk"))
    assert rebuilt.files.have_changed()


def test_a_recipe_with_a_mistake_is_told_with_its_place(tmp_path: Path) -> None:
    rebuilt = rebuild(Wanted(str(class_in(tmp_path, BROKEN))))
    assert rebuilt.html is None
    assert {str(note.place) for note in rebuilt.notes} == {
        f"{tmp_path}/table.recipe:2:13", f"{tmp_path}/note.recipe:7:24"
    }  # fmt: skip


def test_an_option_for_recipes_is_refused(tmp_path: Path) -> None:
    rebuilt = rebuild(Wanted(str(class_in(tmp_path)), units="mm"))
    assert rebuilt.html is None
    assert "--units is for a recipe" in rebuilt.problem
