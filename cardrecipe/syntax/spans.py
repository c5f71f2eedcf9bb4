"""Where something stands in a text: the one kind of position that every stage carries along."""

from typing import NamedTuple


class Span(NamedTuple):
    """The characters `start` up to `end` (offsets, end excluded) of the text called `file`."""

    file: str
    start: int
    end: int
