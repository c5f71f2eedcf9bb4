"""A place in a text that is being written → the line before it, and the lines that it is indented under."""

import re
from typing import NamedTuple

from cardrecipe.syntax.lines import LogicalLine, logical_lines
from cardrecipe.syntax.read_line import Misread, read_line
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.words import BLOCK_OF

_PARTIAL = re.compile(r"[a-z][a-z0-9-]*$")
_REST = re.compile(r"[a-z0-9-]*")
_TOKEN = re.compile(r'"[^"\n]*"?|[a-z][a-z0-9]*(?:-[a-z0-9]+)*|[0-9]+|\S')
_FIRST = re.compile(r"[a-z]+")


class LineBefore(NamedTuple):
    """What stands before the cursor on its line, without the word that is being written.

    `span` is that word, with what of it follows the cursor. `above` are the lines that this one is indented
    under, the nearest last. `quote` is the beginning of a text that is still open, if the cursor is in one.
    """

    text: str
    span: Span
    above: tuple[str, ...]
    starts: tuple[int, ...]  # where those lines begin
    quote: str | None = None
    is_alone: bool = True  # nothing follows on the line

    @property
    def tokens(self) -> list[str]:
        return _TOKEN.findall(self.text)

    @property
    def place(self) -> str:
        """What the line stands in, as `words.FORMS` calls it."""
        if not self.above:
            return "top"
        word = first_word(self.above[-1])
        return BLOCK_OF.get(word, f"under {word}")


def line_before(source: Source, offset: int) -> LineBefore | None:
    """The line that is being written at `offset`; None in a comment, in a text block and in a number."""
    text = source.text
    begin = text.rfind("\n", 0, offset) + 1
    good, problems, wrong = logical_lines(Source(source.name, text[:offset]))
    lines = sorted((*good, *wrong), key=lambda line: line.start)
    own = [line for line in lines if line.end > begin or line.start >= begin]
    start = own[-1].start if own else offset
    if any(each.code == "open-text" and each.span.end >= offset for each in problems):
        return _in_quotes(source, start, offset, lines)
    if "#" in text[own[-1].end if own else begin : offset]:
        return None
    before = text[start:offset]
    partial = _PARTIAL.search(before)
    word = start + partial.start() if partial else offset
    if partial is None and re.search(r"[0-9][/.]?$|[A-Z_]$", before):
        return None
    rest = _REST.match(text, offset)
    end = rest.end() if rest else offset
    above = _above(lines, start, begin, offset if not own else None)
    line_end = text.find("\n", end)
    follows = text[end : line_end if line_end >= 0 else len(text)].partition("#")[0].strip()
    span = Span(source.name, word, end)
    return LineBefore(text[start:word], span, *_said(above, text), is_alone=not follows)


def reads(text: str) -> bool:
    """True where a line that begins with `text` can be a line of the language."""
    problem = _misread(text)
    return problem is None or problem.at_end


def reads_whole(text: str) -> bool:
    """True where `text` is a whole line of the language."""
    return _misread(text) is None


def expected_after(text: str) -> frozenset[str]:
    """The terminals of the grammar that the line could go on with."""
    problem = _misread(f"{text} \0")
    assert problem is not None  # no line holds such a sign
    return problem.expected if problem.offset >= len(text) else frozenset()


def _misread(text: str) -> Misread | None:
    """Where `text` stops being a line of the language; None where it is one."""
    try:
        read_line(text, _Nothing())
    except Misread as problem:
        return problem
    return None


def first_word(line: str) -> str:
    match = _FIRST.match(line)
    return match.group() if match else ""


class _Nothing:
    """Builds nothing: only whether a line can be read is asked."""


def _said(lines: list[LogicalLine], text: str) -> tuple[tuple[str, ...], tuple[int, ...]]:
    """The words of lines, and where each begins."""
    return tuple(text[line.start : line.end] for line in lines), tuple(line.start for line in lines)


def _above(lines: list[LogicalLine], start: int, begin: int, cursor: int | None) -> list[LogicalLine]:
    """The lines that the line at `start` is indented under; an empty line is as deep as the cursor stands."""
    indent = (cursor if cursor is not None else start) - begin
    trail: list[LogicalLine] = []
    for line in lines:
        if line.start < start:
            while trail and trail[-1].indent >= line.indent:
                trail.pop()
            trail.append(line)
    while trail and trail[-1].indent >= indent:
        trail.pop()
    return trail


def _in_quotes(source: Source, start: int, offset: int, lines: list[LogicalLine]) -> LineBefore | None:
    """The line up to a text that the cursor stands in, if it is on one line."""
    text = source.text
    quote = text.rfind('"', start, offset)
    if quote < start or text.startswith('"""', quote - 2):
        return None
    line_end = text.find("\n", offset)
    line_end = len(text) if line_end < 0 else line_end
    close = text.find('"', offset, line_end)
    begin = text.rfind("\n", 0, offset) + 1
    above = _above(lines, start, begin, None)
    span = Span(source.name, quote + 1, close if close >= 0 else line_end)
    return LineBefore(text[start:quote], span, *_said(above, text), quote=text[quote + 1 : offset])
