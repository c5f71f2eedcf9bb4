"""Laws for any two cards: nothing changes between a card and itself, and there and back is a mirror."""

import random
import re
from itertools import combinations

import pytest

from cardrecipe.compare.compare import compare
from cardrecipe.compare.version import Version
from tests.compare.versions import (
    SAMPLE_NAMES,
    SHELF,
    edited,
    generated,
    good,
    in_no_order,
    mirrored,
    shipped,
    version,
)
from tests.generated.spacing import respaced

CHUNKS = [range(at, at + 200) for at in range(0, 800, 200)]  # some 320 of these cards have no errors


@pytest.mark.parametrize("name", shipped())
def test_nothing_changes_between_a_card_and_itself(name: str) -> None:
    card = shipped()[name]
    assert compare(card, card).changes == ()


@pytest.mark.parametrize("seeds", CHUNKS, ids=str)
def test_cards_by_chance_keep_the_laws(seeds: range) -> None:
    """A card and itself; the same spaced and commented otherwise; an edit there and back; another name."""
    chance, cards, pairs = random.Random(seeds.start), 0, 0
    for text, card in generated(seeds):
        cards += 1
        assert compare(card, card).changes == (), text
        assert compare(card, good(respaced(text, chance))).changes == (), text
        other = version(edited(text, chance))
        if other is not None:
            pairs += 1
            assert mirrored(compare(card, other)) == in_no_order(compare(other, card)), text
        if cards % 3 == 0:
            _keeps_names(text, card, chance)
    assert cards > len(seeds) / 4 and pairs > cards / 2


def _keeps_names(text: str, card: Version, chance: random.Random) -> None:
    """A piece with another name is told as that, and nothing else is."""
    name = chance.choice([piece.name for piece in card.sheet.folded.card.pieces] or [""])
    other = (
        version(re.sub(rf'(?<![\w"-]){name}(?![\w"-])', "another-name", text))
        if name.isalpha() and len(name) > 1
        else None
    )
    if other is not None:
        found = compare(card, other)
        told = {(each.group, each.kind) for each in found.changes if each.group != "variants"}
        assert told <= {("pieces", "renamed")}, text
        assert mirrored(found) == in_no_order(compare(other, card))


@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_spaces_and_comments_of_a_sample_change_nothing(name: str) -> None:
    chance = random.Random(name)
    for title in (None, *shipped()[name].variants):
        again = good(respaced(SHELF[name], chance), title, name=name)
        assert compare(good(SHELF[name], title, name=name), again).changes == ()


@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_a_sample_and_its_variants_mirror_each_other(name: str) -> None:
    versions = [good(SHELF[name], title, name=name) for title in (None, *shipped()[name].variants)]
    for one, other in combinations(versions, 2):
        assert mirrored(compare(one, other)) == in_no_order(compare(other, one))
        assert compare(one, other).changes


def test_unlike_cards_mirror_each_other() -> None:
    cards = list(shipped().values())
    chance = random.Random(6)
    for _ in range(60):
        one, other = chance.sample(cards, 2)
        assert mirrored(compare(one, other)) == in_no_order(compare(other, one))
