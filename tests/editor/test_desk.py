"""What a maker is shown while typing, and once the background has spoken: just what `check` says."""

from pathlib import Path
from random import Random

import pytest

from cardrecipe.editor.desk.document import Document
from tests.editor.desks import Shown
from tests.editor.edits import edit_by_chance, text_by_chance
from tests.recipes import HEAD, SAMPLES

SEQUENCES, PARTS = 200, 4
CARD = HEAD + (
    "base card from ink\n  flat 10 x 7\n  score 5 from left\n  sections front, back\n"
    'panel mat from ink on back\nvariant "Small"\n  drop mat\n'
)
USER = 'recipe "A"\n  units inch nearest 1/16\nuse "papers.recipe"\nbase card from ink\n  flat 10 x 7\n'
PAPERS = 'paper ink is cardstock "Ink" 12 x 12\n'


@pytest.mark.parametrize("part", range(PARTS))
def test_after_edits_by_chance_everything_is_as_check_says(part: int, tmp_path: Path) -> None:
    for number in range(part, SEQUENCES, PARTS):
        chance, shown = Random(f"desk {number}"), Shown(tmp_path)
        for each in SAMPLES.glob("*.recipe"):
            (tmp_path / each.name).write_bytes(each.read_bytes())
        shown.open("a.recipe", text_by_chance(chance))
        for _ in range(chance.randint(1, 5)):
            edit = edit_by_chance(chance, shown.desk.recipes["a.recipe"].document.source.text)
            shown.type("a.recipe", *edit)
            if chance.random() < 0.3:
                shown.background.let_go()
        shown.background.let_go()
        assert shown.as_check_says("a.recipe"), number
        assert not shown.reported


# ---- while typing --------------------------------------------------------------------------------


def test_mistakes_of_form_come_at_once_and_the_others_after_the_pause(tmp_path: Path) -> None:
    shown = Shown(tmp_path)
    shown.open("a.recipe", CARD)
    shown.background.let_go()
    assert shown.codes("a.recipe") == []
    shown.replace("a.recipe", "on back", "on bakc")
    assert shown.codes("a.recipe") == []
    shown.replace("a.recipe", "score 5", "scor 5")
    assert shown.codes("a.recipe") == ["unknown-word"]
    shown.replace("a.recipe", "scor 5", "score 5")
    assert shown.codes("a.recipe") == []
    shown.background.let_go()
    assert shown.codes("a.recipe") == ["unknown-name"]


def test_what_the_solver_said_last_moves_along_with_the_text(tmp_path: Path) -> None:
    shown = Shown(tmp_path)
    shown.open("a.recipe", CARD.replace("on back", "on bakc"))
    shown.background.let_go()
    shown.type("a.recipe", 0, 0, "# 😀\n")
    [diagnostic] = shown.published[shown.path("a.recipe")][1]
    assert shown.desk.recipes["a.recipe"].document.source.words_at(diagnostic.span) == "bakc"
    shown.replace("a.recipe", "bakc", "back")
    assert shown.codes("a.recipe") == []


def test_the_version_is_that_of_the_text(tmp_path: Path) -> None:
    shown = Shown(tmp_path)
    shown.open("a.recipe", CARD)
    shown.type("a.recipe", 0, 0, "\n")
    assert shown.published[shown.path("a.recipe")][0] == 2


def test_a_snapshot_has_the_last_card_until_the_next_is_known(tmp_path: Path) -> None:
    shown = Shown(tmp_path)
    shown.open("a.recipe", CARD)
    first = shown.desk.snapshot("a.recipe")
    assert (first.compiled, first.is_current) == (None, False)
    shown.background.let_go()
    known = shown.desk.snapshot("a.recipe")
    assert known.is_current and known.compiled is not None and list(known.variants) == ["Small"]
    shown.type("a.recipe", 0, 0, "#\n")
    later = shown.desk.snapshot("a.recipe")
    assert later.compiled is known.compiled and not later.is_current
    assert later.source.text == "#\n" + CARD and known.source.text == CARD


def test_the_whole_text_may_be_sent_anew(tmp_path: Path) -> None:
    from cardrecipe.editor.desk.desk import Edited

    shown = Shown(tmp_path)
    shown.open("a.recipe", "scor 5\n")
    shown.desk.edit("a.recipe", 2, [Edited(None, None, CARD.replace("\n", "\r\n"))])
    shown.background.let_go()
    assert shown.codes("a.recipe") == []
    assert shown.as_check_says("a.recipe")


# ---- used files ----------------------------------------------------------------------------------


def test_an_open_window_counts_before_the_disk(tmp_path: Path) -> None:
    shown = Shown(tmp_path, {"papers.recipe": PAPERS})
    shown.open("a.recipe", USER)
    shown.background.let_go()
    assert shown.codes("a.recipe") == []
    shown.open("papers.recipe", PAPERS)
    shown.replace("papers.recipe", "ink", "coal")
    shown.background.let_go()
    assert shown.codes("a.recipe") == ["unknown-name"]
    assert shown.refreshed
    shown.desk.close("papers.recipe")
    shown.background.let_go()
    assert shown.codes("a.recipe") == []


def test_a_file_that_is_not_saved_yet_may_be_used(tmp_path: Path) -> None:
    shown = Shown(tmp_path)
    shown.open("a.recipe", USER)
    shown.background.let_go()
    assert "use-missing" in shown.codes("a.recipe")
    shown.open("papers.recipe", PAPERS)
    shown.background.let_go()
    assert shown.codes("a.recipe") == []


def test_a_file_that_changes_on_the_disk(tmp_path: Path) -> None:
    shown = Shown(tmp_path, {"papers.recipe": PAPERS})
    shown.open("a.recipe", USER)
    shown.background.let_go()
    (tmp_path / "papers.recipe").unlink()
    shown.desk.changed_elsewhere([shown.path("other.recipe")])
    assert not shown.background.held
    shown.desk.changed_elsewhere([shown.path("papers.recipe")])
    shown.background.let_go()
    assert shown.codes("a.recipe") == ["use-missing"]


def test_a_mistake_in_a_used_file_is_shown_there_and_goes_with_the_last_who_uses_it(tmp_path: Path) -> None:
    shown = Shown(tmp_path, {"papers.recipe": PAPERS + "papr white\n"})
    for name in ("a.recipe", "b.recipe"):
        shown.open(name, USER)
    shown.background.let_go()
    assert (shown.codes("papers.recipe"), shown.codes("a.recipe")) == (["unknown-word"], [])
    shown.desk.close("a.recipe")
    assert shown.codes("papers.recipe") == ["unknown-word"]
    shown.desk.close("b.recipe")
    assert shown.codes("papers.recipe") == []


def test_an_open_used_file_speaks_for_itself_once_it_has_changed(tmp_path: Path) -> None:
    shown = Shown(tmp_path)
    shown.open("papers.recipe", PAPERS + "papr white\n")
    shown.open("a.recipe", USER)
    shown.background.let_go()
    assert shown.codes("papers.recipe") == ["unknown-word"]
    shown.replace("papers.recipe", "papr white\n", "")
    assert shown.codes("papers.recipe") == []


def test_nothing_outside_the_folder_is_read_even_where_it_is_open(tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / "papers.recipe").symlink_to(tmp_path / "papers.recipe")
    shown = Shown(folder)
    shown.desk.open("papers", f"{tmp_path}/papers.recipe", PAPERS, 1, True)
    shown.open("a.recipe", USER)
    shown.background.let_go()
    assert "use-outside" in shown.codes("a.recipe")


def test_a_text_without_a_file_has_no_folder(tmp_path: Path) -> None:
    shown = Shown(tmp_path, {"papers.recipe": PAPERS})
    shown.desk.open("untitled:1", "untitled:1", USER, 1, False)
    shown.background.let_go()
    assert [each.code for each in shown.published["untitled:1"][1]] == ["use-missing"]


def test_a_class_file_is_checked_as_one(tmp_path: Path) -> None:
    shown = Shown(tmp_path, {"a.recipe": CARD})
    shown.open("bench.recipe", 'class "Bench"\n  make 2 of "a.recipe"\n  make 1 of "b.recipe"\n')
    shown.background.let_go()
    assert shown.codes("bench.recipe") and shown.as_check_says("bench.recipe")
    shown.open("a.recipe", CARD.replace("flat 10", "flat"))
    shown.background.let_go()
    assert "not-understood" in shown.codes("a.recipe")


def test_a_fault_while_editing_is_not_carried_along(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shown = Shown(tmp_path)
    shown.open("a.recipe", CARD)
    with monkeypatch.context() as patch:
        patch.setattr(Document, "edited", lambda *_: 1 / 0)
        with pytest.raises(ZeroDivisionError):
            shown.type("a.recipe", 0, 0, "papr\n")
    shown.type("a.recipe", 0, 0, "# 1\n")
    assert shown.desk.recipes["a.recipe"].document.source.text == "# 1\npapr\n" + CARD
    shown.background.let_go()
    assert shown.as_check_says("a.recipe") and "unknown-word" in shown.codes("a.recipe")


def test_a_fault_of_the_compiler_is_reported(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shown = Shown(tmp_path)
    shown.open("a.recipe", CARD)
    _, then = shown.background.held.pop("a.recipe")
    then(None, ValueError("no such thing"))
    assert shown.reported == [f"checking {shown.path('a.recipe')}: no such thing"]
    shown.type("a.recipe", 0, 0, "#\n")
    shown.background.let_go()
    assert shown.desk.snapshot("a.recipe").is_current


def test_places_in_a_used_file_are_counted_in_its_own_text(tmp_path: Path) -> None:
    """A diagnostic may point into it though the client has not opened it."""
    shown = Shown(tmp_path, {"papers.recipe": PAPERS})
    shown.open("a.recipe", USER)
    shown.background.let_go()
    checked = shown.desk.recipes["a.recipe"].checked
    assert checked is not None
    (name,) = [each for each in checked.sources if each.endswith("papers.recipe")]
    text = shown.desk.client_text(name)
    assert text is not None and text.raw == PAPERS
    assert shown.desk.client_text("nothing.recipe") is None
