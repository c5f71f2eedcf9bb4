"""Which layouts go together where each that is used at all has to be set: found by programs in fractions.

Source: dynamic slope scaling, Kim and Pardalos (1999), "A solution approach to the fixed charge network flow
problem using a dynamic slope scaling procedure", Operations Research Letters 24, from memory: what a layout
takes once is shared out over the sheets that it had in the program before.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from cardrecipe.plan.cutting.budget import ENDLESS, Budget
from cardrecipe.plan.cutting.choice import Choice
from cardrecipe.plan.cutting.grid import Table
from cardrecipe.plan.cutting.programs import Figures, Repriced

# Programs one after the other, if they do not settle before.
ROUNDS = 6
# So many searches: the first two as the source has it, the others with settings that count more or less.
STARTS = 6
WEIGHTS = (1 / 3, 1 / 2, 1.0, 2.0, 3.0)
# Multiples of it leave parts of a whole that are spread evenly, in no order of the layouts (Weyl 1916);
# the same job always gets the same.
GOLDEN = 0.6180339887498949
# Less of a layout than this is none.
LEAST = 1e-6


class Slopes:
    """The search for one choice. `seen` are all layouts that it has come upon, by their places."""

    def __init__(self, choice: Choice, budget: Budget = ENDLESS) -> None:
        every = range(len(choice.columns))
        self._choice, self._drawn = choice, 1
        self._program = Repriced([float(each) for each in choice.most], choice.rows(every), budget)
        self.seen: set[int] = set()

    def first(self, least: int) -> list[int]:
        """Give layouts that go together, at least so many where there are, before there is an easy plan."""
        most, one = self._choice.most.astype(np.float64), np.ones(len(self._choice.columns))
        others = [(np.maximum(one, most * self._spread()), self._weights()) for _ in range(STARTS - 2)]
        starts = [(most, one), (one, one), *others]
        return self._together(starts, least)

    def beside(self, counts: Table, least: int) -> list[int]:
        """Give layouts that go together with those of a plan."""
        is_used, most = counts > 0, self._choice.most
        starts = [
            (np.where(is_used, counts, most if at % 2 else 1).astype(np.float64), self._weights())
            for at in range(STARTS)
        ]
        return self._together(starts, least)

    def _weights(self) -> Figures:
        weights: Figures = np.array(WEIGHTS)[(self._spread() * len(WEIGHTS)).astype(np.int64)]
        return weights

    def _spread(self) -> Figures:
        """Give a number from 0 up to 1 for each layout, others each time."""
        number = len(self._choice.columns)
        self._drawn += number
        spread: Figures = np.arange(self._drawn - number, self._drawn, dtype=np.float64) * GOLDEN % 1.0
        return spread

    def _together(self, starts: Sequence[tuple[Figures, Figures]], least: int) -> list[int]:
        """What is found from several starts; and of the others those whose blanks are worth nearly as much as
        the layout takes, where it is used as often as it can be."""
        found: set[int] = set()
        takes = self._choice.each + self._choice.once / self._choice.most
        dearer = np.full(len(takes), np.inf)
        for shared, weights in starts:
            together, worth = self._settled(shared, weights)
            found |= together
            if worth is not None:
                dearer = np.minimum(dearer, takes - worth)
        others = [int(at) for at in np.argsort(dearer, kind="stable") if int(at) not in found]
        found.update(others[: max(0, least - len(found))])
        self.seen |= found
        return sorted(found)

    def _settled(self, shared: Figures, weights: Figures) -> tuple[set[int], Figures | None]:
        """Give the layouts that are used in the end, and what the blanks of each are worth then; its settings
        are shared out over so many sheets at first."""
        together: set[int] = set()
        worth = None
        for _ in range(ROUNDS):
            answer = self._program.solve(self._choice.each + self._choice.once * weights / shared)
            if answer is None:
                break
            values, worth = answer
            is_used = values > LEAST
            before, together = together, {int(at) for at in np.flatnonzero(is_used)}
            self.seen |= together
            if together == before:
                break
            shared = np.where(is_used, np.maximum(values, 1), shared)
        return together, worth
