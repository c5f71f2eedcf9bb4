"""Edits by chance, as a maker makes them: letters, deletions, pasted lines, quotes, odd characters."""

from functools import cache
from random import Random
from typing import NamedTuple

from tests.generated.recipes import recipe
from tests.recipes import CASES, ROOT, SAMPLES, STRUCTURES, recipes_in

_LETTERS = (
    "x", "1", " ", "  ", "\t", "?", "-", "(", ")", ",", ".", '"', "#", "\n", "\n  ", "\n\n", "½", "é",
    "e\u0301", "ß", "😀", "🂡", "\u2028", "\f", "\x0b", "\r", "\r\n", "\0",
)  # fmt: skip
_PASTED = (
    '"""', '\n"""\n', '"""a\nb"""', "# 😀 ", "    ", "panel ", "base card from ink\n", '  tip "Press."\n',
    "\n\t", "1 1/2", "<<<<<<< ours\n", "||||||| before\n", "=======\n", ">>>>>>> theirs\n",
)  # fmt: skip


class RandomEdit(NamedTuple):
    """The characters `start` to `end` give way to `new`."""

    start: int
    end: int
    new: str


@cache
def texts() -> tuple[str, ...]:
    """What is edited: samples, structures, cases, and recipes by chance."""
    files = recipes_in(SAMPLES, STRUCTURES, CASES, ROOT / "tests" / "bench")
    return (*(path.read_text("utf-8") for path in files), *map(recipe, range(200)))


def text_by_chance(chance: Random) -> str:
    """One of them, sometimes with other line ends or without the last one, or hardly anything."""
    text = chance.choice(texts())
    kind = chance.random()
    if kind < 0.15:
        return text.replace("\n", "\r\n")
    if kind < 0.25:
        return text.rstrip("\n")
    if kind < 0.28:
        return text[: chance.randrange(4)]
    return text


def edit_by_chance(chance: Random, text: str) -> RandomEdit:
    """One edit of `text`: as often as not at the beginning of a line, where the most hangs on it."""
    at = chance.randint(0, len(text))
    if chance.random() < 0.4:
        at = text.rfind("\n", 0, at) + 1
    kind = chance.random()
    if kind < 0.3:
        return RandomEdit(at, at, chance.choice(_LETTERS))
    if kind < 0.55:
        return RandomEdit(at, min(len(text), at + chance.choice((1, 1, 1, 2, 5, 30, 300))), "")
    if kind < 0.65:
        return RandomEdit(at, at, chance.choice(_PASTED))
    if kind < 0.8:
        lines = chance.choice(texts()).splitlines(keepends=True)
        start = chance.randrange(max(1, len(lines)))
        return RandomEdit(at, at, "".join(lines[start : start + chance.randint(1, 6)]))
    new = chance.choice(_LETTERS) * chance.randrange(3) + chance.choice(_PASTED)[: chance.randrange(9)]
    return RandomEdit(at, min(len(text), at + chance.randint(0, 60)), new)
