"""Turns folded facets and creases into rules over one question per overlapping pair: who is above?

Every answer is a literal: `2 * pair` says that the pair's lower-numbered facet is above, and the
odd number after it says the opposite. The rules are those of flat-folded states as Justin (1994,
"Towards a mathematical theory of origami") and Arkin et al. (2004, arXiv cs/0011026) describe them,
worded here from memory; the tests compare their consequences with published counts.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from cardrecipe.fold.area import Region, all_three_overlap, overlap, passes_through, region
from cardrecipe.fold.facets import FLAT, MOUNTAIN, VALLEY, Crease, Facet, is_second_above, label
from cardrecipe.fold.geometry import ExactPoint, Point, shared_length, side_at_segment


class Rule(NamedTuple):
    """One demand on some literals, with what it comes from."""

    literals: tuple[int, ...]
    facets: tuple[int, ...]
    creases: tuple[int, ...] = ()  # the rule falls when one of them is cut through


class Rules(NamedTuple):
    """All that an order of the layers must keep to."""

    pairs: tuple[tuple[int, int], ...]  # overlapping facets, lower number first
    crossings: tuple[Rule, ...]  # an even number is true: one alone is false, two are equal
    circles: tuple[Rule, ...]  # three literals, neither all true nor all false


def only(rules: Rules, creases: frozenset[int]) -> Rules:
    """Give the rules that are left when the paper is cut through at all other creases."""
    kept = tuple(rule for rule in rules.crossings if creases.issuperset(rule.creases))
    return Rules(rules.pairs, kept, rules.circles)


def layer_rules(facets: Sequence[Facet], creases: Sequence[Crease]) -> Rules:
    """Give the rules for an order of the layers.

    ValueError if an outline is not a simple polygon, or if a crease does not lie on the edges of
    two different facets: facing opposite ways on one side of it when folded, facing the same way
    on both sides when flat.
    """
    scale = _common_denominator(facets, creases)
    regions = [region([_whole(point, scale) for point in facet.outline]) for facet in facets]
    hinges = [_hinge(index, crease, facets, regions, scale) for index, crease in enumerate(creases)]
    pairs = tuple(
        (one, two)
        for (one, first), (two, second) in combinations(enumerate(regions), 2)
        if overlap(first, second)
    )
    literals = _literals(pairs)
    crossings = (
        *_directions(facets, creases, literals),
        *_layers_at_creases(hinges, regions, literals),
        *_creases_at_creases(hinges, literals),
    )
    return Rules(pairs, crossings, tuple(_circles(regions, literals)))


class _Hinge(NamedTuple):
    """A crease on the whole-number lattice, with the facet found on each side of it."""

    start: ExactPoint
    end: ExactPoint
    left: tuple[int, ...]  # two facets on one side when folded, one on each when flat
    right: tuple[int, ...]


def _directions(
    facets: Sequence[Facet], creases: Sequence[Crease], literals: dict[tuple[int, int], int]
) -> Iterator[Rule]:
    """A folded crease says which of its two facets is above."""
    for index, crease in enumerate(creases):
        if crease.fold == FLAT:
            continue
        pair = (crease.first, crease.second)
        below = pair if is_second_above(facets, crease) else pair[::-1]
        yield Rule((literals[below],), pair, (index,))


def _layers_at_creases(
    hinges: Sequence[_Hinge], regions: Sequence[Region], literals: dict[tuple[int, int], int]
) -> Iterator[Rule]:
    """A layer that reaches across a crease lies above both facets of the crease or below both."""
    for index, hinge in enumerate(hinges):
        first, second = joined = hinge.left + hinge.right
        for layer, shape in enumerate(regions):
            if layer not in joined and passes_through(hinge.start, hinge.end, shape):
                sides = (literals[layer, first], literals[layer, second])
                yield Rule(sides, (layer, *joined), (index,))


def _creases_at_creases(hinges: Sequence[_Hinge], literals: dict[tuple[int, int], int]) -> Iterator[Rule]:
    """Creases on one line may be nested or apart, never interleaved.

    Two facets on one side meet two of the other crease: an even number of the four questions is
    answered "above". One folded and one flat: the flat one's facet there lies above both or below
    both. Both flat: the order on the left is the order on the right.
    """
    for (one, first), (two, second) in combinations(enumerate(hinges), 2):
        if not shared_length(first.start, first.end, second.start, second.end):
            continue
        met = [(a, b) for a in first.left for b in second.left]
        met += [(a, b) for a in first.right for b in second.right]
        if met and all(a != b for a, b in met):
            joined = (*first.left, *first.right, *second.left, *second.right)
            yield Rule(tuple(literals[pair] for pair in met), joined, (one, two))


def _circles(regions: Sequence[Region], literals: dict[tuple[int, int], int]) -> Iterator[Rule]:
    """Three layers over one area cannot lie each above the next in a circle."""
    every = range(len(regions))
    over_later = [
        {two: literals[one, two] for two in every[one + 1 :] if (one, two) in literals} for one in every
    ]
    for one, over in enumerate(over_later):
        for two, first in over.items():
            for three, second in over_later[two].items():
                if three in over and all_three_overlap(regions[one], regions[two], regions[three]):
                    yield Rule((first, second, over[three] ^ 1), (one, two, three))


def _hinge(
    index: int, crease: Crease, facets: Sequence[Facet], regions: Sequence[Region], scale: int
) -> _Hinge:
    """Find the facets on each side of a crease, always looked at in the same direction."""
    start, end = sorted((_whole(crease.start, scale), _whole(crease.end, scale)))
    sides = {
        facet: side_at_segment(regions[facet].outline, start, end) for facet in (crease.first, crease.second)
    }
    _refuse_misplaced(label(crease, index), crease, facets, list(sides.values()))
    left = tuple(facet for facet, side in sides.items() if side > 0)
    right = tuple(facet for facet, side in sides.items() if side < 0)
    return _Hinge(start, end, left, right)


def _refuse_misplaced(name: str, crease: Crease, facets: Sequence[Facet], sides: Sequence[int]) -> None:
    """Raise ValueError for a crease that the motions of the paper cannot have made."""
    if crease.fold not in (VALLEY, MOUNTAIN, FLAT):
        raise ValueError(f"{name}: a crease is valley, mountain or flat, not {crease.fold!r}")
    if len(sides) < 2 or 0 in sides:
        raise ValueError(f"{name} must lie on the edges of two different facets")
    is_flat = crease.fold == FLAT
    same_face = facets[crease.first].inside_up == facets[crease.second].inside_up
    if (sides[0] != sides[1]) != is_flat or same_face != is_flat:
        raise ValueError(f"{name} is {crease.fold}, but its facets do not lie so")


def _literals(pairs: Sequence[tuple[int, int]]) -> dict[tuple[int, int], int]:
    """Give for every ordered pair that overlaps the literal "the first is above the second"."""
    literals = {pair: 2 * number for number, pair in enumerate(pairs)}
    literals |= {pair[::-1]: 2 * number + 1 for number, pair in enumerate(pairs)}
    return literals


def _common_denominator(facets: Sequence[Facet], creases: Sequence[Crease]) -> int:
    """Give the scale on which every coordinate is whole: whole numbers compare ten times faster."""
    denominators = {number.denominator for facet in facets for xy in facet.outline for number in xy}
    ends = (point for crease in creases for point in (crease.start, crease.end))
    denominators |= {number.denominator for point in ends for number in point}
    return math.lcm(*denominators)


def _whole(point: Point, scale: int) -> tuple[int, int]:
    x, y = point
    return (x.numerator * (scale // x.denominator), y.numerator * (scale // y.denominator))
