"""What an editor shows over a word is Markdown of ours: no text of a recipe brings markup into it."""

import re
from collections.abc import Iterator

import pytest
from markdown_it import MarkdownIt
from markdown_it.token import Token

from cardrecipe.editor.telling.hover import hover
from cardrecipe.editor.telling.markdown import code, plain
from tests.editor.marked import snapshot
from tests.injection.every_text import CLASS, NAME, RECIPE, SHELF, SHELF_NAME, filled, texts_of
from tests.injection.hostile_texts import FIRST, HOSTILE, MARKS

READER = MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"])
PLAIN = {"paragraph_open", "paragraph_close", "inline", "text", "text_special"}
OURS = PLAIN | {"strong_open", "strong_close", "em_open", "em_close", "code_inline", "softbreak",
                "bullet_list_open", "bullet_list_close", "list_item_open", "list_item_close"}  # fmt: skip
WORDS = ("text", "text_special", "code_inline")


def tokens(markdown: str) -> Iterator[Token]:
    for token in READER.parse(markdown):
        yield token
        yield from token.children or ()


def hovers(text: str, files: dict[str, str]) -> list[str]:
    """What is said of each word outside quotes and of each text in them."""
    found = snapshot(text, files)
    told = (hover(found, match.start()) for match in re.finditer(r"[a-z?][a-z-]*|\"", text))
    return list(dict.fromkeys(each.markdown for each in told if each is not None))


@pytest.mark.parametrize("hostile", [HOSTILE, MARKS], ids=["hostile", "marks"])
@pytest.mark.parametrize("text", [RECIPE, CLASS], ids=["recipe", "class"])
def test_hovers_hold_no_markup_of_a_recipe(text: str, hostile: str) -> None:
    said = texts_of(hostile, hostile)
    files = {NAME: filled(RECIPE, said), SHELF_NAME: SHELF}
    told = hovers(filled(text, said), files)
    assert len(told) > (10 if text == RECIPE else 3)
    for each in told:
        assert {token.type for token in tokens(each)} <= OURS, each
    if text == RECIPE:
        shown = "".join("".join(token.content for each in told for token in tokens(each)).split())
        assert "".join(said["paper_facts"].split()) in shown


@pytest.mark.parametrize("text", [*FIRST, "12. x", "1) x", HOSTILE, "`` <b> ``", "```", "a ``` b `"])
def test_words_stay_words(text: str) -> None:
    for written, kinds in ((plain(text), PLAIN), (code(text), PLAIN - {"text"} | {"code_inline"})):
        found = list(tokens(written))
        assert {each.type for each in found} <= kinds, written
        shown = "".join(each.content for each in found if each.type in WORDS)
        assert "".join(shown.split()) == "".join(text.split())
