"""Templates → pages: what is large has a page to itself, upright or lying; small ones share pages in rows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from cardrecipe.render.drawings.svg import XY
from cardrecipe.render.true_scale.rooms import Rooms, way_to_lie

GAP = 6.0  # mm between two templates


class Item(NamedTuple):
    """A template by its size in mm; `label` is the height of its name, which a page of its own needs not.

    What is `by_the_way` is shown where a page has room, and has no page opened for it.
    """

    key: int
    width: float
    height: float
    label: float
    by_the_way: bool = False


class Place(NamedTuple):
    """Where the left top of a template's lines lies, in mm from the left top of the page's room."""

    key: int
    x: float
    y: float


class TemplatePage(NamedTuple):
    way: str  # one of `cardrecipe.render.true_scale.rooms.WAYS`
    places: tuple[Place, ...]

    @property
    def is_shared(self) -> bool:
        return len(self.places) > 1


def packed(items: Sequence[Item], rooms: Rooms) -> tuple[TemplatePage, ...]:
    """Items on pages, the highest first; each must fit a page by itself."""
    pages: list[_Open] = []
    for item in sorted(items, key=lambda each: (each.by_the_way, -each.height, -each.width, each.key)):
        if not any(page.takes(item) for page in pages) and not item.by_the_way:
            pages.append(_opened(item, rooms))
    return tuple(page.closed() for page in pages)


class _Row:
    """Templates side by side; `top` is where their names begin."""

    def __init__(self, top: float, height: float) -> None:
        self.top, self.height, self.used = top, height, 0.0


class _Open:
    """A page that may take more: it is filled row by row."""

    def __init__(self, way: str, room: XY) -> None:
        self.way, self.room = way, room
        self.is_full = False
        self.rows: list[_Row] = []
        self.items: list[tuple[Item, float, float]] = []

    def takes(self, item: Item) -> bool:
        """Put an item into the first row with room for it, or into a new one; False without room."""
        if self.is_full:
            return False
        high = item.label + item.height
        for row in self.rows:
            if high <= row.height and row.used + item.width <= self.room[0]:
                return self._put(row, item)
        top = sum(row.height + GAP for row in self.rows)
        if top + high > self.room[1] or item.width > self.room[0]:
            return False
        self.rows.append(_Row(top, high))
        return self._put(self.rows[-1], item)

    def _put(self, row: _Row, item: Item) -> bool:
        self.items.append((item, row.used, row.top + item.label))
        row.used += item.width + GAP
        return True

    def closed(self) -> TemplatePage:
        if len(self.items) == 1:
            item = self.items[0][0]
            across, down = max(0.0, self.room[0] - item.width), max(0.0, self.room[1] - item.height)
            return TemplatePage(self.way, (Place(item.key, across / 2, min(down / 2, item.label)),))
        return TemplatePage(self.way, tuple(Place(item.key, x, y) for item, x, y in self.items))


def _opened(item: Item, rooms: Rooms) -> _Open:
    """A new page for an item, with its name above it where that fits too."""
    for label in (item.label, 0.0):
        way = way_to_lie(rooms, (item.width, item.height + label))
        if way is not None:
            page = _Open(way, rooms[way])
            page.takes(item._replace(label=label))
            page.is_full = label < item.label  # its heading is its name, so no other may stand there
            return page
    raise ValueError("no page holds this")
