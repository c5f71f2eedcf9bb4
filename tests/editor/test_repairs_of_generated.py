"""Repairs on recipes that nobody wrote by hand: what is offered holds, and slips of the hand are undone."""

import re
from collections.abc import Iterator
from random import Random

import pytest

from cardrecipe.editor.mending.repairs import repairs
from tests.editor.test_repairs import mended, snapshot_of
from tests.generated.recipes import recipe
from tests.recipes import Files, Found, checked

CHUNKS = 6
FILES: Files = {"papers.recipe": 'paper shelf-white is cardstock "Shelf white" 12 x 12\n'}


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_what_is_offered_takes_its_diagnostic_away_and_makes_no_block_worse(chunk: int) -> None:
    met = 0
    for seed in range(chunk * 1000, chunk * 1000 + 15):
        text = recipe(seed, pieces=4)
        snapshot = snapshot_of(text, FILES)
        before = checked(text, FILES)
        for found in snapshot.diagnostics[:6]:
            for repair in repairs(snapshot, found):
                after = checked(*mended(text, repair, FILES))
                assert _count(after, found.code) < _count(before, found.code), (seed, found, repair)
                if found.severity == "warning":
                    assert _errors(after) <= _errors(before), (seed, found, repair)
                met += 1
    assert met > 10


def _count(found: list[Found], code: str) -> int:
    return sum(each.code == code for each in found)


def _errors(found: list[Found]) -> set[tuple[str, str]]:
    return {(each.code, each.message) for each in found if each.severity == "error"}


# ---- slips of the hand ----------------------------------------------------------------------------


def _slips(text: str, chance: Random) -> Iterator[tuple[str, str]]:
    """The recipe with one slip of each kind, in a line that the chance picks, and what to call it."""
    lines = text.split("\n")
    for name, pattern, slip in (
        ("tab", r"^  (?=\S)", "\t"),
        ("quote", r'(?<=[\w.!?])"$', ""),
        ("capital", r"^\s*[a-z]", lambda found: found[0].upper()),
        ("by", r"(?<=\d) x (?=[\d?])", " by "),
        ("curly", r'"([^"]+)"', r"“\1”"),
        ("inches", r"(?<=\d) x (?=[\d?])", " inches x "),
        ("swapped", r"^(\s*)([a-z])([a-z])(?=[a-z]{3})", r"\1\3\2"),
    ):
        places = [at for at, line in enumerate(lines) if re.search(pattern, line) and '"""' not in line]
        places = [at for at in places if text.count('"""') == 0 and "#" not in lines[at]]
        if places:
            at = chance.choice(places)
            new = re.sub(pattern, slip, lines[at], count=1)
            yield name, "\n".join([*lines[:at], new, *lines[at + 1 :]])


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_a_slip_of_the_hand_is_undone_by_one_of_the_repairs(chunk: int) -> None:
    missed, met = [], 0
    for seed in range(chunk * 500, chunk * 500 + 12):
        text = recipe(seed, pieces=3)
        before = sorted((each.code, each.message) for each in checked(text, FILES))
        for name, wrong in _slips(text, Random(seed)):
            if wrong == text or sorted((e.code, e.message) for e in checked(wrong, FILES)) == before:
                continue
            met += 1
            snapshot = snapshot_of(wrong, FILES)
            texts = [mended(wrong, each, FILES)[0] for found in snapshot.diagnostics[:4]
                     for each in repairs(snapshot, found)]  # fmt: skip
            if not any(sorted((e.code, e.message) for e in checked(each, FILES)) == before for each in texts):
                missed.append((seed, name))
    assert met > 10
    assert missed == []
