"""How much work a search may do. It is counted and never timed: a job ends at one place on every machine."""

from __future__ import annotations

# A step is what two numbers of a table take to be added, some nanosecond or two.
# For one paper: some five seconds at most; of a hundred kits all but the hardest take less than half of it.
# With less, those take more sheets.
PAPER = 3_000_000_000
# For all papers of a card or a class together, shared out evenly among those that are still to be planned.
ALL_PAPERS = 2 * PAPER


class Spent(Exception):
    """A search has done as much work as it may: what it found until then is what there is."""


class Budget:
    """Work that is left to do, in steps. What is spent of a share is spent of the whole, too."""

    def __init__(self, steps: int, whole: Budget | None = None) -> None:
        self.left = steps
        self._whole = whole

    def spend(self, steps: int) -> None:
        """Take so much work on; Spent, and nothing is taken, where not so much is left."""
        if steps > self.left:
            raise Spent
        self.left -= steps
        if self._whole is not None:
            self._whole.spend(steps)

    def share(self, parts: int, most: int | None = None) -> Budget:
        """Give one of so many equal parts of what is left, no more than `most`."""
        steps = self.left // max(1, parts)
        return Budget(steps if most is None else min(steps, most), self)


class _Endless(Budget):
    def spend(self, steps: int) -> None:
        pass


# For whoever asks for one table or one search, whose size he knows.
ENDLESS = _Endless(0)
