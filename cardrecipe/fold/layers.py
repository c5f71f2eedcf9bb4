"""Finds which section lies above which once a card is folded flat, or what is in the way.

Paper cannot pass through paper: from that, and from the direction of each score, follow rules for
every pair of sections that overlap (`rules`), and a search finds the orders that keep them
(`search`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from cardrecipe.fold.area import contains
from cardrecipe.fold.facets import Crease, Facet, label
from cardrecipe.fold.geometry import ExactPoint
from cardrecipe.fold.rules import Rule, Rules, layer_rules, only
from cardrecipe.fold.search import Answers, Circles, DeadEnd, circles_of, search

__all__ = [
    "MAX_SECTIONS",
    "ROUNDS",
    "CannotTell",
    "Circle",
    "Collision",
    "Crease",
    "Facet",
    "LayerOrder",
    "all_orders",
    "collision_sentence",
    "find_order",
    "order_by",
    "order_if_any",
    "without_circle",
]

# Measured on 540 strips of 20 to 40 sections made to be hard (random crimps, then up to two scores
# turned over): half needed 9 rounds, 99 in 100 under 1,500, the worst 10,042 and 1.3 s. Some limit
# must be: the general question is NP-hard (Bern and Hayes 1996, from memory).
ROUNDS = 20_000
# Of a base with all that is folded with it: each three that lie over each other are a rule, so that the rules
# grow with the third power of their number.
MAX_SECTIONS = 120


class Circle(NamedTuple):
    """Facets each of which lies over the next, and the last over the first."""

    facets: tuple[int, ...]


class LayerOrder(NamedTuple):
    """One way in which the sections can lie on each other, seen by the viewer from above."""

    facets: tuple[Facet, ...]
    higher: frozenset[tuple[int, int]]  # (i, j): facets i and j overlap and i is above

    def above(self, first: int, second: int) -> bool | None:
        """Tell whether one facet lies above another; None if they do not overlap."""
        if (first, second) in self.higher:
            return True
        return False if (second, first) in self.higher else None

    def circle(self) -> Circle | None:
        """Give facets that lie in a circle, each over the next: no three of them over one place, so that no
        rule of paper forbids it. None where every facet has a height."""
        below: dict[int, list[int]] = {}
        for upper, lower in sorted(self.higher):
            below.setdefault(upper, []).append(lower)
        free = -1  # how many were left in the round before
        while free != len(below):
            free = len(below)
            held = {upper: [at for at in lower if at in below] for upper, lower in below.items()}
            below = {upper: lower for upper, lower in held.items() if lower}
        if not below:
            return None
        trail = [min(below)]
        while trail[-1] not in trail[:-1]:
            trail.append(below[trail[-1]][0])
        return Circle(tuple(trail[trail.index(trail[-1]) : -1]))

    def stack(self, members: Sequence[int]) -> tuple[int, ...]:
        """Sort facets that all cover one place from top to bottom; ValueError if two do not."""
        over = dict.fromkeys(members, 0)
        for first, second in combinations(over, 2):
            is_first_above = self.above(first, second)
            if is_first_above is None:
                names = f"{self.facets[first].name} and {self.facets[second].name}"
                raise ValueError(f"{names} do not overlap")
            over[second if is_first_above else first] += 1
        return tuple(sorted(over, key=over.__getitem__))

    def stack_at(self, point: ExactPoint) -> tuple[int, ...]:
        """Give the facets that have a point of the folded plane inside them, from top to bottom."""
        return self.stack(
            [index for index, facet in enumerate(self.facets) if contains(facet.outline, point)]
        )


def without_circle(
    order: LayerOrder | Collision | CannotTell,
) -> LayerOrder | Circle | Collision | CannotTell:
    """Give an order in which every facet has a height; the circle where some lie in one."""
    return order.circle() or order if isinstance(order, LayerOrder) else order


class Collision(NamedTuple):
    """Why no order exists: these creases cannot all be folded as they are.

    With any one of them cut through, the rest could lie flat, if `is_least`; a search that met its
    limit leaves a crease in that might have gone.
    """

    moving: int  # this facet
    obstacle: int  # would have to pass through this one
    crease: int  # at this crease, or, where layers lie in a circle, on account of it; -1: glue alone
    facets: tuple[int, ...]  # all that take part
    creases: tuple[int, ...]
    is_least: bool


class CannotTell(NamedTuple):
    """The search met its limit of rounds: an order may exist or not."""

    rounds: int


def find_order(
    facets: Sequence[Facet],
    creases: Sequence[Crease],
    *,
    prefer_first_on_top: bool = True,
    limit: int = ROUNDS,
) -> LayerOrder | Collision | CannotTell:
    """Find an order of the layers, always the same one, or what makes it impossible.

    Where the creases leave a choice, each facet goes under the earlier ones, as far down as it may
    (or above them, the other way). Openings in a facet are not known here: a layer that lies inside
    one counts as being under or over paper. ValueError as for `layer_rules`.
    """
    rules = layer_rules(facets, creases)
    return order_by(rules, facets, creases, prefer_first_on_top=prefer_first_on_top, limit=limit)


def order_by(
    rules: Rules,
    facets: Sequence[Facet],
    creases: Sequence[Crease],
    *,
    prefer_first_on_top: bool = True,
    limit: int = ROUNDS,
    circles: Circles | None = None,
) -> LayerOrder | Collision | CannotTell:
    """Give the same as `find_order` for rules that have been made before, those of glue included.

    `circles` are those of the rules, where they have been worked out before.
    """
    circles = circles_of(rules) if circles is None else circles
    outcome = next(search(rules, first_on_top=prefer_first_on_top, limit=limit, circles=circles))
    if isinstance(outcome, Answers):
        return _layer_order(facets, rules, outcome)
    if isinstance(outcome, DeadEnd):
        return _collision(creases, rules, circles, outcome, limit)
    return CannotTell(outcome.rounds)


def order_if_any(rules: Rules, facets: Sequence[Facet], circles: Circles) -> LayerOrder | None:
    """Give the order that `order_by` gives; None where there is none, and nobody asks why."""
    outcome = next(search(rules, limit=ROUNDS, circles=circles))
    return _layer_order(facets, rules, outcome) if isinstance(outcome, Answers) else None


def all_orders(facets: Sequence[Facet], creases: Sequence[Crease]) -> Iterator[LayerOrder]:
    """Give every order of the layers once; there can be exponentially many.

    ValueError as for `layer_rules`.
    """
    rules = layer_rules(facets, creases)
    for outcome in search(rules):
        if isinstance(outcome, Answers):
            yield _layer_order(facets, rules, outcome)


def collision_sentence(
    collision: Collision, facets: Sequence[Facet], creases: Sequence[Crease]
) -> str:
    """Say a collision in a maker's words, without a full stop."""
    moving, obstacle = facets[collision.moving].name, facets[collision.obstacle].name
    at = label(creases[collision.crease], collision.crease)
    return f"{moving} would have to pass through {obstacle} at {at}"


def _layer_order(facets: Sequence[Facet], rules: Rules, answers: Answers) -> LayerOrder:
    higher = (
        rules.pairs[literal >> 1][::-1] if literal & 1 else rules.pairs[literal >> 1]
        for literal in answers.literals
    )
    return LayerOrder(tuple(facets), frozenset(higher))


def _collision(
    creases: Sequence[Crease], rules: Rules, circles: Circles, proof: DeadEnd, limit: int
) -> Collision:
    """Narrow a proof down to creases none of which can be left out (deletion filter).

    All the searches for it share one more `limit`; each may still use propagation when it is spent.
    """
    is_least, left = True, limit
    for crease in sorted(proof.creases):
        outcome = next(search(only(rules, proof.creases - {crease}), limit=left, circles=circles))
        left -= min(outcome.rounds, left)
        if isinstance(outcome, DeadEnd):
            proof = outcome
        elif not isinstance(outcome, Answers):
            is_least = False
    assert proof.rule is not None, "without a broken rule there would have been an order"
    blamed = tuple(sorted(proof.creases))
    moving, obstacle = _who_meets_whom(proof.rule, [creases[index] for index in blamed])
    facets = set(proof.rule.facets).union(*(_joined(creases[index]) for index in blamed))
    at = _where(proof.rule, (moving, obstacle), creases, blamed)
    return Collision(moving, obstacle, at, tuple(sorted(facets)), blamed, is_least)


def _who_meets_whom(rule: Rule, creases: Sequence[Crease]) -> tuple[int, int]:
    """Choose, of the facets of a broken rule, two that no crease joins: they meet as strangers."""
    joined = [_joined(crease) for crease in creases]
    pairs = list(combinations(rule.facets, 2))
    return next((pair for pair in pairs if set(pair) not in joined), pairs[0])


def _where(
    rule: Rule, facets: tuple[int, int], creases: Sequence[Crease], blamed: Sequence[int]
) -> int:
    """Choose the crease of a broken rule, or one near the facets where layers lie in a circle."""
    if rule.creases:
        return rule.creases[-1]
    near = (index for index in blamed if _joined(creases[index]) & set(facets))
    return next(near, blamed[0] if blamed else -1)


def _joined(crease: Crease) -> set[int]:
    return {crease.first, crease.second}
