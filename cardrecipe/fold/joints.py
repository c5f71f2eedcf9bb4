"""Finds which sections of a flat piece each score joins, and a tree of scores that reaches them
all.

A score may join several pairs of sections (where another score or a slit crosses it): each pair
is one joint. So the sections with their joints are a planar subdivision, whatever way the scores
run.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.geometry import STAY, ExactPoint, Motion, Point, double_area, turn
from cardrecipe.solve.sized import SizedScore, SizedSection


class Joint(NamedTuple):
    """Two sections (their places in the piece) that meet along a part of a score."""

    score: SizedScore
    first: int
    second: int
    start: Point  # on the flat piece
    end: Point


class Branch(NamedTuple):
    """One joint of the tree: `child` hangs on `parent`, which is nearer to the root."""

    joint: Joint
    parent: int
    child: int
    depth: int  # joints between the child and the root


def joints(sections: Sequence[SizedSection], scores: Sequence[SizedScore]) -> tuple[Joint, ...]:
    """Give the joints of a piece in the order of its scores; slits join nothing."""
    scale = _common_denominator(sections, scores)
    rings = [_whole(section.outline, scale) for section in sections]
    folds = [score for score in scores if score.direction != "slit"]
    return tuple(joint for score in folds for joint in _along(score, rings, scale))


def tree(count: int, every: Sequence[Joint], root: int) -> tuple[Branch, ...]:
    """Give the joints that reach every section from the root, nearest first, in a fixed order.

    Sections that no joint reaches (cut off by slits) are left out.
    """
    branches: list[Branch] = []
    depths = {root: 0}
    waiting = [root]
    for parent in waiting:
        for joint in every:
            if parent not in (joint.first, joint.second):
                continue
            child = joint.second if parent == joint.first else joint.first
            if child not in depths and len(depths) < count:
                depths[child] = depths[parent] + 1
                branches.append(Branch(joint, parent, child, depths[child]))
                waiting.append(child)
    return tuple(branches)


def fold_motions(count: int, branches: Sequence[Branch], is_folded: Callable[[Joint], bool]) -> list[Motion]:
    """Give each section's motion from the flat piece to the folded one; the root stays."""
    motions = [STAY] * count
    for branch in branches:
        motions[branch.child] = _hinged(motions[branch.parent], branch.joint, is_folded)
    return motions


def disagreement(
    every: Sequence[Joint],
    branches: Sequence[Branch],
    motions: Sequence[Motion],
    is_folded: Callable[[Joint], bool],
) -> Joint | None:
    """Give a joint that would be torn: the motions round a closed ring of sections must agree."""
    in_tree = [branch.joint for branch in branches]
    for joint in every:
        if joint not in in_tree and motions[joint.second] != _hinged(motions[joint.first], joint, is_folded):
            return joint
    return None


def subtree(branches: Sequence[Branch], top: int) -> tuple[int, ...]:
    """Give a section and all that hang on it, nearest first."""
    members = [top]
    for branch in branches:
        if branch.parent in members:
            members.append(branch.child)
    return tuple(members)


def _hinged(motion: Motion, joint: Joint, is_folded: Callable[[Joint], bool]) -> Motion:
    if not is_folded(joint):
        return motion
    return motion.after(Motion.reflection(joint.start, joint.end))


class _Edge(NamedTuple):
    section: int
    low: int
    high: int
    is_left: bool  # the section lies left of the score


def _along(score: SizedScore, rings: Sequence[tuple[tuple[int, int], ...]], scale: int) -> Iterator[Joint]:
    """Give the joints of one score: where a section on its left meets one on its right."""
    start, end = _whole((score.start, score.end), scale)
    axis = 0 if start[0] != end[0] else 1
    edges = [edge for number, ring in enumerate(rings) for edge in _edges(number, ring, start, end, axis)]
    for first in edges:
        for second in edges:
            low = max(first.low, second.low, min(start[axis], end[axis]))
            high = min(first.high, second.high, max(start[axis], end[axis]))
            if first.section < second.section and first.is_left != second.is_left and low < high:
                ends = (_at(score, axis, Fraction(stop, scale)) for stop in (low, high))
                yield Joint(score, first.section, second.section, *ends)


def _edges(
    number: int,
    ring: Sequence[tuple[int, int]],
    start: ExactPoint,
    end: ExactPoint,
    axis: int,
) -> Iterator[_Edge]:
    """Give the edges of a section that lie on the line of a score."""
    offsets = [turn(start, end, corner) for corner in ring]
    for index, corner in enumerate(ring):
        before = ring[index - 1]
        if offsets[index] == offsets[index - 1] == 0 and corner != before:
            along = (corner[axis] > before[axis]) == (end[axis] > start[axis])
            low, high = sorted((before[axis], corner[axis]))
            yield _Edge(number, low, high, along == (double_area(ring) > 0))


def _at(score: SizedScore, axis: int, stop: Fraction) -> Point:
    """Give the point of a score's line whose x (axis 0) or y (axis 1) is `stop`."""
    (x, y), (end_x, end_y) = score.start, score.end
    if axis == 1 and x == end_x:
        return (x, stop)
    if axis == 0 and y == end_y:
        return (stop, y)
    share = (stop - x) / (end_x - x) if axis == 0 else (stop - y) / (end_y - y)
    return (x + share * (end_x - x), y + share * (end_y - y))


def _common_denominator(sections: Sequence[SizedSection], scores: Sequence[SizedScore]) -> int:
    """Give the scale on which every point is whole: whole numbers compare ten times faster."""
    points = [corner for section in sections for corner in section.outline]
    points += [end for score in scores for end in (score.start, score.end)]
    return math.lcm(*{number.denominator for point in points for number in point})


def _whole(outline: Sequence[Point], scale: int) -> tuple[tuple[int, int], ...]:
    return tuple(
        (x.numerator * (scale // x.denominator), y.numerator * (scale // y.denominator)) for x, y in outline
    )
