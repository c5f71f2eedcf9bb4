"""Repairs of class files: what there is, counted or called by its title, and lines that belong elsewhere."""

import re
from collections.abc import Iterator

from cardrecipe.editor.mending.case import Case, Repair
from cardrecipe.model.texts import text_at
from cardrecipe.syntax import tree


def have_count(case: Case) -> Iterator[Repair]:
    """A paper with a number of sheets, a supply without."""
    line = case.line
    node = line.node if line else None
    if line is None or not isinstance(node, tree.Have):
        return
    name = case.source.words_at(node.name.span)
    for new in ([f"have {name} 1 sheet"] if node.number is None else []) + [f"have {name}"]:
        yield Repair(f"Write `{new}`", (case.replaced(line.span, new),))


def have_two_papers(case: Case) -> Iterator[Repair]:
    """The title of each paper of that name."""
    line = case.line
    node = line.node if line else None
    if not isinstance(node, tree.Have):
        return
    for related in case.diagnostic.related:
        text = text_at(case.snapshot.texts, related.span.file) or ""
        title = re.search(r'"[^"\n]*"', text[related.span.start :])
        if title:
            yield Repair(f"Write {title[0]}", (case.replaced(node.name.span, title[0]),))


def taken_out(case: Case) -> Iterator[Repair]:
    """What is not needed here, or does not belong here, goes."""
    if case.line is not None:
        yield Repair("Take this line out", (case.taken_out(case.line),))
