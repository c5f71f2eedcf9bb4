"""What no recipe may hold, and how it is written where a file's name has it: one rule for all outputs.

It cannot be seen, and it makes a text read otherwise than it stands, rewrites a terminal, ends a line where
none ends, or cannot be written to a page at all. Marks that writing needs (joiners, the marks of left and
right, soft hyphens, variation selectors) are no such signs.
"""

import re
from functools import cache

from cardrecipe.syntax.diagnostics import Diagnostic, error
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span

_UNSEEN = (
    "\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f"  # control characters but for tabs and line ends
    "\u2028\u2029"  # line ends of some programs and not of others
    "\u202a-\u202e\u2066-\u206f"  # embeddings, overrides and isolates of direction; obsolete marks
    "\ufff9-\ufffb\U000e0000-\U000e007f"  # annotations, tags
    "\ud800-\udfff\ufdd0-\ufdef"  # halves of characters, and codes that are none
    + "".join(f"{chr(plane + 0xFFFE)}{chr(plane + 0xFFFF)}" for plane in range(0, 0x110000, 0x10000))
)
# The flags of three countries are written with tags.
_FLAG = "\U0001f3f4[\U000e0030-\U000e0039\U000e0061-\U000e007a]{1,6}\U000e007f"


def unseen_signs(text: str, start: int, end: int) -> list[int]:
    """Where between `start` and `end` something stands that no recipe may hold."""
    return [found.start() for found in _signs().finditer(text, start, end) if found[1]]


def unseen_sign(source: Source, at: int) -> Diagnostic:
    """Something stands at `at` that cannot be seen and that no recipe may hold."""
    said = f"{called(source.text[at])} stands in this line"
    return error("unseen-sign", Span(source.name, at, at + 1), said,
                 "take it out: it cannot be seen, and came in with a copied text")  # fmt: skip


def called(sign: str) -> str:
    """`a right-to-left override (U+202E)`."""
    from unicodedata import category, name  # most mistakes can be seen

    unnamed = "control character" if category(sign) == "Cc" else "code that is no character"
    title = name(sign, unnamed).lower()
    return f"{'an' if title[0] in 'aeio' else 'a'} {title} (U+{ord(sign):04X})"


def marked(text: str) -> str:
    """`text` with a mark for each unseen sign, for pages."""
    if text.isprintable():
        return text
    return _signs().sub(lambda found: "\ufffd" if found[1] else found[0], text)


def json_text(value: object, indent: int = 2) -> str:
    """Give JSON with each unseen sign as `\\u202e`: read back it is the same, shown it does nothing."""
    import json  # most that is said is no JSON

    text = json.dumps(value, ensure_ascii=False, indent=indent)
    return _signs().sub(lambda found: json.dumps(found[0])[1:-1] if found[1] else found[0], text) + "\n"


@cache
def _signs() -> re.Pattern[str]:
    """The signs as the first group; a line end may begin with a carriage return."""
    return re.compile(rf"{_FLAG}|([{_UNSEEN}]|\r(?!\n))")
