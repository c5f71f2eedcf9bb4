"""The faces of a pile that glue may meet, as one looks down on them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import NamedTuple

from cardrecipe.fold.bodies import Body, Ride
from cardrecipe.fold.geometry import Box, Ring
from cardrecipe.fold.nearby import Nearby


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


class Surfaces:
    """The surfaces of each layer, bottom first, found by where they lie."""

    def __init__(self, of_layers: Sequence[Sequence[Surface]]) -> None:
        self._downward = [each for of_layer in reversed(of_layers) for each in of_layer]
        self._beneath = [0] * len(of_layers)  # of each layer, the place of the first surface beneath it
        place = 0
        for layer in reversed(range(len(of_layers))):
            place += len(of_layers[layer])
            self._beneath[layer] = place

    def beneath(self, layer: int, box: Box) -> Iterator[tuple[int, Surface]]:
        """Give what may share a point with a box beneath a layer, the nearest first, each with its place
        in the whole pile seen from above."""
        first = self._beneath[layer]
        return ((at, self._downward[at]) for at in self._by_place.near(box) if at >= first)

    def deepest(self, body: Body) -> int:
        """Give the place of a body's last surface seen from above; -1 where it has none."""
        return self._deepest.get(body, -1)

    @cached_property
    def _deepest(self) -> dict[Body, int]:
        return {each.ride.body: at for at, each in enumerate(self._downward)}

    @cached_property
    def _by_place(self) -> Nearby:
        return Nearby([each.widest.box for each in self._downward])
