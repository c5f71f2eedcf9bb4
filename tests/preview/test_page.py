"""The preview's page: the sheet's own with exactly as much more as it needs."""

import re
from base64 import b64encode
from hashlib import sha256
from html import unescape
from pathlib import Path

import pytest

from cardrecipe.preview.page import empty_page, preview_page, widened_policy
from tests.preview.previewing import GOOD, rebuilt_of


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = tmp_path_factory.mktemp("page") / "a.recipe"
    path.write_text(GOOD)
    html = rebuilt_of(path).html
    assert html is not None
    return html


def policy(html: str) -> dict[str, list[str]]:
    found = re.findall(r'<meta http-equiv="Content-Security-Policy" content="([^"]*)">', html)
    assert len(found) == 1
    return {name: allowed for name, *allowed in (rule.split() for rule in found[0].split(";"))}


def hashes(html: str, tag: str) -> list[str]:
    """Those of what a browser runs or draws by; data in a script is neither."""
    inside = re.findall(rf"<{tag}(?! type=)[^>]*>(.*?)</{tag}>", html, re.S)
    return [f"'sha256-{b64encode(sha256(each.encode()).digest()).decode()}'" for each in inside]


def test_the_policy_is_widened_by_one_script_one_style_and_the_own_address(sheet: str) -> None:
    before, after = policy(sheet), policy(preview_page(sheet, 1).decode())
    for name in ("script-src", "style-src"):
        assert after[name][:-1] == before[name]
        assert len(after[name]) == len(before[name]) + 1
    assert after["connect-src"] == ["'self'"]
    changed = {"script-src", "style-src", "connect-src"}
    assert {name: after[name] for name in after if name not in changed} == {
        name: before[name] for name in before if name not in changed
    }
    assert after["default-src"] == ["'none'"]


@pytest.mark.parametrize("made", ["sheet", "empty"])
def test_every_script_and_style_in_it_has_its_hash(sheet: str, made: str) -> None:
    page = preview_page(sheet if made == "sheet" else empty_page("a"), 7).decode()
    rules = policy(page)
    assert set(hashes(page, "script")) <= set(rules["script-src"])
    assert set(hashes(page, "style")) <= set(rules["style-src"])
    assert rules["script-src"][-1] in hashes(page, "script")
    assert rules["style-src"][-1] in hashes(page, "style")


def test_the_rest_of_the_page_is_the_sheets_own(sheet: str) -> None:
    page = preview_page(sheet, 1).decode()
    page = re.sub(r'<script data-page="1">.*?</script>\n', "", page, flags=re.S)
    page = re.sub(r"<style>(?:(?!<style>).)*</style>\n</head>", "</head>", page, flags=re.S)
    drop = re.compile(r'content="default-src[^"]*"')
    assert drop.sub("", page) == drop.sub("", sheet)


def test_a_page_knows_its_number(sheet: str) -> None:
    assert '<script data-page="12">' in preview_page(sheet, 12).decode()


def test_a_rule_that_forbids_all_gives_way() -> None:
    wide = widened_policy("default-src 'none'; script-src 'none'; upgrade-insecure-requests", "a", "b")
    assert [rule.split()[0] for rule in wide.split("; ")] == [
        "default-src", "script-src", "upgrade-insecure-requests", "style-src", "connect-src",
    ]  # fmt: skip
    assert "script-src 'sha256-" in wide


def test_a_page_that_waits_names_the_recipe_and_runs_nothing_of_it() -> None:
    name = '<script>alert("1")</script>.recipe'
    page = empty_page(name)
    assert "<script" not in page
    assert name in unescape(page)
    assert preview_page(page, 1).decode().count("<script") == 1


def test_words_of_a_recipe_that_look_like_the_ends_of_a_page(tmp_path: Path) -> None:
    path = tmp_path / "a.recipe"
    path.write_text(GOOD.replace("Evening walk", "</head></body><script>1</script>"))
    html = rebuilt_of(path).html
    assert html is not None
    page = preview_page(html, 1).decode()
    assert set(hashes(page, "script")) <= set(policy(page)["script-src"])
    assert policy(page)["script-src"][-1] in hashes(page, "script")
