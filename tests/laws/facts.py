"""What came of a recipe as plain data, without the places of its words, so that like cards are equal."""

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.compile import Compiled
from cardrecipe.syntax.record import Record
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from tests.recipes import compile_text

_VULGAR = {"½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅛": "1/8", "⅜": "3/8",
           "⅝": "5/8", "⅞": "7/8"}  # fmt: skip
Told = tuple[str, str, str]  # the words of the line, the code, the message


class Facts(NamedTuple):
    """The folded card, or None; and what is wrong with it, in no order."""

    card: object
    told: tuple[Told, ...]

    @property
    def codes(self) -> list[tuple[str, str]]:
        """Each mistake with its words in one form, however they are spaced and whichever signs they have."""
        return sorted((_in_one_form(words), code) for words, code, _ in self.told)


def facts(text: str, files: Mapping[str, str] | None = None, variant: str | None = None) -> Facts:
    made = compile_text(text, files, variant)
    return Facts(plain(made.folded), told(made))


def told(made: Compiled) -> tuple[Told, ...]:
    """Each mistake with the words that it is about."""
    return tuple(sorted((_words(made.sources[each.span.file], each.span), each.code, each.message)
                        for each in made.diagnostics))  # fmt: skip


def _words(source: Source, span: Span) -> str:
    return source.words_at(span)


def _in_one_form(words: str) -> str:
    for sign, fraction in _VULGAR.items():
        words = words.replace(sign, fraction)
    return "".join(words.replace("×", "x").split())


def plain(value: object, length: Callable[[Fraction], object] = lambda each: each) -> object:
    """Named tuples and records as dictionaries without spans, sets and maps in order, lengths by `length`."""
    if isinstance(value, Span):
        return None
    if isinstance(value, Fraction):
        return length(value)
    if isinstance(value, Record):
        return {name: plain(getattr(value, name), length) for name in value._fields}
    if isinstance(value, Mapping):
        return {str(key): plain(each, length) for key, each in sorted(value.items(), key=str)}
    if isinstance(value, tuple) and hasattr(value, "_fields"):
        return {name: plain(getattr(value, name), length) for name in value._fields}
    if isinstance(value, frozenset | set):
        return sorted((plain(each, length) for each in value), key=repr)
    if isinstance(value, tuple | list):
        return [plain(each, length) for each in value]
    return value
