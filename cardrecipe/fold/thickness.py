"""How thick the closed card is: the layers over every place of it, and the place where they sum
to most.

Paper, what is glued on either face, foam and bands count; spring at the folds and glue do not. A
round or turned piece counts with the box round it, so the sum is never too small.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from math import lcm
from typing import NamedTuple

from cardrecipe.fold.assembly import CannotAssemble, folded_together
from cardrecipe.fold.closed import CannotFold, closed_pose, flat_fold
from cardrecipe.fold.folded import Thickness
from cardrecipe.fold.geometry import Box, bounding_box
from cardrecipe.fold.paper_weight import Caliper, caliper
from cardrecipe.fold.placing import strip_outline
from cardrecipe.fold.stack import Layer, closed_pile
from cardrecipe.solve.sized import Around, SizedCard


def closed_thickness(card: SizedCard, closed: Sequence[Layer]) -> Thickness:
    """Give the thickness of a closed pile at its thickest place, bands and all."""
    return _thickest([*_slabs(card, closed, None), *_overlaps(card, closed)])


def stack_under_band(card: SizedCard, around: Around, wide: Fraction) -> Thickness | None:
    """Give the thickest place along the strip that a band `wide` goes over, bands not counted.

    Only the base, the place and the direction of `around` are asked: its wrap may still be unknown.
    None where the base has no closed form.
    """
    flat = flat_fold(card.piece(around.base), closed_pose(card))
    if isinstance(flat, CannotFold):
        return None
    shut = folded_together(card, flat)
    if isinstance(shut, CannotAssemble):
        return None
    layers = [layer for layer in closed_pile(shut) if not layer.on_band]
    return _thickest(_slabs(card, layers, bounding_box(strip_outline(shut.flat, around, wide))))


class _Slab(NamedTuple):
    """An upright box of even thickness."""

    box: Box
    thick: Caliper


def _slabs(card: SizedCard, layers: Sequence[Layer], within: Box | None) -> Iterator[_Slab]:
    """Give each layer as its paper with the foam beneath, cut to a box where one is given."""
    known: dict[str | None, Caliper] = {}
    for layer in layers:
        name = layer.piece.paper
        if name not in known:
            known[name] = caliper(card.papers.get(name or ""), card.unit)
        box = bounding_box(layer.outline)
        if within:
            box = _common(box, within)
        if box.left < box.right and box.top < box.bottom:
            yield _Slab(box, _raised(known[name], layer.foam_mm))


def _raised(paper: Caliper, foam: Fraction) -> Caliper:
    if not foam:
        return paper
    return Caliper(paper.likely_mm + foam, paper.least_mm + foam, paper.most_mm + foam, paper.estimated)


def _overlaps(card: SizedCard, closed: Sequence[Layer]) -> Iterator[_Slab]:
    """Give the second layer of each band where its ends overlap, in the middle of the back."""
    for layer in closed:
        around = layer.piece.around
        if around is None or layer.is_face_up or around.overlap <= 0:
            continue
        box = bounding_box(layer.outline)
        if around.downward:
            over = Fraction(min(around.overlap, box.bottom - box.top))
            middle = Fraction(box.top + box.bottom) / 2
            box = box._replace(top=middle - over / 2, bottom=middle + over / 2)
        else:
            over = Fraction(min(around.overlap, box.right - box.left))
            middle = Fraction(box.left + box.right) / 2
            box = box._replace(left=middle - over / 2, right=middle + over / 2)
        yield _Slab(box, caliper(card.papers.get(layer.piece.paper or ""), card.unit))


def _thickest(slabs: Iterable[_Slab]) -> Thickness:
    """Give the largest sums over any place, each by itself."""
    every = list(slabs)
    boxes = [slab.box for slab in every]
    return Thickness(
        _highest(boxes, [slab.thick.likely_mm for slab in every]),
        _highest(boxes, [slab.thick.least_mm for slab in every]),
        _highest(boxes, [slab.thick.most_mm for slab in every]),
        any(slab.thick.estimated for slab in every),
    )


def _highest(boxes: Sequence[Box], heights: Sequence[Fraction]) -> Fraction:
    """Give the height of the highest pile: a line is moved over the boxes from left to right."""
    scale = lcm(*(height.denominator for height in heights))
    ends = sorted({end for box in boxes for end in (box.top, box.bottom)})
    places = {end: place for place, end in enumerate(ends)}
    turns = []  # what ends at a place comes before what begins there
    for box, height in zip(boxes, heights, strict=True):
        stretch, whole = (places[box.top], places[box.bottom]), int(height * scale)
        turns += [(box.left, True, stretch, whole), (box.right, False, stretch, -whole)]
    profile, highest = _Profile(len(ends)), 0
    for _, _, stretch, whole in sorted(turns, key=lambda turn: turn[:2]):
        profile.lift(*stretch, whole)
        highest = max(highest, profile.highest)
    return Fraction(highest, scale)


class _Profile:
    """Heights along a line, lifted and lowered a stretch at a time, with the highest of them.

    A tree of halves: each node holds what its whole stretch was lifted by and the highest within it, so that
    a lift touches a few nodes, however many places there are.
    """

    def __init__(self, places: int) -> None:
        self._leaves = max(places, 1)
        self._lifted, self._most = [0] * 2 * self._leaves, [0] * 2 * self._leaves

    @property
    def highest(self) -> int:
        return self._most[1]

    def lift(self, first: int, end: int, by: int) -> None:
        """Lift the places from `first` up to `end`."""
        low, high = first + self._leaves, end + self._leaves
        while low < high:
            if low & 1:
                self._lift_whole(low, by)
                low += 1
            if high & 1:
                high -= 1
                self._lift_whole(high, by)
            low, high = low >> 1, high >> 1
        self._renew_above(first + self._leaves)
        self._renew_above(end - 1 + self._leaves)

    def _lift_whole(self, node: int, by: int) -> None:
        self._lifted[node] += by
        self._most[node] += by

    def _renew_above(self, node: int) -> None:
        while node := node >> 1:
            self._most[node] = max(self._most[2 * node], self._most[2 * node + 1]) + self._lifted[node]


def _common(one: Box, two: Box) -> Box:
    return Box(
        max(one.left, two.left),
        max(one.top, two.top),
        min(one.right, two.right),
        min(one.bottom, two.bottom),
    )
