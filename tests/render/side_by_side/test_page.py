"""The page of a diff, taken apart: the list of changes, the pairs of drawings, and that it needs nothing."""

import re
from itertools import pairwise

import pytest

from cardrecipe.compare.changes import Cause, Change, Comparison
from cardrecipe.compare.telling import told
from cardrecipe.render.side_by_side import render_side_by_side
from cardrecipe.render.side_by_side.pairs import changed_pieces
from tests.render.hostile import TEXTS as HOSTILE
from tests.render.side_by_side.pages import CASES, compared, page
from tests.render.the_page import Page
from tests.render.variants.parts import Parts, every, words

CHANGED = [name for name in CASES if name != "same"]


def said(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("name", CHANGED)
def test_every_change_is_told_with_its_lines(name: str) -> None:
    parts = told(compared(name)[2])
    (changes,) = every(Parts(page(name)).root, "section", "changes")
    groups = list(every(changes, "section"))
    assert [words(next(every(group, "h3"))) for group in groups] == [part.title for part in parts]
    for group, part in zip(groups, parts, strict=True):
        lines = list(every(group, "li"))
        assert len(lines) == len(part.lines)
        for shown, each in zip(lines, part.lines, strict=True):
            found = [words(line) for line in every(shown, "p")]
            assert found == [said(text) for text in (each.line, *each.below, *each.because)]
            assert len(list(every(shown, "code"))) == len(each.because)


@pytest.mark.parametrize("name", CHANGED)
def test_each_changed_piece_is_drawn_before_and_after(name: str) -> None:
    old, new, comparison = compared(name)
    pieces = changed_pieces(comparison.changes)
    found = [pair for pair in pairs_of(name) if pair_id(pair).startswith("pair-piece")]
    assert len(found) == len(pieces)
    for pair, piece in zip(found, pieces, strict=True):
        assert words(next(every(pair, "span", "badge"))) == str(piece.number)
        before, after = every(pair, "figure")
        for figure, sheet, own in ((before, old, piece.old), (after, new, piece.new)):
            names = {each.name for each in sheet.folded.card.pieces}
            drawn = [each[1]["data-picture"] for each in every(figure, "div", "picture")]
            assert drawn == ([f"piece-{own}"] if own in names else [])
            assert bool(list(every(figure, "p", "none"))) == (own not in names)


def pairs_of(name: str) -> list[object]:
    return list(every(Parts(page(name)).root, "article", "pair"))


def pair_id(pair: object) -> str:
    return str(next(every(pair, "h3"))[1]["id"])


@pytest.mark.parametrize("name", CHANGED)
def test_the_finished_card_is_drawn_from_the_front_and_open(name: str) -> None:
    old, new, _ = compared(name)
    found = [
        words(next(every(pair, "h3"))) for pair in pairs_of(name) if pair_id(pair).startswith("pair-view")
    ]
    if old.folded.views or new.folded.views:
        assert found[0] == "Closed, from the front" and "Open, the inside" in found
    else:
        assert not found


@pytest.mark.parametrize("name", CHANGED)
def test_the_sheets_that_are_cut_otherwise_are_drawn(name: str) -> None:
    old, new, _ = compared(name)
    bare = [{each._replace(number=0, picture="") for each in sheet.cutting} for sheet in (old, new)]
    found = [pair for pair in pairs_of(name) if pair_id(pair).startswith("pair-sheet")]
    sides = [list(every(pair, "figure")) for pair in found]
    drawn = [sum(bool(list(every(pair[side], "svg"))) for pair in sides) for side in (0, 1)]
    assert drawn == [len(bare[0] - bare[1]), len(bare[1] - bare[0])]


def test_the_same_card_says_so() -> None:
    page_of_same = Parts(page("same")).root
    assert "Both are the same card. Nothing changes for the maker." in words(page_of_same)
    assert not pairs_of("same") and not list(every(page_of_same, "section", "changes"))
    assert len(list(every(page_of_same, "figure"))) >= 2
    assert "stroke-dasharray:1.4" not in page("same")


@pytest.mark.parametrize("name", CASES)
def test_is_one_file_without_a_script(name: str) -> None:
    text = page(name)
    for tag, attributes in Page(text).elements:
        assert tag not in {"script", "link", "img", "iframe", "object", "embed", "base", "form", "image"}
        assert not {"src", "srcset", "style", "action"}.intersection(attributes)
        assert (attributes.get("href") or "#").startswith("#")
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', text)
    assert (
        policy
        and policy[1].startswith("default-src 'none'; style-src 'sha256-")
        and "script" not in policy[1]
    )
    assert text.count("<style>") == 1


@pytest.mark.parametrize("name", CASES)
def test_ids_are_unique_and_headings_skip_no_level(name: str) -> None:
    elements = Page(page(name)).elements
    ids = [a["id"] for tag, a in elements if "id" in a and tag not in ("title", "desc")]
    assert len(ids) == len(set(ids))
    assert {a["aria-labelledby"] for _, a in elements if "aria-labelledby" in a} <= set(ids)
    levels = [int(tag[1]) for tag, _ in elements if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_text_is_text(name: str) -> None:
    """How many lines a change takes depends on its words; all else is the same."""
    lines = {"p", "strong", "code", "span"}
    shown, plain = Page(hostile(HOSTILE[name])), Page(hostile("x"))
    assert [each for each in shown.shape if each[0] not in lines] == [
        each for each in plain.shape if each[0] not in lines
    ]
    assert {each for each in shown.shape if each[0] in lines} <= set(plain.shape) | {("p", ("class",))}
    assert shown.text.count("".join(HOSTILE[name].split())) >= 8


def hostile(text: str) -> str:
    old, new, comparison = compared("stepped up")
    cause = Cause("new", text, 3, text)
    changes = (
        Change("pieces", "resized", "plate", text, text, text, (cause,), "plate", "plate"),
        Change("shopping", "new", text, "", text),
        Change("notes", "gone", text, text, ""),
    )
    sides = (comparison.old._replace(file=text, title=text), comparison.new._replace(file=text, variant=text))
    return render_side_by_side(old, new, Comparison(*sides, changes))


def test_same_bytes_every_time() -> None:
    assert render_side_by_side(*compared("stepped up")) == page("stepped up")
