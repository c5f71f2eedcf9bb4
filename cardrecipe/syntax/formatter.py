"""A recipe's text to its canonical text: the same statements, numbers, texts and comments in one layout.

Two spaces for each block, one between words, `5 1/2` for `5½`, `x` for `×`, one blank line at most. No
word is added or taken away, and a number stays as it was written: `10/4`, `0.50` and `2/4` tell how it was
measured. Comments that end lines are not lined up with each other, so that one changed fact is one changed
line.
"""

import re
from itertools import pairwise
from unicodedata import normalize

from cardrecipe.syntax import tree
from cardrecipe.syntax.build import text_in
from cardrecipe.syntax.line_words import LineWord, words_of
from cardrecipe.syntax.lines import MAX_FILE
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.statements import Gap, Placed, bare, gaps, in_order

_INDENT = "  "
_LINE_END = re.compile(r"\r+\n")


def formatted(source: Source) -> str:
    """The canonical text, with line feeds alone; formatting that again changes nothing.

    A line that cannot be read stays as it is, in its block; one that is wrong for its tab may move when it is
    formatted again. A file too long to read stays whole.
    """
    if len(source.text) > MAX_FILE:
        return source.text
    placed = list(in_order(parse(source)[0].statements))
    between = gaps(source, placed)
    lines: list[str] = []
    trail: list[int] = []  # how far the statements that are open here are indented in the source
    for at, gap in enumerate(between):
        if gap.rest:
            lines[-1] += f"  {gap.rest}"
        _add_gap(lines, gap, trail, placed[at].depth if at < len(placed) else 0)
        if at < len(placed):
            del trail[placed[at].depth :]
            trail.append(len(gap.indent))
            lines.append(_statement(placed[at], gap.indent, source))
    while lines and not lines[-1]:
        lines.pop()
    return "".join(f"{line}\n" for line in lines)


# ---- between statements --------------------------------------------------------------------------


def _add_gap(lines: list[str], gap: Gap, trail: list[int], next_depth: int) -> None:
    """Comments, and one blank line for each group of them, but none at the top of the file."""
    for line in gap.lines:
        said = bare(line)
        if said:
            lines.append(_INDENT * max(next_depth, _depth_at(line, trail)) + said)
        elif lines and lines[-1]:
            lines.append("")


def _depth_at(line: str, trail: list[int]) -> int:
    """How many blocks a statement that is indented as `line` is would stand in.

    A comment goes with the statement below it, unless it is indented further: then it ends a block.
    """
    indent = line.index(bare(line))
    return sum(1 for each in trail if each < indent)


# ---- statements ----------------------------------------------------------------------------------


def _statement(placed: Placed, indent: str, source: Source) -> str:
    depth, statement = placed
    text = source.words_at(statement.span)
    if isinstance(statement.node, tree.Broken):
        return _kept_indent(depth, indent) + _LINE_END.sub("\n", text)
    return _INDENT * depth + _line(words_of(text), _INDENT * depth)


def _kept_indent(depth: int, indent: str) -> str:
    """The indentation of a line that cannot be read: with a tab where a tab is what is wrong with it."""
    return _INDENT * depth if "\t" not in indent else " " * max(0, 2 * depth - 1) + "\t"


def _line(words: list[LineWord], indent: str) -> str:
    said = _word(words[0], indent)
    for before, word in pairwise(words):
        said += ("" if _touch(before, word) else " ") + _word(word, indent)
    return said


def _touch(before: LineWord, after: LineWord) -> bool:
    """True where no space stands between two words."""
    if after.terminal in ("COMMA", "RPAR", "DOT") or before.terminal in ("LPAR", "DOT"):
        return True
    if before.terminal in ("MIN", "MAX"):
        return after.terminal == "LPAR"
    return before.terminal == "MINUS" and before.begins_value


def _word(word: LineWord, indent: str) -> str:
    if word.terminal == "NUMBER":
        return _number(word.token)
    if word.terminal == "TEXT_BLOCK":
        lines = text_in(word.token).split("\n")
        return "\n".join(['"""', *(indent + line if line else "" for line in lines), f'{indent}"""'])
    return "x" if word.terminal == "TIMES" else str(word.token)


def _number(text: str) -> str:
    """`5½`, `5 ½` and `5  1/2` as `5 1/2`; any other number as it was written."""
    if text[-1].isascii():
        return " ".join(text.split())
    fraction = normalize("NFKC", text[-1]).replace("⁄", "/")
    return f"{text[:-1].strip()} {fraction}".lstrip()
