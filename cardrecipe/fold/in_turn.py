"""The written order of the scores in the pose `closed` → the layers that come about when a sheet is folded
in that order, or the first fold that paper is in the way of.

Each turn lays all that lies beyond a score, with what was folded there before, outermost on the rest: what
is folded last closes last. Nothing is tucked in.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.area import overlap, region
from cardrecipe.fold.by_hand import FoldedByHand, Landing, Turn, are_mirrored, get_in_the_way
from cardrecipe.fold.clip import left_of
from cardrecipe.fold.facets import Facet
from cardrecipe.fold.geometry import Motion, Point, Ring, reflect, side_at_segment
from cardrecipe.fold.joints import Branch, fold_motions, subtree
from cardrecipe.fold.motions import moved
from cardrecipe.solve.sized import SizedSection


class Jam(NamedTuple):
    """A fold of the written order that cannot be made: `moving` would pass through `obstacle`."""

    number: int  # of the score
    moving: int
    obstacle: int
    made: tuple[int, ...]  # the scores that are folded by then


def fold_in_turn(
    sections: Sequence[SizedSection],
    facets: Sequence[Facet],
    branches: Sequence[Branch],
    size: tuple[Fraction, Fraction],
    numbers: Sequence[int],
) -> FoldedByHand | Jam:
    """Fold the scores one after the other; neighbours in the list that are the same number from both ends
    go in one turn where it makes no difference."""
    stack = list(range(len(sections)))
    made: list[int] = []
    turns = list(_turns(facets, branches, size, numbers))
    landings: list[tuple[Landing, ...]] = []
    for turn in turns:
        motions, lying = _lying(sections, branches, made)
        landed: list[Landing] = []
        for branch in turn:
            packet = subtree(branches, branch.child)
            way = motions[branch.parent]
            ends = way.apply(branch.joint.start), way.apply(branch.joint.end)
            jam = _jam(lying, stack, branch, packet, ends)
            if jam is not None:
                return Jam(branch.joint.score.number, *jam, tuple(made))
            stack, landing = _laid(lying, stack, branch, packet)
            landed.append(landing)
        made += dict.fromkeys(branch.joint.score.number for branch in turn)
        _, then = _lying(sections, branches, made)
        landings.append(tuple(each._replace(facets=then) for each in landed))
    return FoldedByHand(tuple(stack), tuple(turns), tuple(landings))


def _lying(
    sections: Sequence[SizedSection], branches: Sequence[Branch], made: Collection[int]
) -> tuple[list[Motion], tuple[Facet, ...]]:
    """Give where the sections lie when some scores are folded."""
    motions = fold_motions(len(sections), branches, lambda joint: joint.score.number in made)
    return motions, tuple(
        Facet(section.name, moved(motion, section.outline), not motion.is_flipped())
        for section, motion in zip(sections, motions, strict=True)
    )


def _goes_up(lying: Sequence[Facet], branch: Branch) -> bool:
    return (branch.joint.score.direction == "valley") == lying[branch.parent].inside_up


def _jam(
    lying: Sequence[Facet],
    stack: Sequence[int],
    branch: Branch,
    packet: Collection[int],
    ends: tuple[Point, Point],
) -> tuple[int, int] | None:
    """Give a section of the packet and one that is in its way: on it where it swings up, beneath it where
    it reaches back beyond the score and so swings down."""
    start, end = ends if side_at_segment(lying[branch.child].outline, *ends) > 0 else ends[::-1]
    places = {each: height for height, each in enumerate(stack)}
    goes_up = _goes_up(lying, branch)
    shapes = [region(each.outline).pieces for each in lying]
    for moving in packet:
        own = [part for part in (left_of(start, end, each) for each in shapes[moving]) if part]
        back = [part for part in (left_of(end, start, each) for each in shapes[moving]) if part]
        landed = [[reflect(point, start, end) for point in part][::-1] for part in back]
        for other in stack:
            is_outward = (places[other] > places[moving]) == goes_up
            if other not in packet and (
                _meet(own if is_outward else back, shapes[other]) or _meet(landed, shapes[other])
            ):
                return moving, other
    return None


def _meet(parts: Sequence[Ring], others: Sequence[Ring]) -> bool:
    return any(overlap(region(part), region(other)) for part in parts for other in others)


def _laid(
    lying: Sequence[Facet], stack: Sequence[int], branch: Branch, packet: Collection[int]
) -> tuple[list[int], Landing]:
    """Lay the packet, turned over, outermost on the rest."""
    rest = [each for each in stack if each not in packet]
    turned = [each for each in stack if each in packet][::-1]
    if _goes_up(lying, branch):
        return [*rest, *turned], Landing(tuple(turned), tuple(rest))
    return [*turned, *rest], Landing(tuple(turned), tuple(rest[::-1]))


def _turns(
    facets: Sequence[Facet],
    branches: Sequence[Branch],
    size: tuple[Fraction, Fraction],
    numbers: Sequence[int],
) -> Iterator[Turn]:
    waiting = [turn for turn in (_of_number(branches, each) for each in numbers) if turn]
    while waiting:
        first, *waiting = waiting
        if waiting and len(first) == len(waiting[0]) == 1:
            (one,), (two,) = first, waiting[0]
            if are_mirrored(one, two, size) and not get_in_the_way(facets, branches, one, two):
                first, *waiting = [(one, two), *waiting[1:]]
        yield first


def _of_number(branches: Sequence[Branch], number: int) -> Turn:
    return tuple(branch for branch in branches if branch.joint.score.number == number)
