"""The one sheet in a browser: rules of accessibility, small screens, units, ticks, nothing fetched."""

from collections.abc import Iterator

import pytest

from tests.render.chromium import Browser, chromium
from tests.render.test_accessibility import CONTRAST, SHOW, axe, violations
from tests.render.variants.one_sheets import html_file

__all__ = ["axe"]  # the fixture
QUIET = {"Log.entryAdded", "Runtime.exceptionThrown", "Runtime.consoleAPICalled"}


@pytest.fixture(scope="module")
def browser(axe: str) -> Iterator[Browser]:
    with chromium() as found:
        found.before(axe)
        found.media(prefers_reduced_motion="reduce")
        yield found


@pytest.fixture(autouse=True)
def forgetful(browser: Browser) -> Iterator[None]:
    yield
    browser.run("localStorage.clear()")
    browser.media(prefers_reduced_motion="reduce")


@pytest.mark.parametrize("name", ["night-market", "ferry", "none"])
def test_breaks_no_rule(browser: Browser, name: str) -> None:
    """In both unit systems, light and dark."""
    browser.open(html_file(name))
    assert violations(browser) == []
    assert browser.run(SHOW) == 2
    assert violations(browser) == []
    browser.media(prefers_color_scheme="dark", prefers_reduced_motion="reduce")
    assert violations(browser, **CONTRAST) == []


@pytest.mark.parametrize("name", ["night-market", "dozen"])
@pytest.mark.parametrize("width", [320, 390, 1280])
def test_nothing_is_wider_than_the_screen(browser: Browser, name: str, width: int) -> None:
    browser.open(html_file(name), width, 844)
    assert browser.run("document.documentElement.scrollWidth") <= width
    # Nothing but what may be moved sideways reaches beyond its own box.
    script = """[...document.querySelectorAll(".compare *, .variant-part *")]
        .filter((it) => it instanceof HTMLElement && !it.closest(".wide, .scroll, .aside, svg"))
        .filter((it) => it.getBoundingClientRect().right > innerWidth + 1)
        .map((it) => it.outerHTML.slice(0, 80))"""
    assert browser.run(script) == []


def test_on_a_small_screen_the_table_names_the_cards_in_it(browser: Browser) -> None:
    """It is turned: each row is a list, in which what is as on the main card is not said again."""
    browser.open(html_file("ferry"), 390, 844)
    shown = """[...document.querySelectorAll(".cards > tbody > tr")].map((row) =>
        [...row.querySelectorAll(":scope > td")].filter((it) => it.offsetParent)
            .map((it) => it.querySelector(".whose").innerText))"""
    rows = browser.run(shown)
    assert rows[0] == ["Main card", "Small", "With a band"]
    assert ["Main card", "Small"] in rows and ["Main card", "With a band"] in rows
    assert violations(browser) == []


def test_asks_for_nothing_and_says_nothing(browser: Browser) -> None:
    path = html_file("night-market")
    browser.open(path)
    browser.run(SHOW)
    asked = [event["params"]["request"]["url"] for event in browser.events
             if event["method"] == "Network.requestWillBeSent"]  # fmt: skip
    assert [url for url in asked if not url.startswith("data:")] == [path.as_uri()]
    assert [event for event in browser.events if event["method"] in QUIET] == []


def test_ticks_are_kept_for_each_card_by_itself(browser: Browser) -> None:
    path = html_file("night-market")
    browser.open(path)
    own = ".variant-part .cuts input"
    keys = browser.run(f"[...document.querySelectorAll('{own}')].map((it) => it.dataset.tick)")
    browser.run(f"document.querySelector('{own}').click()")
    browser.open(path)
    ticked = "[...document.querySelectorAll('[data-tick]:checked')].map((it) => it.dataset.tick)"
    assert browser.run(ticked) == [keys[0], keys[0]]  # in both unit systems
    browser.run("document.querySelectorAll('.switch button')[1].click()")
    visible = (
        f"[...document.querySelectorAll('.version:not([hidden]) {own}:checked')].map((it) => it.dataset.tick)"
    )
    assert browser.run(visible) == [keys[0]]


def test_the_walk_through_the_steps_is_that_of_the_main_card(browser: Browser) -> None:
    browser.open(html_file("night-market"))
    assert (
        browser.run("document.querySelector('[data-now]').innerText")
        == "Step 1 of 17: Cut the card and the sash"
    )
    browser.run("document.querySelector('[data-one]').click()")
    shown = ".version:not([hidden]) .detours > li"
    seen = f"[...document.querySelectorAll('{shown}')].every((it) => it.offsetParent)"
    assert browser.run(seen) is True


def test_the_page_is_whole_without_a_script(browser: Browser) -> None:
    browser.ask("Emulation.setScriptExecutionDisabled", value=True)
    try:
        browser.ask("Page.navigate", url=html_file("night-market").as_uri())
        while not any(event["method"] == "Page.loadEventFired" for event in browser.events):
            browser.events.append(browser._next())
    finally:
        browser.ask("Emulation.setScriptExecutionDisabled", value=False)
    seen = "[...document.querySelectorAll('.cards, .detours > li')].every((it) => it.offsetParent)"
    assert browser.run(seen) is True


def test_a_variant_begins_on_a_new_page_in_print(browser: Browser) -> None:
    browser.open(html_file("night-market"))
    browser.media("print")
    breaks = "[...document.querySelectorAll('h2.card')].map((it) => getComputedStyle(it).breakBefore)"
    assert browser.run(breaks) == ["page"] * 6  # of both unit systems
    rows = "getComputedStyle(document.querySelector('.cards tr')).breakInside"
    assert browser.run(rows) == "avoid"
