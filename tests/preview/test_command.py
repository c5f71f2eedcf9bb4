"""The command `watch` as a maker runs it: what it follows, what it prints, and how it ends."""

import errno
import os
import signal
import socket
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from cardrecipe.preview.page import preview_page
from tests.preview.previewing import (
    BROKEN,
    GOOD,
    NOTE_LINE,
    ask,
    events_of,
    save_beside,
    until,
    watching,
)
from tests.recipes import run

NAME = "a.recipe"
SHELF = 'paper ink is cardstock "Ink" 12 x 12\n'
USING = f'use "papers.recipe"\n{GOOD.replace(SHELF, "")}'


@pytest.fixture
def recipe(tmp_path: Path) -> Path:
    path = tmp_path / NAME
    path.write_text(GOOD)
    return path


def in_place(path: Path, text: str) -> None:
    path.write_text(text)


@pytest.mark.parametrize("save", [in_place, save_beside])
def test_every_save_makes_the_page_anew(recipe: Path, save: Callable[[Path, str], None]) -> None:
    with watching(recipe.parent, NAME) as watch, events_of(watch.address) as events:
        first = next(events)
        assert (first["kind"], first["notes"]) == ("", [])
        for title in ("One", "Two"):
            save(recipe, GOOD.replace("Evening walk", title))
            assert next(events)["page"] > first["page"]
            assert f"<h1>{title}</h1>" in ask(watch.address).text


def test_a_used_file_is_followed_as_well(recipe: Path) -> None:
    shelf = recipe.with_name("papers.recipe")
    shelf.write_text(SHELF)
    recipe.write_text(USING)
    with watching(recipe.parent, NAME) as watch, events_of(watch.address) as events:
        next(events)
        save_beside(shelf, SHELF.replace('"Ink"', '"Raven"'))
        assert next(events)["kind"] == ""
        assert "Raven" in ask(watch.address).text
        shelf.unlink()
        assert [note["heading"] for note in next(events)["notes"]] == ["error[use-missing]"]
        shelf.write_text(SHELF.replace('"Ink"', '"Pine"'))
        assert next(events)["notes"] == []
        assert "Pine" in ask(watch.address).text


def test_a_broken_recipe_keeps_the_last_good_page(recipe: Path) -> None:
    with watching(recipe.parent, NAME) as watch, events_of(watch.address) as events:
        first, page = next(events), ask(watch.address).text
        recipe.write_text(BROKEN)
        broken = next(events)
        assert (broken["kind"], broken["page"]) == ("error", first["page"])
        assert broken["headline"] == "1 mistake: this is the last sheet that could be made"
        assert broken["notes"] == [{
            "heading": "error[unknown-name]",
            "place": f"{NAME}:{NOTE_LINE}:24",
            "message": "no section or piece is called `bakc`",
            "line": ["panel note from ink on ", "bakc", ""],
            "number": NOTE_LINE,
            "hint": "did you mean `back`?",
            "related": [],
        }]  # fmt: skip
        assert ask(watch.address).text == page
        recipe.write_text(GOOD)
        repaired = next(events)
        assert (repaired["kind"], repaired["notes"], repaired["page"]) == ("", [], first["page"])
        until(lambda: f"cardrecipe: {NAME} is whole again\n" in watch.err)
    assert "".join(watch.err).count(run_check(recipe, BROKEN)) == 1


def run_check(path: Path, text: str) -> str:
    path.write_text(text)
    return run("check", str(path)).err.replace(str(path), NAME)


def test_a_recipe_that_is_broken_from_the_start(recipe: Path) -> None:
    recipe.write_text(BROKEN)
    with watching(recipe.parent, NAME) as watch, events_of(watch.address) as events:
        first = next(events)
        assert first["headline"] == "1 mistake: no sheet could be made yet"
        assert "as soon as the recipe can be made" in ask(watch.address).text
        recipe.write_text(GOOD)
        assert next(events)["page"] > first["page"]
        assert "<h1>Evening walk</h1>" in ask(watch.address).text


def test_a_file_that_goes_and_comes_back(recipe: Path) -> None:
    with watching(recipe.parent, NAME) as watch, events_of(watch.address) as events:
        page = next(events)["page"]
        recipe.unlink()
        gone = next(events)
        assert [note["message"] for note in gone["notes"]] == [f"{NAME}: No such file or directory"]
        assert gone["page"] == page
        recipe.mkdir()
        assert [note["message"] for note in next(events)["notes"]] == [f"{NAME}: Is a directory"]
        recipe.rmdir()
        assert next(events)["kind"] == "error"
        recipe.write_text(GOOD)
        assert next(events)["kind"] == ""


def test_a_file_that_is_no_text_for_a_while(recipe: Path) -> None:
    with watching(recipe.parent, NAME) as watch, events_of(watch.address) as events:
        next(events)
        recipe.write_bytes(b"recipe \xff")
        assert "is not UTF-8 text" in next(events)["notes"][0]["message"]
        recipe.write_text(GOOD)
        assert next(events)["kind"] == ""


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="everything can be read here")
def test_a_file_that_may_not_be_read_for_a_while(recipe: Path) -> None:
    with watching(recipe.parent, NAME) as watch, events_of(watch.address) as events:
        next(events)
        recipe.chmod(0)
        assert [note["message"] for note in next(events)["notes"]] == [f"{NAME}: Permission denied"]
        recipe.chmod(0o600)
        assert next(events)["kind"] == ""


def test_a_variant_units_copies_and_page(recipe: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(recipe.parent)
    recipe.write_text(GOOD + 'variant "Two"\n  panel more from ink on front outside\n')
    wanted = ("--variant", "Two", "--units", "mm", "--copies", "3", "--page", "a4")
    with watching(recipe.parent, NAME, *wanted) as watch, events_of(watch.address) as events:
        next(events)
        built = run("build", NAME, *wanted, "-o", "-", "--to", "html").out
        assert ask(watch.address).body == preview_page(built, 2)
        recipe.write_text(GOOD)
        assert "no variant is called 'Two'" in next(events)["notes"][0]["message"]
        recipe.write_text(BROKEN)
        assert len(next(events)["notes"]) == 2


def test_a_click_prints_the_place(recipe: Path) -> None:
    with watching(recipe.parent, NAME) as watch:
        for name, place in (("note", f"{NAME}:{NOTE_LINE}:7"), ("card", f"{NAME}:5:6")):
            answer = ask(watch.address, "place", "POST", name)
            assert answer.text == f'{{"place": "{place}", "link": null}}'
            until(lambda place=place: f"{place}\n" in watch.out, "the print")
        assert len(watch.out) == 3


LINK = "my-editor://open?file={file}&line={line}&column={column}"


@pytest.mark.parametrize("way", ["option", "variable"])
def test_with_an_editor_link_a_click_goes_there(recipe: Path, way: str) -> None:
    options: tuple[str, ...] = ("--editor-link", LINK) if way == "option" else ()
    variables = {"CARDRECIPE_EDITOR_LINK": LINK if way == "variable" else "x:{file}"}
    with watching(recipe.parent, NAME, *options, **variables) as watch:
        answer = ask(watch.address, "place", "POST", "note")
        link = f"my-editor://open?file={recipe}&line={NOTE_LINE}&column=7"
        assert answer.text == f'{{"place": "{NAME}:{NOTE_LINE}:7", "link": "{link}"}}'
        assert watch.stop() == 0
        assert len(watch.out) == 1


def test_a_place_of_a_note_can_be_gone_to_and_no_other(recipe: Path) -> None:
    recipe.write_text(BROKEN)
    with watching(recipe.parent, NAME) as watch:
        place = f"{NAME}:{NOTE_LINE}:24"
        assert place in ask(watch.address, "place", "POST", place).text
        assert ask(watch.address, "place", "POST", f"{NAME}:1:1").text == '{"place": null, "link": null}'
        assert ask(watch.address, "place", "POST", "/etc/passwd:1:1").text == '{"place": null, "link": null}'


def test_open_opens_the_browser(recipe: Path) -> None:
    browser = recipe.with_name("browser")
    browser.write_text('#!/bin/sh\necho "$1" > "$0.asked"\n')
    browser.chmod(0o755)
    with watching(recipe.parent, NAME, "--open", BROWSER=f"{browser} %s") as watch:
        asked = recipe.with_name("browser.asked")
        until(lambda: asked.exists() and asked.read_text(), "the browser")
        assert asked.read_text().strip() == watch.address


@pytest.mark.skipif(sys.platform != "linux", reason="other systems have a browser of their own")
@pytest.mark.parametrize("unbuffered", ["", "1"])
def test_without_a_browser_the_address_is_left_to_the_maker(recipe: Path, unbuffered: str) -> None:
    alone = {"PATH": "/nowhere", "BROWSER": "", "DISPLAY": "", "WAYLAND_DISPLAY": ""}
    with watching(recipe.parent, NAME, "--open", **alone, PYTHONUNBUFFERED=unbuffered) as watch:
        said = "cardrecipe: no browser was found; open the address above in yours\n"
        until(lambda: said in watch.err, "the sentence")
        assert ask(watch.address).status == 200


# ---- the end -------------------------------------------------------------------------------------


@pytest.mark.parametrize("is_followed", [False, True])
def test_ctrl_c_ends_it(recipe: Path, is_followed: bool) -> None:
    with watching(recipe.parent, NAME) as watch:
        address = watch.address
        if not is_followed:
            assert watch.stop() == 0
        else:
            with events_of(address) as events:
                next(events)
                assert watch.stop() == 0
                assert list(events) == []  # the stream ends
        with pytest.raises(OSError):
            ask(address)
    assert "".join(watch.err) == "cardrecipe: the preview follows every save; Ctrl-C ends it\n"


def test_nothing_is_left_running(recipe: Path) -> None:
    children = Path("/proc/self/task")
    if not children.exists():
        pytest.skip("this system does not tell which processes belong to which")
    for end in (signal.SIGINT, signal.SIGTERM, signal.SIGKILL):
        with watching(recipe.parent, NAME) as watch:
            assert watch.address
            number = watch.process.pid
            own = Path(f"/proc/{number}/task/{number}/children").read_text().split()
            assert own
            watch.stop(end)
            until(lambda own=own: not any(_runs(each) for each in own), "the end of the second process")


def _runs(number: str) -> bool:
    try:
        return Path(f"/proc/{number}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False


def test_a_name_that_is_no_text(tmp_path: Path) -> None:
    path = os.fsencode(tmp_path) + b"/\xff<b>.recipe"
    try:
        Path(os.fsdecode(path)).write_text("x")
    except OSError:
        pytest.skip("such names cannot be had here")
    with watching(tmp_path, os.fsdecode(path)) as watch:
        assert "<h1>&lt;U+DCFF&gt;&lt;b&gt;.recipe</h1>" in ask(watch.address).text
        with events_of(watch.address) as events:
            assert next(events)["kind"] == "error"


def test_a_port_that_is_taken(recipe: Path) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        ran = run("watch", str(recipe), "--port", str(port))
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == (
        f"cardrecipe: port {port} is taken by another program; leave --port out, and a free one is found\n"
    )


@pytest.mark.parametrize(("number", "why"), [
    (errno.EACCES, "port 80 is kept for the system; leave --port out, or name one above 1023"),
    (errno.ENOBUFS, f"no preview on port 80: {os.strerror(errno.ENOBUFS)}; leave --port out for a free one"),
])  # fmt: skip
def test_a_port_that_the_system_does_not_give(
    recipe: Path, monkeypatch: pytest.MonkeyPatch, number: int, why: str
) -> None:
    def refused(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(socket.socket, "bind", refused)  # who may have port 80 differs by system and user
    assert run("watch", str(recipe), "--port", "80") == (2, "", f"cardrecipe: {why}\n")


def test_a_port_that_is_named(recipe: Path) -> None:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    with watching(recipe.parent, NAME, "--port", str(port)) as watch:
        assert watch.address.startswith(f"http://127.0.0.1:{port}/")


@pytest.mark.parametrize(("arguments", "part"), [
    (("--port", "65536"), "not a number from 0 to 65535"), (("--port", "-1"), "--port"),
    (("--port", "x"), "'x'"),
    (("--page", "letter,a4"), "--page"), (("--copies", "0"), "from 1 to 10000"),
    (("--editor-link", "open {file}"), "--editor-link is no address"),
    (("--editor-link", "x:{line}"), "does not say which file"),
    (("--variant", "Two"), "no variant is called 'Two'"),
])  # fmt: skip
def test_wrong_commands_are_refused(recipe: Path, arguments: tuple[str, ...], part: str) -> None:
    ran = run("watch", str(recipe), *arguments)
    assert (ran.status, ran.out) == (2, "")
    assert part in ran.err


def test_a_wrong_link_in_the_environment(recipe: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CARDRECIPE_EDITOR_LINK", "javascript:{file}")
    ran = run("watch", str(recipe))
    assert ran.status == 2
    assert ran.err.startswith("cardrecipe: CARDRECIPE_EDITOR_LINK begins with javascript:")


@pytest.mark.parametrize("what", ["missing", "folder", "no text"])
def test_a_file_that_cannot_be_read_at_the_start(tmp_path: Path, what: str) -> None:
    path = tmp_path / NAME
    if what == "folder":
        path.mkdir()
    if what == "no text":
        path.write_bytes(b"\xff")
    ran = run("watch", str(path))
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"cardrecipe: {path}: ")


def test_many_saves_leave_no_more_behind_than_few(recipe: Path) -> None:
    import gc

    from tests.preview.previewing import rebuilt_of, shown_of

    shown = shown_of(recipe)

    def objects_after(saves: int) -> int:
        for number in range(saves):
            recipe.write_text(GOOD.replace("Evening walk", f"Walk {number}"))
            shown.show(rebuilt_of(recipe))
        gc.collect()
        return len(gc.get_objects())

    objects_after(3)
    assert objects_after(12) - objects_after(3) < 200
