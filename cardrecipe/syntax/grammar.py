"""The parser for one line, from the grammar's saved tables or, where they are stale, from its text.

`grammar/recipe.lark` is the one grammar; in an installed package it lies beside this file. The saved
tables carry a hash of the grammar, of lark's version and of Python's, since they are its own objects.
"""

import hashlib
import io
import os
import sys
from typing import Any

import lark

_HERE = os.path.dirname(os.path.abspath(__file__))
GRAMMAR_PLACES = (
    os.path.join(_HERE, "recipe.lark"),
    os.path.join(_HERE, os.pardir, os.pardir, "grammar", "recipe.lark"),
)
TABLES = os.path.join(_HERE, "recipe.tables")


def line_parser(transformer: Any) -> lark.Lark:
    """A parser of one logical line that builds its result with `transformer`."""
    text = grammar_text()
    saved = _saved_tables(fingerprint(text))
    if saved is None:
        return lark.Lark(text, transformer=transformer, **_OPTIONS)
    parser: lark.Lark = lark.Lark.__new__(lark.Lark)
    parser._load(io.BytesIO(saved), transformer=transformer)  # what `Lark.load` does, with a transformer
    return parser


def grammar_text() -> str:
    for place in GRAMMAR_PLACES:
        if os.path.exists(place):
            with open(place, encoding="utf-8") as file:
                return file.read()
    raise FileNotFoundError("recipe.lark is missing from this installation")


def fingerprint(text: str) -> bytes:
    """What the saved tables depend on."""
    versions = f"{lark.__version__} {sys.version_info[0]}"
    return hashlib.sha256(f"{versions}\n{text}".encode()).digest()


def tables() -> bytes:
    """The content of the tables file for the grammar as it stands."""
    text = grammar_text()
    content = io.BytesIO()
    lark.Lark(text, **_OPTIONS).save(content)
    return fingerprint(text) + content.getvalue()


_OPTIONS: dict[str, Any] = {"parser": "lalr", "lexer": "contextual", "maybe_placeholders": True}


def _saved_tables(wanted: bytes) -> bytes | None:
    try:
        with open(TABLES, "rb") as file:
            content = file.read()
    except FileNotFoundError:
        return None
    return content[len(wanted) :] if content.startswith(wanted) else None


def _save() -> None:
    """`python -m cardrecipe.syntax.grammar` writes the tables after a change to the grammar."""
    with open(TABLES, "wb") as file:
        file.write(tables())


if __name__ == "__main__":
    _save()
