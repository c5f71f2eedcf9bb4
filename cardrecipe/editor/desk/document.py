"""A recipe that is being edited: each edit reads again only the lines that it touches.

The tree and the diagnostics are at every moment exactly those that `parse` gives for the whole text.
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import accumulate

from cardrecipe.editor.desk.line_memory import EditedLine, LineMemory
from cardrecipe.editor.desk.moving import moved_diagnostic
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.lines import MAX_FILE
from cardrecipe.syntax.parse import ParsedLine, in_blocks, parse, with_merges_once
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.tree import Tree


class Document:
    """A text as it stands; `edited` gives the next one, which shares what the edit does not touch.

    A text that is longer than a recipe may be has no groups.
    """

    def __init__(self, source: Source, groups: Sequence["_Group"], memory: LineMemory) -> None:
        self.source = source
        self._groups = groups
        self._memory = memory

    def edited(self, start: int, end: int, new: str) -> "Document":
        """The document whose characters `start` to `end` give way to `new`."""
        old = self.source.text
        source = Source(self.source.name, old[:start] + new + old[end:])
        if len(source.text) > MAX_FILE or not self._groups:
            return _read(source, self._memory)
        first, kept = self._before(start)
        at = self._starts[first] + sum(line.length for line in kept)
        lines, rest = list(kept), len(self._groups)
        for line in _lines_from(source, at, self._memory):
            lines.append(line)
            at += line.length
            rest = self._group_at(at - len(new) + end - start, first, end)
            if rest < len(self._groups):
                break
        changed = _grouped(lines, source, self._starts[first])
        groups = [*self._groups[:first], *changed, *self._groups[rest:]]
        self._memory.forget_all_but(line for group in groups for line in group.lines)
        return Document(source, groups, self._memory)

    @cached_property
    def tree(self) -> Tree:
        """The tree that `parse` gives: made when it is first asked for."""
        if not self._groups:
            return parse(self.source)[0]
        lines = [line for group in self._groups for line in group.lines]
        starts = accumulate((line.length for line in lines), initial=0)
        placed = [line.placed(start) for line, start in zip(lines, starts) if line.parsed is not None]  # noqa: B905 (one start more)
        return Tree(self.source.name, in_blocks(placed, self.source)[0])

    @cached_property
    def diagnostics(self) -> list[Diagnostic]:
        """The diagnostics that `parse` gives."""
        if not self._groups:
            return parse(self.source)[1]
        found = [moved_diagnostic(each, start)
                 for start, group in zip(self._starts, self._groups, strict=False) if group.diagnostics
                 for each in group.diagnostics]  # fmt: skip
        return with_merges_once(found, self.source)

    @cached_property
    def _starts(self) -> list[int]:
        """Where each group begins, and where the text ends."""
        return list(accumulate((group.length for group in self._groups), initial=0))

    def _before(self, start: int) -> tuple[int, list[EditedLine]]:
        """The first group that an edit at `start` changes, and its lines that stay as they are.

        A line that begins a group may do so no longer: then what follows belongs to the group before.
        """
        first = min(bisect_right(self._starts, start), len(self._groups)) - 1
        kept, at = list[EditedLine](), self._starts[first]
        for line in self._groups[first].lines:
            at += line.length
            if at > start or not line.is_ended:
                break
            kept.append(line)
        if not kept and first:
            return first - 1, list(self._groups[first - 1].lines)
        return first, kept

    def _group_at(self, at: int, first: int, end: int) -> int:
        """The group that began at `at` before the edit and lies behind it; else the number of groups."""
        found = bisect_right(self._starts, at) - 1
        is_behind = first < found < len(self._groups) and self._starts[found] == at >= end
        return found if is_behind else len(self._groups)


def opened(name: str, text: str) -> Document:
    """A text that has just been opened."""
    return _read(Source(name, text), LineMemory(name))


def _read(source: Source, memory: LineMemory) -> Document:
    if len(source.text) > MAX_FILE:
        return Document(source, (), memory)
    return Document(source, _grouped(list(_lines_from(source, 0, memory)), source, 0), memory)


def _lines_from(source: Source, at: int, memory: LineMemory) -> Iterator[EditedLine]:
    while at < len(source.text):
        line = memory.line_at(source, at)
        yield line
        at += line.length


# ---- groups --------------------------------------------------------------------------------------


class _Group:
    """A line at the left edge with all that follows it up to the next one: no other line is in its block.

    `diagnostics` are counted from the group's own start.
    """

    def __init__(self, lines: Sequence[EditedLine], source: Source, start: int) -> None:
        self.lines = lines
        starts = list(accumulate((line.length for line in lines), initial=0))
        self.length = starts[-1]
        placed = [_standing(line.parsed, start + at + line.lead, source)
                  for line, at in zip(lines, starts, strict=False) if line.parsed is not None]  # fmt: skip
        misplaced = [moved_diagnostic(each, -start) for each in in_blocks(placed, source)[1]]
        wrong = [moved_diagnostic(line.problem, at + line.lead)
                 for line, at in zip(lines, starts, strict=False) if line.problem is not None]  # fmt: skip
        self.diagnostics = sorted([*wrong, *misplaced], key=lambda each: each.span.start)


def _standing(parsed: ParsedLine, at: int, source: Source) -> ParsedLine:
    """The line at its place, which is all that the blocks ask of it; its node is not moved there."""
    return ParsedLine(parsed.indent, Span(source.name, at, at + parsed.span.end), parsed.word, parsed.node)


def _grouped(lines: Sequence[EditedLine], source: Source, start: int) -> list[_Group]:
    """The lines in groups; the first may begin with lines that are indented under nothing."""
    edges = [number for number, line in enumerate(lines)
             if number and line.parsed is not None and line.parsed.indent == 0]  # fmt: skip
    groups = []
    for first, last in zip([0, *edges], [*edges, len(lines)], strict=True):
        if first < last:
            groups.append(_Group(lines[first:last], source, start))
            start += groups[-1].length
    return groups
