"""A line's text to its words, each with the part it plays, for whoever rewrites or colours lines."""

from typing import NamedTuple

from cardrecipe.syntax.read_line import Token, read_line


class LineWord(NamedTuple):
    """A word as the parser sees it.

    `terminal` is its name in the grammar. `begins_value` tells whether a number could have stood
    there instead: of `-`, that it is a sign and not a subtraction.
    """

    terminal: str
    token: Token
    begins_value: bool


def words_of(text: str) -> list[LineWord]:
    """The words of a line that can be read, in order; `Misread` where it cannot."""
    seen: list[tuple[str, Token, bool]] = []
    read_line(text, _Nothing(), seen)
    return [LineWord(*each) for each in seen]


class _Nothing:
    """A builder that builds nothing."""
