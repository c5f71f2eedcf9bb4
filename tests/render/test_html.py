"""The HTML page: one file, nothing fetched, nothing of a recipe taken for markup."""

import re
from base64 import b64encode
from hashlib import sha256
from html.parser import HTMLParser
from itertools import pairwise

import pytest

from cardrecipe.render.drawings.colors import contrast
from cardrecipe.render.html import render_html
from tests.render.hand_made_sheet import pictures, sheet
from tests.render.hostile import TEXTS, with_text

VOID = {"meta", "input", "br", "hr", "rect", "path", "line", "circle"}


class Page(HTMLParser):
    """Elements with their attributes, and the text outside style and script."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self._open: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag not in VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop() == tag, f"</{tag}> closes nothing"

    def handle_data(self, data: str) -> None:
        if not {"style", "script"}.intersection(self._open):
            self.words.append(data)

    @property
    def text(self) -> str:
        """All text, without spaces."""
        return "".join("".join(self.words).split())

    @property
    def shape(self) -> list[tuple[str, tuple[str, ...]]]:
        return [(tag, tuple(attrs)) for tag, attrs in self.elements]


def html(page: str = "letter", **changes: object) -> str:
    this = sheet()._replace(**changes)  # type: ignore[arg-type]
    other = this.other
    return render_html(this, pictures(this), pictures(other) if other else {}, page)


def hostile(text: str) -> Page:
    changed = with_text(sheet(), text)
    assert changed.other is not None
    return Page(render_html(changed, pictures(changed), pictures(changed.other), "letter"))


def test_is_small_enough_for_a_mail() -> None:
    assert len(html().encode()) <= 150_000


def test_fetches_nothing() -> None:
    text = html()
    for tag, attributes in Page(text).elements:
        assert tag not in {"link", "img", "iframe", "object", "embed", "base", "form", "image"}
        assert not {"src", "srcset", "style", "xlink:href", "action"}.intersection(attributes)
        assert not [name for name in attributes if name.startswith("on")]
        if tag == "script":
            assert attributes == {}
    urls = re.findall(r"url\((.{12})", text)
    assert urls == ["data:font/wo", "data:font/wo"]
    assert "@import" not in text


def test_policy_allows_its_own_style_and_script_alone() -> None:
    text = html()
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', text)
    assert policy and policy[1].startswith("default-src 'none'; ")
    for kind in ("style", "script"):
        bodies = re.findall(f"<{kind}>(.*?)</{kind}>", text, re.DOTALL)
        assert len(bodies) == 1
        digest = b64encode(sha256(bodies[0].encode()).digest()).decode()
        assert f"{kind}-src 'sha256-{digest}'" in policy[1]
    assert "unsafe" not in policy[1]


def test_paper_size_is_explicit() -> None:
    assert "@page{size:8.5in 11in}" in html("letter")
    assert "@page{size:210mm 297mm}" in html("a4")


def test_both_unit_systems_are_inside() -> None:
    versions = [a for tag, a in Page(html()).elements if a.get("class") == "version"]
    assert [(a["data-unit"], "hidden" in a) for a in versions] == [("inch", False), ("mm", True)]


def test_without_another_version_there_is_no_switch() -> None:
    page = Page(html(other=None))
    assert not [a for tag, a in page.elements if tag == "button"]


def test_the_twins_of_a_tick_box_share_its_key() -> None:
    keys = [a["data-tick"] for tag, a in Page(html()).elements if tag == "input"]
    half = len(keys) // 2
    assert keys[:half] == keys[half:]
    assert len(set(keys)) == half


def test_headings_skip_no_level() -> None:
    levels = [int(tag[1]) for tag, _ in Page(html()).elements if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_ids_are_unique_and_labels_point_to_them() -> None:
    elements = Page(html()).elements
    ids = [a["id"] for tag, a in elements if "id" in a and tag not in ("title", "desc")]
    assert len(ids) == len(set(ids))
    targets = [a["aria-labelledby"] for tag, a in elements if tag == "section" if "aria-labelledby" in a]
    assert set(targets) <= set(ids)


def test_only_the_fraction_is_set_as_a_fraction() -> None:
    text = html()
    assert '1\u202f<span class="fraction">7\u20448</span>' in text
    outside = re.sub(r"<svg.*?</svg>", "", text, flags=re.DOTALL)
    outside = re.sub(r'<span class="fraction">\d+\u2044\d+</span>', "", outside)
    assert "\u2044" not in re.sub(r'="[^"]*"', "", outside)


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_text_is_text(name: str) -> None:
    page = hostile(TEXTS[name])
    assert page.shape == hostile("x").shape
    assert page.text.count("".join(TEXTS[name].split())) > 50


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_markdown_brings_only_its_own_elements(name: str) -> None:
    steps = tuple(step._replace(tips=(TEXTS[name],)) for step in sheet().steps)
    page = Page(html(about_markdown=TEXTS[name], steps=steps))
    assert not {"img", "iframe", "b", "i", "textarea"}.intersection(tag for tag, _ in page.elements)
    assert [tag for tag, _ in page.elements].count("script") == 1
    assert not [a for _, a in page.elements if any(each.startswith("on") for each in a)]
    links = [a["href"] or "" for tag, a in page.elements if tag == "a"]
    assert all(link.startswith(("#main", "https://", "http://")) for link in links)


def test_control_characters_are_shown() -> None:
    assert "a\ufffdb" in html(title="a\x00b")


COLORS = re.compile(r"--([a-z]+): (#[0-9a-f]{6});")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_colours_have_the_contrast_of_wcag_aa(scheme: str) -> None:
    """WCAG 2.2, 1.4.3 (4.5:1 for text) and 1.4.11 (3:1 for a control's edge)."""
    blocks = re.findall(r":root \{[^}]*\}", html())
    colors = dict(COLORS.findall(blocks[0 if scheme == "light" else 1]))
    for name in ("ink", "quiet", "accent", "warm"):
        assert contrast(colors[name], colors["page"]) >= 4.5, name
    assert contrast(colors["field"], colors["page"]) >= 3


def test_same_bytes_every_time() -> None:
    assert html() == html()
