"""Two texts → the edits that make one of the other, line by line, so that what stays keeps its place."""

from difflib import SequenceMatcher
from itertools import accumulate

from cardrecipe.editor.snapshot import Edit
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span


def line_edits(old: Source, new: str) -> tuple[Edit, ...]:
    """Edits of `old` after which it reads `new`; () where it does already."""
    before, after = old.text.splitlines(keepends=True), new.splitlines(keepends=True)
    starts = list(accumulate(map(len, before), initial=0))
    changes = SequenceMatcher(None, before, after, autojunk=False).get_opcodes()
    return tuple(
        Edit(Span(old.name, starts[first], starts[last]), "".join(after[start:end]))
        for kind, first, last, start, end in changes if kind != "equal"
    )  # fmt: skip
