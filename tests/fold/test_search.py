"""What the search for orders of layers gives: each question answered once, whatever was tried before."""

import random

import pytest

from cardrecipe.fold.rules import layer_rules
from cardrecipe.fold.search import Answers, search
from cardrecipe.fold.strips import fold_strip


@pytest.mark.parametrize("seed", range(12))
def test_every_pair_of_layers_is_answered_once(seed: int) -> None:
    """A literal is twice the number of its pair, and one more for the contrary."""
    chance = random.Random(seed)
    letters = "".join(chance.choice("VM") for _ in range(5))
    rules = layer_rules(*fold_strip([2] * 6, letters))
    found = [each for each in search(rules) if isinstance(each, Answers)]
    assert found
    for answers in found:
        assert sorted(literal >> 1 for literal in answers.literals) == list(range(len(rules.pairs)))
    assert len({frozenset(answers.literals) for answers in found}) == len(found)
