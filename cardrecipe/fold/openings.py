"""The windows of a face: what is cut out of a section or a piece, where it lies.

Views, the card in space and what covers what all ask here, so a hole is the same hole everywhere.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from cardrecipe.fold.area import region
from cardrecipe.fold.clip import joined_rings, within, without
from cardrecipe.fold.folded import Outline
from cardrecipe.fold.geometry import Motion, Ring
from cardrecipe.fold.motions import moved


def openings(outline: Outline, windows: tuple[Outline, ...]) -> tuple[Outline, ...]:
    """Give the windows of a flat piece, or the parts of windows, that lie within an outline on it.

    The rings share no area, so that an even-odd fill leaves them open; windows that overlap are one
    opening. A window that already cuts into the outline from its edge is none.
    """
    return _openings(outline, windows) if windows else ()


def moved_openings(way: Motion, outline: Outline, windows: tuple[Outline, ...]) -> tuple[Outline, ...]:
    """Give the openings of an outline where a motion takes them."""
    return tuple(moved(way, ring) for ring in openings(outline, windows))


@lru_cache(maxsize=256)
def _openings(outline: Outline, windows: tuple[Outline, ...]) -> tuple[Outline, ...]:
    parts: list[Ring] = []
    for index, window in enumerate(windows):
        earlier = [part for other in windows[:index] for part in region(other).pieces]
        free = without(region(window).pieces, earlier)
        parts += [inner for cover in region(outline).pieces for inner in within(free, cover)]
    return tuple(tuple((Fraction(x), Fraction(y)) for x, y in ring) for ring in joined_rings(parts))
