"""Nothing outside the recipe's folder is read, by whatever name, link or command; nothing is waited for."""

import errno
import os
from pathlib import Path
from typing import Any

import pytest

from cardrecipe import folder as in_folder
from cardrecipe.commands.completing import _sizes
from cardrecipe.files import FolderTexts
from cardrecipe.folder import MAX_LINKS
from cardrecipe.model.used_names import Refused
from tests.editor.desks import Shown
from tests.preview.previewing import rebuilt_of
from tests.recipes import run
from tests.trust.traps import CARD, HIDDEN, SECRET, SHELF, TRAPS, Trap, prepared

LINK = TRAPS["a link"]
# Every command reads used files by the same door: one trap of each kind is enough for each.
SOME = ("the folder above", "a link", "a pipe", "other letters")


@pytest.fixture(params=TRAPS.values(), ids=TRAPS)
def trap(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Trap:
    """The tests run in the recipe's folder."""
    found: Trap = request.param
    monkeypatch.chdir(prepared(tmp_path, found))
    return found


def everything_written() -> str:
    """All bytes in the recipe's folder that a command may have written."""
    made = [path for path in Path().rglob("*") if path.suffix in (".html", ".md", ".json", ".svg", ".pdf")]
    return "".join(path.read_text("latin1") for path in made if path.is_file())


def test_a_check_says_why_under_the_words_and_how_to_repair_it(trap: Trap) -> None:
    ran = run("check", "a.recipe")
    assert ran.status == 1
    head, line, caret, hint = ran.err.splitlines()[:4]
    assert head.startswith(f"a.recipe:4:5: error[{trap.code}]: ") and trap.said in head
    assert line.startswith(f'  4 | use "{trap.used[:100]}') and caret.startswith("    |     ^^")
    assert caret.count("^") == len(trap.used) + 2 or line.endswith("…")
    assert hint.startswith("  hint: ")
    assert SECRET not in ran.err
    assert len(ran.err.split("error[")) == 2, "a missing shelf is the only thing that is wrong"


@pytest.mark.parametrize("arguments", [
    ["build", "a.recipe", "--to", "html,md,json"],
    ["explain", "a.recipe", "card.width"],
    ["diff", "plain.recipe", "a.recipe"],
    ["facts", "a.recipe"],
    ["git-diff", "a.recipe", "plain.recipe", "0", "100644", "a.recipe", "0", "100644"],
    ["check", "bench.recipe"],
    ["build", "bench.recipe", "--to", "html,md,json"],
], ids=lambda arguments: " ".join(arguments[:2]))  # fmt: skip
def test_no_command_tells_the_secret(arguments: list[str]) -> None:
    for name in SOME:
        _no_command_tells_the_secret(arguments, TRAPS[name])


def _no_command_tells_the_secret(arguments: list[str], trap: Trap) -> None:
    from tempfile import TemporaryDirectory

    here = os.getcwd()
    with TemporaryDirectory() as place:
        os.chdir(prepared(Path(place), trap))
        try:
            ran = run(*arguments)
            said = ran.out + ran.err
            assert SECRET not in said + everything_written(), trap
            assert trap.said in said or arguments[0] == "explain", (trap, said)
            assert trap.code in said or arguments[0] in ("facts", "git-diff", "explain"), (trap, said)
        finally:
            os.chdir(here)


@pytest.mark.parametrize("name", SOME)
def test_neither_the_preview_nor_the_editor_nor_the_shell_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    trap = TRAPS[name]
    monkeypatch.chdir(prepared(tmp_path, trap))
    rebuilt = rebuilt_of(Path("a.recipe"))
    assert rebuilt.html is None and trap.code in rebuilt.said and SECRET not in repr(rebuilt)
    rebuilt.files.have_changed()
    shown = Shown(Path.cwd())
    shown.open("a.recipe", Path("a.recipe").read_text())
    shown.background.let_go()
    assert shown.codes("a.recipe") == [trap.code]
    assert SECRET not in repr(shown.published)

    class Typed:
        file = "a.recipe"
        variant = None

    assert "card.width" in _sizes(Typed())  # type: ignore[arg-type]


def test_a_refused_file_is_not_even_looked_at(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whether there is such a file outside, and since when, is nobody's business either."""
    folder = prepared(tmp_path, LINK)
    texts = FolderTexts(str(folder / "a.recipe"))
    looked: list[str] = []
    for name in ("stat", "lstat", "open", "listdir", "readlink"):
        genuine = getattr(os, name)
        monkeypatch.setattr(os, name, lambda path, *rest, _of=genuine, **more: (
            looked.append(os.fspath(path)), _of(path, *rest, **more))[1])  # fmt: skip
    found = texts.read(str(folder / "papers.recipe"))
    monkeypatch.undo()
    assert isinstance(found, Refused) and found.is_outside
    assert looked == [str(folder / "papers.recipe")]  # its readlink


# ---- what may be read ------------------------------------------------------------------------------


def test_links_that_stay_in_the_folder_are_followed(tmp_path: Path) -> None:
    (tmp_path / "real" / "deep").mkdir(parents=True)
    (tmp_path / "real" / "deep" / "ink.recipe").write_text(SHELF)
    (tmp_path / "shelf").symlink_to("real")
    (tmp_path / "real" / "up.recipe").symlink_to("../real/./deep/ink.recipe")
    (tmp_path / "whole.recipe").symlink_to(tmp_path / "shelf" / "up.recipe")
    for name in ("shelf/deep/ink.recipe", "shelf/up.recipe", "whole.recipe", "real/deep/ink.recipe"):
        (tmp_path / "a.recipe").write_text(CARD.format(use=f'use "{name}"'))
        assert run("check", str(tmp_path / "a.recipe")) == (0, "", ""), name


def test_as_many_links_are_followed_as_the_system_follows(tmp_path: Path) -> None:
    (tmp_path / "0").write_text(SHELF)
    for number in range(1, MAX_LINKS + 2):
        (tmp_path / str(number)).symlink_to(str(number - 1))
    texts = FolderTexts(str(tmp_path / "a.recipe"))
    assert texts.read(f"{tmp_path}/{MAX_LINKS}") == SHELF
    refused = texts.read(f"{tmp_path}/{MAX_LINKS + 1}")
    assert isinstance(refused, Refused) and "leads back to itself" in refused.reason


@pytest.mark.parametrize("typed", [
    "a.recipe", "./a.recipe", "../mine/a.recipe", "shelf/../a.recipe", "{whole}/a.recipe",
    "{whole}/./a.recipe", "../mine//a.recipe", "../other/a.recipe",
])  # fmt: skip
def test_the_folder_is_the_recipes_however_it_is_typed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, typed: str
) -> None:
    """Also by a link to the folder: the maker may name any recipe."""
    folder = tmp_path / "mine"
    (folder / "shelf").mkdir(parents=True)
    (tmp_path / "other").symlink_to("mine")
    (folder / "a.recipe").write_text(CARD.format(use='use "papers.recipe"'))
    (folder / "papers.recipe").write_text(SHELF)
    monkeypatch.chdir(folder)
    assert run("check", typed.format(whole=folder)) == (0, "", "")


def test_a_folder_that_may_be_entered_and_not_listed_will_do(tmp_path: Path) -> None:
    """What is in it cannot be compared letter by letter then."""
    (tmp_path / "papers.recipe").write_text(SHELF)

    def refused(_: str) -> list[str]:
        raise PermissionError(13, "Permission denied")

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(in_folder.os, "listdir", refused)
        assert FolderTexts(str(tmp_path / "a.recipe")).read(f"{tmp_path}/papers.recipe") == SHELF


def test_a_disk_that_takes_large_letters_for_small_ones_changes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """There the file opens by either name, and only the folder tells what it is called."""
    folder = prepared(tmp_path, Trap(lambda folder: None, "papers.recipe", "", ""))
    (folder / "papers.recipe").write_text(HIDDEN)
    monkeypatch.setattr(in_folder.os, "listdir", lambda _: ["a.recipe", "Papers.recipe"])
    ran = run("check", str(folder / "a.recipe"))
    assert ran.status == 1 and SECRET not in ran.err
    assert 'error[use-missing]: "papers.recipe" is called "Papers.recipe" on the disk' in ran.err
    assert '  hint: write "Papers.recipe"\n' in ran.err


def test_an_editors_many_questions_list_a_folder_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    os.utime(tmp_path, (0, 0))
    listed: list[object] = []
    genuine = os.listdir
    monkeypatch.setattr(in_folder.os, "listdir", lambda path: (listed.append(path), genuine(path))[1])
    texts = FolderTexts(str(tmp_path / "a.recipe"))
    assert {texts.read(f"{tmp_path}/{number}.recipe") for number in range(100)} == {None}
    assert len(listed) == 1
    (tmp_path / "7.recipe").write_text(SHELF)
    assert texts.read(f"{tmp_path}/7.recipe") == SHELF


def test_a_used_file_that_is_too_long_is_told_as_such_wherever_it_is_cut(tmp_path: Path) -> None:
    """Only so much is read of a file, which may end in the middle of a letter."""
    (tmp_path / "a.recipe").write_text(CARD.format(use='use "papers.recipe"'))
    for before in range(4):
        (tmp_path / "papers.recipe").write_text("#" * before + "\U0001f48c" * 1_100_000)
        ran = run("check", str(tmp_path / "a.recipe"))
        assert "error[file-too-long]" in ran.err and "UTF-8" not in ran.err


@pytest.mark.parametrize("place", ["a.recipe", "mine/a.recipe", "./mine/a.recipe"])
@pytest.mark.parametrize("name", ["/etc/passwd", "../papers.recipe"])
def test_a_name_that_leaves_the_folder_is_refused_by_the_folder_as_well(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, place: str, name: str
) -> None:
    """The core refuses such names before it asks for them; the door does not count on that."""
    monkeypatch.chdir(tmp_path)
    Path("mine").mkdir()
    Path("papers.recipe").write_text(HIDDEN)
    texts = FolderTexts(place)
    assert (texts.read(name), texts.place(name)) == (in_folder.OUTSIDE, None)


@pytest.mark.parametrize("number", [errno.EACCES, errno.EIO, errno.EMFILE])
def test_a_used_file_that_the_system_does_not_give_is_told_with_its_reason(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    monkeypatch.chdir(prepared(tmp_path, TRAPS["a link"]))
    Path("papers.recipe").unlink()
    Path("papers.recipe").write_text(SHELF)
    opened = os.open

    def refused(path: str, *arguments: Any, **more: Any) -> int:
        if path.endswith("papers.recipe"):
            raise OSError(number, os.strerror(number), path)
        return opened(path, *arguments, **more)

    monkeypatch.setattr(in_folder.os, "open", refused)  # some users may read every file
    ran = run("check", "a.recipe")
    assert (ran.status, ran.out) == (1, "")
    head, *_, hint = ran.err.splitlines()
    assert head == f'a.recipe:4:5: error[use-missing]: "papers.recipe" cannot be read: {os.strerror(number)}'
    assert hint == "  hint: see that you may read it, or use another file"
