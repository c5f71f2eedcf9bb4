"""All layouts whose worth comes near the best: among them are those of every plan that is no dearer.

In a plan of so many sheets each is worth no more than the limit, and all together no less than what has to
be cut: so each is worth at least what the others, full to the limit, would leave to it (reduced-cost fixing,
here in whole numbers). What no choice of such layouts covers cannot be cut from so many sheets.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from cardrecipe.plan.cutting.budget import ENDLESS, Budget
from cardrecipe.plan.cutting.job import Job, Part, blanks_in, orientations
from cardrecipe.plan.cutting.parts import MOST_BEHIND, row, trimmed
from cardrecipe.plan.cutting.worth import Worth

Counts = tuple[int, ...]
Layouts = dict[Counts, tuple[int, Part]]

# The search goes down by one call a sheet; for more sheets than this there are other proofs or none.
MOST_SHEETS = 200
# What looking at a rectangle, a pair of layouts, a choice of the next one take, in steps.
RECTANGLE, PAIR, COVER = 8_000, 300, 800


class TooMany(Exception):
    """More layouts come near the best than the budget has rounds for."""


def near_layouts(
    worth: Worth, width: int, height: int, least: int, rounds: int, budget: Budget = ENDLESS
) -> list[Part]:
    """Give a layout for every choice of blanks that is worth `least` or more in a rectangle.

    `worth` must have no limit of stages and a whole grid. TooMany when the rounds are used up.
    """
    assert worth.grid.is_whole and worth.ends[0].axis is None, "some layouts would not be found"
    sizes = [each for blank in worth.blanks for each in orientations(blank)]
    deepest = width // min(wide for wide, _, _ in sizes) + height // min(tall for _, tall, _ in sizes)
    if deepest > MOST_BEHIND:  # the search goes down by a call a cut
        raise TooMany
    search = _Search(worth, rounds, budget)
    found = search.of(*worth.grid.at(width, height), least)
    return [
        row("x", width, height, [row("y", part.width, height, [part])]) for _, part in found.values()
    ]  # fmt: skip


class _Search:
    def __init__(self, worth: Worth, rounds: int, budget: Budget) -> None:
        self.worth, self.rounds, self.budget = worth, rounds, budget
        self.table = worth.ends[0].table
        self.known: dict[tuple[int, int], tuple[int, Layouts]] = {}

    def of(self, across: int, down: int, least: int) -> Layouts:
        """Give the layouts of a rectangle of the grid, by their blanks."""
        if least > self.table[across, down]:
            return {}
        known = self.known.get((across, down))
        if known is not None and known[0] <= least:
            return {counts: each for counts, each in known[1].items() if each[0] >= least}
        self.budget.spend(RECTANGLE)
        found = self._single(across, down, least)
        for axis, one, two in self._cuts(across, down, least):
            self._join(found, axis, (across, down), one, two, least)
        self.known[across, down] = (least, found)
        return found

    def _cuts(self, across: int, down: int, least: int) -> Iterator[tuple[str, int, int]]:
        """Give the cuts whose two parts can together be worth enough."""
        for axis, place in (("x", across), ("y", down)):
            rest = self.worth.grid.side(axis).rest[place]
            line = self.table[:, down] if axis == "x" else self.table[across]
            for found in np.flatnonzero(line[1 : len(rest) + 1] + line[rest] >= least).tolist():
                yield axis, found + 1, int(rest[found])

    def _single(self, across: int, down: int, least: int) -> Layouts:
        width, height = self.worth.grid.widths[across], self.worth.grid.heights[down]
        number = len(self.worth.blanks)
        found: Layouts = {}
        if least <= 0:
            found[(0,) * number] = (0, Part(width, height))
        for at, (blank, price) in enumerate(zip(self.worth.blanks, self.worth.prices, strict=True)):
            for wide, tall, is_turned in orientations(blank):
                if wide <= width and tall <= height and price >= least:
                    counts = tuple(int(at == other) for other in range(number))
                    part = trimmed(Part(wide, tall, blank.name, is_turned), width, height)
                    found.setdefault(counts, (price, part))
        return found

    def _join(self, found: Layouts, axis: str, at: tuple[int, int], one: int, two: int, least: int) -> None:
        first, second = ((one, at[1]), (two, at[1])) if axis == "x" else ((at[0], one), (at[0], two))
        most_first, most_second = int(self.table[first]), int(self.table[second])
        width, height = self.worth.grid.widths[at[0]], self.worth.grid.heights[at[1]]
        near, far = self.of(*first, least - most_second), self.of(*second, least - most_first)
        self._spend(1 + len(near) * len(far))
        for counts, (value, part) in near.items():
            for others, (more, other) in far.items():
                both = tuple(map(int.__add__, counts, others))
                if value + more >= least and both not in found:
                    found[both] = (value + more, row(axis, width, height, [part, other]))

    def _spend(self, rounds: int) -> None:
        self.budget.spend(PAIR * rounds)
        self.rounds -= rounds
        if self.rounds < 0:
            raise TooMany


def cannot_cover(job: Job, parts: Sequence[Part], sheets: int, rounds: int, budget: Budget = ENDLESS) -> bool:
    """Tell whether no choice of so many layouts, each as often as one likes, holds all that is to be cut.

    False also where the rounds were used up: then nobody knows.
    """
    if sheets > MOST_SHEETS:
        return False
    held = [blanks_in(part) for part in parts]
    every = sorted({tuple(each.get(blank.name, 0) for blank in job.blanks) for each in held})
    budget.spend(PAIR * len(every) * (1 + len(every)))
    search = _Covering(_largest(every), rounds, budget)
    try:
        return not search.can(sheets, tuple(blank.demand for blank in job.blanks))
    except TooMany:
        return False


class _Covering:
    """An exact search by depth: which layout comes first, and what it leaves to cut."""

    def __init__(self, rows: list[Counts], rounds: int, budget: Budget) -> None:
        self.rounds, self.budget = rounds, budget
        self.most = [max(column) for column in zip(*rows, strict=True)]
        # By blank: the layouts that hold most of it first.
        self.rows = [sorted(rows, key=lambda each: -each[at]) for at in range(len(self.most))]
        self.failed: set[tuple[int, Counts]] = set()

    def can(self, sheets: int, left: Counts) -> bool:
        if not any(left):
            return True
        if sheets == 0 or not self.rows or (sheets, left) in self.failed:
            return False
        if any(most * sheets < need for most, need in zip(self.most, left, strict=True)):
            return False
        need = self._hardest(left)
        for each in self.rows[need]:
            if each[need] * sheets < left[need]:
                break  # if this one holds the most of it, all together hold too few
            self.budget.spend(COVER)
            self.rounds -= 1
            if self.rounds < 0:
                raise TooMany
            rest = tuple([one - two if one > two else 0 for one, two in zip(left, each, strict=True)])
            if self.can(sheets - 1, rest):
                return True
        self.failed.add((sheets, left))
        return False

    def _hardest(self, left: Counts) -> int:
        """The blank that most sheets must hold is looked at first: one of them holds the most of it."""
        best = 0
        for at, (wanted, most) in enumerate(zip(left, self.most, strict=True)):
            if wanted * max(1, self.most[best]) > left[best] * max(1, most):
                best = at
        return best


def _largest(rows: Sequence[Counts]) -> list[Counts]:
    """Leave out what another layout holds too."""
    unique = sorted(set(rows), key=lambda each: -sum(each))
    kept: list[Counts] = []
    for counts in unique:
        if not any(all(one <= two for one, two in zip(counts, other, strict=True)) for other in kept):
            kept.append(counts)
    return kept
