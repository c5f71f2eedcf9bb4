"""How much of a true-scale page its heading, its check bars and the paper's edge leave for templates."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from cardrecipe.render.drawings.svg import XY
from cardrecipe.render.papers import Paper

# No line is nearer to the paper's edge than 7 mm, since home printers leave up to 6.35 mm unprinted
# (standards.md, section 8); half of the widest line comes on top.
EDGE = 7.25
WAYS = ("portrait", "landscape")
Rooms = Mapping[str, XY]  # by the way a page lies: across and down


class PageWords(NamedTuple):
    """The sizes of type on a true-scale page in points, and the mm that its words take."""

    small: float
    body: float
    heading: float
    top: float  # for the heading
    label: float  # for a template's name and the line below it
    foot: Mapping[str, float]  # for the check bars and what is said about them


# A page that lies holds a base 7 in high, as many a card is: 210 - 2 * 7.25 - 5.8 - 11.8 = 177.9 mm on A4.
USUAL = PageWords(8.0, 9.5, 14.0, 5.8, 9.5, {"portrait": 18.0, "landscape": 11.8})
# In large print the words grow by half only: the pieces keep their size, and the words must leave them room.
LARGE = PageWords(12.0, 14.0, 17.0, 8.0, 14.0, {"portrait": 26.0, "landscape": 15.5})


def rooms_on(paper: Paper, words: PageWords) -> Rooms:
    """The room for templates on a page of `paper`, for either way that it may lie."""
    sizes = {"portrait": (paper.width, paper.height), "landscape": (paper.height, paper.width)}
    return {
        way: (across - 2 * EDGE, down - 2 * EDGE - words.top - words.foot[way])
        for way, (across, down) in sizes.items()
    }


def way_to_lie(rooms: Rooms, size: XY) -> str | None:
    """The way a page has to lie for something of that size; None where no page holds it."""
    for way in WAYS:
        across, down = rooms[way]
        if size[0] <= across and size[1] <= down:
            return way
    return None
