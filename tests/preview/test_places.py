"""Where a click leads: the place of a piece, and the link that opens an editor there."""

from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest

from cardrecipe.cli import compiled
from cardrecipe.preview.places import Place, editor_link, link_problem
from cardrecipe.sheets import sheet_of
from tests.preview.previewing import BROKEN, GOOD, NOTE_LINE, rebuilt_of, shown_of


def written(folder: Path, text: str) -> Path:
    path = folder / "a.recipe"
    path.write_text(text)
    return path


@pytest.mark.parametrize(("name", "line", "column"), [
    ("card", 5, 6), ("note", NOTE_LINE, 7), ("front", 5, 6), ("back", 5, 6), ("step 1", 5, 6),
])  # fmt: skip
def test_pieces_sections_and_steps_have_their_places(
    tmp_path: Path, name: str, line: int, column: int
) -> None:
    path = written(tmp_path, GOOD)
    assert shown_of(path).place(name) == Place(str(path), line, column)


def test_a_written_step_has_a_place_of_its_own(tmp_path: Path) -> None:
    path = written(tmp_path, GOOD + 'step after note "Let it dry."\nstep before note "Breathe in."\n')
    rebuilt = rebuilt_of(path)
    shown = shown_of(path)
    lines = {place.line for name in rebuilt.steps if (place := shown.place(name)) is not None}
    assert {5, NOTE_LINE, NOTE_LINE + 1, NOTE_LINE + 2} == lines
    for sentence, line in (("Let it dry", NOTE_LINE + 1), ("Breathe in", NOTE_LINE + 2)):
        result = compiled(str(path))
        number = next(each.number for each in sheet_of(result).steps if sentence in each.title)
        assert shown.place(f"step {number}") == Place(str(path), line, 1)


def test_a_piece_wins_over_a_section_of_its_name(tmp_path: Path) -> None:
    path = written(tmp_path, GOOD + "panel front from ink on front outside\n")
    assert shown_of(path).place("front") == Place(str(path), NOTE_LINE + 1, 7)


def test_places_are_those_of_the_text_as_it_is_now(tmp_path: Path) -> None:
    path = written(tmp_path, GOOD)
    shown = shown_of(path)
    written(tmp_path, "# a line more\n" + BROKEN)
    shown.show(rebuilt_of(path))
    assert shown.place("note") == Place(str(path), NOTE_LINE + 1, 7)
    assert shown.place("step 1") == Place(str(path), 6, 6)


def test_a_piece_of_a_variant_stands_in_it(tmp_path: Path) -> None:
    path = written(tmp_path, GOOD + 'variant "Two"\n  panel more from ink on front outside\n')
    assert shown_of(path, "Two").place("more") == Place(str(path), NOTE_LINE + 2, 9)
    assert shown_of(path).place("more") is None


def test_a_panel_that_a_shipped_fold_brings_stands_where_it_is_folded(tmp_path: Path) -> None:
    text = GOOD.replace("side-fold", "double-easel")
    path = written(tmp_path, text)
    shown = shown_of(path)
    assert shown.place("plate") == shown.place("card") == Place(str(path), 5, 6)


def test_a_panel_that_a_used_fold_brings_stands_in_that_file(tmp_path: Path) -> None:
    structure = (
        "structure two\n  ask width, height\n  flat 2 * width x height\n  score width from left\n"
        "  sections left, right\n  panel slip on left\n    size 1 x 1\n"
    )
    (tmp_path / "folds.recipe").write_text(structure)
    own = GOOD.replace("side-fold", "two").replace("on back", "on right")
    places = rebuilt_of(written(tmp_path, f'use "folds.recipe"\n{own}')).places
    assert places["slip"] == Place(str(tmp_path / "folds.recipe"), 6, 9)


LINK = "my-editor://open?file={file}&line={line}&column={column}"


@pytest.mark.parametrize("name", [
    "a.recipe", "with space.recipe", "100%.recipe", "a&line=9.recipe", "#a?b.recipe", "a+b.recipe",
    "Käse ✂.recipe", "{line}.recipe", "';alert(1)//.recipe", 'a"><b.recipe',
])  # fmt: skip
def test_a_link_carries_any_name_whole(tmp_path: Path, name: str) -> None:
    path = str(tmp_path / name)
    link = editor_link(LINK, Place(path, 17, 7))
    assert link.isascii()
    assert not set(link) & set(" \"'<>")
    assert parse_qs(urlsplit(link).query, strict_parsing=True) == {
        "file": [path], "line": ["17"], "column": ["7"],
    }  # fmt: skip


def test_a_link_has_the_whole_path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert editor_link("x:{file}:{line}", Place("sub/a.recipe", 3, 1)) == f"x:{tmp_path}/sub/a.recipe:3"


def test_a_name_that_is_no_text_is_encoded_as_it_is() -> None:
    assert editor_link("x:{file}", Place("/a/\udcff.recipe", 1, 1)) == "x:/a/%FF.recipe"


@pytest.mark.parametrize("template", [LINK, "x:{file}", "http://localhost:1234/open?{file}:{line}"])
def test_links_that_will_do(template: str) -> None:
    assert link_problem(template) == ""


@pytest.mark.parametrize(("template", "part"), [
    ("", "no address"), ("{file}", "no address"), ("my editor:{file}", "no address"),
    ("x:{file}\n", "no address"), ("x:{line}", "{file}"), ("x:{file}{row}", "{row}"), ("x:{file}{}", "{}"),
    ("javascript:alert('{file}')", "javascript:"), ("DATA:text/html,{file}", "DATA:"),
    ("file://{file}", "file:"),
])  # fmt: skip
def test_links_that_will_not_do_say_why(template: str, part: str) -> None:
    assert part in link_problem(template)
