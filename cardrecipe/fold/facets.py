"""What the layer search is given: sections and scores where they lie once the base is folded."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from cardrecipe.fold.geometry import Outline, Point

VALLEY = "valley"
MOUNTAIN = "mountain"
FLAT = "flat"


class Facet(NamedTuple):
    """A section where it comes to lie after folding."""

    name: str
    outline: Outline  # in the folded plane
    inside_up: bool  # True: the inside of the paper faces the viewer


class Crease(NamedTuple):
    """A score after folding; it joins two different facets along one segment.

    Valley brings inside to inside, mountain outside to outside; flat is a score not folded.
    """

    first: int  # the facets' places in the sequence that goes with the creases
    second: int
    start: Point  # in the folded plane
    end: Point
    fold: str  # VALLEY, MOUNTAIN or FLAT
    name: str = ""  # for messages: "score 2"


def is_second_above(facets: Sequence[Facet], crease: Crease) -> bool:
    """Tell which facet a folded crease puts on top."""
    return (crease.fold == VALLEY) == facets[crease.first].inside_up


def label(crease: Crease, index: int) -> str:
    """Give the crease's name, or "score N" counted from 1 where it has none."""
    return crease.name or f"score {index + 1}"
