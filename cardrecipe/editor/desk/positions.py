"""Places in the client's text (a line and code units in it) ⇄ characters of the text that the core reads.

The core's text has no byte order mark and `\\n` for each `\\r\\n`, as a file that is read from the disk.
A lone `\\r` ends a line for the client and is a character like any other for the core.
"""

import re
from bisect import bisect_right
from functools import cached_property
from itertools import accumulate
from typing import NamedTuple

UTF8, UTF16, UTF32 = "utf-8", "utf-16", "utf-32"
_MARK = "\ufeff"
_LINE_END = re.compile(r"\r\n|\n|\r")
_BYTES_PER_UNIT = {UTF8: ("utf-8", 1), UTF16: ("utf-16-le", 2)}


class Position(NamedTuple):
    """A line, and code units from its beginning; both from 0."""

    line: int
    character: int


class Change(NamedTuple):
    """The characters `start` to `end` of the core's text give way to `new`."""

    start: int
    end: int
    new: str


class ClientText:
    """A text as the client has it, which counts in units of `encoding`; `text` is what the core reads."""

    def __init__(self, raw: str, encoding: str = UTF16) -> None:
        self.raw = raw
        self.encoding = encoding

    @cached_property
    def text(self) -> str:
        return _read(self.raw)

    @property
    def line_end(self) -> str:
        return "\r\n" if "\r\n" in self.raw else "\n"

    def offset(self, position: Position) -> int:
        """The character of the core's text at `position`; beyond a line's end it is that end."""
        line, column = self._column(position)
        return max(0, self._ours[line] + column)

    def position(self, offset: int) -> Position:
        """Where a character of the core's text stands for the client."""
        line = bisect_right(self._ours, offset) - 1
        start, end = self._theirs[line], self._ends[line]
        before = self.raw[start : min(end, start + offset - self._ours[line])]
        return Position(line, _units(before, self.encoding))

    def edited(self, start: Position, end: Position, new: str) -> tuple["ClientText", Change]:
        """The text after an edit, and the same edit for the core."""
        first, last = sorted((self._raw_offset(start), self._raw_offset(end)))
        after = ClientText(self.raw[:first] + new + self.raw[last:], self.encoding)
        if _MARK in (self.raw[:1], after.raw[:1]):
            return after, Change(0, len(self.text), after.text)
        # `\r` and `\n` may meet or part at the edges of an edit: then they belong to it.
        if self.raw[first - 1 : first] == "\r":
            first, new = first - 1, "\r" + new
        if self.raw[last : last + 1] == "\n":
            last, new = last + 1, new + "\n"
        return after, Change(self._own_offset(first), self._own_offset(last), new.replace("\r\n", "\n"))

    def _raw_offset(self, position: Position) -> int:
        line, column = self._column(position)
        return self._theirs[line] + column

    def _own_offset(self, raw_offset: int) -> int:
        line = bisect_right(self._theirs, raw_offset) - 1
        return self._ours[line] + raw_offset - self._theirs[line]

    def _column(self, position: Position) -> tuple[int, int]:
        """Line and character in it, the nearest that there are."""
        if position.line >= len(self._theirs):
            return len(self._theirs) - 1, self._ends[-1] - self._theirs[-1]
        line = max(0, position.line)
        content = self.raw[self._theirs[line] : self._ends[line]]
        return line, _characters(content, position.character, self.encoding)

    @cached_property
    def _breaks(self) -> list[tuple[int, int]]:
        return [match.span() for match in _LINE_END.finditer(self.raw)]

    @cached_property
    def _theirs(self) -> list[int]:
        """Where each of the client's lines begins in its own text."""
        return [0, *(end for _, end in self._breaks)]

    @cached_property
    def _ends(self) -> list[int]:
        """Where each line ends, without its line end."""
        return [*(start for start, _ in self._breaks), len(self.raw)]

    @cached_property
    def _ours(self) -> list[int]:
        """Where each line begins in the core's text; a mark stands one character before its beginning."""
        mark = len(_MARK) if self.raw.startswith(_MARK) else 0
        joined = accumulate((end - start - 1 for start, end in self._breaks), initial=mark)
        return [start - less for start, less in zip(self._theirs, joined, strict=True)]


def _read(raw: str) -> str:
    """What the core reads of a text, as `cardrecipe.files` reads a file."""
    return raw.removeprefix(_MARK).replace("\r\n", "\n")


def _units(text: str, encoding: str) -> int:
    if encoding == UTF32 or text.isascii():
        return len(text)
    codec, size = _BYTES_PER_UNIT[encoding]
    return len(text.encode(codec, "surrogatepass")) // size


def _characters(line: str, units: int, encoding: str) -> int:
    """How many whole characters the first `units` of a line are; a character in the middle is not counted."""
    if encoding == UTF32 or line.isascii():
        return min(max(0, units), len(line))
    count = 0
    for number, char in enumerate(line):
        count += _units(char, encoding)
        if count > units:
            return number
    return len(line)
