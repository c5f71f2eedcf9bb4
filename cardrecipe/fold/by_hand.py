"""Folds a card the way a hand does it, the outermost score first, and sees how the layers come to
lie.

Each turn lays everything beyond a score as one packet on the rest, which is still flat. An order
that comes about in this way can be folded; whether paper got in its way is for the layer rules to
say.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.area import overlap, region
from cardrecipe.fold.cover import uncovered
from cardrecipe.fold.facets import Facet
from cardrecipe.fold.folded import FoldAction, Outline
from cardrecipe.fold.geometry import signed_area
from cardrecipe.fold.joints import Branch, subtree
from cardrecipe.fold.layers import LayerOrder

Turn = tuple[Branch, ...]  # scores folded in one go


class Landing(NamedTuple):
    """A packet of sections, and the pile it is laid on, topmost last."""

    packet: tuple[int, ...]
    pile: tuple[int, ...]
    facets: tuple[Facet, ...] = ()  # as they lie then; () where they lie as in the end


class FoldedByHand(NamedTuple):
    """What a sequence of turns leads to: all sections from the bottom to the top, and the turns."""

    stack: tuple[int, ...]  # () where the order was there before the turns
    turns: tuple[Turn, ...]
    landings: tuple[tuple[Landing, ...], ...]  # for each turn what it comes to lie on


def fold_by_hand(
    facets: Sequence[Facet],
    branches: Sequence[Branch],
    size: tuple[Fraction, Fraction],
    *,
    later_first: bool,
) -> FoldedByHand:
    """Fold every score once, outermost first; `facets` lie as they will in the end.

    Of scores equally far from the root the later goes first, or the earlier; what goes first comes
    to lie beneath. The same numbers from both ends, in the same direction, go in one turn.
    """
    packets = [_Packet((), (index,), ()) for index in range(len(facets))]
    turns: list[Turn] = []
    landings: list[tuple[Landing, ...]] = []
    for turn in _turns(facets, branches, size, later_first):
        turns.append(turn)
        landings.append(tuple(_landing(packets, branch) for branch in turn))
        for branch in turn:
            packets[branch.parent] = _laid(packets, branch)
    root = branches[0].parent if branches else 0
    return FoldedByHand(packets[root].sheets(), tuple(turns), tuple(landings))


def turns_from(order: LayerOrder, branches: Sequence[Branch]) -> FoldedByHand:
    """Give turns that lead to an order which does not come about outermost first.

    What lies between the two sections of a score has to be there before the score is closed. Where
    such wishes go round in a circle, the outermost score goes first.
    """
    waiting = sorted(branches, key=lambda branch: (-branch.depth, -branch.child))
    before = {branch.child: _needed(order, branches, branch) for branch in waiting}
    turns: list[Turn] = []
    while waiting:
        left = {branch.child for branch in waiting}
        free = [branch for branch in waiting if not before[branch.child] & left]
        chosen = (free or waiting)[0]
        waiting.remove(chosen)
        turns.append((chosen,))
    landings = tuple((Landing((turn[0].child,), (turn[0].parent,)),) for turn in turns)
    return FoldedByHand((), tuple(turns), landings)


def fold_actions(
    base: str, facets: Sequence[Facet], branches: Sequence[Branch], folded: FoldedByHand
) -> tuple[FoldAction, ...]:
    """Give the turns with names, and the angle of every score after each."""
    angles = dict.fromkeys(sorted({branch.joint.score.number for branch in branches}), Fraction(0))
    depths = {branch.child: branch.depth for branch in branches}
    actions: list[FoldAction] = []
    for turn, landing in zip(folded.turns, folded.landings, strict=True):
        numbers = tuple(sorted({branch.joint.score.number for branch in turn}))
        angles |= dict.fromkeys(numbers, Fraction(180))
        moved = [member for branch in turn for member in subtree(branches, branch.child)]
        moved.sort(key=lambda member: (-depths[member], member))
        actions.append(
            FoldAction(
                base,
                numbers,
                turn[0].joint.score.direction,
                tuple(facets[member].name for member in moved),
                tuple(facets[member].name for member in _touched(facets, landing)),
                tuple(angles.items()),
            )
        )
    return tuple(actions)


def _needed(order: LayerOrder, branches: Sequence[Branch], closing: Branch) -> set[int]:
    """Give the children of the scores to be folded before one is closed over what lies in it."""
    beyond = subtree(branches, closing.child)
    chains = {closing.parent: _chain(branches, closing.parent)}
    needed: set[int] = set()
    for layer in range(len(order.facets)):
        under = order.above(closing.child, layer)
        if under is not None and under == order.above(layer, closing.parent):
            start = closing.child if layer in beyond else closing.parent
            chain = chains.setdefault(start, _chain(branches, start))
            needed |= chain ^ _chain(branches, layer)
    return needed


def _chain(branches: Sequence[Branch], section: int) -> set[int]:
    """Give the children of the joints between a section and the root."""
    parents = {branch.child: branch.parent for branch in branches}
    chain: set[int] = set()
    while section in parents:
        chain.add(section)
        section = parents[section]
    return chain


class _Packet(NamedTuple):
    """What lies behind a part of the flat sheet, that part, and what lies on it; bottom first."""

    below: tuple[int, ...]
    plane: tuple[int, ...]
    above: tuple[int, ...]

    def sheets(self) -> tuple[int, ...]:
        return self.below + self.plane + self.above


def _laid(packets: Sequence[_Packet], branch: Branch) -> _Packet:
    """Lay the child's packet on its parent's, turned over."""
    parent, turned = packets[branch.parent], packets[branch.child].sheets()[::-1]
    if branch.joint.score.direction == "valley":
        return parent._replace(above=parent.above + turned)
    return parent._replace(below=turned + parent.below)


def _turns(
    facets: Sequence[Facet],
    branches: Sequence[Branch],
    size: tuple[Fraction, Fraction],
    later_first: bool,
) -> list[Turn]:
    sign = -1 if later_first else 1
    waiting = sorted(branches, key=lambda branch: (-branch.depth, sign * branch.child))
    turns: list[Turn] = []
    while waiting:
        first, *waiting = waiting
        partner = next(
            (
                other
                for other in waiting
                if are_mirrored(first, other, size)
                and not get_in_the_way(facets, branches, first, other)
            ),
            None,
        )
        waiting = [branch for branch in waiting if branch is not partner]
        turns.append((first, partner) if partner else (first,))
    return turns


def are_mirrored(one: Branch, two: Branch, size: tuple[Fraction, Fraction]) -> bool:
    """Tell whether two scores stand at the same number from both ends, in the same direction."""
    first, second = one.joint.score, two.joint.score
    whole = size[0] if first.axis == "x" else size[1]
    return (
        (first.axis, first.direction, one.depth) == (second.axis, second.direction, two.depth)
        and first.at + second.at == whole
        and first.number != second.number
    )


def get_in_the_way(facets: Sequence[Facet], branches: Sequence[Branch], one: Branch, two: Branch) -> bool:
    """Tell whether two packets on the same section overlap, so that one has to go first."""
    if one.parent != two.parent:
        return False
    first, second = (
        [region(facets[member].outline) for member in subtree(branches, branch.child)]
        for branch in (one, two)
    )
    return any(overlap(left, right) for left in first for right in second)


def _landing(packets: Sequence[_Packet], branch: Branch) -> Landing:
    """Give what a packet is about to be laid on, the side that it meets last."""
    parent = packets[branch.parent]
    if branch.joint.score.direction == "valley":
        return Landing(packets[branch.child].sheets(), parent.plane + parent.above)
    return Landing(packets[branch.child].sheets(), (parent.below + parent.plane)[::-1])


def _touched(facets: Sequence[Facet], landings: Sequence[Landing]) -> list[int]:
    """Give the sections that packets come to lie against, the one touched most first."""
    touched: dict[int, Fraction] = {}
    for packet, pile, then in landings:
        facets = then or facets
        outlines = [facets[member].outline for member in packet]
        for place, member in enumerate(pile):
            over = [facets[other].outline for other in pile[place + 1 :]]
            area = _shared_area(uncovered(facets[member].outline, over), outlines)
            touched[member] = touched.get(member, Fraction(0)) + area
    return sorted(
        (member for member, area in touched.items() if area),
        key=lambda member: (-touched[member], member),
    )


def _shared_area(parts: Sequence[Outline], covers: Sequence[Outline]) -> Fraction:
    """Give how much of some parts lies under any of the covers."""
    rest = [piece for part in parts for piece in uncovered(part, covers)]
    return Fraction(0) if tuple(rest) == tuple(parts) else _area(parts) - _area(rest)


def _area(outlines: Sequence[Outline]) -> Fraction:
    return sum((abs(signed_area(outline)) for outline in outlines), Fraction(0))
