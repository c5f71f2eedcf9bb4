"""The HTML page: one file, nothing fetched, nothing of a recipe taken for markup."""

import re
from base64 import b64encode
from hashlib import sha256
from itertools import pairwise

import pytest

from cardrecipe.render import page_style
from cardrecipe.render.drawings.colors import contrast
from cardrecipe.render.html import render_html
from tests.render.hand_made_sheet import pictures, sheet
from tests.render.hostile import TEXTS, with_text
from tests.render.sample_pages import NAMES, page_of
from tests.render.the_page import Page, unpacked, with_the_other


def html(page: str = "letter", **changes: object) -> str:
    this = sheet()._replace(**changes)  # type: ignore[arg-type]
    other = this.other
    return render_html(this, pictures(this), pictures(other) if other else {}, page)


def hostile(text: str) -> Page:
    changed = with_text(sheet(), text)
    assert changed.other is not None
    return Page(with_the_other(render_html(changed, pictures(changed), pictures(changed.other), "letter")))


def test_is_small_enough_for_a_mail() -> None:
    assert len(html().encode()) <= 150_000


@pytest.mark.parametrize("name", NAMES)
def test_every_sample_is_small_enough_for_a_mail(name: str) -> None:
    assert page_of(name).stat().st_size <= 150_000


def test_fetches_nothing() -> None:
    text = html()
    folding = unpacked(text)["folding"]
    for tag, attributes in Page(with_the_other(text) + folding).elements:
        assert tag not in {"link", "img", "iframe", "object", "embed", "base", "form", "image"}
        assert not {"src", "srcset", "style", "xlink:href", "action"}.intersection(attributes)
        assert not [name for name in attributes if name.startswith("on")]
        if tag == "script":
            assert attributes in ({}, {"type": "application/json"})
        assert attributes.get("href") is None or tag in ("a", "pattern", "use")
    live = unpacked(text)["style"]
    urls = re.findall(r"url\(([^#].{11})", text + live)
    assert urls == ["data:font/wo", "data:font/wo"]
    assert "@import" not in text + live


def test_policy_allows_its_own_style_and_script_alone() -> None:
    text = html()
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', text)
    assert policy and policy[1].startswith("default-src 'none'; ")
    for kind in ("style", "script"):
        bodies = [*re.findall(f"<{kind}>(.*?)</{kind}>", text, re.DOTALL), unpacked(text)[kind]]
        assert len(bodies) == 2
        digests = (b64encode(sha256(body.encode()).digest()).decode() for body in bodies)
        allowed = " ".join(f"'sha256-{digest}'" for digest in digests)
        assert f"{kind}-src {allowed};" in policy[1]
    assert "unsafe" not in policy[1]


def test_paper_size_is_explicit() -> None:
    assert "@page{size:8.5in 11in}" in html("letter")
    assert "@page{size:210mm 297mm}" in html("a4")


def test_both_unit_systems_are_inside() -> None:
    versions = [a for tag, a in Page(with_the_other(html())).elements if a.get("class") == "version"]
    assert [(a["data-unit"], "hidden" in a) for a in versions] == [("inch", False), ("mm", True)]


def test_without_another_version_there_is_no_switch() -> None:
    text = html(other=None)
    assert "other" not in unpacked(text)
    assert not [a for tag, a in Page(text).elements if "data-unit" in a and tag == "button"]


def test_headings_skip_no_level() -> None:
    levels = [int(tag[1]) for tag, _ in Page(html()).elements if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_ids_are_unique_and_labels_point_to_them() -> None:
    elements = Page(with_the_other(html())).elements
    ids = [a["id"] for tag, a in elements if "id" in a and tag not in ("title", "desc")]
    assert len(ids) == len(set(ids))
    targets = [a["aria-labelledby"] for tag, a in elements if tag == "section" if "aria-labelledby" in a]
    assert set(targets) <= set(ids)


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_text_is_text(name: str) -> None:
    page = hostile(TEXTS[name])
    assert page.shape == hostile("x").shape
    assert page.text.count("".join(TEXTS[name].split())) > 50


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_markdown_brings_only_its_own_elements(name: str) -> None:
    steps = tuple(step._replace(tips=(TEXTS[name],)) for step in sheet().steps)
    page = Page(with_the_other(html(about_markdown=TEXTS[name], steps=steps)))
    assert not {"img", "iframe", "b", "i", "textarea"}.intersection(tag for tag, _ in page.elements)
    assert [tag for tag, _ in page.elements].count("script") == 1
    assert not [a for _, a in page.elements if any(each.startswith("on") for each in a)]
    links = [a["href"] or "" for tag, a in page.elements if tag == "a"]
    assert all(re.match("#(main$|inch-|mm-)|https?://", link) for link in links)


def test_control_characters_are_shown() -> None:
    assert "a\ufffdb" in html(title="a\x00b")


COLORS = re.compile(r"--([a-z]+):(#[0-9a-f]{6})")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_colours_have_the_contrast_of_wcag_aa(scheme: str) -> None:
    """WCAG 2.2, 1.4.3 (4.5:1 for text) and 1.4.11 (3:1 for a control's edge)."""
    text, colors = html(), {}
    for style in (text, unpacked(text)["style"]):
        blocks = re.findall(r":root\{[^}]*\}", style)
        colors |= dict(COLORS.findall(blocks[0 if scheme == "light" else 1]))
    for name in ("ink", "quiet", "accent", "warm"):
        for ground in ("page", "now"):  # the current step has a ground of its own
            assert contrast(colors[name], colors[ground]) >= 4.5, (name, ground)
    for name in ("field", "lit", "accent"):
        assert contrast(colors[name], colors["page"]) >= 3, name


def test_each_style_sheet_is_said_shorter_and_means_the_same() -> None:
    """Rule by rule, without the blanks: nothing but comments and blanks is left out."""
    whole = "".join(page_style.template_text(name) for name in ("live.css", "folding.css"))
    bare = "".join(re.sub(r"/\*.*?\*/", "", whole, flags=re.DOTALL).split())
    tight = unpacked(html())["style"]
    assert "".join(tight.split()) == bare.replace(";}", "}")
    assert "Wider than the screen: move it" in html()  # what is in quotes is to be read


def test_only_a_page_that_needs_more_letters_carries_them() -> None:
    plain, polish = html(), html(title="Ła\u0107ka")
    assert len(plain) < len(polish) - 15_000
    assert html(title="Crêpes").count("base64") == 2


def test_same_bytes_every_time() -> None:
    assert html() == html()
