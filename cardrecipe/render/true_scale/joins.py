"""What a page shows of the joins of a large template: dotted lines, marks, and what to do with them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardrecipe.plan.words import listed
from cardrecipe.render.drawings.svg import XY
from cardrecipe.render.true_scale.strokes import Stroke, clipped
from cardrecipe.render.true_scale.tiling import Tile, Tiling

CROSS = 4.0  # mm from the middle of a registration mark to its ends

def joins(tile: Tile) -> Iterator[Stroke]:
    """The lines along which the parts meet, with a registration mark at both ends of each."""
    window = tile.window
    ends = [((x, window.top), (x, window.bottom)) for x in tile.across]
    ends += [((window.left, y), (window.right, y)) for y in tile.down]
    for start, end in ends:
        yield _straight("join", start, end)
    for cross in _crosses(tile):
        for part in cross:
            seen = clipped(*part, window)
            assert seen is not None  # the middle of a mark lies in the window
            yield _straight("mark", *seen)


def _crosses(tile: Tile) -> Iterator[tuple[tuple[XY, XY], tuple[XY, XY]]]:
    """The registration marks: where joins meet, and at two places on each between."""
    window = tile.window
    marks = {(x, y) for x in tile.across for y in (*tile.down, *_along(window.top, window.bottom, tile.down))}
    marks |= {(x, y) for y in tile.down for x in _along(window.left, window.right, tile.across)}
    for x, y in sorted(marks):
        yield ((x - CROSS, y), (x + CROSS, y)), ((x, y - CROSS), (x, y + CROSS))


def _along(low: float, high: float, joins: Sequence[float]) -> tuple[float, ...]:
    """Two places on a join that both of the parts that meet there show: thirds of what lies between joins."""
    start = max((each for each in joins if each < (low + high) / 2), default=low)
    end = min((each for each in joins if each > (low + high) / 2), default=high)
    return start + (end - start) / 3, start + (end - start) * 2 / 3


def _straight(kind: str, start: XY, end: XY) -> Stroke:
    return Stroke(kind, (["m", *start], ["l", *end]))


def kept_free(parts: Tiling) -> list[tuple[XY, XY]]:
    """Where pages end or are joined, and the marks there: no word lies on these."""
    found: list[tuple[XY, XY]] = []
    for tile in parts.tiles:
        left, top, right, bottom = tile.window
        corners = ((left, top), (right, top), (right, bottom), (left, bottom))
        found += zip(corners, (*corners[1:], corners[0]), strict=True)
        found += [part for cross in _crosses(tile) for part in cross]
    return found


def join_words(tile: Tile, parts: Tiling) -> str:
    """What to do with this page: trim it along its own joins, lay it on the parts before it."""
    name = {(each.row, each.column): each.name for each in parts.tiles}
    places = (tile.row, tile.column - 1), (tile.row - 1, tile.column)
    before = [name[place] for place in places if place in name]
    if not before:
        return "Lay the other parts on this one, mark on mark."
    sides = listed(side for side, is_joined in (("left", tile.column), ("top", tile.row)) if is_joined)
    return f"Cut along the dotted line at the {sides}; lay it on {listed(before)}, mark on mark."
