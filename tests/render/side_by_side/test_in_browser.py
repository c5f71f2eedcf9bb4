"""The page of a diff in a browser: rules of accessibility, small screens, nothing fetched."""

from collections.abc import Iterator

import pytest

from tests.render.chromium import Browser, chromium
from tests.render.side_by_side.pages import page_file
from tests.render.test_accessibility import CONTRAST, axe, violations

__all__ = ["axe"]  # the fixture
QUIET = {"Log.entryAdded", "Runtime.exceptionThrown", "Runtime.consoleAPICalled"}
SHOWN = ("stepped up", "pieces gone", "smaller", "other card", "same")


@pytest.fixture(scope="module")
def browser(axe: str) -> Iterator[Browser]:
    with chromium() as found:
        found.before(axe)
        yield found


@pytest.mark.parametrize("name", SHOWN)
def test_breaks_no_rule_light_or_dark(browser: Browser, name: str) -> None:
    browser.open(page_file(name))
    assert violations(browser) == []
    browser.media(prefers_color_scheme="dark")
    try:
        assert violations(browser, **CONTRAST) == []
    finally:
        browser.media()


@pytest.mark.parametrize("width", [320, 390, 1280])
def test_nothing_is_wider_than_the_screen(browser: Browser, width: int) -> None:
    for name in SHOWN:
        browser.open(page_file(name), width, 844)
        assert browser.run("document.documentElement.scrollWidth") <= width, name


def test_asks_for_nothing_and_says_nothing(browser: Browser) -> None:
    browser.open(page_file("stepped up"))
    asked = [event["params"]["request"]["url"] for event in browser.events
             if event["method"] == "Network.requestWillBeSent"]  # fmt: skip
    assert [url for url in asked if not url.startswith("data:")] == [page_file("stepped up").as_uri()]
    assert [event for event in browser.events if event["method"] in QUIET] == []


def test_before_and_after_stand_side_by_side_where_there_is_room(browser: Browser) -> None:
    browser.open(page_file("stepped up"))
    tops = """[...document.querySelectorAll(".pair")].map((pair) =>
        [...pair.querySelectorAll("figure")].map((it) => Math.round(it.getBoundingClientRect().top)))"""
    assert all(before == after for before, after in browser.run(tops))


def test_letters_in_drawings_are_large_enough(browser: Browser) -> None:
    """At 390 px too no drawing is shown smaller than on paper: 8 pt is 10.67 px."""
    browser.open(page_file("stepped up"), 390, 844)
    sizes = browser.run("""[...document.querySelectorAll(".pair svg text")].map((it) => {
        const box = it.ownerSVGElement.getBoundingClientRect(), view = it.ownerSVGElement.viewBox.baseVal;
        return parseFloat(getComputedStyle(it).fontSize) * box.width / view.width;
    })""")
    assert sizes and min(sizes) >= 10.5
