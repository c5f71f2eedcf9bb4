"""Text in drawings: where it stands and how wide it runs.

A fraction is plain text, digits round U+2044: browsers and typst both shape it with the font's own
small digits (OpenType `numr` and `dnom`), and it is copied and read aloud as it was written.

Widths come from `cardrecipe/render/fonts/advances.json`, thousandths of the text size by character,
made from the shipped fonts with (fontTools is needed for this alone):

    import json
    from fontTools.ttLib import TTFont
    table = {}
    for style in ("Regular", "Bold"):
        font = TTFont(f"cardrecipe/render/fonts/Nunito-{style}.ttf")
        glyphs, widths = font.getBestCmap(), font["hmtx"]
        table[style] = {chr(code): widths[glyph][0] for code, glyph in sorted(glyphs.items())}
    with open("cardrecipe/render/fonts/advances.json", "w", encoding="utf-8") as file:
        json.dump(table, file, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
"""

import json
import re
from functools import cache, lru_cache
from importlib.resources import files
from itertools import accumulate
from typing import NamedTuple

from cardrecipe.render.drawings.colors import INK
from cardrecipe.render.drawings.marks import Box, Mark
from cardrecipe.render.drawings.svg import element, escaped, number

FAMILY = "Nunito, sans-serif"
POINT_MM = 25.4 / 72
NORMAL = 9.5 * POINT_MM  # text size in mm
SMALL = 8.0 * POINT_MM  # nothing is set smaller than 7.8 pt, the floor for a sheet on a desk
CAPITAL = 0.705  # height of capitals and digits over the text size, from the font
DESCENT = 0.22  # depth of g, p and commas below the line, from the font
FRACTION_DIGIT = 380  # advance of the font's own small digits, which U+2044 brings out by itself
DIGITS = "0123456789"
UNKNOWN_ADVANCE = 700  # for a character outside the table: a wide one, so that room is left

_FRACTION = re.compile("([0-9]+)\u2044([0-9]+)")


class Lettering(NamedTuple):
    """How a text looks: `size` in mm, `anchor` start, middle or end, `turned` degrees clockwise."""

    size: float = NORMAL
    bold: bool = False
    anchor: str = "middle"
    color: str = INK
    turned: int = 0  # 0 or -90


PLAIN = Lettering()
BOLD = Lettering(bold=True)
QUIET = Lettering(size=SMALL)


def label(x: float, y: float, text: str, look: Lettering = PLAIN) -> Mark:
    """`text` with its middle height at `y` (for text turned by -90, its middle height at `x`)."""
    drop = CAPITAL * look.size / 2
    base_x, base_y = (x, y + drop) if look.turned == 0 else (x + drop, y)
    turn = f"rotate({look.turned} {number(base_x)} {number(base_y)})" if look.turned else None
    markup = element(
        "text",
        escaped(text),
        x=base_x,
        y=base_y,
        transform=turn,
        font_family=FAMILY,
        font_size=look.size,
        font_weight=700 if look.bold else 400,
        text_anchor=look.anchor,
        fill=look.color,
    )
    return Mark(markup, label_box(x, y, text, look), True)


def label_box(x: float, y: float, text: str, look: Lettering = PLAIN) -> Box:
    """The room that `label` takes, from the line of capitals to below the descenders."""
    width = text_width(text, look.size, look.bold)
    before = {"start": 0.0, "middle": width / 2, "end": width}[look.anchor]
    up, down = CAPITAL * look.size / 2, (CAPITAL / 2 + DESCENT) * look.size
    if look.turned == 0:
        return Box(x - before, y - up, x - before + width, y + down)
    return Box(x - up, y + before - width, x + down, y + before)


def text_width(text: str, size: float, bold: bool = False) -> float:
    """How far `text` runs at `size`, in the unit of `size`; kerning is left out (it only tightens)."""
    return size * _thousandths(text, bold) / 1000


@lru_cache(maxsize=1024)  # a picture is drawn again until it fits: the words stay the same
def _thousandths(text: str, bold: bool) -> int:
    table = _advances()["Bold" if bold else "Regular"]
    total, end = 0, 0
    for found in _FRACTION.finditer(text):
        total += _plain_width(text[end : found.start()], table)
        total += FRACTION_DIGIT * len(found[1] + found[2]) + table["\u2044"]
        end = found.end()
    return total + _plain_width(text[end:], table)


def fitted(text: str, width: float, size: float, bold: bool = False) -> str:
    """`text`, cut short with an ellipsis where it would run wider than `width`."""
    if text_width(text, size, bold) <= width:
        return text
    for end in range(_most_kept(text, width, size, bold), 0, -1):
        shorter = text[:end].rstrip(" -") + "\u2026"
        if text_width(shorter, size, bold) <= width:
            return shorter
    return "\u2026"


def _most_kept(text: str, width: float, size: float, bold: bool) -> int:
    """How many characters a cut text may keep: with more it is too wide even if all its digits are those of
    fractions. So the widths of long texts are not asked for, one letter less at a time."""
    table = _advances()["Bold" if bold else "Regular"]
    least = accumulate(
        FRACTION_DIGIT if character in DIGITS else table.get(character, UNKNOWN_ADVANCE) for character in text
    )
    over = (end for end, far in enumerate(least) if size * far / 1000 > width and text[end] not in " -")
    return next(over, len(text) - 1)


def _plain_width(text: str, table: dict[str, int]) -> int:
    return sum(table.get(character, UNKNOWN_ADVANCE) for character in text)


@cache
def _advances() -> dict[str, dict[str, int]]:
    path = files("cardrecipe.render") / "fonts" / "advances.json"
    table: dict[str, dict[str, int]] = json.loads(path.read_text(encoding="utf-8"))
    return table
