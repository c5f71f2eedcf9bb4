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
from cardrecipe.fold.bodies import Body, Rides, part_outlines
from cardrecipe.fold.clip import are_apart, is_within, split, without
from cardrecipe.fold.folded import Outline
from cardrecipe.fold.geometry import Box, ExactPoint, Number, Point, Ring, bounding_box, double_area
from cardrecipe.fold.outlines import Shares, fills_frame, shares, sure_shares, widest_shares
from cardrecipe.fold.stack import Layer
from cardrecipe.fold.surfaces import Shape, Surface, Surfaces
from cardrecipe.solve.sized import SizedCard

_AnyPoint = TypeVar("_AnyPoint", bound=ExactPoint)
Copy = tuple[str, int]  # a piece's name and which of its copies


class Touched(NamedTuple):
    """A convex part of a piece and the surface right beneath it."""

    surface: Surface
    part: Ring


class Pile(NamedTuple):
    """Faces from the bottom up on a common scale, on which all corners have whole numbers."""

    scale: int
    layers: tuple[Layer, ...]
    surfaces: tuple[tuple[Surface, ...], ...]
    places: Mapping[Copy, int]  # of glued and loose copies and of bands
    faces: Surfaces  # the same surfaces, found by where they lie
    carriers: tuple[str, ...]  # of every ride, sections first

    def named(self, touches: Sequence[Touched]) -> tuple[str, ...]:
        """Give the carriers of what is touched, each once, in a fixed order."""
        found = {each.surface.ride.carrier for each in touches}
        return tuple(name for name in self.carriers if name in found)


def pile_of(
    card: SizedCard, layers: Sequence[Layer], rides: Rides, openings: Mapping[str, tuple[Outline, ...]]
) -> Pile:
    """Prepare layers, bottom first as one looks at the faces that are asked for.

    `openings` are the windows of each section of the base, in the plane of the pile.
    """
    ordered = _pocketed(card, layers)
    rings = [*(layer.outline for layer in ordered), *(ring for of in openings.values() for ring in of)]
    scale = math.lcm(*{number.denominator for ring in rings for point in ring for number in point})
    special = {sure_shares(layer.piece).of for layer in ordered if _is_special(layer)}
    scale *= math.lcm(*special, *(widest_shares(each.piece).of for each in ordered if _is_special(each)))
    surfaces = tuple(tuple(_surfaces(layer, rides, scale, openings)) for layer in ordered)
    places = {(layer.piece.name, layer.copy): at for at, layer in enumerate(ordered) if layer.section is None}
    carriers = tuple(dict.fromkeys(ride.carrier for of_copy in rides.values() for ride in of_copy))
    return Pile(scale, tuple(ordered), surfaces, places, Surfaces(surfaces), carriers)


class Beneath(NamedTuple):
    """What lies right beneath some parts of a piece. `not_own` is all that does not lie on the body
    asked for, in few parts: what lies on another one and what lies on nothing."""

    own: list[Touched]
    others: list[Touched]
    nothing: list[Ring]
    not_own: list[Ring]


def touched(pile: Pile, copy: Copy, parts: Sequence[Ring], own: Body, *, is_cautious: bool) -> Beneath:
    """Say what some convex parts of a piece, on the pile's scale, lie on.

    Cautious: `own` reaches no further than is certain, and all else as far as it may. Else the other
    way about: then whatever is found to lie on another body does so for certain.
    """
    if not parts:
        return Beneath([], [], [], [])
    deepest = pile.faces.deepest(own)
    rest = [_Boxed(part, bounding_box(part)) for part in parts]
    mine: list[Touched] = []
    others: list[Touched] = []
    not_own: list[Ring] | None = None
    for at, surface in pile.faces.beneath(pile.places[copy], _box_round(parts)):
        if at > deepest and not_own is None:
            not_own = [*(each.part for each in others), *(each.part for each in rest)]
        if not rest:
            break
        is_own = surface.ride.body == own
        shape = surface.sure if is_own == is_cautious else surface.widest
        rest = _laid_on(rest, shape, surface, mine if is_own else others)
    left = [each.part for each in rest]
    if not_own is None:
        not_own = [*(each.part for each in others), *left]
    return Beneath(mine, others, left, not_own)


def lies_within(pile: Pile, copy: Copy, parts: Sequence[Ring], own: Body) -> bool:
    """Tell quickly that a piece lies wholly on a body, which is the usual case; False is no answer.

    That is so where it lies within one face of the body, and nothing of another lies between.
    """
    box = _box_round(parts)
    for _, surface in pile.faces.beneath(pile.places[copy], box):
        if are_apart(box, surface.widest.box):
            continue
        if surface.ride.body != own:
            return False
        cover = surface.sure.parts
        if len(cover) == 1 and all(is_within(part, cover[0]) for part in parts):
            return True
    return False


def in_pile(pile: Pile, copy: Copy, own: Outline) -> Ring:
    """Give an outline in a copy's own coordinates where it lies in a pile, inside on the left."""
    layer = pile.layers[pile.places[copy]]
    return _positive(_carried(layer, shares(own, layer.piece.width, layer.piece.height), pile.scale))


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


def _box_round(parts: Sequence[Ring]) -> Box:
    return bounding_box([corner for part in parts for corner in part])


class _Boxed(NamedTuple):
    """A convex part with the box round it."""

    part: Ring
    box: Box


def _laid_on(rest: list[_Boxed], shape: Shape, surface: Surface, found: list[Touched]) -> list[_Boxed]:
    """Move what lies on a shape from the rest to what is found."""
    left: list[_Boxed] = []
    for each in rest:
        if are_apart(each.box, shape.box):
            left.append(each)
            continue
        beside = [each.part]
        for cover in shape.parts:
            outside: list[Ring] = []
            for part in beside:
                inner, outer = split(part, cover)
                outside += outer
                if inner:
                    found.append(Touched(surface, inner))
            beside = outside
        left += [each if part is each.part else _Boxed(part, bounding_box(part)) for part in beside]
    return left


def _is_special(layer: Layer) -> bool:
    """Tell whether a layer has an outline besides its frame; a band shows its front, all frame."""
    return layer.section is None and not layer.piece.around and not fills_frame(layer.piece)


def _surfaces(
    layer: Layer, rides: Rides, scale: int, openings: Mapping[str, tuple[Outline, ...]]
) -> Iterator[Surface]:
    """Give a layer's face, or one for each part of a piece that folds on its own scores."""
    piece = layer.piece
    of_copy = rides[piece.name, layer.copy]
    if layer.section is not None:
        names = [section.name for section in piece.sections]
        ride = of_copy[names.index(layer.section)] if len(of_copy) > 1 else of_copy[0]
        windows = openings.get(layer.section, ()) if piece.kind == "base" else ()
        shape = _shape(_on_scale(layer.outline, scale), _all_on_scale(windows, scale))
        yield Surface(ride, (piece.name, layer.section), shape, shape)
        return
    holes = [_carried(layer, shares(each, piece.width, piece.height), scale) for each in piece.windows]
    if len({ride.body for ride in of_copy}) > 1:
        for section, ride, outline in zip(piece.sections, of_copy, part_outlines(piece), strict=True):
            ring = _carried(layer, shares(outline, piece.width, piece.height), scale)
            shape = _shape(ring, holes)
            yield Surface(ride, (piece.name, section.name), shape, shape)
        return
    sure = widest = _shape(_on_scale(layer.outline, scale), holes)
    if _is_special(layer):
        sure = _shape(_carried(layer, sure_shares(piece), scale), holes)
        widest = _shape(_carried(layer, widest_shares(piece), scale), holes)
    yield Surface(of_copy[0], (piece.name,), sure, widest)


def _shape(outline: Ring, holes: Sequence[Ring]) -> Shape:
    prepared = region(outline)
    if not holes:
        return Shape(prepared.box, prepared.pieces)
    cut = [part for hole in holes for part in region(hole).pieces]
    return Shape(prepared.box, tuple(without(prepared.pieces, cut)))


def _all_on_scale(outlines: Sequence[Outline], scale: int) -> list[Ring]:
    return [_on_scale(outline, scale) for outline in outlines]


def _on_scale(outline: Outline, scale: int) -> list[tuple[Number, Number]]:
    return [(_scaled(x, scale), _scaled(y, scale)) for x, y in outline]


def _scaled(number: Fraction, scale: int) -> Number:
    """Give a number on the pile's scale, as a whole one where it is: those compare faster."""
    times, rest = divmod(scale, number.denominator)
    return number.numerator * times if not rest else number * scale


def _carried(layer: Layer, parts: Shares, scale: int) -> list[tuple[Number, Number]]:
    """Give an outline, told in parts of a layer's frame, where the layer has it."""
    (x, y), (ax, ay), _, (bx, by) = _on_scale(layer.outline, scale)
    return [
        (
            x + _share((ax - x) * right + (bx - x) * low, parts.of),
            y + _share((ay - y) * right + (by - y) * low, parts.of),
        )
        for right, low in parts.corners
    ]


def _share(number: Number, of: int) -> Number:
    whole, rest = divmod(number, of)
    return Fraction(number) / of if rest else whole


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
