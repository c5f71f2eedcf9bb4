"""How many lines a text takes in a column, and how high they are, from the shipped font's advance widths."""

from collections.abc import Iterable, Sequence

from cardrecipe.render.drawings.lettering import text_width
from cardrecipe.render.printed.look import POINT, line_height
from cardrecipe.render.prose import Block, plain_text
from cardrecipe.render.words import unbroken


def lines_taken(text: str, points: float, width: float, bold: bool = False) -> int:
    """Lines of `text` set at `points` in `width` mm, broken between words as typst breaks them."""
    if not text:
        return 0
    size = points * POINT
    space = text_width(" ", size, bold)
    lines, used = 1, 0.0
    for word in unbroken(text).split(" "):
        wide = text_width(word, size, bold)
        if used and used + space + wide > width:
            lines, used = lines + 1, wide
        else:
            used += wide + (space if used else 0.0)
    return lines


def text_height(text: str, points: float, width: float, bold: bool = False) -> float:
    return lines_height(lines_taken(text, points, width, bold), points)


def lines_height(lines: int, points: float) -> float:
    """From the top of the capitals of the first line to the foot of the last."""
    return max(0.0, lines * line_height(points) - 0.55 * points * POINT)


def list_height(texts: Sequence[str], points: float, width: float, gap: float) -> float:
    """Texts one beneath the other, `gap` times the size of the type apart."""
    apart = gap * points * POINT * max(0, len(texts) - 1)
    return sum(text_height(text, points, width) for text in texts) + apart


def prose_height(blocks: Iterable[Block], points: float, width: float) -> float:
    """The maker's own text, roughly: each block that holds words is a paragraph."""
    total = 0.0
    for block in blocks:
        words = plain_text(block.runs) or block.text
        total += text_height(words, points, width) + 0.75 * points * POINT if words else 0.0
        total += prose_height(block.blocks, points, width - 5.0)
    return total
