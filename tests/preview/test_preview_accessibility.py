"""The preview with its notes against WCAG 2.2 AA, as axe-core (npm, Mozilla Public License) checks it."""

import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.preview.previewing import BROKEN, GOOD, LONG, rebuilt_of, serving, shown_of
from tests.render.chromium import Browser, chromium
from tests.render.test_accessibility import axe, violations

__all__ = ["axe"]  # a fixture

RELATED = GOOD + "  size 3 x 4\n  border 1 left\n  border 1 right\n"
WARNED = GOOD + 'paper tan is plain "Tan"\n'


@pytest.fixture(scope="module")
def browser(axe: str) -> Iterator[Browser]:
    with chromium() as found:
        found.before(axe)
        yield found


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("text", [BROKEN, RELATED, WARNED], ids=["mistake", "two places", "warning"])
@pytest.mark.parametrize(("is_first", "width"), [(True, 1280), (False, 1280), (False, 320)])
def test_notes_break_no_rule(
    browser: Browser, tmp_path: Path, text: str, scheme: str, is_first: bool, width: int
) -> None:
    path = tmp_path / "a.recipe"
    path.write_text(text if is_first else GOOD)
    browser.media(prefers_color_scheme=scheme, prefers_reduced_motion="reduce")
    with serving(shown_of(path)) as server:
        path.write_text(text)
        server.shown.show(rebuilt_of(path))
        size = {"width": width, "height": 800, "deviceScaleFactor": 1, "mobile": False}
        browser.ask("Emulation.setDeviceMetricsOverride", **size)
        browser.ask("Page.navigate", url=server.address)
        last = time.monotonic() + LONG
        while not browser.run("Boolean(document.querySelector('.preview-notes:not([hidden]) mark'))"):
            assert time.monotonic() < last
            time.sleep(0.02)
        assert violations(browser) == []
        browser.ask("Page.navigate", url="about:blank")
