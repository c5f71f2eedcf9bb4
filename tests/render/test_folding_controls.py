"""The sliders of the card that folds on the page: by key and by hand, each fold alone, in words, at rest."""

import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.render.html import render_html
from tests.fold.every_card import every_card
from tests.render.chromium import Browser, chromium
from tests.render.folding_page import drawn, move, open_card, problems
from tests.render.hand_made_sheet import pictures, sheet

VALUES = "[...document.querySelectorAll('.folds [data-turn]')].map((slider) => Number(slider.value))"
WHOLE = "Number(document.querySelector('[data-whole]').value)"
SAID = "document.querySelector('[data-said]').textContent"
PLAY = "document.querySelector('[data-play]')"
MOTION = "prefers-reduced-motion"


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


@pytest.fixture
def gates(browser: Browser, tmp_path: Path) -> FoldedCard:
    """Two pairs of folds and a band."""
    folded = every_card()["night-market"]
    open_card(browser, folded, tmp_path)
    return folded


def key(browser: Browser, name: str, times: int = 1) -> None:
    for _ in range(times):
        for kind in ("keyDown", "keyUp"):
            event = {"type": kind, "key": name, "code": name, "windowsVirtualKeyCode": CODES[name]}
            browser.ask("Input.dispatchKeyEvent", **event)


CODES = {"ArrowRight": 39, "ArrowLeft": 37, "Home": 36, "End": 35}


def text_of(browser: Browser, query: str) -> str:
    answer: str = browser.run(f"document.querySelector({query!r}).getAttribute('aria-valuetext')")
    return answer


def test_it_begins_flat_and_at_rest(browser: Browser, gates: FoldedCard) -> None:
    before = drawn(browser)
    assert browser.run(VALUES) == [0, 0, 0]
    assert text_of(browser, "[data-whole]") == "flat"
    browser.run("new Promise((done) => setTimeout(done, 300))")
    assert drawn(browser) == before


def test_the_slider_moves_the_paper(browser: Browser, gates: FoldedCard) -> None:
    seen = []
    for value in (0, 50, 100, 150, 200, 250, 300):
        move(browser, "[data-whole]", value)
        seen.append(drawn(browser))
    assert all(one != two for one, two in pairwise(seen))
    assert text_of(browser, "[data-whole]") == "closed"
    assert problems(browser) == []


def test_the_whole_slider_goes_fold_by_fold(browser: Browser, gates: FoldedCard) -> None:
    move(browser, "[data-whole]", 150)
    assert browser.run(VALUES) == [100, 50, 0]
    assert text_of(browser, "[data-turn='1']") == "half way"
    told = text_of(browser, "[data-whole]")
    assert told == "the left flap and the right flap folded, the left door and the right door half way"


def test_a_fold_by_itself_moves_nothing_else(browser: Browser, gates: FoldedCard) -> None:
    """The doors stay with all that is on them; the flaps swing."""
    flat = drawn(browser)
    move(browser, "[data-turn='0']", 40)
    assert browser.run(VALUES) == [40, 0, 0]
    moved = drawn(browser)
    assert browser.run(WHOLE) == 40
    still = {outline for _, outline in flat} & {outline for _, outline in moved}
    stays = {name for name, outline in moved if outline in still}
    assert stays == {"back", "left-door", "right-door", "message", "door-paper"}
    assert {name for name, outline in moved if outline not in still} >= {"left-flap", "right-flap"}


def test_the_band_comes_when_the_card_is_closed(browser: Browser, gates: FoldedCard) -> None:
    assert "sash" not in dict(drawn(browser))
    move(browser, "[data-turn='2']", 60)
    assert browser.run(VALUES) == [100, 100, 60]
    assert [name for name, _ in drawn(browser)].count("sash") == 2  # before and behind
    move(browser, "[data-turn='1']", 90)
    assert browser.run(VALUES) == [100, 90, 0]
    assert "sash" not in dict(drawn(browser))


@pytest.mark.parametrize(
    ("name", "moves", "values"),
    [
        ("letter-thirds", [(1, 50)], [100, 50]),  # what lies within goes first
        ("letter-thirds", [(1, 50), (0, 30)], [30, 0]),
        ("z-fold", [(1, 50)], [0, 50]),
        ("quarter-fold", [(1, 100)], [100, 100]),
        ("easel", [(0, 100), (2, 50)], [0, 0, 50]),  # a pose is by itself
        ("easel", [(2, 50), (1, 20)], [0, 20, 0]),
        ("flexing", [(2, 50)], [100, 100, 50]),  # and takes along what is folded in it
        ("flexing", [(2, 50), (0, 90)], [90, 100, 0]),
        ("never-ending", [(0, 50), (1, 60)], [0, 60]),
    ],
)
def test_folds_that_hang_together_go_together(
    browser: Browser, tmp_path: Path, name: str, moves: list[tuple[int, int]], values: list[int]
) -> None:
    open_card(browser, every_card()[name], tmp_path)
    for slider, value in moves:
        move(browser, f"[data-turn='{slider}']", value)
    assert browser.run(VALUES) == values


def test_keys_move_the_sliders(browser: Browser, gates: FoldedCard) -> None:
    browser.run("document.querySelector('[data-whole]').focus()")
    flat = drawn(browser)
    key(browser, "ArrowRight", 3)
    assert browser.run(WHOLE) == 3 and drawn(browser) != flat
    key(browser, "End")
    assert browser.run(VALUES) == [100, 100, 100]
    key(browser, "Home")
    assert drawn(browser) == flat
    browser.run("document.querySelector(\"[data-turn='1']\").focus()")
    key(browser, "End")
    assert browser.run(VALUES)[1] == 100


def test_every_slider_has_a_name_and_says_its_place(browser: Browser, gates: FoldedCard) -> None:
    browser.ask("Accessibility.enable")
    nodes = browser.ask("Accessibility.getFullAXTree")["nodes"]
    sliders = [node for node in nodes if node.get("role", {}).get("value") == "slider"]
    assert len(sliders) == 5
    for node in sliders:
        assert node["name"]["value"]
        said = next(each for each in node["properties"] if each["name"] == "valuetext")
        assert said["value"]["value"]
    (image,) = [node for node in nodes if node.get("role", {}).get("value") == "image"]
    assert image["name"]["value"] == "The card as it is folded now"
    browser.ask("Accessibility.disable")


def test_it_speaks_once_when_the_slider_rests(browser: Browser, gates: FoldedCard) -> None:
    browser.run("""(() => {
        window.spoken = 0;
        const count = new MutationObserver(() => { window.spoken += 1; });
        count.observe(document.querySelector("[data-said]"), { childList: true, characterData: true });
    })()""")
    for value in range(5, 100, 5):
        move(browser, "[data-whole]", value)
    assert browser.run("window.spoken") == 0
    browser.run("new Promise((done) => setTimeout(done, 800))")
    assert browser.run("window.spoken") == 1
    assert browser.run(SAID) == "The card is now: the left flap and the right flap three quarters."


def test_it_is_seen_from_both_sides(browser: Browser, gates: FoldedCard) -> None:
    front = drawn(browser)
    browser.run("document.querySelector('[data-side=\"180\"]').click()")
    back = drawn(browser)
    assert {name for name, _ in front} > {"message"} and back[-1][0] != "message"
    assert back != front
    pressed = "[...document.querySelectorAll('[data-side]')].map((it) => it.getAttribute('aria-pressed'))"
    assert browser.run(pressed) == ["false", "true"]
    move(browser, "[data-about]", 60)
    assert browser.run(pressed) == ["false", "false"]
    browser.run("document.querySelector('[data-side=\"0\"]').click()")
    assert drawn(browser) == front


def test_it_plays_when_asked(browser: Browser, gates: FoldedCard, tmp_path: Path) -> None:
    browser.ask("Emulation.setEmulatedMedia", features=[{"name": MOTION, "value": "no-preference"}])
    open_card(browser, gates, tmp_path)
    assert browser.run(f"{PLAY}.hidden") is False
    browser.run(f"{PLAY}.click()")
    browser.run("new Promise((done) => setTimeout(done, 400))")
    assert 0 < browser.run(WHOLE) < 300 and browser.run(f"{PLAY}.textContent") == "Pause"
    browser.run(f"{PLAY}.click()")
    stopped = browser.run(WHOLE)
    browser.run("new Promise((done) => setTimeout(done, 200))")
    assert browser.run(WHOLE) == stopped and browser.run(f"{PLAY}.textContent") == "Play"


def test_nothing_plays_for_those_who_want_no_motion(
    browser: Browser, gates: FoldedCard, tmp_path: Path
) -> None:
    browser.ask("Emulation.setEmulatedMedia", features=[{"name": MOTION, "value": "reduce"}])
    open_card(browser, gates, tmp_path)
    assert browser.run(f"{PLAY}.hidden") is True
    move(browser, "[data-whole]", 120)
    assert browser.run(VALUES) == [100, 20, 0]
    browser.ask("Emulation.setEmulatedMedia", features=[])


@pytest.mark.parametrize("width", [320, 768])
def test_nothing_sticks_out(browser: Browser, tmp_path: Path, width: int) -> None:
    open_card(browser, every_card()["tri-shutter"], tmp_path, width)
    assert browser.run("document.documentElement.scrollWidth") <= width
    small = """[...document.querySelectorAll(".folds button, .folds input")]
        .filter((it) => it.offsetHeight && (it.offsetHeight < 24 || it.offsetWidth < 24)).length"""
    assert browser.run(small) == 0


def test_without_a_script_it_is_not_there(browser: Browser, tmp_path: Path) -> None:
    browser.ask("Emulation.setScriptExecutionDisabled", value=True)
    try:
        open_card(browser, every_card()["gate"], tmp_path)
    finally:
        browser.ask("Emulation.setScriptExecutionDisabled", value=False)
    assert browser.run("document.querySelector('.folds').offsetHeight") == 0


IS_THERE = """new Promise((done) => {
    const started = performance.now();
    const look = () => {
        if (document.querySelector(".folds:not([hidden]) svg > g")) done(true);
        else if (performance.now() - started > 5000) done(false);
        else setTimeout(look, 20);
    };
    look();
})"""


def test_it_is_on_the_whole_page_and_stays_there(browser: Browser, tmp_path: Path) -> None:
    """In the place of the page's own choice, by its policy, and in both unit systems."""
    this, path = sheet(), tmp_path / "page.html"
    assert this.other is not None
    path.write_text(render_html(this, pictures(this), pictures(this.other), "letter"), "utf-8")
    browser.open(path)
    assert browser.run(IS_THERE) is True
    move(browser, "[data-whole]", 100000)
    closed = drawn(browser)
    assert text_of(browser, "[data-whole]") == "closed" and closed
    browser.run("document.querySelector('.switch [data-unit=mm]').click()")
    assert browser.run("document.querySelector('.folds').offsetHeight") > 100
    move(browser, "[data-whole]", 50)
    assert drawn(browser) != closed
    assert problems(browser) == []
    browser.run("localStorage.clear()")


@pytest.mark.parametrize("name", ["night-market", "box-pop-up", "accordion", "single-wall-box", "easel"])
def test_it_stays_within_its_picture_when_turned(browser: Browser, tmp_path: Path, name: str) -> None:
    open_card(browser, every_card()[name], tmp_path)
    most = browser.run("Number(document.querySelector('[data-whole]').max)")
    for share in (0, 0.4, 0.5, 0.8, 1):
        move(browser, "[data-whole]", share * most)
        for degrees in range(-180, 181, 45):
            move(browser, "[data-about]", degrees)
            x, y, wide, high = browser.run(
                "document.querySelector('.folds svg').getAttribute('viewBox').split(' ').map(Number)"
            )
            for _, outline in drawn(browser):
                numbers = [float(each) for each in re.findall(r"-?[\d.]+", outline)]
                assert x <= min(numbers[::2]) and max(numbers[::2]) <= x + wide
                assert y <= min(numbers[1::2]) and max(numbers[1::2]) <= y + high
