"""The mistakes of a file with an unfinished merge → the same with each merge once, and none of its lines."""

from collections.abc import Iterator
from typing import NamedTuple

from cardrecipe.syntax.diagnostics import Diagnostic, Related
from cardrecipe.syntax.lines import MERGE_MARK, unfinished_merge
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span


class Merge(NamedTuple):
    """Two versions of some lines: the marks before, between and after them, in the order of the text."""

    marks: tuple[Span, ...]

    @property
    def start(self) -> int:
        return self.marks[0].start

    @property
    def end(self) -> int:
        return self.marks[-1].end


def merges(source: Source) -> Iterator[Merge]:
    """Each merge that begins with its mark; it lasts to its last one, or to where the next begins."""
    marks: list[Span] = []
    for found in MERGE_MARK.finditer(source.text):
        if found[0].startswith("<"):
            yield from [Merge(tuple(marks))] if marks else []
            marks = []
        elif not marks:
            continue
        marks.append(Span(source.name, found.start(), found.start() + len(found[0].rstrip())))
        if found[0].startswith(">"):
            yield Merge(tuple(marks))
            marks = []
    yield from [Merge(tuple(marks))] if marks else []


def settled(diagnostics: list[Diagnostic], source: Source) -> list[Diagnostic]:
    """`diagnostics` with one for each merge in place of those of its marks and of the lines between them.

    Marks that are left of a merge without its first are told each. A text that is open after a merge may
    have been opened in it.
    """
    found = list(merges(source))
    kept = [each for each in diagnostics if not _is_unsettled(each, found)]
    kept += [unfinished_merge(source, each.start, each.marks[0].end, _where_it_ends(each)) for each in found]
    return sorted(kept, key=lambda each: each.span.start)


def _is_unsettled(diagnostic: Diagnostic, found: list[Merge]) -> bool:
    at = diagnostic.span.start
    if diagnostic.code == "open-text" and found and at >= found[0].start:
        return True
    return any(each.start <= at < each.end for each in found)


def _where_it_ends(merge: Merge) -> tuple[Related, ...]:
    return (Related(merge.marks[-1], "it ends here"),) if len(merge.marks) > 1 else ()
