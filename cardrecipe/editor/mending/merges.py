"""Repairs of an unfinished merge: one of its two versions, the other, or both."""

from collections.abc import Iterator
from itertools import pairwise

from cardrecipe.editor.mending.case import Case, Repair
from cardrecipe.syntax.merges import Merge, merges
from cardrecipe.syntax.spans import Span


def merge_unfinished(case: Case) -> Iterator[Repair]:
    """The lines that are kept in place of all that stands between the marks; a mark left alone goes."""
    merge = next((each for each in merges(case.source) if each.start == case.span.start), None)
    if merge is None:
        yield Repair("Take this line out", (case.replaced(_whole_lines(case, case.span), ""),))
        return
    if not case.source.text.startswith(">", merge.marks[-1].start):
        return  # where the second version ends is not known
    first, second = _versions(case, merge)
    whole = _whole_lines(case, Span(case.span.file, merge.start, merge.end))
    for which, kept in (("first", first), ("second", second)):
        yield Repair(f"Keep the {which} of the two versions", (case.replaced(whole, kept),))
    yield Repair("Keep both versions", (case.replaced(whole, first + second),))


def _versions(case: Case, merge: Merge) -> tuple[str, str]:
    """The lines above and below the mark in the middle, without what both were before the merge."""
    marks = [_whole_lines(case, each) for each in merge.marks]
    parts = {case.source.text[mark.start]: case.source.text[mark.end : after.start]
             for mark, after in pairwise(marks)}  # fmt: skip
    return parts.get("<", ""), parts.get("=", "")


def _whole_lines(case: Case, span: Span) -> Span:
    """With the end of the last line."""
    end = case.source.text.find("\n", span.end)
    return Span(span.file, span.start, len(case.source.text) if end < 0 else end + 1)
