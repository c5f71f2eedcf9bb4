"""The grammar's tables, as saved or, where the grammar has changed since, made anew in memory.

`grammar/recipe.lark` is the one grammar; in an installed package it lies beside this file.
"""

import os
from functools import cache
from typing import NamedTuple
from zlib import crc32

HERE = os.path.dirname(os.path.abspath(__file__))
_PLACES = (
    os.path.join(HERE, "recipe.lark"),
    os.path.join(HERE, os.pardir, os.pardir, "grammar", "recipe.lark"),
)


class Tables(NamedTuple):
    """An LALR(1) automaton and what its terminals look like; see `make_tables` for the numbers.

    `states` give for each terminal or rule the next state, or −1 − the rule to reduce by. `words`
    give the terminals that a written word or sign may be, `patterns` the other terminals' regular
    expressions.
    """

    checksum: int
    start: int
    end: int
    states: tuple[dict[str, int], ...]
    rules: tuple[tuple[str, str, bool, tuple[tuple[int, int], ...], int], ...]
    words: dict[str, tuple[str, ...]]
    patterns: dict[str, str]


@cache
def tables() -> Tables:
    """The tables of the grammar as it stands."""
    from cardrecipe.syntax.tables import TABLES

    if checksum(grammar_text()) == TABLES.checksum:
        return TABLES
    from cardrecipe.syntax.make_tables import made_tables  # loads lark; only after an edit of the grammar

    return made_tables()


def grammar_text() -> str:
    for place in _PLACES:
        if os.path.exists(place):
            with open(place, encoding="utf-8") as file:
                return file.read()
    raise FileNotFoundError("recipe.lark is missing from this installation")


def checksum(text: str) -> int:
    """Tells an edited grammar from the saved one; it guards against forgetting, not against anybody."""
    return crc32(text.encode())
