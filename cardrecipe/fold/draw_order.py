"""Sorts sections that are held in space so that a painter may draw them one after the other.

Two sections that cover each other on the page are told apart by the plane of one of them; where
they lie in one plane, by the order of the layers of the closed card.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from cardrecipe.fold.layers import LayerOrder
from cardrecipe.fold.vectors import Vector, dot, minus, times

# Sizes are a few to a few hundred units, floats good to sixteen digits: this is far above their
# noise and far below a paper's thickness.
SAME_PLANE = 1e-6

PagePoint = tuple[float, float]


class Sheet(NamedTuple):
    """A section in space. `front` is the side that faces the front of the closed card: 1 where that
    is the inside (whose normal is given), -1 where it is the outside."""

    ring: tuple[Vector, ...]
    normal: Vector
    front: int


def back_to_front(
    sheets: Sequence[Sheet],
    units: Sequence[Sequence[int]],
    order: LayerOrder,
    toward: Vector,
    project: Callable[[Vector], PagePoint],
) -> list[Sequence[int]]:
    """Give the units, the farthest first; `toward` is the direction of the eye.

    A unit holds the sheets that lie flat beside each other, so that a piece on one may reach over
    the next. Where three units cover each other in a circle, which was not met in a folded strip,
    the one whose middle is farthest goes first.
    """
    unit_of = {sheet: number for number, unit in enumerate(units) for sheet in unit}
    before: list[set[int]] = [set() for _ in units]  # for each, those that are drawn before it
    for far, near in _coverings(sheets, order, toward, project):
        if unit_of[far] != unit_of[near]:
            before[unit_of[near]].add(unit_of[far])
    depths = [min(_depth(sheets[each], toward) for each in unit) for unit in units]
    waiting = list(range(len(units)))
    drawn: list[Sequence[int]] = []
    while waiting:
        free = [each for each in waiting if not before[each].intersection(waiting)]
        chosen = min(free or waiting, key=lambda each: (depths[each], each))
        waiting.remove(chosen)
        drawn.append(units[chosen])
    return drawn


def _coverings(
    sheets: Sequence[Sheet],
    order: LayerOrder,
    toward: Vector,
    project: Callable[[Vector], PagePoint],
) -> Iterator[tuple[int, int]]:
    """Give every two sheets one of which covers a part of the other on the page, farther first."""
    seen = [[project(point) for point in sheet.ring] for sheet in sheets]
    boxes = [(min(xs), max(xs), min(ys), max(ys)) for xs, ys in (zip(*ring, strict=True) for ring in seen)]
    for one, two in combinations(range(len(sheets)), 2):
        if _boxes_meet(boxes[one], boxes[two]) and _cover_each_other(seen[one], seen[two]):
            verdict = _is_second_nearer(sheets, order, toward, one, two)
            if verdict is not None:
                yield (one, two) if verdict else (two, one)


def _boxes_meet(one: tuple[float, ...], two: tuple[float, ...]) -> bool:
    """Tell quickly whether two outlines may share an area: most of a long strip do not."""
    return one[0] < two[1] and two[0] < one[1] and one[2] < two[3] and two[2] < one[3]


def _depth(sheet: Sheet, toward: Vector) -> float:
    """Give how near the middle of a sheet is to the eye."""
    return sum(dot(point, toward) for point in sheet.ring) / len(sheet.ring)


def _is_second_nearer(
    sheets: Sequence[Sheet], order: LayerOrder, toward: Vector, one: int, two: int
) -> bool | None:
    first, second = sheets[one], sheets[two]
    heights = _heights(first, second, toward)
    if max(map(abs, heights)) < SAME_PLANE:
        is_above = order.above(two, one)
        if is_above is None:
            return None
        return is_above == (first.front * dot(first.normal, toward) > 0)
    if min(heights) > -SAME_PLANE or max(heights) < SAME_PLANE:
        return max(heights) > SAME_PLANE
    heights = _heights(second, first, toward)
    if min(heights) > -SAME_PLANE or max(heights) < SAME_PLANE:
        return max(heights) < SAME_PLANE
    return None


def _heights(plane: Sheet, other: Sheet, toward: Vector) -> list[float]:
    """Give how far the corners of one sheet lie on the eye's side of another's plane."""
    facing = times(1 if dot(plane.normal, toward) > 0 else -1, plane.normal)
    return [dot(minus(point, plane.ring[0]), facing) for point in other.ring]


def _cover_each_other(one: Sequence[PagePoint], two: Sequence[PagePoint]) -> bool:
    """Tell whether two convex outlines share an area on the page (separating axis theorem)."""
    return not (_has_parting_edge(one, two) or _has_parting_edge(two, one))


def _has_parting_edge(ring: Sequence[PagePoint], other: Sequence[PagePoint]) -> bool:
    for index, (end_x, end_y) in enumerate(ring):
        x, y = ring[index - 1]
        offsets = [
            [(end_x - x) * (py - y) - (end_y - y) * (px - x) for px, py in points] for points in (ring, other)
        ]
        own, others = offsets
        if max(own) < SAME_PLANE and min(others) > -SAME_PLANE:
            return True
        if min(own) > -SAME_PLANE and max(others) < SAME_PLANE:
            return True
    return False
