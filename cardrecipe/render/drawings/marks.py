"""What a drawing is gathered from: pieces of markup that know the room they take, in mm."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from cardrecipe.render.drawings.svg import XY, Drawing, Markup, document

MARGIN = 1.2  # mm of air round a picture


class Box(NamedTuple):
    """A rectangle in mm, x to the right and y down."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.bottom - self.top

    @property
    def middle(self) -> XY:
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def grown(self, by: float) -> "Box":
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def meets(self, other: "Box") -> bool:
        """True where the two share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def holds(self, other: "Box") -> bool:
        return (
            self.left <= other.left
            and self.top <= other.top
            and self.right >= other.right
            and self.bottom >= other.bottom
        )


class Mark(NamedTuple):
    """A piece of a picture; `is_label` marks text, which nothing may cover."""

    markup: Markup
    box: Box
    is_label: bool = False


def box_of(points: Iterable[XY]) -> Box:
    """The smallest box round `points`."""
    across, down = zip(*points, strict=True)
    return Box(min(across), min(down), max(across), max(down))


def room(marks: Iterable[Mark]) -> Box:
    """The smallest box round all `marks`."""
    left, top, right, bottom = zip(*(mark.box for mark in marks), strict=True)
    return Box(min(left), min(top), max(right), max(bottom))


def is_free(box: Box, marks: Iterable[Mark]) -> bool:
    """True where `box` would cover no label among `marks`."""
    return not any(mark.is_label and mark.box.meets(box) for mark in marks)


class Caption(NamedTuple):
    """A drawing's name with its texts for screen readers, and the prefix that keeps ids apart."""

    name: str
    title: str
    description: str
    id_prefix: str = ""


def picture(caption: Caption, marks: Sequence[Mark]) -> Drawing:
    """The drawing that holds all `marks` and a little air."""
    box = room(marks).grown(MARGIN)
    view = (box.left, box.top, box.width, box.height)
    body = [mark.markup for mark in marks]
    return document(caption.name, caption.title, caption.description, view, body, caption.id_prefix)
