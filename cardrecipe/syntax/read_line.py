"""One line's text to its node, along the grammar's tables.

A table-driven LALR(1) parser (Aho, Sethi and Ullman 1986, section 4.7) with a lexer that asks the
parser's state which words may come next: the same word is a keyword where one is expected and a name
elsewhere.
"""

import re
from collections.abc import Callable
from functools import cache
from typing import Any

from cardrecipe.syntax.grammar import Tables, tables

_END = "$END"
_SPACES = re.compile(r"[ \t]*")


class Token(str):
    """A word of the text; `start_pos` is its offset in the line."""

    __slots__ = ("start_pos",)
    start_pos: int


class Misread(Exception):
    """The line makes no sense from `offset` on; `expected` are the terminals that could stand there."""

    def __init__(self, offset: int, expected: frozenset[str], at_end: bool) -> None:
        self.offset = offset
        self.expected = expected
        self.at_end = at_end


def read_line(text: str, builder: Any, seen: list[tuple[str, Token, bool]] | None = None) -> Any:
    """The value that `builder`'s methods, named like the grammar's rules, make of `text`.

    Each word is added to `seen`, with its terminal and whether a value could begin there. Raises
    `Misread`, and whatever the methods raise.
    """
    grammar = tables()
    actions, rules, end = grammar.states, _rules(builder.__class__), grammar.end
    states, values = [grammar.start], list[Any]()
    offset = 0
    while True:
        name, token, offset = _next(text, offset, actions[states[-1]], grammar)
        if seen is not None and name != _END:
            seen.append((name, token, "NUMBER" in actions[states[-1]]))
        action = actions[states[-1]].get(name)
        while action is not None and action < 0:
            origin, make, collapses, steps, after = rules[-1 - action]
            size = len(steps)
            children = _children(values[len(values) - size :] if size else [], steps, after)
            if size:
                del values[-size:], states[-size:]
            if collapses and len(children) == 1:
                values.append(children[0])
            else:
                values.append(children if make is None else make(builder, children))
            states.append(actions[states[-1]][origin])
            if name == _END and states[-1] == end:
                return values[-1]
            action = actions[states[-1]].get(name)
        if action is None:
            expected = frozenset(each for each in actions[states[-1]] if each.isupper() or each == _END)
            raise Misread(offset - len(token), expected, name == _END)
        states.append(action)
        values.append(token)


_Make = Callable[[Any, list[Any]], Any] | None
_Rule = tuple[str, _Make, bool, tuple[tuple[int, int], ...], int]


@cache
def _rules(builder: type) -> tuple[_Rule, ...]:
    """The rules with the method that each calls; helpers and rules that always collapse call none."""
    return tuple(
        (origin, getattr(builder, method, None) if method else None, collapses, steps, after)
        for origin, method, collapses, steps, after in tables().rules
    )


def _children(values: list[Any], steps: tuple[tuple[int, int], ...], after: int) -> list[Any]:
    children: list[Any] = []
    for value, (what, nones) in zip(values, steps, strict=True):
        if nones:
            children += [None] * nones
        if what == 1:
            children.append(value)
        elif what == 2:
            children += value
    return children + [None] * after if after else children


# ---- words ---------------------------------------------------------------------------------------


@cache
def _pattern(source: str) -> re.Pattern[str]:
    return re.compile(source)


def _next(
    text: str, offset: int, accepted: dict[str, int], grammar: Tables
) -> tuple[str, Token, int]:
    """The next terminal, its text, and where it ends; "" as the terminal where nothing fits."""
    match = _SPACES.match(text, offset)
    start = match.end() if match else offset
    if start >= len(text):
        return _END, _token("", start), start
    found = _word(text, start, accepted, grammar) or _sign(text, start, accepted, grammar)
    for name, source in () if found else grammar.patterns.items():
        if name in accepted and name != "NAME":
            longer = _pattern(source).match(text, start)
            if longer:
                found = name, longer.group()
                break
    name, written = found or ("", text[start])
    return name, _token(written, start), start + len(written)


def _word(
    text: str, start: int, accepted: dict[str, int], grammar: Tables
) -> tuple[str, str] | None:
    """A keyword that is expected here, else a name; `x` may stand close to its number: `10x7`."""
    match = _pattern(grammar.patterns["NAME"]).match(text, start)
    if match is None:
        return None
    word = match.group()
    for name in grammar.words.get(word, ()):
        if name in accepted:
            return name, word
    if "NAME" in accepted:
        return "NAME", word
    if word[0] == "x" and "TIMES" in accepted:
        return "TIMES", "x"
    return "", word


def _sign(
    text: str, start: int, accepted: dict[str, int], grammar: Tables
) -> tuple[str, str] | None:
    for name in grammar.words.get(text[start], ()):
        if name in accepted:
            return name, text[start]
    return None


def _token(text: str, start: int) -> Token:
    token = Token(text)
    token.start_pos = start
    return token
