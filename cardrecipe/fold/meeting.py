"""Whether two sections of a card that is held in space lie against each other, so that they can be glued."""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction

from cardrecipe.fold.area import overlap, region
from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.geometry import double_area
from cardrecipe.fold.linked_card import shown_card
from cardrecipe.fold.sheets import Weld
from cardrecipe.fold.vectors import Held, Vector, dot, minus
from cardrecipe.solve.sized import SizedSection

# Two faces count as one where they are no further apart than a fold takes of the paper, in parts of the
# longer of the two: a doubled wall lies that far inside.
APART = 1 / 8
PARALLEL = math.cos(math.radians(1))
GRID = 1000  # places in the common plane are rounded to this part of the unit


def meet_in_space(shut: Assembly, angles: Mapping[int, Fraction], weld: Weld) -> bool:
    """Tell whether the two sides of a weld are parallel, close to each other, and overlap in a pose."""
    poses = shown_card(shut, angles, {}).poses
    one, two = poses[weld.facet], poses[weld.host]
    if abs(dot(one.normal, two.normal)) < PARALLEL:
        return False
    sections = shut.sections[weld.facet], shut.sections[weld.host]
    size = float(max(max(each.width, each.height) for each in sections))
    first, second = (_corners(pose, section) for pose, section in zip((one, two), sections, strict=True))
    if max(abs(dot(minus(point, second[0]), two.normal)) for point in first) > APART * size:
        return False
    rings = [_in_plane(two, corners) for corners in (first, second)]
    if not all(map(double_area, rings)):
        return False  # narrower than the places are told apart: nobody could hold it
    return overlap(*map(region, rings))


def _corners(pose: Held, section: SizedSection) -> list[Vector]:
    return [pose.at((float(x), float(y))) for x, y in section.outline]


def _in_plane(pose: Held, points: list[Vector]) -> tuple[tuple[Fraction, Fraction], ...]:
    offsets = [minus(point, pose.origin) for point in points]
    return tuple((_rounded(dot(each, pose.right)), _rounded(dot(each, pose.down))) for each in offsets)


def _rounded(number: float) -> Fraction:
    return Fraction(round(number * GRID), GRID)
