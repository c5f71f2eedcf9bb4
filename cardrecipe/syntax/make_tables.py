"""`python -m cardrecipe.syntax.make_tables`: grammar/recipe.lark to the tables in `tables.py`.

lark reads the grammar and works out its LALR(1) automaton; what is saved are plain numbers and words,
so that reading a recipe neither builds them again nor loads lark.
"""

import os
import re
from typing import Any

import lark
from lark.parsers.lalr_analysis import Shift

from cardrecipe.syntax.grammar import HERE, Tables, checksum, grammar_text

TABLES = os.path.join(HERE, "tables.py")


def lark_parser() -> lark.Lark:
    """lark's own parser of the grammar: the oracle that ours is tested against."""
    return lark.Lark(grammar_text(), parser="lalr", lexer="contextual", maybe_placeholders=True)


def made_tables() -> Tables:
    """The tables of the grammar as it stands."""
    parser = lark_parser()
    automaton = parser.parser.parser._parse_table
    rules = list(parser.rules)
    number = {rule: at for at, rule in enumerate(rules)}
    states: list[dict[str, int]] = [{} for _ in automaton.states]
    renumbered = _numbered(automaton)
    for state, actions in automaton.states.items():
        for name, (kind, target) in sorted(actions.items()):
            shift = kind is Shift
            # A shift or goto is the next state; a reduction is −1 − the rule.
            states[renumbered[state]][name] = renumbered[target] if shift else -1 - number[target]
    words, patterns = _terminals(parser)
    return Tables(
        checksum=checksum(grammar_text()),
        start=renumbered[automaton.start_states["start"]],
        end=renumbered[automaton.end_states["start"]],
        states=tuple(states),
        rules=tuple(_rule(rule) for rule in rules),
        words=words,
        patterns=patterns,
    )


def _numbered(automaton: Any) -> dict[Any, int]:
    """The states in the order in which they are met from the start: lark's own order changes by run."""
    found = [automaton.start_states["start"]]
    for state in found:
        steps = sorted(automaton.states[state].items(), key=lambda step: step[0])
        found += dict.fromkeys(target for _, (kind, target) in steps if kind is Shift and target not in found)
    return {state: at for at, state in enumerate(found)}


def source_of(tables: Tables) -> str:
    """The module that holds `tables`; equal states are written once."""
    unique = list(dict.fromkeys(repr(state) for state in tables.states))
    which = [unique.index(repr(state)) for state in tables.states]
    lines = [
        '"""Made by cardrecipe.syntax.make_tables from grammar/recipe.lark; do not edit."""\n',
        "from cardrecipe.syntax.grammar import Tables\n",
        "_STATES: tuple[dict[str, int], ...] = (",
        *(f"    {state}," for state in unique),
        ")",
        f"_WHICH = {which}",
        "TABLES = Tables(",
        f"    checksum={tables.checksum},",
        f"    start={tables.start},",
        f"    end={tables.end},",
        "    states=tuple(_STATES[at] for at in _WHICH),",
        "    rules=(",
        *(f"        {rule}," for rule in tables.rules),
        "    ),",
        f"    words={tables.words},",
        f"    patterns={tables.patterns},",
        ")",
    ]
    return "\n".join(lines) + "\n"


def _terminals(parser: lark.Lark) -> tuple[dict[str, tuple[str, ...]], dict[str, str]]:
    """Terminals that are words or signs, by what is written; the others by their regular expression."""
    words: dict[str, list[str]] = {}
    patterns: dict[str, str] = {}
    for terminal in parser.terminals:
        written = _literals(terminal)
        if terminal.name in parser.ignore_tokens:
            continue
        if written is None:
            patterns[terminal.name] = terminal.pattern.to_regexp()
        for word in written or ():
            words.setdefault(word, []).append(terminal.name)
    return {word: tuple(names) for word, names in sorted(words.items())}, patterns


def _literals(terminal: Any) -> tuple[str, ...] | None:
    if terminal.pattern.type == "str":
        return (terminal.pattern.value,)
    choice = re.fullmatch(r"\(\?:([^()\\\[\]+*?]+)\)", terminal.pattern.value)
    return tuple(choice.group(1).split("|")) if choice else None


def _rule(rule: Any) -> tuple[str, str, bool, tuple[tuple[int, int], ...], int]:
    """(origin, method, collapses, ((what to do with a child, Nones before it), …), Nones at the end).

    What to do: 0 drop it, 1 keep it, 2 it is a list of children. `method` is "" for lark's own helper
    rules, whose value is the list of their children; a rule that `collapses` gives way to a lone child.
    """
    gaps = "".join(str(int(empty)) for empty in rule.options.empty_indices or ())
    nones = [len(ones) for ones in gaps.split("0")] if gaps else [0] * (len(rule.expansion) + 1)
    steps = []
    for symbol, before in zip(rule.expansion, nones, strict=False):
        dropped = symbol.is_term and symbol.filter_out
        steps.append((0 if dropped else 2 if symbol.name.startswith("_") else 1, before))
    origin = str(rule.origin.name)
    method = "" if origin.startswith("_") else str(rule.alias or origin)
    collapses = bool(rule.options.expand1) and not rule.alias
    return origin, method, collapses, tuple(steps), nones[len(rule.expansion)]


def save() -> None:
    """Write the tables of the grammar as it stands into the package."""
    with open(TABLES, "w", encoding="utf-8") as file:
        file.write(source_of(made_tables()))


if __name__ == "__main__":
    save()
