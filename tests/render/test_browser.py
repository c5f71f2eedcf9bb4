"""The HTML page in a browser: it loads nothing, remembers, fits a small screen, prints."""

import re
from base64 import b64decode
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from cardrecipe.render.html import render_html
from tests.render.chromium import Browser, chromium
from tests.render.hand_made_sheet import pictures, sheet


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return _written(tmp_path_factory.mktemp("page") / "lights.html", "letter")


def _written(path: Path, paper: str) -> Path:
    this = sheet()
    assert this.other is not None
    path.write_text(render_html(this, pictures(this), pictures(this.other), paper), "utf-8")
    return path


def test_loads_nothing_and_breaks_no_rule_of_its_own(browser: Browser, page: Path) -> None:
    browser.open(page)
    browser.run("document.fonts.ready.then(() => 1)")
    requests = [
        event["params"]["request"]["url"]
        for event in browser.events
        if event["method"] == "Network.requestWillBeSent"
    ]
    assert [url for url in requests if not url.startswith("data:")] == [page.as_uri()]
    wrong = ("Log.entryAdded", "Runtime.exceptionThrown", "Runtime.consoleAPICalled")
    assert [event for event in browser.events if event["method"] in wrong] == []


def test_its_own_type_is_used(browser: Browser, page: Path) -> None:
    browser.open(page)
    loaded = "[...document.fonts].filter(font => font.status === 'loaded').map(font => font.weight)"
    assert browser.run(f"document.fonts.ready.then(() => {loaded})") == ["400", "700"]


def test_a_fraction_is_narrower_than_its_signs(browser: Browser, page: Path) -> None:
    browser.open(page)
    script = """document.fonts.ready.then(() => {
        const one = document.querySelector("td .fr, .size .fr");
        const width = (text) => {
            one.textContent = text;
            return one.getBoundingClientRect().width;
        };
        const text = one.textContent, together = width(text);
        one.className = "";
        const unmarked = width(text);
        return [together, unmarked, [...text].map(width).reduce((a, b) => a + b)];
    })"""
    together, unmarked, apart = browser.run(script)
    assert 0 < together < 0.85 * apart
    assert unmarked == together  # the page is right here before its script runs


def test_only_the_fraction_is_set_as_a_fraction(browser: Browser, page: Path) -> None:
    browser.open(page)
    marked = "[...document.querySelectorAll('.fr')].map(it => it.textContent)"
    found = browser.run(marked)
    assert found and all(re.fullmatch("[0-9]+\u2044[0-9]+", each) for each in found)
    assert "1\u202f<span class=\"fr\">7\u20448</span>" in browser.run("document.body.innerHTML")
    unmarked = """[...document.querySelectorAll('body :not(script, style, svg *, .fr)')]
        .flatMap(it => [...it.childNodes])
        .filter(it => it.nodeType === 3 && it.data.includes('\u2044'))
        .map(it => it.data)"""
    assert browser.run(unmarked) == []


VISIBLE = """[...document.querySelectorAll('.version')]
    .filter(version => version.offsetHeight).map(version => version.dataset.unit)"""


def test_switch_shows_the_other_sheet_and_remembers(browser: Browser, page: Path) -> None:
    browser.open(page)
    assert browser.run(VISIBLE) == ["inch"]
    browser.run("document.querySelector('.switch [data-unit=mm]').click()")
    assert browser.run(VISIBLE) == ["mm"]
    browser.open(page)
    assert browser.run(VISIBLE) == ["mm"]
    pressed = "document.querySelector('.switch [aria-pressed=true]').dataset.unit"
    assert browser.run(pressed) == "mm"
    browser.run("document.querySelector('.switch [data-unit=inch]').click()")


def test_ticks_are_remembered_in_both_versions(browser: Browser, page: Path) -> None:
    browser.open(page)
    browser.run("document.querySelector('input[data-tick=\"step/3\"]').click()")
    browser.open(page)
    ticked = "[...document.querySelectorAll('input:checked')].map(box => box.dataset.tick)"
    assert browser.run(ticked) == ["step/3", "step/3"]
    browser.run("document.querySelector('input:checked').click()")
    assert browser.run(ticked) == []


@pytest.mark.parametrize("kept", ["null", "[]", "3", "'{'", '{"ticked": 7, "unit": "ell"}'])
def test_a_broken_memory_is_no_harm(browser: Browser, page: Path, kept: str) -> None:
    browser.open(page)
    browser.run(f"localStorage.setItem(document.body.dataset.storage, {kept!r})")
    browser.open(page)
    assert not [e for e in browser.events if e["method"] == "Runtime.exceptionThrown"]
    assert browser.run(VISIBLE) == ["inch"]
    browser.run("localStorage.clear()")


@pytest.mark.parametrize("width", [320, 390, 768, 1280])
def test_nothing_sticks_out(browser: Browser, page: Path, width: int) -> None:
    """WCAG 2.2, 1.4.10: no scrolling sideways at 320 px, but for pictures and tables."""
    browser.open(page, width)
    assert browser.run("document.documentElement.scrollWidth") <= width


def test_every_control_is_reached_by_key_and_large_enough(browser: Browser, page: Path) -> None:
    """WCAG 2.2, 2.5.8: targets of at least 24 by 24 px."""
    browser.open(page)
    script = """[...document.querySelectorAll("button, input, .parts a, .walk a")]
        .filter(it => it.offsetHeight)
        .map(it => [it.tabIndex, it.offsetWidth, it.offsetHeight, it.outerHTML.slice(0, 80)])"""
    for index, wide, high, said in browser.run(script):
        assert index >= 0, said
        assert wide >= 24 and high >= 24, said


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_prints_on_its_own_paper(browser: Browser, tmp_path: Path, paper: str, size: tuple[int, int]) -> None:
    browser.open(_written(tmp_path / "page.html", paper))
    answer = browser.ask("Page.printToPDF", preferCSSPageSize=True)
    reader = PdfReader(BytesIO(b64decode(answer["data"])))
    for each in reader.pages:
        assert (float(each.mediabox.width), float(each.mediabox.height)) == pytest.approx(size, abs=1)
    words = "".join(reader.pages[0].extract_text().split())
    assert "Millimetres" not in words
