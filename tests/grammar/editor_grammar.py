"""`python -m tests.grammar.editor_grammar`: the word lists of the language to what colours it in an editor.

An editor reads a TextMate grammar: regular expressions with the names ("scopes") that its colours go by. The
one here has a rule for each first word, with the further words of those lines: so a name is not coloured as a
word that plays its part in other lines alone. All of it comes from `grammar/recipe.lark` and the tables in
`cardrecipe/syntax/words.py`; edit those and run this again.
"""

import json
import re
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import Any

from cardrecipe.syntax.grammar import tables
from cardrecipe.syntax.make_tables import lark_parser
from cardrecipe.syntax.words import BLOCK_OF, SHAPES, WORDS
from tests.recipes import ROOT

FOLDER = ROOT / "grammar" / "editor"
GRAMMAR, CONFIGURATION = "recipe.tmLanguage.json", "language-configuration.json"

COMMENT, TEXT, BLOCK = "comment.line.number-sign", "string.quoted.double", "string.quoted.triple"
FIRST, FURTHER, UNIT = "keyword.control", "keyword.other", "keyword.other.unit"
NUMBER, UNKNOWN, OPERATOR, FUNCTION = (
    "constant.numeric",
    "constant.language",
    "keyword.operator",
    "support.function",
)
DECLARED, NAME, PUNCTUATION = "entity.name", "variable.other", "punctuation"

DECLARING = ("paper", "supply", "base", "panel", "band", "let", "structure", "pose", *SHAPES)
_OF_VALUES = {"LENGTH_UNIT", "MIN", "MAX", "TIMES"}  # these play their part wherever a size stands
_AFTER = "(?![a-z0-9]|-[a-z0-9])"  # the end of a word: what follows belongs to no name


def grammar() -> dict[str, Any]:
    """The TextMate grammar."""
    return {
        "name": "Card recipe",
        "scopeName": "source.recipe",
        "fileTypes": ["recipe"],
        "patterns": [*({"include": f"#{word}-line"} for word in WORDS), {"include": "#between"}],
        "repository": {**{f"{word}-line": _statement(word) for word in WORDS}, **_shared()},
    }


def configuration() -> dict[str, Any]:
    """What an editor may know beside colours: comments, pairs, what a word is, where a block begins."""
    blocks = f"^\\s*(?:{_either(BLOCK_OF)}){_AFTER}.*$"
    return {
        "comments": {"lineComment": "#"},
        "brackets": [["(", ")"]],
        "autoClosingPairs": [["(", ")"], ['"', '"']],
        "surroundingPairs": [["(", ")"], ['"', '"']],
        "wordPattern": tables().patterns["NAME"],
        "indentationRules": {"increaseIndentPattern": blocks, "decreaseIndentPattern": "^(?!)"},
        "folding": {"offSide": True},
    }


def files() -> dict[Path, str]:
    """Each file with the text that it should have."""
    made = {GRAMMAR: grammar(), CONFIGURATION: configuration()}
    return {
        FOLDER / name: json.dumps(content, indent=2, ensure_ascii=False) + "\n"
        for name, content in made.items()
    }


# ---- statements ----------------------------------------------------------------------------------


def _statement(word: str) -> dict[str, Any]:
    """A line that begins with `word`; a text block in it may end some lines further down."""
    terminals = terminals_after(word)
    units = _written({"WEIGHT_UNIT"} & terminals)
    further = [each for each in _written(terminals - _OF_VALUES - {"WEIGHT_UNIT"}) if each[0].isalpha()]
    declares = f"(?:[ \\t]+({_NAME}))?" if word in DECLARING else ""
    return {
        "begin": f"^[ \\t]*({word}){_AFTER}{declares}",
        "beginCaptures": {"1": _scope(FIRST), **({"2": _scope(DECLARED)} if declares else {})},
        "end": "$",
        "patterns": [
            {"include": "#between"},
            *([_width_and_height(further)] if "TIMES" in terminals else []),
            *([_named(f"(?:{_either(further)}){_AFTER}", FURTHER)] if further else []),
            *([_named(f"(?:{_either(units)}){_AFTER}", UNIT)] if units else []),
            {"include": "#value"},
        ],
    }  # fmt: skip


def _width_and_height(further: list[str]) -> dict[str, Any]:
    """An `x` after a value stands between width and height; anywhere else it is a name."""
    no_word = f"(?!(?:{_either(further)}){_AFTER})" if further else ""
    return {
        "match": f"(?:{_MEASURED}|{no_word}((?>{_NAME}))|(\\))|(\\?))[ \\t]*({_either(_written({'TIMES'}))})",
        "captures": {"1": _scope(NUMBER), "2": _scope(UNIT), "3": _scope(NAME), "4": _scope(PUNCTUATION),
                     "5": _scope(UNKNOWN), "6": _scope(OPERATOR)},
    }  # fmt: skip


def terminals_after(word: str) -> set[str]:
    """The terminals that may follow `word` in the lines that begin with it."""
    first = {(name, True) for name in tables().words[word]}
    waiting = [symbol for forms in _expansions().values() for form in forms if form and form[0] in first
               for symbol in form[1:]]  # fmt: skip
    known: set[tuple[str, bool]] = set()
    while waiting:
        symbol = waiting.pop()
        if symbol not in known:
            known.add(symbol)
            waiting += [each for form in _expansions().get(symbol[0], ()) for each in form]
    return {name for name, is_terminal in known if is_terminal}


@cache
def _expansions() -> dict[str, list[list[tuple[str, bool]]]]:
    """For each rule of the grammar the symbols of its forms; True marks a terminal."""
    found: dict[str, list[list[tuple[str, bool]]]] = {}
    for rule in lark_parser().rules:
        symbols = [(str(symbol.name), bool(symbol.is_term)) for symbol in rule.expansion]
        found.setdefault(str(rule.origin.name), []).append(symbols)
    return found


def _written(terminals: set[str]) -> list[str]:
    """The words and signs that are written for one of these terminals."""
    return [written for written, names in tables().words.items() if terminals & set(names)]


# ---- what all lines share ------------------------------------------------------------------------


def _shared() -> dict[str, Any]:
    return {
        "between": {"patterns": [
            _named("#.*$", COMMENT),
            {"begin": '"""', "end": '"""', **_scope(BLOCK)},
            _named('"[^"\\n]*"', TEXT),
        ]},
        "value": {"patterns": [
            {"match": _MEASURED, "captures": {"1": _scope(NUMBER), "2": _scope(UNIT)}},
            _named(f"(?:{_either(_written({'MIN', 'MAX'}))})(?=[ \\t]*\\()", FUNCTION),
            _named(_NAME, NAME),
            _named("\\?", UNKNOWN),
            _named("[-+*/=]", OPERATOR),
            _named("[,.()]", PUNCTUATION),
        ]},
    }  # fmt: skip


def _named(pattern: str, scope: str) -> dict[str, Any]:
    return {"match": pattern, **_scope(scope)}


def _scope(scope: str) -> dict[str, str]:
    return {"name": f"{scope}.recipe"}


def _either(words: Iterable[str]) -> str:
    """The words with bars between them, longer ones first."""
    return "|".join(sorted(map(re.escape, words), key=lambda word: (-len(word), word))).replace("\\-", "-")


_NAME = tables().patterns["NAME"]
_UNITS = f"(?:[ \\t]*({_either(_written({'LENGTH_UNIT'}))}){_AFTER})?"
_MEASURED = f"(?>({tables().patterns['NUMBER']}){_UNITS})"


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for path, text in files().items():
        path.write_text(text, encoding="utf-8")
