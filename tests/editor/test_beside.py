"""The files that are offered after `use`."""

from pathlib import Path

from cardrecipe.editor.desk.beside import files_beside


def test_recipes_in_the_folder_and_in_those_below(tmp_path: Path) -> None:
    near = ("card.recipe", "papers.recipe", "notes.txt", "shelf/inks.recipe")
    for name in (*near, "shelf/deep/far.recipe", ".old/x.recipe"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("", encoding="utf-8")
    (tmp_path / "away.recipe").symlink_to(tmp_path / "card.recipe")
    assert files_beside(str(tmp_path / "card.recipe")) == ("papers.recipe", "shelf/inks.recipe")


def test_a_text_without_a_folder_has_none() -> None:
    assert files_beside("untitled:1") == () and files_beside("/no/such/folder/card.recipe") == ()
