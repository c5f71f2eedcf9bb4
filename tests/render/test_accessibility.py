"""Every sample's page against WCAG 2.2 AA, as axe-core (npm, MPL 2.0) checks it in a browser."""

import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.recipes import ROOT
from tests.render.chromium import Browser, chromium
from tests.render.sample_pages import PAGES, page_of

TAGS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")
PLACES = (os.environ.get("AXE_CORE", ""), ROOT / "node_modules" / "axe-core" / "axe.min.js")


@pytest.fixture(scope="module")
def axe() -> str:
    for place in map(Path, filter(None, map(str, PLACES))):
        if place.is_file():
            return place.read_text("utf-8")
    reason = "no axe-core: npm install --no-save axe-core, or set AXE_CORE to its axe.min.js"
    if os.environ.get("CI") == "true":
        pytest.fail(reason)
    pytest.skip(reason)


@pytest.fixture(scope="module")
def browser(axe: str) -> Iterator[Browser]:
    with chromium() as found:
        # Its policy would keep a script out of the page; the browser's own door is no script of the page.
        found.before(axe)
        found.media(prefers_reduced_motion="reduce")
        yield found


def violations(browser: Browser, **options: Any) -> list[str]:
    """What axe-core finds wrong: the rule, and the element where it is broken."""
    asked = {"runOnly": {"type": "tag", "values": TAGS}, "resultTypes": ["violations"], **options}
    # A drawing is one picture to a reader; the laws of what is inside are tests of their own.
    context = {"exclude": [[".picture svg > *"]]}
    arguments = f"{json.dumps(context)}, {json.dumps(asked)}"
    script = f"""axe.run({arguments}).then(({{ violations }}) => violations.flatMap(
        ({{ id, nodes }}) => nodes.map(({{ html, failureSummary }}) =>
            `${{id}}: ${{html.slice(0, 160)}} ${{failureSummary}}`)))"""
    return list(browser.run(script))


CONTRAST = {"runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}}
SHOW = """(() => {
    const units = document.querySelectorAll(".switch button");
    if (units.length > 1) units[1].click();
    return units.length;
})()"""
LIGHT = "document.querySelector('.version:not([hidden]) td button[data-piece]').click()"


@pytest.mark.parametrize(("name", "variant"), PAGES)
def test_no_sample_breaks_a_rule(browser: Browser, name: str, variant: str | None) -> None:
    """In both unit systems, light and dark, with a piece lit and its sums told."""
    browser.open(page_of(name, variant))
    browser.run("localStorage.clear()")
    browser.open(page_of(name, variant))
    assert violations(browser) == []
    assert browser.run(SHOW) == 2
    browser.run(LIGHT)
    assert violations(browser) == []
    browser.media(prefers_color_scheme="dark", prefers_reduced_motion="reduce")
    try:
        assert violations(browser, **CONTRAST) == []
    finally:
        browser.media(prefers_reduced_motion="reduce")


def test_a_page_with_one_step_at_a_time_breaks_no_rule(browser: Browser) -> None:
    browser.open(page_of("night-market"), 390, 844)
    browser.run("document.querySelector('[data-one]').click()")
    assert violations(browser) == []
    browser.run("localStorage.clear()")


def test_the_check_finds_what_is_wrong(browser: Browser) -> None:
    browser.open(page_of("market-tags"))
    browser.run("document.querySelector('[data-tick]').closest('label').replaceWith(document.createElement('input'))")
    assert any(each.startswith("label: <input") for each in violations(browser))
