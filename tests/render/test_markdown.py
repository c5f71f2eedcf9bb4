"""The Markdown page, read back by a Markdown parser."""

from collections.abc import Iterator

import pytest
from markdown_it import MarkdownIt
from markdown_it.token import Token

from cardrecipe.render.markdown import render_markdown
from tests.render.hand_made_sheet import sheet
from tests.render.hostile import TEXTS, with_text

WORDS = ("text", "code_inline", "text_special", "code_block", "fence")
PARSER = MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"])


def tokens(markdown: str) -> list[Token]:
    return list(_flat(PARSER.parse(markdown)))


def _flat(some: list[Token]) -> Iterator[Token]:
    for token in some:
        yield token
        yield from _flat(token.children or [])


def shape(markdown: str) -> list[str]:
    return [token.type for token in tokens(markdown) if token.type != "text"]


def words(markdown: str) -> str:
    """All text, without spaces."""
    text = "".join(token.content for token in tokens(markdown) if token.type in WORDS)
    return "".join(text.split())


def test_has_each_part_in_the_order_of_work() -> None:
    titles = [line for line in render_markdown(sheet()).split("\n") if line.startswith("## ")]
    assert titles == [
        "## What you need",
        "## Cut list",
        "## Take care",
        "## Envelopes",
        "## Notes",
        "## Score guide",
        "## Steps",
    ]


def test_cut_list_has_both_units() -> None:
    row = "| Paper glow | door paper | 2 | **1\u202f7\u20448 \u00d7 5\u202f1\u20444\u00a0in** | "
    assert row + "42 \u00d7 134\u00a0mm |  |" in render_markdown(sheet())


def test_own_markdown_is_kept() -> None:
    text = render_markdown(sheet())
    assert "*harbour festival*" in text and "**no offcut**" in text
    links = [t.attrs["href"] for t in tokens(text) if t.type == "link_open"]
    assert links == ["https://example.org/harbour?a=1&b=2"]


@pytest.mark.parametrize(
    "about",
    ["# a\n\n- b\n  - c\n    > d\n- e\n\n3. f\n4. g", "|a|b|\n|-|-|\n|c \\| x|**d**|",
     "a  \nb\n\n---", "```\n<b>\n\n# x\n```", "~~a~~ `<i>` *b **c***"],
)  # fmt: skip
def test_own_markdown_keeps_its_words(about: str) -> None:
    plain = MarkdownIt("js-default").parse(about)
    expected = "".join("".join(t.content.split()) for t in _flat(plain) if t.type in WORDS)
    assert expected in words(render_markdown(sheet()._replace(about_markdown=about)))


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_text_is_text(name: str) -> None:
    page, plain = with_text(sheet(), TEXTS[name]), with_text(sheet(), "x")
    markdown = render_markdown(page)
    assert shape(markdown) == shape(render_markdown(plain))
    assert "".join(TEXTS[name].split()) in words(markdown)


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_markdown_brings_no_html(name: str) -> None:
    page = sheet()
    steps = tuple(step._replace(tips=(TEXTS[name],)) for step in page.steps)
    markdown = render_markdown(page._replace(about_markdown=TEXTS[name], steps=steps))
    html = {t.content for t in tokens(markdown) if t.type in ("html_inline", "html_block")}
    assert html <= {"<br>", "<code>", "</code>"}
    assert "image" not in shape(markdown)
    links = [str(t.attrs["href"]) for t in tokens(markdown) if t.type == "link_open"]
    assert all(link.startswith(("https://", "http://")) for link in links)
