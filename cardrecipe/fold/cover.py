"""Which areas of outlines laid over each other are seen from above, exactly.

An outline is cut along the edges of whatever covers it, so the rest is exact for straight edges
in any direction; upright rectangles, the usual case, are cut by comparisons alone and joined
again.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from cardrecipe.fold.area import region
from cardrecipe.fold.clip import are_apart, side, without
from cardrecipe.fold.covered import Covered, Rectangle
from cardrecipe.fold.folded import Outline
from cardrecipe.fold.geometry import Box, ExactPoint, Ring, bounding_box
from cardrecipe.fold.nearby import Nearby

Holes = Sequence[Sequence[Outline]]  # of each of some outlines, the openings in it


def seen_areas(outlines: Sequence[Outline], holes: Holes = ()) -> tuple[tuple[Outline, ...], ...]:
    """Give, for outlines laid bottom first, the areas of each that no later one covers: through a hole
    one sees what lies beneath."""
    if not any(holes):
        return tuple(uncovered(outline, outlines[index + 1 :]) for index, outline in enumerate(outlines))
    paper = _papers(outlines, holes)
    return tuple(
        uncovered(outline, [*holes[index], *(part for parts in paper[index + 1 :] for part in parts)])
        for index, outline in enumerate(outlines)
    )


def uncovered(outline: Outline, covers: Sequence[Outline]) -> tuple[Outline, ...]:
    """Give the parts of an outline that none of the others covers, in few pieces; () for none."""
    rectangle = as_rectangle(outline)
    upright = [as_rectangle(cover) for cover in covers]
    if rectangle and all(upright):
        rest = _uncovered_rectangle(rectangle, [cover for cover in upright if cover])
        return tuple(ring_of(part) for part in joined(rest))
    return tuple(
        tuple((Fraction(x), Fraction(y)) for x, y in part) for part in _uncovered_polygon(outline, covers)
    )


def hidden(outlines: Sequence[Outline], hides: Sequence[bool], holes: Holes = ()) -> list[bool]:
    """Tell of each of some outlines, laid bottom first, whether later ones that hide cover it.

    Holes hide nothing, and of what has holes only the paper round them need be covered.
    """
    papers = _papers(outlines, holes) if any(holes) else [(outline,) for outline in outlines]
    return _hidden_paper(papers, hides)


def paper_round(outline: Outline, holes: Sequence[Outline]) -> tuple[Outline, ...]:
    """Give an outline without the holes in it: parts that share no area and have no holes."""
    return uncovered(outline, holes) if holes else (outline,)


def _papers(outlines: Sequence[Outline], holes: Holes) -> list[tuple[Outline, ...]]:
    return [paper_round(outline, of) for outline, of in zip(outlines, holes, strict=True)]


def _hidden_paper(papers: Sequence[Sequence[Outline]], hides: Sequence[bool]) -> list[bool]:
    """Go from the top down: each is held against the heap of all that hides above it."""
    every = iter(_shapes([part for parts in papers for part in parts]))
    sheets = [[next(every) for _ in parts] for parts in papers][::-1]
    does_hide = hides[::-1]
    heap = _Heap([part for parts, does in zip(sheets, does_hide, strict=True) if does for part in parts])
    is_hidden: list[bool] = []
    for parts, does in zip(sheets, does_hide, strict=True):
        is_hidden.append(all(heap.hides(part) for part in parts))
        if does:
            heap.lay(parts)
    return is_hidden[::-1]


def as_rectangle(outline: Ring) -> Rectangle | None:
    """Give an outline's box where it is an upright rectangle."""
    if len(outline) != 4:
        return None
    (x, y), second, (far_x, far_y), fourth = outline
    if second not in ((far_x, y), (x, far_y)) or fourth not in ((far_x, y), (x, far_y)):
        return None
    if second == fourth or x == far_x or y == far_y:
        return None
    left, right = (x, far_x) if x < far_x else (far_x, x)
    top, bottom = (y, far_y) if y < far_y else (far_y, y)
    return (left, top, right, bottom)


def ring_of(rectangle: Rectangle) -> Outline:
    """Give a rectangle as a ring from its left top corner round by its right top."""
    left, top, right, bottom = map(Fraction, rectangle)
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def joined(rectangles: Sequence[Rectangle]) -> list[Rectangle]:
    """Join rectangles that share a whole edge until none do."""
    rest = list(rectangles)
    index = 0
    while index < len(rest):
        for other in range(index + 1, len(rest)):
            whole = _union(rest[index], rest[other])
            if whole:
                rest[index] = whole
                del rest[other]
                index = -1
                break
        index += 1
    return rest


class _Shape(NamedTuple):
    """An outline on the common scale, and the box round it."""

    ring: Ring
    box: Rectangle
    is_upright: bool


def _shapes(outlines: Sequence[Outline]) -> list[_Shape]:
    """Scale outlines so that upright rectangles have whole numbers, which compare ten times faster.

    The others stay fractions: a scale for all turned pieces would have too many digits.
    """
    boxes = [as_rectangle(outline) for outline in outlines]
    scale = math.lcm(*{number.denominator for box in boxes if box for number in box})
    return [_shape(outline, box, scale) for outline, box in zip(outlines, boxes, strict=True)]


def _shape(outline: Outline, box: Rectangle | None, scale: int) -> _Shape:
    if box is None:
        ring = tuple((x * scale, y * scale) for x, y in outline)
        return _Shape(ring, bounding_box(ring), is_upright=False)
    left, top, right, bottom = (number.numerator * (scale // number.denominator) for number in box)
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    return _Shape(corners, (left, top, right, bottom), is_upright=True)


class _Heap:
    """What hides, laid one under the other; `covers` are all that will be, in that order."""

    def __init__(self, covers: Sequence[_Shape]) -> None:
        self._covers, self._laid = covers, 0
        self._upright = Covered(cover.box for cover in covers if cover.is_upright)
        self._are_all_upright = all(cover.is_upright for cover in covers)

    def lay(self, parts: Sequence[_Shape]) -> None:
        """Lay the next covers."""
        self._laid += len(parts)
        for part in parts:
            if part.is_upright:
                self._upright.add(part.box)

    def hides(self, shape: _Shape) -> bool:
        """Try what is quick first: the box round the shape, then its corners, one by one."""
        if self._upright.holds(shape.box):
            return True
        if not self._laid or (shape.is_upright and self._are_all_upright):
            return False
        near = [cover for cover in self._near(shape) if _meet(shape.box, cover.box)]
        if not all(any(_reaches(cover, corner) for cover in near) for corner in shape.ring):
            return False
        return not _uncovered_polygon(shape.ring, [cover.ring for cover in near])

    def _near(self, shape: _Shape) -> Iterator[_Shape]:
        places = self._by_place.near(Box(*shape.box))
        return (self._covers[at] for at in places if at < self._laid)

    @cached_property
    def _by_place(self) -> Nearby:
        return Nearby([Box(*cover.box) for cover in self._covers])


def _meet(one: Rectangle, two: Rectangle) -> bool:
    return one[0] < two[2] and two[0] < one[2] and one[1] < two[3] and two[1] < one[3]


def _reaches(cover: _Shape, point: ExactPoint) -> bool:
    """Tell whether the box round a cover holds a point, its edges included."""
    left, top, right, bottom = cover.box
    x, y = point
    if not (left <= x <= right and top <= y <= bottom):
        return False
    return cover.is_upright or not _is_outside(cover.ring, point)


def _is_outside(ring: Ring, point: ExactPoint) -> bool:
    """Tell whether a point lies outside a convex ring; never said of a ring that is not convex."""
    turns = [side(ring[index - 1], corner, point) for index, corner in enumerate(ring)]
    bends = [side(ring[index - 2], ring[index - 1], corner) for index, corner in enumerate(ring)]
    is_convex = min(bends) >= 0 or max(bends) <= 0
    return is_convex and min(turns) < 0 < max(turns)


def _uncovered_rectangle(rectangle: Rectangle, covers: Sequence[Rectangle]) -> list[Rectangle]:
    rest = [rectangle]
    for cover in (each for each in covers if _meet(rectangle, each)):
        if not rest:
            break
        rest = [part for each in rest for part in _cut_rectangle(each, cover)]
    return rest


def _union(one: Rectangle, two: Rectangle) -> Rectangle | None:
    for near, far, low, high in ((0, 2, 1, 3), (1, 3, 0, 2)):
        same_sides = one[low] == two[low] and one[high] == two[high]
        if same_sides and (one[far] == two[near] or two[far] == one[near]):
            left, top = min(one[0], two[0]), min(one[1], two[1])
            return (left, top, max(one[2], two[2]), max(one[3], two[3]))
    return None


def _cut_rectangle(part: Rectangle, cover: Rectangle) -> list[Rectangle]:
    """Give what a cover leaves of a rectangle: whole height left and right, then above and
    below."""
    left, top, right, bottom = part
    if cover[0] >= right or cover[2] <= left or cover[1] >= bottom or cover[3] <= top:
        return [part]
    rest: list[Rectangle] = []
    if cover[0] > left:
        rest.append((left, top, cover[0], bottom))
        left = cover[0]
    if cover[2] < right:
        rest.append((cover[2], top, right, bottom))
        right = cover[2]
    if cover[1] > top:
        rest.append((left, top, right, cover[1]))
    if cover[3] < bottom:
        rest.append((left, cover[3], right, bottom))
    return rest


def _uncovered_polygon(ring: Ring, covers: Sequence[Ring]) -> list[Ring]:
    box = bounding_box(ring)
    near = [cover for cover in covers if not are_apart(box, bounding_box(cover))]
    return without(region(ring).pieces, [piece for cover in near for piece in region(cover).pieces])
