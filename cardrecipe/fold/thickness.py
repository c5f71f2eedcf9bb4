"""How thick the closed card is: the layers over every place of it, and the place where they sum
to most.

Paper, what is glued on either face, foam and bands count; spring at the folds and glue do not. A
round or turned piece counts with the box round it, so the sum is never too small.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.assembly import CannotAssemble, folded_together
from cardrecipe.fold.closed import CannotFold, closed_pose, flat_fold
from cardrecipe.fold.folded import Thickness
from cardrecipe.fold.geometry import Box, Number, bounding_box
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
    """Give the largest sums over any place.

    The slabs' edges cut the card into cells. Which slabs cover a cell is one number, a bit for
    each, and only those sets count that no other set holds.
    """
    every = list(slabs)
    across = _covering([(slab.box.left, slab.box.right) for slab in every])
    down = _covering([(slab.box.top, slab.box.bottom) for slab in every])
    sets = list(dict.fromkeys(one & two for one in across for two in down))
    largest = [each for each in sets if not any(each & ~other == 0 and each != other for other in sets)]
    piles = [[slab.thick for bit, slab in enumerate(every) if each >> bit & 1] for each in largest]
    return Thickness(
        max((_sum(thick.likely_mm for thick in pile) for pile in piles), default=Fraction(0)),
        max((_sum(thick.least_mm for thick in pile) for pile in piles), default=Fraction(0)),
        max((_sum(thick.most_mm for thick in pile) for pile in piles), default=Fraction(0)),
        any(slab.thick.estimated for slab in every),
    )


def _covering(spans: Sequence[tuple[Number, Number]]) -> list[int]:
    """Give, for each stretch between neighbouring ends, the spans that cover it, as bits."""
    ends = sorted({end for span in spans for end in span})
    places = {end: place for place, end in enumerate(ends)}
    covering = [0] * max(len(ends) - 1, 0)
    for bit, (low, high) in enumerate(spans):
        for place in range(places[low], places[high]):
            covering[place] |= 1 << bit
    return list(dict.fromkeys(covering))


def _common(one: Box, two: Box) -> Box:
    return Box(
        max(one.left, two.left),
        max(one.top, two.top),
        min(one.right, two.right),
        min(one.bottom, two.bottom),
    )


def _sum(values: Iterable[Fraction]) -> Fraction:
    return sum(values, Fraction(0))
