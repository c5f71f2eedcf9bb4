"""Diagnostics for people at a terminal and for programs: two printers of the same value."""

import sys
from collections.abc import Iterable, Mapping

from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span

MAX_SHOWN = 100  # more than fits in anybody's head; the rest is counted
MAX_LETTERS = 160  # of a line of the recipe; of one that is longer the part round the mark is shown
MAX_BEFORE = 60  # of them stand before the mark
MAX_SAID = 500  # letters of a message, which may have words of the recipe in it


def as_text(diagnostics: Iterable[Diagnostic], sources: Mapping[str, Source]) -> str:
    """`FILE:LINE:COLUMN: error[CODE]: message`, the line, a caret under the words meant, the hint."""
    listed = list(diagnostics)
    blocks = [_block(each, sources) for each in listed[:MAX_SHOWN]]
    if len(listed) > MAX_SHOWN:
        blocks.append(f"… {len(listed) - MAX_SHOWN} more\n")
    return "\n".join(blocks)


def say(words: str) -> None:
    """A sentence for whoever gave the command, on standard error; no name in it can be taken for another."""
    print(f"cardrecipe: {_with_bytes(words)}", file=sys.stderr)


def show(words: str) -> None:
    """A line of what was asked for, such as the name of a file that was written, on standard output."""
    print(_with_bytes(words))


def as_json(diagnostics: Iterable[Diagnostic], sources: Mapping[str, Source]) -> str:
    """A JSON array; positions count lines and columns from 1, `end` is after the last character."""
    from cardrecipe.syntax.unseen import json_text

    rows = [
        {
            "code": each.code,
            "severity": each.severity,
            "message": each.message,
            "hint": each.hint,
            **_place(each.span, sources),
            "related": [{"message": r.message, **_place(r.span, sources)} for r in each.related],
        }
        for each in diagnostics
    ]
    return json_text(rows, indent=1)


def _block(diagnostic: Diagnostic, sources: Mapping[str, Source]) -> str:
    head = f"{diagnostic.severity}[{diagnostic.code}]: {diagnostic.message}"
    lines = [f"{_where(diagnostic.span, sources)}: {_cut(head)}", *_marked(diagnostic.span, sources)]
    for related in diagnostic.related:
        lines.append(f"  {_where(related.span, sources)}: {_cut(related.message)}")
        lines += _marked(related.span, sources)
    if diagnostic.hint:
        lines.append(f"  hint: {_cut(diagnostic.hint)}")
    return "".join(visible(line) + "\n" for line in lines)


def _cut(words: str) -> str:
    """The place before them stays whole, however long the path is: without it nobody finds the line."""
    return words if len(words) <= MAX_SAID else words[:MAX_SAID] + "…"


def _where(span: Span, sources: Mapping[str, Source]) -> str:
    line, column = sources[span.file].line_and_column(span.start)
    return f"{span.file}:{line}:{column}"


def _marked(span: Span, sources: Mapping[str, Source]) -> list[str]:
    source = sources[span.file]
    line, column = source.line_and_column(span.start)
    text = source.line_text(line)
    if not text:
        return []
    first, last = _round_the_mark(len(text), column - 1)
    start, end = "…" * (first > 0), "…" * (last < len(text))
    before = len(start) + column - 1 - first
    width = max(1, min(span.end - span.start, last - column + 1))
    return [f"  {line} | {start}{text[first:last]}{end}",
            f"  {' ' * len(str(line))} | {' ' * before}{'^' * width}"]  # fmt: skip


def _round_the_mark(letters: int, before: int) -> tuple[int, int]:
    """Where the part of a line begins and ends that is shown; `before` letters stand before the mark."""
    if letters <= MAX_LETTERS:
        return 0, letters
    first = max(0, min(before - MAX_BEFORE, letters - MAX_LETTERS))
    return first, first + MAX_LETTERS


def _place(span: Span, sources: Mapping[str, Source]) -> dict[str, object]:
    source = sources[span.file]
    line, column = source.line_and_column(span.start)
    end_line, end_column = source.line_and_column(span.end)
    return {"file": span.file, "line": line, "column": column, "end_line": end_line,
            "end_column": end_column}  # fmt: skip


def visible(text: str) -> str:
    """Control and direction characters shown as `<U+202E>`, so that no text can rewrite a terminal."""
    return "".join(char if char.isprintable() or char in "\u00a0\u202f" else f"<U+{ord(char):04X}>"
                   for char in text)  # fmt: skip


def _with_bytes(words: str) -> str:
    """`visible`, but for the bytes of a name that are no letters: a terminal of that encoding shows them."""
    return "".join(char if "\udca0" <= char <= "\udcff" else visible(char) for char in words)
