"""Every number that a comparison tells is a number of the sheet it speaks of: looked up in the sheets."""

import re
from collections.abc import Iterator
from itertools import combinations

import pytest

from cardrecipe.compare.changes import Change, Comparison
from cardrecipe.compare.compare import compare
from cardrecipe.compare.version import Version
from cardrecipe.model.lengths import size_written, written
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.markdown import render_markdown
from tests.compare.test_seeded_edits import CARD, EDITS
from tests.compare.versions import SAMPLE_NAMES, SHELF, good, shipped

NUMBER = re.compile(r"[0-9]+(?:\u202f[0-9]+)?(?:\u2044[0-9]+)?(?:\.[0-9]+)?")
# Groups whose numbers stand on the sheet word for word, or are lengths of its pieces.
OF_THE_SHEET = ("pieces", "scores", "kits", "cuts", "steps", "envelope", "post", "facts", "card", "shopping")


def pairs() -> Iterator[tuple[Version, Version]]:
    for name in SAMPLE_NAMES:
        versions = [good(SHELF[name], title, name=name) for title in (None, *shipped()[name].variants)]
        yield from combinations(versions, 2)
    for edit in EDITS.values():
        yield good(CARD), good(CARD.replace(edit.old, edit.new, 1))


def said(comparison: Comparison, *groups: str) -> Iterator[tuple[Change, str, int]]:
    """Each text of a change with its side."""
    for change in comparison.changes:
        if change.group in groups:
            yield change, change.old, 0
            yield change, change.new, 1


def numbers_of(sheet: Sheet) -> set[str]:
    """Every number that the sheet prints, and those that its pieces and places have."""
    card = sheet.folded.card
    lengths = [value for piece in card.pieces for place in piece.placements
               for value in (*place.border, *(-edge for edge in place.border), place.x, place.y)]  # fmt: skip
    lengths += [
        value for piece in card.pieces for score in piece.scores for value in (*score.start, *score.end)
    ]
    lengths += [piece.around.at for piece in card.pieces if piece.around]
    lengths += [piece.corner_radius for piece in card.pieces if piece.corner_radius]
    known = {written(value, card.unit) for value in lengths}
    known |= {str(piece.count) for piece in card.pieces} | {written(card.nearest, card.unit)}
    known |= set(NUMBER.findall(render_markdown(sheet).replace("\\", "")))
    return {each.lstrip("\u2212") for each in known} | {"0"}


def test_every_number_told_is_one_of_its_sheet() -> None:
    count = 0
    for pair in pairs():
        known = [numbers_of(one.sheet) for one in pair]
        for change, text, side in said(compare(*pair), *OF_THE_SHEET):
            numbers = NUMBER.findall(text)
            count += len(numbers)
            assert [each for each in numbers if each not in known[side]] == [], change
    assert count > 1500


def test_a_size_told_is_the_size_that_is_cut() -> None:
    for pair in pairs():
        for change in compare(*pair).in_group("pieces"):
            if change.kind == "resized":
                for text, name, one in zip(
                    (change.old, change.new), (change.old_piece, change.new_piece), pair, strict=True
                ):
                    piece = one.sheet.folded.card.piece(name)
                    assert text == size_written(piece.width, piece.height, one.sheet.folded.card.unit)
                    line = next(line for line in one.sheet.cuts if line.piece == name)
                    assert text == line.size


def test_words_of_a_step_are_its_words_and_its_number_is_its_number() -> None:
    for pair in pairs():
        for change, text, side in said(compare(*pair), "steps"):
            steps = pair[side].sheet.steps
            if change.kind in ("new", "gone") and text:
                assert any(text == f"step {each.number}" and change.what == each.title for each in steps)
            if change.kind == "reworded":
                number = int(text.split(":")[0].split(",")[0].removeprefix("step "))
                step = steps[number - 1]
                told = text.partition(": ")[2].removeprefix(f"{step.title}. ").removeprefix(step.title)
                for sentence in re.split(r"(?<=[.!?…])\s+", told.removeprefix(": ")):
                    whole = " ".join((step.text, f"Check: {step.check}", *step.tips, *step.picks_up))
                    plain = sentence.removeprefix("Check: ").removeprefix("Tip: ")
                    assert plain in whole or sentence.startswith(("Pick up", "no word")), (sentence, whole)


@pytest.mark.parametrize("name", ["night-market.recipe"])
def test_kits_tell_what_becomes_of_every_piece(name: str) -> None:
    """What no line of the kits speaks of is cut the same on both sides."""
    versions = [good(SHELF[name], title, name=name) for title in (None, *shipped()[name].variants)]
    for old, new in combinations(versions, 2):
        told = {each.old_piece for each in compare(old, new).in_group("kits")}
        after = {line.piece: line for line in new.sheet.cuts}
        for line in old.sheet.cuts:
            if line.piece not in told:
                assert after[line.piece][2:] == line[2:]
