"""A recipe's text → what can be folded away: blocks, text blocks, runs of comments."""

import re
from bisect import bisect_right
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from cardrecipe.editor.snapshot import Snapshot
from cardrecipe.editor.solved import end_of
from cardrecipe.syntax import tree
from cardrecipe.syntax.lines import logical_lines
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span

_COMMENT = re.compile(r"[ \t]*#")


class Folding(NamedTuple):
    """Lines that can be folded into the first of them: from its start to the end of the last."""

    span: Span
    kind: str  # "block" | "comment" | "text"


def foldings(snapshot: Snapshot) -> tuple[Folding, ...]:
    """Every folding of more than one line, in order."""
    source = snapshot.source
    texts = _texts(source)
    found = [*_blocks(snapshot.tree.statements, source), *texts, *_comments(source, texts)]
    unique = {(each.span.start, each.span.end): each for each in found if "\n" in source.words_at(each.span)}
    return tuple(sorted(unique.values()))


def _blocks(statements: Iterable[tree.Statement], source: Source) -> Iterator[Folding]:
    """Every statement that has others under it; a stack, since a file may be indented very deeply."""
    waiting = list(statements)
    while waiting:
        each = waiting.pop()
        if each.block:
            yield Folding(Span(source.name, each.span.start, end_of(each)), "block")
            waiting += each.block


def _texts(source: Source) -> list[Folding]:
    """Every line that goes on over several: it holds a text block."""
    good, _, _ = logical_lines(source)
    return [Folding(Span(source.name, line.start, line.end), "text")
            for line in good if "\n" in source.text[line.start : line.end]]  # fmt: skip


def _comments(source: Source, texts: list[Folding]) -> Iterator[Folding]:
    """Runs of lines that hold only a comment. `#` in a text block begins none."""
    ends = [each.span.end for each in texts]
    start = end = -1
    at = 0
    for line in source.text.split("\n"):
        stop = at + len(line)
        text = bisect_right(ends, at)  # the first that ends behind this line's beginning
        if _COMMENT.match(line) and not (text < len(texts) and texts[text].span.start < at):
            start = at if start < 0 else start
            end = stop
        elif start >= 0:
            yield Folding(Span(source.name, start, end), "comment")
            start = -1
        at = stop + 1
    if start >= 0:
        yield Folding(Span(source.name, start, end), "comment")
