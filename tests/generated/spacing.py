"""A canonical recipe in, the same recipe as somebody in a hurry types it out: spaces, comments, line ends.

What is changed is form alone: spaces and tabs between words, `1/2` or `½`, `x` or `×`, the depth of blocks,
blank lines, comments, line ends, the last line's end, a mark of the encoding in front. The words are found
with patterns of this file's own, so that nothing that is tested with it tests itself.
"""

import re
from random import Random
from typing import NamedTuple

_VULGAR = {"1/2": "½", "1/3": "⅓", "2/3": "⅔", "1/4": "¼", "3/4": "¾", "1/5": "⅕", "1/8": "⅛", "3/8": "⅜",
           "5/8": "⅝", "7/8": "⅞"}  # fmt: skip
_TOKEN = re.compile(
    r'(?P<block>"""(?s:.*?)""")|(?P<text>"[^"\n]*")|(?P<comment>#.*)'
    r"|(?P<number>\d+ \d+/\d+|\d+/\d+|\d+\.\d+|\d+)|(?P<word>[a-z][a-z0-9]*(?:-[a-z0-9]+)*)|(?P<sign>\S)"
)
COMMENTS = (
    "# from the fold down", "#", "#no space", "# 5½ × 3 = \"so wide\"", "# \"open", '# """', "## two # three",
    "# base card", "#  kept  as  it  is", "# für später – ½", "#\tafter a tab", "# it's",
)  # fmt: skip


class Line(NamedTuple):
    """A logical line of canonical text: its depth, its statement, and its comment or ""."""

    depth: int
    text: str
    comment: str


def respaced(text: str, chance: Random, comments: float = 0.15) -> str:
    """`text` with its form changed by chance; line ends may be CRLF, a byte-order mark may stand in front."""
    return _with_line_ends("".join(_rewritten(canonical_lines(text), chance, comments)), chance)


def comments_of(text: str) -> list[str]:
    """The comments of a canonical text, in order."""
    return [line.comment for line in canonical_lines(text) if line.comment]


def canonical_lines(text: str) -> list[Line]:
    """The logical lines of a text with blocks two spaces deep; a blank line has no text and no comment."""
    lines = []
    at = 0
    while at < len(text):
        start = at + len(text[at:]) - len(text[at:].lstrip(" "))
        end = start
        while end < len(text) and text[end] not in "#\n":
            match = _TOKEN.match(text, end)
            end = match.end() if match else end + 1
        stop = (text.find("\n", end) + 1 or len(text) + 1) - 1
        lines.append(Line((start - at) // 2, text[start:end].rstrip(" "), text[end:stop].rstrip()))
        at = stop + 1
    return lines


# ---- lines ---------------------------------------------------------------------------------------


def _rewritten(lines: list[Line], chance: Random, comments: float) -> list[str]:
    """Physical lines; each block's indentation is chosen when its first line is met."""
    written: list[str] = []
    indents: list[int] = []
    for line in lines:
        if not line.text and not line.comment:
            written.append(chance.choice(("\n", "\n\n", "  \n", "\t\n \n")))
            continue
        written += _between(indents, chance, comments)
        if not line.text:
            indent = [*indents, indents[-1] + 1 if indents else 0][min(line.depth, len(indents))]
            written.append(f"{' ' * indent}{line.comment}\n")
            continue
        del indents[line.depth + 1 :]
        if len(indents) == line.depth:
            indents.append((indents[-1] + chance.choice((1, 2, 2, 2, 3, 4, 8))) if indents else 0)
        elif chance.random() < 0.02 and line.depth:
            indents[line.depth] = chance.randint(indents[line.depth - 1] + 1, indents[line.depth])
        written.append(_statement(line, indents[line.depth], chance, comments))
    return written + _between(indents, chance, comments)


def _between(indents: list[int], chance: Random, comments: float) -> list[str]:
    """Blank lines and lines with a comment alone, before a statement."""
    lines = (
        [chance.choice(("\n", "\n", "   \n", "\t\n")) for _ in range(chance.choice((1, 1, 2, 5)))]
        if chance.random() < 0.1
        else []
    )
    if chance.random() < comments:
        indent = chance.choice((0, *indents, *indents, 1, 3, 12))
        lines += [f"{' ' * indent}{_comment(chance)}\n" for _ in range(chance.choice((1, 1, 1, 2)))]
    chance.shuffle(lines)
    return lines


def _comment(chance: Random) -> str:
    return chance.choice(COMMENTS) + chance.choice(("", "", "  ", "\t"))


def _statement(line: Line, indent: int, chance: Random, comments: float) -> str:
    comment = line.comment
    if not comment and chance.random() < comments:
        comment = _comment(chance)
    gap = chance.choice(("", " ", "  ", "      ", "\t")) if comment or chance.random() < 0.1 else ""
    return f"{' ' * indent}{_words(line, indent, chance)}{gap}{comment}\n"


# ---- words ---------------------------------------------------------------------------------------


def _words(line: Line, indent: int, chance: Random) -> str:
    found = [(match.lastgroup or "", match.group()) for match in _TOKEN.finditer(line.text)]
    written = ""
    for at, (kind, word) in enumerate(found):
        if at:
            written += _gap(found[at - 1], (kind, word), line.text, chance)
        written += _word(kind, word, line, indent, chance)
    return written


def _word(kind: str, word: str, line: Line, indent: int, chance: Random) -> str:
    if kind == "block":
        return _block(word, 2 * line.depth, indent, chance)
    if kind == "number":
        return _number(word, chance)
    return "×" if word == "x" and _is_sign_x(line.text) and chance.random() < 0.3 else word


def _is_sign_x(text: str) -> bool:
    """True where no piece of the line is called `x`: then each `x` stands between two sizes."""
    return text.startswith(("size ", "flat ", "window "))


def _number(word: str, chance: Random) -> str:
    *whole, last = word.split(" ")
    if last in _VULGAR and chance.random() < 0.5:
        return (whole[0] + chance.choice(("", " ", "  ")) if whole else "") + _VULGAR[last]
    return chance.choice((" ", " ", "  ", "\t")).join([*whole, last])


def _gap(before: tuple[str, str], after: tuple[str, str], text: str, chance: Random) -> str:
    """Spaces between two words, or none where that says the same."""
    wide = chance.choice((" ", " ", " ", "  ", "   ", "\t", " \t "))
    close = _may_touch(before, after) or (before[1] == "x" and after[0] == "number" and _is_sign_x(text))
    return "" if close and chance.random() < 0.5 else wide


def _may_touch(before: tuple[str, str], after: tuple[str, str]) -> bool:
    kinds = {before[0], after[0]}
    if before[1] == "." or after[1] == ".":
        return True
    if after[1] == "-":
        return before[0] == "number" or before[1] in (")", "?")
    if "/" in (before[1], after[1]):
        # A number, a slash and a number that touch are one number, which is another tree.
        return "number" not in kinds
    if "sign" in kinds:
        return True
    if before[0] == "number":
        return after[0] == "word"
    return bool(kinds & {"text", "block"}) and not kinds <= {"text", "block"}


def _block(word: str, old: int, indent: int, chance: Random) -> str:
    """A text block with its lines moved together, its first line perhaps beside the quotes."""
    lines = [line[old:] for line in word[3:-3].split("\n")[1:]]
    new = chance.choice((0, indent, indent, indent + 2, indent + 5))
    moved = [" " * new + line if line.strip() else chance.choice(("", " ", "\t")) for line in lines[:-1]]
    start = ""
    if (
        moved
        and lines[0].strip()
        and lines[0] == lines[0].lstrip(" ")
        and chance.random() < 0.2
        and _flush(lines[1:-1])
    ):
        start, moved = chance.choice(("", " ")) + lines[0], moved[1:]
    end = "\n" + chance.choice((" " * indent, "", "   "))
    if moved and moved[-1].strip() and moved[-1] == moved[-1].rstrip() and chance.random() < 0.1:
        end = ""
    return f'"""{start}' + "".join(f"\n{line}" for line in moved) + f'{end}"""'


def _flush(lines: list[str]) -> bool:
    """True where some line begins at the edge, so that the others' indentation is measured from it."""
    said = [line for line in lines if line.strip()]
    return not said or any(not line.startswith(" ") for line in said)


# ---- the file ------------------------------------------------------------------------------------


def _with_line_ends(text: str, chance: Random) -> str:
    way = chance.random()
    if chance.random() < 0.2:
        text = text.rstrip("\n")
    if way < 0.25:
        text = text.replace("\n", "\r\n")
    elif way < 0.35:
        text = re.sub("\n", lambda _: chance.choice(("\n", "\r\n")), text)
    return ("\ufeff" if chance.random() < 0.1 else "") + text
