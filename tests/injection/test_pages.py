"""No text of a recipe becomes anything else than text, in whatever the program writes.

A file made with hostile texts in every place has the parts of one made with plain words of the same lengths,
none more and none of another kind, and shows the hostile texts as they were written.
"""


import pytest

from cardrecipe.render.markdown import render_markdown
from cardrecipe.render.pages import render
from cardrecipe.render.pdf import MISSING_SIGN, missing_characters
from tests.injection.every_text import FREE, MARKDOWN, texts_of
from tests.injection.hostile_texts import FIRST, FOR_TYPST, HOSTILE, LONG, MARKS, plain_twin
from tests.injection.made import (
    Files,
    Said,
    card_files,
    class_files,
    diff_files,
    printed_files,
    sheet,
    variants_files,
)
from tests.injection.read_back import Reading, read, read_markdown

PLAIN = "words"
BAD, TWIN = Said(HOSTILE, PLAIN), Said(plain_twin(HOSTILE), PLAIN)
BAD_IN_PRINT, TWIN_IN_PRINT = Said(FOR_TYPST, PLAIN), Said(plain_twin(FOR_TYPST), PLAIN)
MAKERS = {"card": card_files, "variants": variants_files, "class": class_files}
# One long word shrinks and cuts the lettering of a drawing, and some readers of PDFs part it.
SHOWN_ONCE = (".pdf", ".svg", ".dxf")


@pytest.mark.parametrize("made", MAKERS)
def test_hostile_texts_bring_no_part_of_their_own_and_are_shown(made: str) -> None:
    files, others = MAKERS[made](BAD), MAKERS[made](TWIN)
    assert set(files) == set(others)
    for name in files:
        assert_same_but_for_the_words(name, files, others, BAD, TWIN)


def test_hostile_texts_in_print() -> None:
    files, others = printed_files(BAD_IN_PRINT), printed_files(TWIN_IN_PRINT)
    for name in files:
        assert_same_but_for_the_words(name, files, others, BAD_IN_PRINT, TWIN_IN_PRINT)


def assert_same_but_for_the_words(name: str, files: Files, others: Files, bad: Said, twin: Said) -> None:
    found, plain = read(name, files[name]), read(name, others[name])
    assert found.parts == plain.parts, name
    assert_shows_the_same(found, plain, name.endswith(SHOWN_ONCE), bad, twin)


def assert_shows_the_same(found: Reading, plain: Reading, once: bool, bad: Said, twin: Said) -> None:
    """Each text as often as its twin, or, where lines and pages break it, at all."""
    for place in FREE:
        there = plain.shows(texts_of(*twin)[place])
        assert found.shows(texts_of(*bad)[place]) >= (min(there, 1) if once else there), place


def test_every_text_is_shown_somewhere() -> None:
    """So that the tests above have something to look at."""
    pages = [read(".html", made(TWIN)[".html"]) for made in MAKERS.values()]
    for place in FREE:
        assert any(page.shows(texts_of(*TWIN)[place]) for page in pages), place


def test_what_changed_is_told_in_texts_alone() -> None:
    """Which lines of the recipe made a change depends on its words, so that more of them may be told."""
    files, others = diff_files(BAD), diff_files(TWIN)
    for name in (".html", ".md", ".json"):
        bad, twin = read(name, files[name]), read(name, others[name])
        assert set(bad.parts) - set(twin.parts) <= TOLD, name
        assert_shows_the_same(bad, twin, True, BAD, TWIN)
    assert all(sign.isprintable() or sign in "\n\u00a0\u202f" for sign in files[".txt"].decode())


# What a line of the recipe that made a change is told in.
_LINE = {"side": "str", "file": "str", "line": "int", "text": "str"}
TOLD = {("p", "class"), ("span", "class"), ("code",),
        *((f".changes[].because[].{name}", kind) for name, kind in _LINE.items())}  # fmt: skip


@pytest.mark.parametrize("text", [MARKS, LONG], ids=["marks", "long"])
def test_odd_letters_and_endless_words_are_kept(text: str) -> None:
    files, kinds = card_files(Said(text, PLAIN)), card_files(TWIN)
    for name in files:
        found = read(name, files[name])
        assert set(found.parts) <= set(read(name, kinds[name]).parts), name
        for place in ("recipe", "stamp", "do", "paper_facts") if name in (".html", ".md", ".json") else ():
            assert found.shows(texts_of(text, PLAIN)[place]), (name, place)


def test_what_the_type_of_the_pdf_lacks_is_marked_and_named() -> None:
    found = read(".pdf", render(sheet(Said(MARKS, PLAIN)), ("pdf",))[".pdf"])
    assert found.shows(MISSING_SIGN)
    assert all(found.shows(f"U+{ord(sign):04X}") for sign in missing_characters(MARKS)[:3])


def test_markdown_brings_only_its_own_elements() -> None:
    """Hostile texts where Markdown is meant: what it makes is words, and links to pages and mail."""
    files = card_files(Said(PLAIN, HOSTILE))
    for name in (".html", ".md"):
        new = set(read(name, files[name]).parts) - set(read(name, card_files(TWIN)[name]).parts)
        assert new and not [part for part in new if set(map(str, part)) & FORBIDDEN], name
        links = [part[2] for part in new if name == ".md" and part[0] == "link_open"]
        assert all(link.startswith(("http://example.org", "mailto:")) for link in links)


FORBIDDEN = {"script", "img", "image", "style", "svg", "iframe", "base", "meta", "form", "input", "onerror",
             "onload", "onclick", "onfocus", "onmouseover", "html_block"}  # fmt: skip


@pytest.mark.parametrize("first", FIRST)
def test_no_line_of_markdown_begins_a_block_of_the_makers(first: str) -> None:
    """The harmless texts begin with a letter, where the hostile ones begin with a sign of Markdown."""
    text = f"{first} words"
    bad, twin = (
        read_markdown(render_markdown(sheet(Said(each, PLAIN))).encode()) for each in (text, f"a{text}")
    )
    assert bad.parts == twin.parts
    for place in FREE:
        if place not in MARKDOWN:
            assert bad.shows(texts_of(text, PLAIN)[place]) == twin.shows(texts_of(f"a{text}", PLAIN)[place])
