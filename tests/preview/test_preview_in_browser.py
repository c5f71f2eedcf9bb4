"""The preview in a browser: it follows by itself, keeps what was open, and shows mistakes over the page."""

import json
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from cardrecipe.preview.notes import Note
from cardrecipe.preview.places import Place
from cardrecipe.preview.rebuilding import Rebuilt
from cardrecipe.preview.server import PreviewServer
from cardrecipe.preview.shown import Shown
from cardrecipe.preview.watching import RecipeFiles
from tests.preview.previewing import BROKEN, GOOD, LONG, NOTE_LINE, rebuilt_of, serving, shown_of
from tests.render.chromium import Browser, chromium

WRONG = ("Log.entryAdded", "Runtime.exceptionThrown", "Runtime.consoleAPICalled")
NOTES = "document.querySelector('.preview-notes')"


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


@pytest.fixture
def recipe(tmp_path: Path) -> Path:
    path = tmp_path / "a.recipe"
    path.write_text(GOOD)
    return path


@pytest.fixture
def clicks() -> list[Place]:
    return []


@pytest.fixture
def server(browser: Browser, recipe: Path, clicks: list[Place]) -> Iterator[PreviewServer]:
    with serving(shown_of(recipe), clicks.append) as found:
        browser.events.clear()
        opened(browser, found)
        yield found
        wrong = [event for event in browser.events if event["method"] in WRONG]
        browser.ask("Page.navigate", url="about:blank")
        assert wrong == []


def opened(browser: Browser, server: PreviewServer, width: int = 1280) -> None:
    size = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False}
    browser.ask("Emulation.setDeviceMetricsOverride", **size)
    browser.ask("Page.navigate", url=server.address)
    wait(browser, f"location.href === {server.address!r} && {NOTES} && {WHOLE}")


WHOLE = "(!document.getElementById('packed') || document.documentElement.classList.contains('script'))"


def wait(browser: Browser, script: str) -> Any:
    """The value of a script as soon as it is true."""
    last = time.monotonic() + LONG
    while not (found := _value(browser, script)):
        assert time.monotonic() < last, script
        time.sleep(0.02)
    return found


def _value(browser: Browser, script: str) -> Any:
    """The value of a script; None where it cannot be told now, as in the middle of a new page."""
    try:
        return browser.run(f"(() => {{ try {{ return {script}; }} catch {{ return null; }} }})()")
    except AssertionError as problem:
        if "navigated" not in str(problem):
            raise
        return None


def saved(recipe: Path, server: PreviewServer, text: str) -> None:
    """As the watch does it, without its waiting for the disk."""
    recipe.write_text(text)
    server.shown.show(rebuilt_of(recipe))


def titled(browser: Browser, title: str) -> None:
    wait(browser, f"document.querySelector('h1').textContent === {title!r} && {NOTES} && {WHOLE}")


def test_the_page_follows_by_itself(browser: Browser, server: PreviewServer, recipe: Path) -> None:
    for title in ("One", "Two"):
        saved(recipe, server, GOOD.replace("Evening walk", title))
        titled(browser, title)
    requests = [event["params"]["request"]["url"] for event in browser.events
                if event["method"] == "Network.requestWillBeSent"]  # fmt: skip
    loaded = {url for url in requests if not url.startswith("data:")}
    assert loaded == {server.address, f"{server.address}events"}


def test_mistakes_lie_over_the_page_until_they_are_gone(
    browser: Browser, server: PreviewServer, recipe: Path
) -> None:
    assert browser.run(f"{NOTES}.checkVisibility()") is False
    saved(recipe, server, BROKEN)
    wait(browser, f"{NOTES}.checkVisibility()")
    said = " ".join(browser.run(f"{NOTES}.innerText").split())
    assert said == (
        f"1 mistake: this is the last sheet that could be made {recipe}:{NOTE_LINE}:24 error[unknown-name]: "
        f"no section or piece is called `bakc` {NOTE_LINE} panel note from ink on bakc "
        "hint: did you mean `back`?"
    )
    assert browser.run(f"{NOTES}.querySelector('mark').textContent") == "bakc"
    assert browser.run("document.querySelector('h1').textContent") == "Evening walk"
    saved(recipe, server, GOOD)
    wait(browser, f"!{NOTES}.checkVisibility()")


def test_the_end_of_the_page_can_be_scrolled_out_from_under_the_notes(
    browser: Browser, server: PreviewServer, recipe: Path
) -> None:
    saved(recipe, server, BROKEN * 9)
    wait(browser, f"{NOTES}.checkVisibility()")
    browser.run("scrollTo({ top: 1e6, behavior: 'instant' })")
    end = "document.querySelector('main').getBoundingClientRect().bottom"
    assert browser.run(f"{end} <= {NOTES}.getBoundingClientRect().top + 1")


def test_nothing_sticks_out_of_a_phone(browser: Browser, server: PreviewServer, recipe: Path) -> None:
    opened(browser, server, 320)
    saved(recipe, server, BROKEN + f"panel x from ink on back {'x' * 300}\n")
    wait(browser, f"{NOTES}.checkVisibility()")
    assert browser.run("document.documentElement.scrollWidth") <= 320
    assert browser.run(f"{NOTES}.getBoundingClientRect().height") <= 540
    opened(browser, server)


def test_hostile_notes_are_words(browser: Browser, server: PreviewServer, recipe: Path) -> None:
    text = '</script><img src="x" onerror="document.title = 1"><script>document.title = 1</script>'
    place = Place(text, 1, 1)
    related = Note(text, "", place, (text, text, text))
    note = Note(text, text, place, (text, text, text), text, (related,))
    server.shown.show(Rebuilt(RecipeFiles(str(recipe)), notes=(note,)))
    wait(browser, f"{NOTES}.checkVisibility()")
    assert browser.run(f"{NOTES}.querySelectorAll('img, script').length") == 0
    assert browser.run("document.title") != "1"
    # Message, heading, hint and the related message; both lines in three parts; both places.
    assert browser.run(f"{NOTES}.textContent").count(text) == 4 + 2 * 3 + 2


# ---- what survives -------------------------------------------------------------------------------


def test_scroll_position_unit_and_ticks_survive_even_a_new_title(
    browser: Browser, server: PreviewServer, recipe: Path
) -> None:
    long = GOOD + "".join(f"panel note-{n} from ink on back\n  size 1 x 1\n  overhangs\n" for n in range(4))
    saved(recipe, server, long.replace("Evening walk", "Before"))
    titled(browser, "Before")
    browser.run("document.querySelector('.switch [data-unit=mm]').click()")
    shown = "[...document.querySelectorAll('[data-tick=\"step/3\"]')].find((box) => box.checkVisibility())"
    browser.run(f"{shown}.click()")
    browser.run(f"{shown}.scrollIntoView({{ block: 'start', behavior: 'instant' }})")
    browser.run("document.fonts.ready.then(() => 1)")
    before = browser.run(f"{shown}.getBoundingClientRect().top")
    assert browser.run("scrollY") > 300
    # Two pieces more: everything below the cut list moves down.
    more = "".join(f"panel new-{n} from ink on front\n  size 1 x 1\n  overhangs\n" for n in range(2))
    later = long.replace("panel note from", f"{more}panel note from")
    saved(recipe, server, later.replace("Evening walk", "After"))
    titled(browser, "After")
    browser.run("document.fonts.ready.then(() => 1)")
    assert wait(browser, f"{shown}.checked")
    assert browser.run("document.querySelector('.switch [aria-pressed=true]').dataset.unit") == "mm"
    wait(browser, f"Math.abs({shown}.getBoundingClientRect().top - {before}) < 3")
    browser.run("localStorage.clear()")


SLIDER = "[...document.querySelectorAll('input[type=range]')].find((slider) => slider.checkVisibility())"


def test_the_card_stays_folded(browser: Browser, server: PreviewServer, recipe: Path) -> None:
    if not browser.run(f"Boolean({SLIDER})"):
        pytest.skip("the page has no sliders")
    browser.run(f"{SLIDER}.value = 70")
    browser.run(f"{SLIDER}.dispatchEvent(new Event('input', {{ bubbles: true }}))")
    assert browser.run(f"{SLIDER}.value") == "70"
    saved(recipe, server, GOOD.replace("Evening walk", "Folded"))
    titled(browser, "Folded")
    wait(browser, f"{SLIDER}.value === '70'")


def test_notes_that_were_closed_stay_closed(browser: Browser, server: PreviewServer, recipe: Path) -> None:
    warned = GOOD + 'paper tan is plain "Tan"\n'
    saved(recipe, server, warned)
    wait(browser, f"{NOTES}.classList.contains('preview-warning')")
    browser.run(f"{NOTES}.querySelector('summary').click()")
    saved(recipe, server, warned.replace("Evening walk", "Closed"))
    titled(browser, "Closed")
    wait(browser, f"{NOTES}.classList.contains('preview-warning')")
    assert browser.run(f"{NOTES}.querySelector('details').open") is False


@pytest.mark.parametrize("kept", ["null", "[]", "3", "'{'", "{}"])
def test_a_broken_memory_is_no_harm(browser: Browser, server: PreviewServer, recipe: Path, kept: str) -> None:
    browser.run(f"sessionStorage.setItem('cardrecipe preview', {kept!r})")
    opened(browser, server)
    saved(recipe, server, GOOD.replace("Evening walk", "Memory"))
    titled(browser, "Memory")


# ---- clicks --------------------------------------------------------------------------------------


def clicked(browser: Browser, clicks: list[Place], script: str) -> list[Place]:
    clicks.clear()
    browser.run(f"{script}.dispatchEvent(new MouseEvent('click', {{ bubbles: true }}))")
    last = time.monotonic() + LONG
    while not clicks and time.monotonic() < last:
        time.sleep(0.02)
    return clicks


HEAR = """(() => {
    const said = document.querySelector(".preview-said");
    window.heard = [];
    new MutationObserver(() => heard.push(said.textContent)).observe(said, { childList: true });
})()"""


def test_rows_steps_and_notes_lead_to_their_places(
    browser: Browser, server: PreviewServer, recipe: Path, clicks: list[Place]
) -> None:
    note, card = Place(str(recipe), NOTE_LINE, 7), Place(str(recipe), 5, 6)
    row = "document.querySelector('[data-tick^=\"cut/note/\"]').closest('tr').querySelector('.size')"
    assert clicked(browser, clicks, row) == [note]
    step = "document.querySelector('[data-tick=\"step/1\"]').closest('.steps > ol > li').querySelector('p')"
    browser.run(HEAR)  # what is said goes after four seconds, in which a busy machine may not have looked
    assert clicked(browser, clicks, step) == [card]
    wait(browser, f"heard.some((text) => text.startsWith({str(card)!r}))")
    saved(recipe, server, BROKEN)
    wait(browser, f"{NOTES}.checkVisibility()")
    place = f"{NOTES}.querySelector('.preview-place')"
    assert clicked(browser, clicks, place) == [Place(str(recipe), NOTE_LINE, 24)]


def test_a_piece_in_a_picture_leads_to_its_place(
    browser: Browser, server: PreviewServer, recipe: Path, clicks: list[Place]
) -> None:
    group = "<g data-piece=note id=x><path/></g>"
    browser.run(f"document.querySelector('svg').insertAdjacentHTML('beforeend', '{group}')")
    assert clicked(browser, clicks, "document.querySelector('#x path')") == [Place(str(recipe), NOTE_LINE, 7)]


def test_a_drawn_piece_leads_to_its_place(
    browser: Browser, server: PreviewServer, recipe: Path, clicks: list[Place]
) -> None:
    drawn = "document.querySelector('.picture [data-piece=note]')"
    if not browser.run(f"Boolean({drawn})"):
        pytest.skip("the drawings do not name their pieces")
    assert clicked(browser, clicks, drawn) == [Place(str(recipe), NOTE_LINE, 7)]


def test_controls_stay_controls(
    browser: Browser, server: PreviewServer, recipe: Path, clicks: list[Place]
) -> None:
    browser.run("document.querySelector('[data-tick=\"step/1\"]').click()")
    browser.run("document.querySelector('.switch [data-unit=mm]').click()")
    browser.run("document.querySelector('h1').click()")
    row = "document.querySelector('[data-tick^=\"cut/note/\"]').closest('tr').querySelector('.size')"
    assert clicked(browser, clicks, row) == [Place(str(recipe), NOTE_LINE, 7)]  # and nothing came before it
    assert len(clicks) == 1
    browser.run("localStorage.clear()")


def test_a_link_to_the_editor_is_followed(browser: Browser, recipe: Path) -> None:
    with serving(shown_of(recipe), lambda place: f"#to-{place.line}-{place.column}") as server:
        opened(browser, server)
        row = "document.querySelector('[data-tick^=\"cut/note/\"]').closest('tr').querySelector('.size')"
        browser.run(f"{row}.dispatchEvent(new MouseEvent('click', {{ bubbles: true }}))")
        wait(browser, f"location.hash === '#to-{NOTE_LINE}-7'")
        browser.ask("Page.navigate", url="about:blank")


def test_the_end_is_told(browser: Browser, recipe: Path) -> None:
    shown = Shown("a.recipe")
    with serving(shown) as server:
        browser.events.clear()
        browser.ask("Page.navigate", url=server.address)
        wait(browser, f"location.href === {server.address!r} && Boolean({NOTES})")
        assert "as soon as the recipe can be made" in browser.run("document.body.innerText")
        shown.show(rebuilt_of(recipe))
        titled(browser, "Evening walk")
        shown.end()
        said = "document.querySelector('.preview-said').textContent"
        wait(browser, f"{said}.startsWith('The preview has ended')")
    wrong = [json.dumps(event) for event in browser.events if event["method"] in WRONG]
    assert wrong == []
