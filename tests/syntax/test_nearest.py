"""Near names: a threshold that grows with the word, neighbours swapped count once, no far suggestion."""

import random

import pytest

from cardrecipe.syntax.nearest import nearest

KNOWN = ["back", "left-door", "right-door", "plate", "sash", "score", "a", "door-paper"]


@pytest.mark.parametrize(("word", "meant"), [
    ("bakc", "back"), ("bck", "back"), ("lefft-door", "left-door"), ("plaet", "plate"), ("socre", "score"),
    ("sahs", "sash"), ("rihgt-dor", "right-door"), ("door-papre", "door-paper"), ("plate", "plate"),
    ("b", None), ("ab", None), ("window", None), ("bxxk", None), ("", None), ("door", None),
])  # fmt: skip
def test_the_nearest_name(word: str, meant: str | None) -> None:
    assert nearest(word, KNOWN) == meant


def test_the_first_of_equals_wins() -> None:
    assert nearest("sand", ["hand", "band", "land"]) == "hand"


def test_nothing_is_near_where_nothing_is_known() -> None:
    assert nearest("back", []) is None


def test_one_edit_of_a_long_word_is_always_found() -> None:
    chance = random.Random(1)
    letters = "abcdefghijklmnopqrstuvwxyz"
    for _ in range(500):
        word = "".join(chance.choices(letters, k=chance.randint(4, 12)))
        at = chance.randrange(len(word) - 1)
        edits = [
            word[:at] + word[at + 1 :], word[:at] + chance.choice(letters) + word[at:],
            word[:at] + word[at + 1] + word[at] + word[at + 2 :], word[:at] + "-" + word[at + 1 :],
        ]  # fmt: skip
        assert all(nearest(each, ["zz", word]) == word for each in edits), (word, edits)
