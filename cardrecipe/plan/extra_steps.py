"""The maker's own steps: where they stand among the others, and how they read."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from cardrecipe.plan.sheet import Step
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import capital, sentence
from cardrecipe.solve.sized import ExtraStep

# A maker's own step of so few words is its own title.
TITLE_WORDS = 6
_SENTENCE_END = re.compile(r"\.(?=\s|$)")  # not the point of 2.5
_CLAUSE = re.compile(r"[,;:.!?](?=\s|$)|\s[–—]\s|\s\(")
# With these a clause begins that waits for another.
WHEN_OR_WHY = frozenset((
    "after", "although", "as", "because", "before", "by", "even", "for", "from", "if", "in", "now", "once",
    "since", "so", "then", "though", "to", "unless", "until", "when", "whenever", "where", "while",
    "with", "without",
))  # fmt: skip


class Told(NamedTuple):
    """What the place of a note is looked for by: what is done, and to which pieces."""

    what: str
    pieces: tuple[str, ...]


class Notes(NamedTuple):
    """The numbers of the maker's own steps (from 0) right before and right after what is told."""

    before: Mapping[int, Sequence[int]]
    after: Mapping[int, Sequence[int]]


def notes_among(told: Sequence[Told], extras: Sequence[ExtraStep]) -> Notes:
    """Each of the maker's own steps at the piece's main step."""
    before: dict[int, list[int]] = {}
    after: dict[int, list[int]] = {}
    for number, extra in enumerate(extras):
        index = main_step(told, extra.piece, extra.place)
        (before if extra.place == "before" else after).setdefault(index, []).append(number)
    return Notes(before, after)


def main_step(told: Sequence[Told], name: str, place: str) -> int:
    """The step that a note on this piece belongs to: where it is put on, else the base's own.

    Before a base means before it is scored, after it means after its last fold. A piece that is only
    cut has its cut step.
    """
    for kinds in (("place", "band"), ("score", "fold"), ("work",), ("cut",)):
        found = [
            index for index, each in enumerate(told) if each.what in kinds and name in each.pieces
        ]
        if found:
            return found[0] if place == "before" else found[-1]
    raise KeyError(name)


def extra_picture(number: int) -> str:
    """The name of the picture of a maker's own step, by its number from 0."""
    return f"extra-{number + 1}"


def extra_step(extra: ExtraStep, number: int) -> Step:
    """The step as it is written: a short one, or its short first sentence, is the title."""
    first, *more = _SENTENCE_END.split(extra.text.strip(), maxsplit=1)
    if more and len(first.split()) <= TITLE_WORDS and "\n" not in first:
        title, text = first, more[0].strip()
    elif len(extra.text.split()) <= TITLE_WORDS and "\n" not in extra.text:
        title, text = extra.text, ""
    else:
        title, text = _first_words(extra.text), sentence(extra.text)
    return Step(0, capital(title), text, (extra.piece,), (), extra_picture(number))


def _first_words(text: str) -> str:
    """The title of a long step: what it asks for first, up to a comma, else as many words as a title has.

    A clause that only says when or why is no title: more of its words are told, and that they go on.
    """
    line = text.strip().splitlines()[0]
    clause = _CLAUSE.split(line)[0].split()
    if 1 < len(clause) <= TITLE_WORDS and clause[0].lower() not in WHEN_OR_WHY:
        return " ".join(clause)
    return say("extra/title", words=" ".join(line.split()[:TITLE_WORDS]).rstrip(",;:."))
