"""Each page runs its own script and nothing else, whatever is put into it: its policy forbids the rest."""

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from cardrecipe.preview.page import empty_page, preview_page
from tests.injection.hostile_texts import HOSTILE, plain_twin
from tests.injection.made import Said, card_files, class_files, diff_files, variants_files
from tests.render.chromium import Browser, chromium
from tests.render.the_page import Page

PAGES = ("sheet", "variants", "class", "difference", "preview", "preview that waits")
MADE = {"sheet": card_files, "variants": variants_files, "class": class_files, "difference": diff_files}
BAD, TWIN = Said(HOSTILE, "words"), Said(plain_twin(HOSTILE), "words")
PLAIN = Said("words", "words")
# What somebody could put into a page, each of which would mark it, or ask for something.
PUT_IN = """
<script>document.documentElement.dataset.ran = "inline"</script>
<script src="data:text/javascript,document.documentElement.dataset.ran='data'"></script>
<script src="http://127.0.0.1:9/x.js"></script>
<script type="module">document.documentElement.dataset.ran = "module"</script>
<img src="http://127.0.0.1:9/x.png" onerror="document.documentElement.dataset.ran = 'attribute'">
<img src="data:image/png;base64,x" onerror="document.documentElement.dataset.ran = 'attribute'">
<svg onload="document.documentElement.dataset.ran = 'svg'"></svg>
<iframe srcdoc="<script>parent.document.documentElement.dataset.ran = 'frame'</script>"></iframe>
<iframe src="javascript:parent.document.documentElement.dataset.ran = 'address'"></iframe>
<object data="data:text/html,<script>parent.document.documentElement.dataset.ran = 'x'</script>"></object>
<link rel="stylesheet" href="http://127.0.0.1:9/x.css">
<style>html { --put-in: inline }</style>
<p id="put-in" style="--put-in: attribute" onclick="document.documentElement.dataset.ran = 'click'">x</p>
<a id="put-link" href="javascript:void(document.documentElement.dataset.ran = 'link')">x</a>
<form id="put-form" action="http://127.0.0.1:9/x"><input name="x"></form>
<base href="http://127.0.0.1:9/">
"""
LATER = """(() => {
    const later = document.createElement("script");
    later.textContent = "document.documentElement.dataset.ran = 'later'";
    document.body.append(later);
    document.getElementById("put-in").click();
    document.getElementById("put-link").click();
    document.getElementById("put-form").submit();
    const style = (it) => getComputedStyle(it).getPropertyValue("--put-in").trim();
    return {
        ran: document.documentElement.dataset.ran ?? "",
        styled: style(document.documentElement) + style(document.getElementById("put-in")),
        base: document.baseURI === location.href,
    };
})()"""
# How many elements of a kind there are outside the drawings, and what could be followed or run.
KINDS = """(() => {
    const counts = {}, all = [...document.querySelectorAll("*")];
    for (const it of all) if (!it.closest("svg, .about, blockquote, .tip")) {
        // The preview makes room for its notes, by a style of the root, a moment after the page is there.
        const names = it.getAttributeNames().filter((name) => it.localName !== "html" || name !== "style");
        const key = `${it.localName} ${names.sort().join(" ")}`;
        counts[key] = (counts[key] ?? 0) + 1;
    }
    const odd = all.filter((it) => it.getAttributeNames().some((name) => name.startsWith("on")));
    const here = (to) => to.split("#")[0] === location.href.split("#")[0];
    const links = all.filter((it) => it.hasAttribute("href"))
        .map((it) => new URL(it.getAttribute("href"), location).href).filter((to) => !here(to));
    return { counts, odd: odd.length, links, images: document.images.length, frames: frames.length };
})()"""


@cache
def page(name: str, said: Said = PLAIN) -> str:
    if name == "preview that waits":
        return preview_page(empty_page(said.free), 1).decode()
    if name == "preview":
        return preview_page(page("sheet", said), 1).decode()
    return MADE[name](said)[".html"].decode()


def policy_of(html: str) -> dict[str, list[str]]:
    found = re.findall(r'<meta http-equiv="Content-Security-Policy" content="([^"]*)">', html)
    (text,) = found
    return {name: allowed for name, *allowed in (rule.split() for rule in text.split(";"))}


@pytest.mark.parametrize("name", PAGES)
def test_the_policy_comes_first_and_allows_hashes_alone(name: str) -> None:
    elements = Page(page(name)).elements
    assert [tag for tag, _ in elements[:4]] == ["html", "head", "meta", "meta"]
    assert elements[3][1]["http-equiv"] == "Content-Security-Policy"
    policy = policy_of(page(name))
    assert (policy["default-src"], policy["base-uri"], policy["form-action"]) == (["'none'"],) * 3
    for rule in ("script-src", "style-src"):
        assert all(re.fullmatch(r"'sha256-[\w+/]{43}='", each) for each in policy.get(rule, []))
    assert policy.get("font-src", ["data:"]) == ["data:"]
    assert policy.get("connect-src", []) == (["'self'"] if name.startswith("preview") else [])
    assert set(policy) <= {"default-src", "script-src", "style-src", "font-src", "base-uri", "form-action",
                           "connect-src"}  # fmt: skip


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


def opened(browser: Browser, folder: Path, html: str) -> None:
    path = folder / "page.html"
    path.write_text(html, "utf-8")
    browser.new_tab()  # in which nothing is told any more of what was put into the last page
    browser.open(path)


def events(browser: Browser, method: str) -> list[dict[str, Any]]:
    return [event["params"] for event in browser.events if event["method"] == method]


def asked_for(browser: Browser, folder: Path) -> list[str]:
    """The addresses that the browser asked for, but for the page itself and what stands in it."""
    requests = [each["request"]["url"] for each in events(browser, "Network.requestWillBeSent")]
    return [url for url in requests if not url.startswith((folder.as_uri(), "data:font/"))]


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("place", ["<head>", "</body>"])
def test_what_is_put_into_a_page_by_hand_does_not_run(
    browser: Browser, tmp_path: Path, name: str, place: str
) -> None:
    """At the end, and right behind the policy itself."""
    html = page(name)
    behind_the_policy = html.index('">', html.index("Content-Security-Policy")) + 2
    end = behind_the_policy if place == "<head>" else html.rindex(place)
    opened(browser, tmp_path, html[:end] + PUT_IN + html[end:])
    assert browser.run(LATER) == {"ran": "", "styled": "", "base": True}
    assert browser.run("document.documentElement.dataset.ran ?? ''") == ""
    assert len(events(browser, "Log.entryAdded")) >= 8  # each refusal is told
    sent = {each["requestId"] for each in events(browser, "Network.requestWillBeSent")
            if ":9/" in each["request"]["url"]}  # fmt: skip
    blocked = {each["requestId"] for each in events(browser, "Network.loadingFailed")
               if each.get("blockedReason") == "csp"}  # fmt: skip
    assert sent <= blocked


ODD = ("Log.entryAdded", "Runtime.exceptionThrown", "Runtime.consoleAPICalled",
       "Page.javascriptDialogOpening")  # fmt: skip


@pytest.mark.parametrize("name", PAGES)
def test_a_page_of_hostile_texts_is_that_of_plain_words(browser: Browser, tmp_path: Path, name: str) -> None:
    found: list[Any] = []
    for said in (BAD, TWIN):
        opened(browser, tmp_path, page(name, said))
        found.append(browser.run(KINDS))
        assert asked_for(browser, tmp_path) == []
        odd = [each for method in ODD for each in events(browser, method)]
        assert [each for each in odd if "/events" not in str(each)] == []  # which only the server answers
    bad, twin = found
    assert (bad["odd"], bad["images"], bad["frames"]) == (0, 0, 0)
    schemes = ("http://", "https://", "mailto:", "tel:")
    assert [link for link in bad["links"] if not link.startswith(schemes)] == []
    if name != "difference":  # in which more lines of the recipe may be named
        assert bad["counts"] == twin["counts"]
