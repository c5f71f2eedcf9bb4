"""Text to logical lines: comments off, `\"\"\"` blocks joined to the line that opens them."""

import re
from typing import NamedTuple

from cardrecipe.syntax.diagnostics import Diagnostic, Related, error
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span

MAX_FILE = 1_000_000  # characters; a recipe of a book's length is a mistake, not a card
MAX_LINE = 10_000  # characters; far above any text a sheet could hold on a line
_BLOCK = '"""'
# What git leaves of a merge at the left edge; within a text only those that are hardly a text's own.
MERGE_MARK = re.compile(r"^(?:<{7}|\|{7}|={7}|>{7})(?= |\r?$)[^\r\n]*", re.M)
_MARK_IN_TEXT = re.compile(r"^(?:<{7}|>{7}) [^\r\n]*", re.M)
_STOP = re.compile(r'["\n#]')  # what ends a statement, or begins a text in which it cannot end


class LogicalLine(NamedTuple):
    """One statement's text: `indent` spaces, then the characters `start` to `end` of the source."""

    indent: int
    start: int
    end: int


def logical_lines(source: Source) -> tuple[list[LogicalLine], list[Diagnostic], list[LogicalLine]]:
    """The lines that can be read, what is wrong with the others, and those others.

    Blank lines and lines that hold only a comment give nothing.
    """
    if len(source.text) > MAX_FILE:
        span = Span(source.name, 0, 1)
        return [], [error("file-too-long", span, f"this file has more than {MAX_FILE:,} characters",
                          "split it and `use` the parts")], [LogicalLine(0, 0, 0)]  # fmt: skip
    good: list[LogicalLine] = []
    wrong: list[LogicalLine] = []
    diagnostics: list[Diagnostic] = []
    at = 0
    while at < len(source.text):
        line, at, problem = next_line(source, at)
        if problem:
            diagnostics.append(problem)
        if line.end > line.start:
            (wrong if problem else good).append(line)
    return good, diagnostics, wrong


def next_line(source: Source, at: int) -> tuple[LogicalLine, int, Diagnostic | None]:
    """The line that begins at `at`, where the next one begins, and what is wrong with this one.

    It depends on no character before `at`, nor on any after its own end.
    """
    text = source.text
    if mark := MERGE_MARK.match(text, at):
        stop = text.find("\n", at)
        line = LogicalLine(0, at, mark.start() + len(mark[0].rstrip()))
        return line, (len(text) if stop < 0 else stop) + 1, unfinished_merge(source, line.start, line.end)
    start = at
    while start < len(text) and text[start] in " \t":
        start += 1
    end, problem = _end_of_statement(source, start)
    stop = text.find("\n", end)
    stop = len(text) if stop < 0 else stop
    line = LogicalLine(start - at, start, start + len(text[start:end].rstrip()))
    if line.end > line.start and "\t" in text[at:start]:
        problem = error(
            "tab-indent", Span(source.name, at, start), "this line is indented with a tab",
            "indent with two spaces",
        )  # fmt: skip
    if stop - at > MAX_LINE and _BLOCK not in text[start:end]:
        problem = error("line-too-long", Span(source.name, start, start + 1),
                        f"this line has more than {MAX_LINE:,} characters",
                        'write long texts between """ lines')  # fmt: skip
    if problem is None and not text[at:stop].isprintable():
        line, problem = _without_unseen(source, line, at, stop)
    if "\n" in text[start:end] and (mark := _MARK_IN_TEXT.search(text, start, end)):
        problem = unfinished_merge(source, *mark.span())
    return line, stop + 1, problem


def unfinished_merge(source: Source, start: int, end: int, related: tuple[Related, ...] = ()) -> Diagnostic:
    """Marks of two versions stand in the file. `parse` tells it once for all the marks of a merge."""
    return error("merge-unfinished", Span(source.name, start, end), "a merge was not finished here",
                 "keep the lines that are right, and take out the others with the lines that begin with "
                 "<<<<<<<, ======= and >>>>>>>", related)  # fmt: skip


def _without_unseen(
    source: Source, line: LogicalLine, at: int, stop: int
) -> tuple[LogicalLine, Diagnostic | None]:
    """The line as it is, or, where it has an unseen sign, a mistake and the line as far as the sign at least.

    A comment by itself stays one: no block ends at it.
    """
    from cardrecipe.syntax.unseen import unseen_sign, unseen_signs  # the lines of most recipes can be seen

    signs = unseen_signs(source.text, at, stop + 1)  # a line may end with two characters
    if not signs:
        return line, None
    end = max(line.end, signs[-1] + 1) if line.end > line.start else line.end
    return LogicalLine(line.indent, line.start, end), unseen_sign(source, signs[0])


def _end_of_statement(source: Source, start: int) -> tuple[int, Diagnostic | None]:
    """Where the statement that begins at `start` ends: before its comment or its line's end."""
    text, at = source.text, start
    while (stop := _STOP.search(text, at)) is not None:
        at = stop.start()
        if text[at] != '"':
            return at, None
        if text.startswith(_BLOCK, at):
            close = text.find(_BLOCK, at + 3)
            if close < 0:
                span = Span(source.name, at, at + 3)
                return len(text), error("open-text", span, 'this text block is never closed',
                                        'end it with a line that holds only """')  # fmt: skip
            at = close + 3
        else:
            line_end = text.find("\n", at)
            line_end = len(text) if line_end < 0 else line_end
            close = text.find('"', at + 1, line_end)
            if close < 0:
                end = at + len(text[at:line_end].rstrip())
                return line_end, error("open-text", Span(source.name, at, end),
                                       "this text has no closing quote",
                                       'end it with " on the same line')  # fmt: skip
            at = close + 1
    return len(text), None
