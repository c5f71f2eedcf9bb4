"""Folds a flat base shut: where every section comes to lie, in which order, and how to get there.

A score is a reflection, carried from the root over a tree of scores; sections and scores may be of any
shape. What keeps a base from being one sheet that folds is said in one place, `unfoldable`.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from cardrecipe.fold.by_hand import FoldedByHand, fold_actions, fold_by_hand, turns_from
from cardrecipe.fold.cover import paper_round, seen_areas
from cardrecipe.fold.facets import FLAT, Crease, Facet
from cardrecipe.fold.folded import ClosedBase, FoldAction, Outline
from cardrecipe.fold.geometry import STAY, Box, Motion, bounding_box
from cardrecipe.fold.joints import (
    Branch,
    Joint,
    disagreement,
    fold_motions,
    joints,
    tree,
)
from cardrecipe.fold.layers import (
    MAX_SECTIONS,
    CannotTell,
    Circle,
    Collision,
    LayerOrder,
    find_order,
    order_by,
    without_circle,
)
from cardrecipe.fold.motions import mirrored, moved
from cardrecipe.fold.openings import moved_openings
from cardrecipe.fold.ring_folds import has_rings, ring_actions
from cardrecipe.fold.rules import Rules, layer_rules
from cardrecipe.solve.sized import Pose, SizedCard, SizedPiece, SizedScore, SizedSection

if TYPE_CHECKING:
    from cardrecipe.fold.in_turn import Jam

FOLDED = Fraction(180)


class FlatFold(NamedTuple):
    """A base folded flat, seen from the front: all that the later views and sums start from."""

    piece: SizedPiece
    sections: tuple[SizedSection, ...]
    joints: tuple[Joint, ...]
    branches: tuple[Branch, ...]
    root: int
    folded: frozenset[int]  # the numbers of the scores that are folded when it is closed
    motions: tuple[Motion, ...]  # of each section, from the flat base to the closed one
    width: Fraction
    height: Fraction
    order: LayerOrder
    levels: tuple[int, ...]  # 0 for a section that lies on nothing
    actions: tuple[FoldAction, ...]

    def is_flipped(self, section: int) -> bool:
        """Tell whether a section shows its outside to the front when the card is closed."""
        return self.motions[section].is_flipped()


class CannotFold(NamedTuple):
    """Why a base has no closed form. `torn` is a joint whose two sections would be pulled apart, `jam` a
    fold that cannot be made in the order in which the pose `closed` has it."""

    because: Collision | CannotTell | Circle | None
    facets: tuple[Facet, ...]
    creases: tuple[Crease, ...]
    joints: tuple[Joint, ...]
    torn: Joint | None = None
    jam: Jam | None = None


@lru_cache(maxsize=32)  # one compilation asks several times for the same base
def flat_fold(base: SizedPiece, pose: Pose | None = None) -> FlatFold | CannotFold:
    """Fold a base flat: every score, or those that the pose `closed` holds at 180 degrees.

    That pose tells the order of folding too: its last line closes last. A ring of sections has an order
    of its own. The root keeps its inside up: the section named `back`, else the largest, the last of
    equals.
    """
    sections = base.sections or (_whole_piece(base),)
    every = joints(sections, base.scores)
    if len(sections) > MAX_SECTIONS:
        return CannotFold(CannotTell(0), (), (), every)
    root = _root(sections)
    branches = tree(len(sections), every, root)
    folded = frozenset(_folded_numbers(base, pose))

    def is_folded(joint: Joint) -> bool:
        return joint.score.number in folded

    motions, box = _normalised(sections, fold_motions(len(sections), branches, is_folded))
    facets = tuple(
        Facet(section.name, moved(motion, section.outline), not motion.is_flipped())
        for section, motion in zip(sections, motions, strict=True)
    )
    creases = tuple(_crease(joint, motions[joint.first], is_folded(joint)) for joint in every)
    torn = disagreement(every, branches, motions, is_folded)
    if torn:
        return CannotFold(None, facets, creases, every, torn)
    if has_rings(every, branches):
        order = find_order(facets, creases)
        actions = ring_actions(base.name, sections, every, branches, root, is_folded)
    elif pose is None or not speaks_of(pose, base):
        order, by_hand = _order(base, facets, creases, branches)
        actions = fold_actions(base.name, facets, branches, by_hand)
    else:
        from cardrecipe.fold.in_turn import Jam, fold_in_turn  # only a written order needs it

        size, numbers = (base.width, base.height), _folded_numbers(base, pose)
        in_turn = fold_in_turn(sections, facets, branches, size, numbers)
        if isinstance(in_turn, Jam):
            return CannotFold(None, facets, creases, every, jam=in_turn)
        order = _as_order(facets, layer_rules(facets, creases), in_turn.stack)
        actions = fold_actions(base.name, facets, branches, in_turn)
    settled = without_circle(order)
    if not isinstance(settled, LayerOrder):
        return CannotFold(settled, facets, creases, every)
    return FlatFold(
        base,
        sections,
        every,
        branches,
        root,
        folded,
        motions,
        Fraction(box.right - box.left),
        Fraction(box.bottom - box.top),
        settled,
        levels_of(settled),
        actions,
    )


def closed_pose(card: SizedCard) -> Pose | None:
    """Give the recipe's own pose `closed`, or what its structures say of it together; None when every
    score is folded."""
    own = [pose for pose in card.poses if pose.name == "closed"]
    if len(own) < 2:
        return own[0] if own else None
    folds = tuple(held for pose in own for held in pose.folds)
    return own[0]._replace(folds=folds, spans=tuple(span for pose in own for span in pose.spans))


def speaks_of(pose: Pose | None, piece: SizedPiece) -> bool:
    """Tell whether a pose `closed` says how a piece is folded: by a line of it, or by having none at all,
    which leaves everything flat. Of what it does not speak every score is folded."""
    return pose is not None and (not pose.folds or any(name == piece.name for name, _, _ in pose.folds))


class Unfoldable(NamedTuple):
    """What keeps a base from being one sheet that folds: scores in vain, sections cut loose."""

    idle: tuple[SizedScore, ...]  # scores with the same section on both sides
    loose: tuple[SizedSection, ...]  # sections that no score joins to the root


def unfoldable(base: SizedPiece) -> Unfoldable | None:
    """Give the scores and sections that cannot take part in folding; None where all can."""
    sections = base.sections or (_whole_piece(base),)
    every = joints(sections, base.scores)
    used = {joint.score for joint in every}
    root = _root(sections)
    reached = {root, *(branch.child for branch in tree(len(sections), every, root))}
    idle = tuple(score for score in base.scores if score.direction != "slit" and score not in used)
    loose = tuple(section for at, section in enumerate(sections) if at not in reached)
    return Unfoldable(idle, loose) if idle or loose else None


def closed_base(flat: FlatFold) -> ClosedBase:
    """Give what is told about a closed base to everybody else."""
    front_to_back = sorted(range(len(flat.sections)), key=lambda each: (-flat.levels[each], each))
    return ClosedBase(
        flat.piece.name,
        flat.sections[flat.root].name,
        flat.width,
        flat.height,
        tuple(flat.sections[each].name for each in front_to_back),
        flat.actions,
        _visible(flat, front_to_back),
    )


def in_reach(card: SizedCard, base: ClosedBase) -> tuple[tuple[str, str, str, tuple[Outline, ...]], ...]:
    """Give a base's `visible` as it would be without windows: what shows only through one is seen, but
    nothing can be put there while the card is closed."""
    piece = card.piece(base.base)
    if not piece.windows:
        return base.visible
    uncut = flat_fold(piece._replace(windows=()), closed_pose(card))
    assert isinstance(uncut, FlatFold)  # windows change nothing about how a base folds
    return closed_base(uncut).visible


def _visible(
    flat: FlatFold, front_to_back: Sequence[int]
) -> tuple[tuple[str, str, str, tuple[Outline, ...]], ...]:
    """Give the areas that are seen, topmost section first; pieces and bands are not counted."""
    rows: list[tuple[str, str, str, tuple[Outline, ...]]] = []
    page = mirrored(flat.width)
    faces = ("outside", "inside")
    for name, turned, closed in (
        ("closed-front", STAY, front_to_back),
        ("closed-back", page, front_to_back[::-1]),
    ):
        outlines = [moved(turned, flat.order.facets[each].outline) for each in closed[::-1]]
        holes = [_holes(flat, each, turned.after(flat.motions[each])) for each in closed[::-1]]
        for at, areas in zip(closed, seen_areas(outlines, holes)[::-1], strict=True):
            side = faces[flat.is_flipped(at) == (name == "closed-back")]
            if areas:
                rows.append((name, flat.sections[at].name, side, areas))
    page = mirrored(flat.piece.width)
    sections = range(len(flat.sections))
    for view, side, way, order in (
        ("open-inside", "inside", STAY, sections),
        ("open-outside", "outside", page, sections[::-1]),
    ):
        for each in order:
            section = flat.sections[each]
            areas = paper_round(moved(way, section.outline), _holes(flat, each, way))
            rows.append((view, section.name, side, areas))
    return tuple(rows)


def _holes(flat: FlatFold, section: int, way: Motion) -> tuple[Outline, ...]:
    return moved_openings(way, flat.sections[section].outline, flat.piece.windows)


def _order(
    base: SizedPiece,
    facets: tuple[Facet, ...],
    creases: tuple[Crease, ...],
    branches: tuple[Branch, ...],
) -> tuple[LayerOrder | Collision | CannotTell, FoldedByHand]:
    """Choose an order: one that a hand makes, earlier sections in front, else any that there is."""
    rules = layer_rules(facets, creases)
    size = (base.width, base.height)
    for later_first in (True, False):
        by_hand = fold_by_hand(facets, branches, size, later_first=later_first)
        if _keeps(rules, by_hand.stack):
            return _as_order(facets, rules, by_hand.stack), by_hand
    order = order_by(rules, facets, creases)
    if isinstance(order, LayerOrder):
        by_hand = turns_from(order, branches)
    return order, by_hand


def _keeps(rules: Rules, stack: Sequence[int]) -> bool:
    """Tell whether a stack, bottom first, keeps the rules: no paper passed through paper."""
    heights = {section: height for height, section in enumerate(stack)}
    is_true: list[bool] = []
    for low, high in rules.pairs:
        is_true += [heights[low] > heights[high], heights[low] < heights[high]]
    return all(sum(is_true[literal] for literal in rule.literals) % 2 == 0 for rule in rules.crossings)


def _as_order(facets: tuple[Facet, ...], rules: Rules, stack: Sequence[int]) -> LayerOrder:
    heights = {section: height for height, section in enumerate(stack)}
    higher = (pair if heights[pair[0]] > heights[pair[1]] else pair[::-1] for pair in rules.pairs)
    return LayerOrder(facets, frozenset(higher))


def levels_of(order: LayerOrder) -> tuple[int, ...]:
    """Give each section's height in the stack: one more than the highest that it lies on; none of them lie in
    a circle."""
    levels: list[int] = []
    better = [0] * len(order.facets)
    while levels != better:
        levels = better[:]
        for above, below in order.higher:
            better[above] = max(better[above], better[below] + 1)
    return tuple(levels)


def _crease(joint: Joint, motion: Motion, is_folded: bool) -> Crease:
    fold = joint.score.direction if is_folded else FLAT
    ends = motion.apply(joint.start), motion.apply(joint.end)
    return Crease(joint.first, joint.second, *ends, fold, f"score {joint.score.number}")


def _normalised(
    sections: Sequence[SizedSection], motions: Sequence[Motion]
) -> tuple[tuple[Motion, ...], Box]:
    """Shift the folded sections so that the closed card has its left top at (0, 0)."""
    pairs = zip(sections, motions, strict=True)
    box = bounding_box([point for each, motion in pairs for point in moved(motion, each.outline)])
    shift = Motion.shift(-box.left, -box.top)
    return tuple(shift.after(motion) for motion in motions), box


def _root(sections: Sequence[SizedSection]) -> int:
    names = [section.name for section in sections]
    if "back" in names:
        return names.index("back")
    areas = [section.width * section.height for section in sections]
    return max(range(len(sections)), key=lambda index: (areas[index], index))


def _folded_numbers(base: SizedPiece, pose: Pose | None) -> list[int]:
    if pose is None or not speaks_of(pose, base):
        return [score.number for score in base.scores if score.direction != "slit"]
    return [number for name, number, angle in pose.folds if (name, angle) == (base.name, FOLDED)]


def _whole_piece(base: SizedPiece) -> SizedSection:
    """Give the one section of a piece that has no scores."""
    nil, width, height = Fraction(0), base.width, base.height
    ring = ((nil, nil), (width, nil), (width, height), (nil, height))
    return SizedSection(base.name, nil, nil, width, height, ring)
