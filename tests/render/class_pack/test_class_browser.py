"""The page of a class in a browser: no request, no message, no barrier, nothing beyond a small screen."""

from base64 import b64decode
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.render.chromium import Browser, chromium
from tests.render.class_pack.hand_made_class import class_sheet
from tests.render.class_pack.test_class_html import html_of
from tests.render.test_accessibility import CONTRAST, axe, violations

__all__ = ["axe"]  # the fixture


@pytest.fixture(scope="module")
def browser(axe: str) -> Iterator[Browser]:
    with chromium() as found:
        found.before(axe)
        yield found


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("class") / "bench.html"
    path.write_text(html_of(class_sheet()), "utf-8")
    return path


def test_loads_nothing_and_says_nothing(browser: Browser, page: Path) -> None:
    browser.open(page)
    browser.run("document.fonts.ready.then(() => 1)")
    asked = [
        event["params"]["request"]["url"]
        for event in browser.events
        if event["method"] == "Network.requestWillBeSent"
    ]
    assert [url for url in asked if not url.startswith("data:")] == [page.as_uri()]
    wrong = ("Log.entryAdded", "Runtime.exceptionThrown", "Runtime.consoleAPICalled")
    assert [event for event in browser.events if event["method"] in wrong] == []


@pytest.mark.parametrize("width", [390, 1280])
def test_breaks_no_rule_of_accessibility(browser: Browser, page: Path, width: int) -> None:
    browser.open(page, width)
    assert violations(browser) == []
    browser.media(prefers_color_scheme="dark")
    try:
        assert violations(browser, **CONTRAST) == []
    finally:
        browser.media()


@pytest.mark.parametrize("width", [320, 390, 768, 1280])
def test_nothing_sticks_out(browser: Browser, page: Path, width: int) -> None:
    browser.open(page, width)
    assert browser.run("document.documentElement.scrollWidth") <= width


def test_ticks_are_kept_and_can_be_brought_back(browser: Browser, page: Path) -> None:
    browser.open(page)
    browser.run("localStorage.clear()")
    browser.open(page)
    browser.click("input[data-tick='prep/2']")
    browser.open(page)
    ticked = "[...document.querySelectorAll('input:checked')].map(box => box.dataset.tick)"
    assert browser.run(ticked) == ["prep/2"]
    browser.click("[data-again]")
    assert browser.run(ticked) == []
    browser.click("[data-again]")
    assert browser.run(ticked) == ["prep/2"]
    browser.click("[data-again]")


@pytest.mark.parametrize("kept", ["null", "3", "'{'", '{"ticked": 7}'])
def test_a_broken_memory_is_no_harm(browser: Browser, page: Path, kept: str) -> None:
    browser.open(page)
    browser.run(f"localStorage.setItem(document.body.dataset.storage, {kept!r})")
    browser.open(page)
    assert not [event for event in browser.events if event["method"] == "Runtime.exceptionThrown"]
    assert browser.run("document.querySelectorAll('input:checked').length") == 0
    browser.run("localStorage.clear()")


def test_labels_are_printed_on_pages_of_their_own(browser: Browser, page: Path) -> None:
    browser.open(page)
    answer = browser.ask("Page.printToPDF", preferCSSPageSize=True)
    pages = [each.extract_text() for each in PdfReader(BytesIO(b64decode(answer["data"]))).pages]
    with_labels = [text for text in pages if "A-01" in text or "A-11" in text or "B-08" in text]
    assert len(with_labels) == 2 and with_labels == pages[-2:]
    assert with_labels[0].count("A-") == 12
