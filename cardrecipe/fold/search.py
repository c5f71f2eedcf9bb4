"""Finds the answers that keep all layer rules: propagation, then deterministic backtracking.

Every answer carries, as the bits of one number, what it rests on: the creases behind it and the
trials made so far. So a dead end names the trials to blame, the search goes back to the latest of
these past the innocent ones, and a dead end that blames no trial is a proof whose bits are the
creases that collide. Source: conflict-directed backjumping (Prosser 1993), from memory.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from typing import Any, NamedTuple

from cardrecipe.fold.rules import Rule, Rules


class Answers(NamedTuple):
    """A full set of answers that keeps the rules: one literal of every pair."""

    literals: tuple[int, ...]
    rounds: int


class DeadEnd(NamedTuple):
    """The proof that there are no further answers; coming first, that there are none at all."""

    creases: frozenset[int]  # the proof uses the rules of these alone
    rule: Rule | None  # the one broken last; None if there is no more to try
    rounds: int


class OutOfRounds(NamedTuple):
    """The search was ended by its limit, with nothing proved."""

    rounds: int


Outcome = Answers | DeadEnd | OutOfRounds


# For each literal, one after the other: two literals that stand in a circle with it, and the rule of the
# circle. There are a million of them on a sheet of a hundred sections, too many for a tuple each.
Circles = list[list[Any]]


def search(
    rules: Rules, *, first_on_top: bool = True, limit: int | None = None, circles: Circles | None = None
) -> Iterator[Outcome]:
    """Give every set of answers once, and last the dead end or the limit that ended the search.

    The facets are laid into the stack one after the other, each as far down as it may go (up,
    unless `first_on_top`). `limit` counts rounds: a round is one trial, or one taken back, or one
    set of answers given. `circles` are those of the rules, where they have been worked out before.
    """
    ledger = _Ledger(rules, circles_of(rules) if circles is None else circles)
    order = sorted(range(len(rules.pairs)), key=lambda pair: rules.pairs[pair][::-1])
    trials: list[_Trial] = []
    rounds = 0
    broken = ledger.settle_directions()
    while limit is None or rounds <= limit:
        rounds += 1
        if broken:
            depth = ledger.latest_trial(broken.because)
            if depth < 0:
                yield DeadEnd(ledger.creases_in(broken.because), broken.rule, rounds - 1)
                return
            broken = ledger.take_back(trials[depth], broken.because ^ ledger.trial_bit(depth))
            del trials[depth:]
            continue
        place = trials[-1].place if trials else 0
        while place < len(order) and ledger.is_answered(order[place]):
            place += 1
        if place < len(order):
            trial = _Trial(2 * order[place] + (not first_on_top), place, len(ledger.trail))
            broken = ledger.settle((trial.literal, ledger.trial_bit(len(trials)), None))
            trials.append(trial)
        else:
            yield Answers(tuple(ledger.trail), rounds - 1)
            broken = _Broken(ledger.trial_bit(len(trials)) - ledger.trial_bit(0), None)
    yield OutOfRounds(rounds - 1)


def circles_of(rules: Rules) -> Circles:
    """What each literal stands in a circle with; the same for all that `only` leaves of the rules."""
    circles: Circles = [[] for _ in range(2 * len(rules.pairs))]
    for rule in rules.circles:
        one, two, three = rule.literals
        circles[one] += two, three, rule
        circles[two] += three, one, rule
        circles[three] += one, two, rule
        one, two, three = one ^ 1, two ^ 1, three ^ 1
        circles[one] += two, three, rule
        circles[two] += three, one, rule
        circles[three] += one, two, rule
    return circles


class _Trial(NamedTuple):
    literal: int
    place: int  # in the order of the pairs
    trail_length: int  # answers there were before it


class _Broken(NamedTuple):
    """What a contradiction rests on, as bits, and the rule that was broken."""

    because: int
    rule: Rule | None


# A literal to be entered, the bits of what it rests on, and the rule it follows from.
_Entry = tuple[int, int, Rule | None]


class _Ledger:
    """The answers so far, in the order they were found, each with the bits of what it rests on.

    The low bits are creases, the bits above them trials, the latest trial highest.
    """

    def __init__(self, rules: Rules, circles: Circles) -> None:
        size = 2 * len(rules.pairs)
        self.trail: list[int] = []
        self._true = bytearray(size)
        self._because = [0] * size
        self._creases = 1 + max((crease for rule in rules.crossings for crease in rule.creases), default=-1)
        self._directions = [rule for rule in rules.crossings if len(rule.literals) == 1]
        self._crossings: list[list[tuple[Rule, int]]] = [[] for _ in range(len(rules.pairs))]
        for rule in rules.crossings:
            bits = sum(1 << crease for crease in rule.creases)
            for literal in rule.literals:
                self._crossings[literal >> 1].append((rule, bits))
        self._circles = circles

    def is_answered(self, pair: int) -> bool:
        return bool(self._true[2 * pair] or self._true[2 * pair + 1])

    def trial_bit(self, depth: int) -> int:
        return 1 << (self._creases + depth)

    def latest_trial(self, because: int) -> int:
        """Give the depth of the latest trial among some bits, -1 if there is none."""
        return max(because.bit_length() - self._creases, 0) - 1

    def creases_in(self, because: int) -> frozenset[int]:
        return frozenset(crease for crease in range(self._creases) if because >> crease & 1)

    def settle_directions(self) -> _Broken | None:
        """Enter what creases and glue say outright and what follows; tell what that breaks."""
        return self.settle(
            *(
                (rule.literals[0] ^ 1, sum(1 << crease for crease in rule.creases), rule)
                for rule in self._directions
            )
        )

    def take_back(self, trial: _Trial, because: int) -> _Broken | None:
        """Forget a trial and all since, enter its opposite instead; tell what that breaks."""
        for literal in self.trail[trial.trail_length :]:
            self._true[literal] = 0
        del self.trail[trial.trail_length :]
        return self.settle((trial.literal ^ 1, because, None))

    def settle(self, *entries: _Entry) -> _Broken | None:
        """Enter literals and all that follows from them; tell what that breaks.

        First come, first served: so a contradiction is found by the shortest chain of reasons, and
        the rule it names is close to the creases that caused it.
        """
        agenda = deque(entries)
        while agenda:
            literal, because, rule = agenda.popleft()
            if self._true[literal]:
                continue
            if self._true[literal ^ 1]:
                return _Broken(because | self._because[literal ^ 1], rule)
            self._true[literal] = 1
            self._because[literal] = because
            self.trail.append(literal)
            self._follow_circles(literal, agenda)
            self._follow_crossings(literal, agenda)
        return None

    def _follow_circles(self, literal: int, agenda: deque[_Entry]) -> None:
        """Where two of three literals are true, the third is to be false."""
        true, because = self._true, self._because
        each = iter(self._circles[literal])
        for second, third, rule in zip(each, each, each, strict=True):
            if true[second]:
                if not true[third ^ 1]:
                    agenda.append((third ^ 1, because[literal] | because[second], rule))
            elif true[third] and not true[second ^ 1]:
                agenda.append((second ^ 1, because[literal] | because[third], rule))

    def _follow_crossings(self, literal: int, agenda: deque[_Entry]) -> None:
        """Where all but one of the literals are answered, the last one makes the true ones even.

        Where all are answered and odd, the one just entered is to be its own opposite.
        """
        true, because = self._true, self._because
        for rule, bits in self._crossings[literal >> 1]:
            is_odd, unanswered = 0, []
            for each in rule.literals:
                if true[each]:
                    is_odd ^= 1
                    bits |= because[each]
                elif true[each ^ 1]:
                    bits |= because[each ^ 1]
                else:
                    unanswered.append(each)
            if len(unanswered) == 1:
                agenda.append((unanswered[0] ^ (not is_odd), bits, rule))
            elif not unanswered and is_odd:
                agenda.append((literal ^ 1, bits, rule))
