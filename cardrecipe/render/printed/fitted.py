"""Texts that have to fit a small place: broken into lines, and cut where there are too many, from the shipped
font's advance widths."""

from collections.abc import Iterator, Sequence

from cardrecipe.render.drawings.lettering import text_width
from cardrecipe.render.printed.look import POINT
from cardrecipe.render.words import unbroken

MORE = "…"


def fitted(text: str, points: float, width: float, most: int, bold: bool = False) -> list[str]:
    """The lines of `text` in `width` mm, at most `most` of them; what is cut off leaves a sign."""
    lines = list(_lines(unbroken(text), points * POINT, width, bold))
    if len(lines) <= most:
        return lines
    return [*lines[: most - 1], _cut(" ".join(lines[most - 1 :]), points * POINT, width, bold)]


def fitted_list(items: Sequence[str], points: float, width: float, most: int) -> list[str]:
    """The lines of as many `items` as have room, parted by commas; those left out are counted at the end."""
    for kept in range(len(items), 0, -1):
        left = len(items) - kept
        text = ", ".join(items[:kept]) + (f" and {left} more" if left else "")
        lines = list(_lines(unbroken(text), points * POINT, width, bold=False))
        if len(lines) <= most:
            return lines
    return fitted(", ".join(items), points, width, most)


def _lines(text: str, size: float, width: float, bold: bool) -> Iterator[str]:
    """Lines broken between words; a word that is wider than a line is broken where that one ends."""
    line = ""
    for word in text.split(" "):
        longer = f"{line} {word}" if line else word
        if text_width(longer, size, bold) <= width:
            line = longer
            continue
        if line:
            yield line
        *whole, line = _broken(word, size, width, bold)
        yield from whole
    if line:
        yield line


def _broken(word: str, size: float, width: float, bold: bool) -> list[str]:
    parts = [""]
    for sign in word:
        if parts[-1] and text_width(parts[-1] + sign, size, bold) > width:
            parts.append("")
        parts[-1] += sign
    return parts


def _cut(text: str, size: float, width: float, bold: bool) -> str:
    while text and text_width(text + MORE, size, bold) > width:
        text = text[:-1]
    return text.rstrip() + MORE
