"""What lies right beneath a piece where it is glued: which part of which body, exactly.

A pile is read from a face outwards. What is nearest to the piece is what its glue would hold; a loose
piece that belongs in a pocket lies beneath the pocket, though it is placed on it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple, TypeVar

from cardrecipe.fold.area import region
from cardrecipe.fold.bodies import Body, Ride, Rides, part_outlines
from cardrecipe.fold.clip import are_apart, split
from cardrecipe.fold.cover import as_rectangle
from cardrecipe.fold.folded import Outline
from cardrecipe.fold.geometry import Box, ExactPoint, Point, Ring, bounding_box, double_area
from cardrecipe.fold.outlines import ROUND, sure_outline, widest_outline
from cardrecipe.fold.stack import Layer
from cardrecipe.solve.sized import SizedCard, SizedPiece

NOT_FRAMES = (*ROUND, "tag", "banner")
_AnyPoint = TypeVar("_AnyPoint", bound=ExactPoint)
Copy = tuple[str, int]  # a piece's name and which of its copies


class Shape(NamedTuple):
    """An outline in the plane of a pile: the box round it, and convex parts that are the whole."""

    box: Box
    parts: tuple[Ring, ...]


class Surface(NamedTuple):
    """A face that glue may meet: what it moves with, its names, and its least and widest outline."""

    ride: Ride
    names: tuple[str, ...]  # the piece, and the section where it is one
    sure: Shape
    widest: Shape


class Touched(NamedTuple):
    """A convex part of a piece and the surface right beneath it."""

    surface: Surface
    part: Ring


class Pile(NamedTuple):
    """Faces from the bottom up on a common scale, on which upright ones have whole numbers."""

    scale: int
    layers: tuple[Layer, ...]
    surfaces: tuple[tuple[Surface, ...], ...]
    places: Mapping[Copy, int]  # of glued and loose copies and of bands


def pile_of(card: SizedCard, layers: Sequence[Layer], rides: Rides) -> Pile:
    """Prepare layers, bottom first as one looks at the faces that are asked for."""
    ordered = _pocketed(card, layers)
    frames = [as_rectangle(layer.outline) for layer in ordered]
    scale = math.lcm(*{number.denominator for frame in frames if frame for number in frame})
    surfaces = tuple(tuple(_surfaces(layer, rides, scale)) for layer in ordered)
    places = {
        (layer.piece.name, layer.copy): at for at, layer in enumerate(ordered) if layer.section is None
    }
    return Pile(scale, tuple(ordered), surfaces, places)


def touched(
    pile: Pile, copy: Copy, parts: Sequence[Ring], own: Body, *, is_cautious: bool
) -> tuple[list[Touched], list[Ring]]:
    """Give what some convex parts of a piece, on the pile's scale, lie on, and what lies on nothing.

    Cautious: `own` reaches no further than is certain, and all else as far as it may. Else the other
    way about: then whatever is found to lie on another body does so for certain.
    """
    rest, found = list(parts), list[Touched]()
    for surface in _downward(pile, copy):
        if not rest:
            break
        shape = surface.sure if (surface.ride.body == own) == is_cautious else surface.widest
        rest = _laid_on(rest, shape, surface, found)
    return found, rest


def in_pile(pile: Pile, copy: Copy, own: Outline) -> Ring:
    """Give an outline in a copy's own coordinates where it lies in a pile, inside on the left."""
    layer = pile.layers[pile.places[copy]]
    ring = [_carried(layer, point) for point in own]
    return _positive([(_scaled(x, pile.scale), _scaled(y, pile.scale)) for x, y in ring])


def in_piece(pile: Pile, copy: Copy, ring: Ring) -> Outline:
    """Give a ring of the pile in a copy's own coordinates, from its left top."""
    layer = pile.layers[pile.places[copy]]
    start, across, _, down = layer.outline
    wide, high = layer.piece.width, layer.piece.height
    (ax, ay), (bx, by) = _way(start, across), _way(start, down)
    own: list[Point] = []
    for x, y in ring:
        dx, dy = Fraction(x) / pile.scale - start[0], Fraction(y) / pile.scale - start[1]
        own.append(((dx * ax + dy * ay) / wide, (dx * bx + dy * by) / high))
    return tuple(_positive(own))


def _downward(pile: Pile, copy: Copy) -> Iterator[Surface]:
    """Give the surfaces beneath a copy, the nearest first."""
    for at in range(pile.places[copy] - 1, -1, -1):
        yield from pile.surfaces[at]


def _laid_on(rest: list[Ring], shape: Shape, surface: Surface, found: list[Touched]) -> list[Ring]:
    """Move what lies on a shape from the rest to what is found."""
    left: list[Ring] = []
    for part in rest:
        if are_apart(bounding_box(part), shape.box):
            left.append(part)
            continue
        beside = [part]
        for cover in shape.parts:
            outside: list[Ring] = []
            for each in beside:
                inner, outer = split(each, cover)
                outside += outer
                if inner:
                    found.append(Touched(surface, inner))
            beside = outside
        left += beside
    return left


def _surfaces(layer: Layer, rides: Rides, scale: int) -> Iterator[Surface]:
    piece = layer.piece
    of_copy = rides[piece.name, layer.copy]
    if layer.section is not None:
        names = [ride.carrier for ride in of_copy]
        ride = of_copy[names.index(layer.section)] if len(of_copy) > 1 else of_copy[0]
        shape = _shape(layer.outline, scale)
        yield Surface(ride, (piece.name, layer.section), shape, shape)
        return
    if len({ride.body for ride in of_copy}) > 1:
        for section, ride, outline in zip(piece.sections, of_copy, part_outlines(piece), strict=True):
            shape = _own_shape(layer, outline, scale)
            yield Surface(ride, (piece.name, section.name), shape, shape)
        return
    yield Surface(of_copy[0], (piece.name,), *_shapes(layer, piece, scale))


def _shapes(layer: Layer, piece: SizedPiece, scale: int) -> tuple[Shape, Shape]:
    """Give the least and the widest outline of a layer; a band shows its front alone, all frame."""
    if piece.around or (piece.kind not in NOT_FRAMES and not piece.corner_radius):
        shape = _shape(layer.outline, scale)
        return shape, shape
    return (
        _own_shape(layer, sure_outline(piece), scale),
        _own_shape(layer, widest_outline(piece), scale),
    )


def _own_shape(layer: Layer, own: Outline, scale: int) -> Shape:
    return _shape(tuple(_carried(layer, point) for point in own), scale)


def _shape(outline: Outline, scale: int) -> Shape:
    ring: Ring = tuple((_scaled(x, scale), _scaled(y, scale)) for x, y in outline)
    prepared = region(ring)
    return Shape(prepared.box, prepared.pieces)


def _scaled(number: Fraction, scale: int) -> int | Fraction:
    """Give a number on the pile's scale, as a whole one where it is: those compare faster."""
    times, rest = divmod(scale, number.denominator)
    return number.numerator * times if not rest else number * scale


def _carried(layer: Layer, point: ExactPoint) -> tuple[Fraction, Fraction]:
    """Give a point of a piece's own frame where the layer has it."""
    start, across, _, down = layer.outline
    right, low = point[0] / layer.piece.width, point[1] / layer.piece.height
    return (
        start[0] + (across[0] - start[0]) * right + (down[0] - start[0]) * low,
        start[1] + (across[1] - start[1]) * right + (down[1] - start[1]) * low,
    )


def _way(start: Point, end: Point) -> Point:
    return end[0] - start[0], end[1] - start[1]


def _positive(ring: list[_AnyPoint]) -> list[_AnyPoint]:
    """Turn a ring so that its inside is on the left; a piece seen from behind runs the other way."""
    return ring if double_area(ring) > 0 else ring[::-1]


def _pocketed(card: SizedCard, layers: Sequence[Layer]) -> list[Layer]:
    """Move what slides in a pocket, and what is on it, right beneath the pocket."""
    ordered = list(layers)
    for layer in layers:
        if not layer.piece.loose or layer.section is not None or not layer.piece.placements:
            continue
        host = layer.piece.placements[layer.copy]
        pocket = card.piece(host.host_piece)
        if pocket.glue is None or not pocket.glue.along:
            continue
        moving = [each for each in ordered if _is_carried_by(card, each, layer)]
        ordered = [each for each in ordered if each not in moving]
        keys = [(each.piece.name, each.copy) for each in ordered]
        at = keys.index((host.host_piece, host.host_copy))
        ordered[at:at] = moving
    return ordered


def _is_carried_by(card: SizedCard, layer: Layer, carrier: Layer) -> bool:
    """Tell whether a layer is another one or lies on it, at whatever remove."""
    piece, copy = layer.piece, layer.copy
    while (piece.name, copy) != (carrier.piece.name, carrier.copy):
        if not piece.placements:
            return False
        host = piece.placements[copy]
        piece, copy = card.piece(host.host_piece), host.host_copy
    return layer.section is None
