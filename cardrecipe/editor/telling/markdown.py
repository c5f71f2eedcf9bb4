"""Words for a hover as Markdown; what a maker wrote is shown as written, whatever signs are in it."""

import re
from collections.abc import Iterable

from cardrecipe.solve.explain import Reason

# The signs that begin something inside a line, those that do so at its beginning, and what becomes a link.
_SIGNS = re.compile(r"([\\`*_\[\]#!|<>~&:@]|^[-+=]|(?<=www)\.)")
_NUMBER_FIRST = re.compile(r"^(\d+)([.)])")


def plain(text: str) -> str:
    """A maker's own words: every sign that Markdown, or HTML in it, could take for its own is escaped."""
    return _NUMBER_FIRST.sub(r"\1\\\2", _SIGNS.sub(r"\\\1", " ".join(text.split())))


def code(text: str) -> str:
    """A few words of the recipe: names and lines hold no back quotes but in texts.

    The fence is longer than any row of them in the words, so that none ends it.
    """
    rows = [len(row) for row in re.findall("`+", text)]
    fence, pad = "`" * (max(rows, default=0) + 1), " " if rows else ""
    return f"{fence}{pad}{' '.join(text.split())}{pad}{fence}"


def paragraphs(parts: Iterable[str]) -> str:
    return "\n\n".join(part for part in parts if part)


def listed(lines: Iterable[str]) -> str:
    return "\n".join(f"- {line}" for line in lines)


def sums(reasons: list[Reason], most: int = 6) -> str:
    """The sum behind a size and the sums behind its terms, indented; `explain` prints what is left out."""
    near = [each for each in reasons if each.depth <= 2][:most]
    lines = [f"{'  ' * each.depth}- {plain(each.text)} — *{plain(each.because)}*" for each in near]
    more = len(reasons) - len(near)
    return "\n".join([*lines, f"- … and {more} more behind these" if more > 0 else ""]).rstrip()
