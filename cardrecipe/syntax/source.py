"""A text with its name, and where its lines are."""

from bisect import bisect_right
from functools import cached_property

from cardrecipe.syntax.spans import Span


class Source:
    """A recipe's text; `name` is how its user calls it (a path as typed)."""

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.text = text

    @cached_property
    def _starts(self) -> list[int]:
        starts = [0]
        at = self.text.find("\n")
        while at >= 0:
            starts.append(at + 1)
            at = self.text.find("\n", at + 1)
        return starts

    def line_and_column(self, offset: int) -> tuple[int, int]:
        """Line and column of a character, both from 1; columns count characters."""
        line = bisect_right(self._starts, offset) - 1
        return line + 1, offset - self._starts[line] + 1

    def line_text(self, line: int) -> str:
        """Line `line` (from 1) without its line end."""
        start = self._starts[line - 1]
        end = self.text.find("\n", start)
        return self.text[start : len(self.text) if end < 0 else end].rstrip("\r")

    def line_of(self, span: Span) -> int:
        return self.line_and_column(span.start)[0]

    def words_at(self, span: Span) -> str:
        return self.text[span.start : span.end]
