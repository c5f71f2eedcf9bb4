"""Every sample's page in a browser: nothing sticks out, nothing is fetched, the print-out is whole."""

from base64 import b64decode
from collections.abc import Iterator
from io import BytesIO

import pytest
from pypdf import PdfReader

from tests.render.chromium import Browser, chromium
from tests.render.sample_pages import NAMES, PAGES, page_of

MOST_PAGES = 10


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        found.media(prefers_reduced_motion="reduce")
        yield found


# What reaches beyond the page at the right, but for what is inside a marked wide place.
STICKS_OUT = """[...document.querySelectorAll('body *')].filter((it) => {
    const box = it.getBoundingClientRect();
    return box.width && box.right > document.documentElement.clientWidth + 0.5 &&
        !it.closest('.wide, .scroll, .skip, .aside');
}).map(it => it.outerHTML.slice(0, 120))"""


@pytest.mark.parametrize(("name", "variant"), PAGES)
def test_a_small_screen_holds_it(browser: Browser, name: str, variant: str | None) -> None:
    """All steps and one at a time, in both unit systems; and nothing is fetched, thrown or logged."""
    page = page_of(name, variant)
    browser.open(page, 390, 844)
    for script in ("document.querySelector('[data-one]')?.click()",
                   "document.querySelector('.switch [data-unit=mm]').click()",
                   "document.querySelector('.version:not([hidden]) td button').click()"):  # fmt: skip
        assert browser.run(STICKS_OUT) == []
        assert browser.run("document.documentElement.scrollWidth") <= 390
        browser.run(script)
    browser.run("localStorage.clear()")
    urls = [event["params"]["request"]["url"] for event in browser.events
            if event["method"] == "Network.requestWillBeSent"]  # fmt: skip
    assert [url for url in urls if not url.startswith("data:")] == [page.as_uri()]
    wrong = ("Log.entryAdded", "Runtime.exceptionThrown", "Runtime.consoleAPICalled")
    assert [event for event in browser.events if event["method"] in wrong] == []


@pytest.mark.parametrize("width", [320, 768, 1280])
def test_every_width_holds_it(browser: Browser, width: int) -> None:
    """WCAG 2.2, 1.4.10: no scrolling sideways from 320 px on."""
    browser.open(page_of("night-market"), width, 844)
    assert browser.run(STICKS_OUT) == []
    assert browser.run("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("name", NAMES)
def test_every_box_has_a_key_of_its_own_and_a_twin_in_the_other_version(browser: Browser, name: str) -> None:
    browser.open(page_of(name))
    script = """[...document.querySelectorAll('.version')].map(version =>
        [...version.querySelectorAll('[type=checkbox]:not([data-one])')].map(box => box.dataset.tick))"""
    one, other = browser.run(script)
    assert len(one) == len(set(one)) > 10
    assert not [key for key in (*one, *other) if "undefined" in key or "null" in key]
    # The other unit system may cut its sheets in another way, and with another tool.
    assert [key for key in set(one) ^ set(other) if not key.startswith(("layout/", "supply/Tools/"))] == []


TARGETS = "button, input, select, summary, .parts a, .walk a, .told a"
SMALL_TARGETS = f"""[...document.querySelectorAll('{TARGETS}')]
    .map(it => it.closest('label') ?? it)
    .map(it => [it, it.getBoundingClientRect()])
    .filter(([, box]) => box.width && (box.width < 24 || box.height < 24))
    .map(([it]) => it.outerHTML.slice(0, 120))"""


@pytest.mark.parametrize("width", [390, 1280])
def test_every_target_can_be_hit(browser: Browser, width: int) -> None:
    """WCAG 2.2, 2.5.8: at least 24 by 24 px."""
    browser.open(page_of("night-market"), width, 844)
    browser.run("document.querySelector('.version:not([hidden]) td button').click()")
    assert browser.run(SMALL_TARGETS) == []


SHOWN = "[...document.querySelectorAll('.version:not([hidden]) {}')].map(it => it.textContent)"


def printed(browser: Browser) -> PdfReader:
    answer = browser.ask("Page.printToPDF", preferCSSPageSize=True)
    return PdfReader(BytesIO(b64decode(answer["data"])))


def bare(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize("name", NAMES)
def test_the_print_out_is_whole_and_has_nothing_to_press(browser: Browser, name: str) -> None:
    """Printed with one step shown and a piece lit: every step is there, and no button."""
    browser.open(page_of(name))
    titles = browser.run(SHOWN.format(".steps h3"))
    texts = browser.run(SHOWN.format(":is(.steps li p, .cuts .size, .facts dd)"))
    browser.run("document.querySelector('[data-one]')?.click()")
    browser.run("document.querySelector('.version:not([hidden]) td button').click()")
    reader = printed(browser)
    browser.run("localStorage.clear()")
    assert 2 <= len(reader.pages) <= MOST_PAGES
    words = bare("".join(page.extract_text() for page in reader.pages))
    assert titles and [each for each in (*titles, *texts) if bare(each) not in words] == []
    for button in ("Start again", "Press a piece", "One step", "Millimetres", "uses it", "its width"):
        assert bare(button) not in words


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_cut_off_in_print(browser: Browser, name: str) -> None:
    """At the width of the paper between its margins, on letter (8.5 in less 30 mm)."""
    browser.open(page_of(name), round(8.5 * 96 - 30 * 96 / 25.4), 1056)
    browser.media("print")
    try:
        assert browser.run(STICKS_OUT.replace(".wide, .scroll, ", "")) == []
        hidden = """[...document.querySelectorAll('.version:not([hidden]) *')].filter(it => it.offsetWidth &&
            getComputedStyle(it).overflowX !== 'visible' && it.scrollWidth > it.clientWidth + 1)
            .map(it => it.outerHTML.slice(0, 100))"""
        assert browser.run(hidden) == []
    finally:
        browser.media(prefers_reduced_motion="reduce")
