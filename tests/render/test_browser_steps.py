"""Walking through the steps of a real sheet in a browser: by buttons, by keys, by ticks, one at a time."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.render.chromium import Browser, chromium
from tests.render.sample_pages import page_of


@pytest.fixture(scope="module")
def one() -> Iterator[Browser]:
    with chromium() as found:
        found.media(prefers_reduced_motion="reduce")  # else each scroll takes its time
        yield found


@pytest.fixture
def browser(one: Browser) -> Browser:
    """The night market's page with nothing remembered."""
    one.open(page_of("night-market"))
    one.run("localStorage.clear()")
    one.open(page_of("night-market"))
    return one


def current(browser: Browser) -> str:
    """The number of the current step, which is marked once in each version."""
    script = """[...document.querySelectorAll('.version:not([hidden]) [aria-current=step]')]
        .map(step => step.dataset.step).join()"""
    return str(browser.run(script))


def reopened(browser: Browser) -> Browser:
    browser.open(page_of("night-market"))
    return browser


def said(browser: Browser) -> str:
    return str(browser.run("document.querySelector('[role=status]').textContent"))


def go_to_steps(browser: Browser) -> None:
    browser.run("document.querySelector('#inch-steps').scrollIntoView({ behavior: 'instant' })")


SEEN = """(() => {
    const box = document.querySelector('.version:not([hidden]) [aria-current]').getBoundingClientRect();
    return box.top < innerHeight && box.bottom > 0;
})()"""


def test_the_first_step_is_the_current_one(browser: Browser) -> None:
    assert current(browser) == "1"


def test_buttons_move_on_and_back_and_end_where_the_steps_end(browser: Browser) -> None:
    disabled = "[...document.querySelectorAll('.walk button:disabled')].map(it => it.innerText)"
    assert browser.run(disabled) == ["Back"]
    browser.click(".walk [data-go='1']")
    browser.click(".walk [data-go='1']")
    assert current(browser) == "3" and browser.run(SEEN)
    assert said(browser).startswith("Step 3 of 17: ")
    browser.click(".walk [data-go='-1']")
    assert current(browser) == "2"
    assert browser.run(disabled) == []
    browser.run("for (let i = 0; i < 40; i++) document.querySelector('.walk [data-go=\"1\"]').click()")
    assert current(browser) == "17"
    assert browser.run(disabled) == ["Next"]


def test_arrow_keys_move_on_and_back(browser: Browser) -> None:
    go_to_steps(browser)
    browser.press("ArrowRight", "ArrowRight", "ArrowRight", "ArrowLeft")
    assert current(browser) == "3" and browser.run(SEEN)


def test_a_key_far_from_the_steps_first_brings_the_current_one_back(browser: Browser) -> None:
    browser.press("ArrowRight")
    assert current(browser) == "1" and browser.run(SEEN)
    browser.press("ArrowRight")
    assert current(browser) == "2"


@pytest.mark.parametrize("held", ["Alt", "Control", "Meta", "Shift"])
def test_keys_of_the_browser_stay_its_own(browser: Browser, held: str) -> None:
    go_to_steps(browser)
    script = "window.taken = []; addEventListener('keydown', (event) => taken.push(event.defaultPrevented))"
    browser.run(script)
    # Left out: with Alt, Chromium would leave the page.
    browser.press(f"{held}+ArrowRight" if held != "Alt" else "Alt+Escape")
    assert current(browser) == "1"
    assert browser.run("taken") == [False]


def test_a_slider_keeps_its_own_arrow_keys(browser: Browser) -> None:
    go_to_steps(browser)
    browser.run("document.querySelector('.folds input[type=range]').focus({ preventScroll: true })")
    browser.press("ArrowRight")
    assert current(browser) == "1"
    assert browser.run("document.querySelector('.folds input[type=range]').value") != "0"


def test_no_letter_is_a_shortcut(browser: Browser) -> None:
    """WCAG 2.2, 2.1.4: character keys do nothing, so that nothing must be turned off."""
    go_to_steps(browser)
    before = browser.run("document.querySelector('main').outerHTML")
    for letter in "abcdefghijklmnopqrstuvwxyz0123456789?.,+-":
        browser.ask("Input.dispatchKeyEvent", type="keyDown", key=letter, text=letter)
        browser.ask("Input.dispatchKeyEvent", type="keyUp", key=letter)
    assert browser.run("document.querySelector('main').outerHTML") == before


def test_a_tick_moves_on_to_the_next_step_that_is_not_done(browser: Browser) -> None:
    browser.click("[data-tick='step/2']")
    assert current(browser) == "3"
    browser.click("[data-tick='step/1']")
    assert current(browser) == "3"
    assert browser.run("document.querySelectorAll('.version:not([hidden]) .done').length") == 2


def test_a_tick_taken_away_makes_its_step_the_current_one(browser: Browser) -> None:
    for _ in range(2):
        browser.click("[data-tick='step/4']")
    assert current(browser) == "4"


def test_the_button_done_ticks_the_current_step(browser: Browser) -> None:
    browser.click("[data-done]")
    assert browser.run("document.querySelector(\"[data-tick='step/1']\").checked")
    assert current(browser) == "2"


def test_after_the_last_step_it_is_said_that_all_are_done(browser: Browser) -> None:
    browser.run("for (let i = 0; i < 17; i++) document.querySelector('[data-done]').click()")
    assert said(browser) == "All steps are done."
    assert browser.run("document.querySelectorAll('.version:not([hidden]) .done').length") == 17


def test_the_current_step_is_remembered_in_both_unit_systems(browser: Browser) -> None:
    browser.run("document.querySelector('.walk [data-go=\"1\"]').click()")
    assert current(reopened(browser)) == "2"
    browser.run("document.querySelector('.switch [data-unit=mm]').click()")
    assert current(browser) == "2"


def test_one_step_at_a_time(browser: Browser) -> None:
    visible = """[...document.querySelectorAll('.version:not([hidden]) .steps li')]
        .filter(step => step.offsetHeight)
        .map(step => step.dataset.step ?? `before ${step.dataset.before}`)"""
    browser.click("[data-one]")
    assert browser.run(visible) == ["before 1", "1"]
    browser.press("ArrowRight")
    assert browser.run(visible) == ["2"]
    assert browser.run("document.querySelector('#inch-step-2 svg').getBoundingClientRect().height") > 0
    assert reopened(browser).run(visible) == ["2"]
    browser.click("[data-one]")
    assert len(browser.run(visible)) >= 17


def test_the_keyboard_alone_walks_through_one_step_at_a_time(browser: Browser) -> None:
    """Space ticks, and the box of the next step has the focus: space again."""
    browser.run("document.querySelector('[data-one]').click()")
    browser.run("document.querySelector(\"[data-tick='step/1']\").focus()")
    browser.press(" ", " ", " ")
    assert current(browser) == "4"
    assert browser.run("document.activeElement.dataset.tick") == "step/4"


def test_start_again_takes_every_tick_away_and_brings_them_back(browser: Browser) -> None:
    browser.run("document.querySelector(\"[data-tick='step/1']\").click()")
    browser.run("document.querySelector('.cuts [data-tick]').click()")
    ticked = "document.querySelectorAll('.version:not([hidden]) [data-tick]:checked').length"
    browser.click("[data-again]")
    assert (browser.run(ticked), current(browser)) == (0, "1")
    browser.click("[data-again]")
    assert (browser.run(ticked), current(browser)) == (2, "2")
    browser.click("[data-again]")
    assert reopened(browser).run(ticked) == 0


REFUSED = """Object.defineProperty(window, 'localStorage', {
    get() { throw new DOMException('no', 'SecurityError'); } })"""
FULL = "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }"


@pytest.mark.parametrize("refusal", [REFUSED, FULL], ids=["refused", "full"])
def test_without_a_memory_it_works_all_the_same(browser: Browser, refusal: str) -> None:
    identifier = browser.before(refusal)
    try:
        reopened(browser).click("[data-tick='step/1']")
        assert current(browser) == "2"
        browser.run("document.querySelector('.switch [data-unit=mm]').click()")
        assert current(browser) == "2"
        assert thrown(browser) == []
    finally:
        browser.no_longer(identifier)


def thrown(browser: Browser) -> list[Any]:
    return [event for event in browser.events if event["method"] == "Runtime.exceptionThrown"]


def test_without_a_script_the_first_version_is_whole(browser: Browser, tmp_path: Path) -> None:
    """No button that does nothing, no empty place: headings, steps and pictures are there."""
    text = page_of("night-market").read_text("utf-8")
    plain = tmp_path / "plain.html"
    text = text.replace('<template id="packed">', "<template>")  # else one would wait for the script
    plain.write_text(text.replace("script-src", "x-script-src"), "utf-8")
    browser.open(plain)
    visible = "[...document.querySelectorAll('{}')].filter(it => it.getBoundingClientRect().height).length"
    assert browser.run(visible.format("button")) == 0
    assert browser.run(visible.format(".walk, .ways, .told, .folds")) == 0
    assert browser.run(visible.format("[data-step]")) == 17
    assert browser.run(visible.format(".steps svg")) >= 15
    assert browser.run("document.querySelectorAll('.picture:empty').length") == 0


def test_moving_on_is_smooth_only_where_motion_is_welcome(browser: Browser) -> None:
    behavior = "getComputedStyle(document.documentElement).scrollBehavior"
    assert browser.run(behavior) == "auto"
    browser.media(prefers_reduced_motion="no-preference")
    assert browser.run(behavior) == "smooth"
    browser.media(prefers_reduced_motion="reduce")
    moving = """[...document.querySelectorAll('*')].filter(it => getComputedStyle(it).animationName !== 'none'
        || parseFloat(getComputedStyle(it).transitionDuration) > 0).length"""
    assert browser.run(moving) == 0
