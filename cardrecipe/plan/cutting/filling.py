"""Plans made sheet by sheet with the blanks that are still to be cut, over and over with corrected values.

Source: sequential value correction (Mukhacheva, Belova, Kartak and Mukhacheva 2000; Belov and Scheithauer
2007, "Setup and open-stacks minimization in one-dimensional stock cutting", INFORMS Journal on Computing 19),
from memory.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from cardrecipe.plan.cutting.budget import ENDLESS, Budget
from cardrecipe.plan.cutting.grid import Grid
from cardrecipe.plan.cutting.job import Blank, Job, Part, Stock, blanks_in, fits
from cardrecipe.plan.cutting.parts import MOST_BLANKS, row
from cardrecipe.plan.cutting.worth import BLANK, Worth, worth

# Values are whole numbers: so many to a unit of area.
FINE = 16
# What a value keeps of itself when it is corrected, in eighths; more keeps plans alike, less makes them jump.
KEPT = 5
# What looking at a part of a layout takes, in steps.
PART = 1_000


def plans(
    job: Job, grid: Grid, demand: Mapping[str, int], rounds: int, budget: Budget = ENDLESS
) -> Iterator[list[tuple[Stock, Part]]]:
    """Give plans for some demand, each sheet with no more of a blank than is still to be cut.

    Where the sheets run out, what was planned until then is given.
    """
    values = {blank.name: blank.width * blank.height * FINE for blank in job.blanks}
    for number in range(rounds):
        # Rounds differ in the first cut, where stages are limited, and in the sheets that they look at.
        one_way = job._replace(first_cut=job.first_cut or "xy"[number % 2])
        sizes = _sizes(job)[number % len(_sizes(job))]
        plan: list[tuple[Stock, Part]] = []
        left = dict(demand)
        while any(left.values()):
            stocks = [each for each in sizes if _is_left(each, plan)]
            if not stocks:
                break
            stock, part, held = _Filling(one_way, grid, values, left, budget).best_sheet(stocks, number)
            if not held:
                break
            plan.append((stock, part))
            for name, count in held.items():
                left[name] -= count
            _correct(job.blanks, values, stock, held)
        yield plan


def _sizes(job: Job) -> list[tuple[Stock, ...]]:
    """Give all sheets, and where there are several sizes each alone."""
    return [job.stocks, *((each,) for each in job.stocks)] if len(job.stocks) > 1 else [job.stocks]


def _is_left(stock: Stock, plan: Sequence[tuple[Stock, Part]]) -> bool:
    return stock.available is None or sum(each == stock for each, _ in plan) < stock.available


class _Filling(NamedTuple):
    """What sheets are filled with: blanks by their values, none more often than it is `left`."""

    job: Job
    grid: Grid
    values: Mapping[str, int]
    left: Mapping[str, int]
    budget: Budget

    def best_sheet(self, stocks: Sequence[Stock], number: int) -> tuple[Stock, Part, dict[str, int]]:
        """Give the sheet whose blanks are worth most for its cost, and these; rounds differ in how they break
        ties."""
        best = self._best_layouts(max(each.width for each in stocks), max(each.height for each in stocks))
        if best is None:
            return stocks[0], Part(stocks[0].width, stocks[0].height), {}
        found = []
        for stock in stocks:
            part, held = self._within_what_is_left(best.layout(stock.width, stock.height, number))
            total = sum(self.values[name] * count for name, count in held.items())
            found.append((total / max(stock.cost, 1), stock, part, held))
        _, stock, part, held = max(found, key=lambda each: each[0])
        return stock, part, held

    def filled(self, width: int, height: int) -> Part:
        """Fill a rectangle."""
        best = self._best_layouts(width, height)
        if best is None:
            return Part(width, height)
        return self._within_what_is_left(best.layout(width, height, 0))[0]

    def _best_layouts(self, width: int, height: int) -> Worth | None:
        """Give what rectangles up to a size are worth; None where no blank that is left fits (or none between
        the places of the grid)."""
        job = self.job
        self.budget.spend(BLANK * len(job.blanks))
        blanks = [each for each in job.blanks if self.left[each.name] > 0 and fits(each, width, height)]
        if not blanks:
            return None
        prices = [self.values[blank.name] for blank in blanks]
        grid = self.grid.within(width, height)
        found = worth(grid, blanks, prices, job.stages, job.first_cut, self.budget)
        return found if found.of(width, height) else None

    def _within_what_is_left(self, part: Part) -> tuple[Part, dict[str, int]]:
        """Take out of a layout what it has too many of, and fill the room again in the same way; with what
        it then holds.

        With a limit of stages that room stays empty.
        """
        held = blanks_in(part)
        number = sum(held.values())
        self.budget.spend(PART * number)
        if all(count <= self.left[name] for name, count in held.items()):
            return part, held  # worth most as it is: beside it there is room for nothing that is left
        rest = dict(self.left)
        part = _kept(part, rest)
        if self.job.stages is None and number < MOST_BLANKS:
            part = _refilled(part, self._replace(left=rest), rest)
        return part, blanks_in(part)


def _kept(part: Part, left: dict[str, int]) -> Part:
    """Give a layout without the blanks that there are too many of; `left` learns what remains."""
    if part.blank is not None:
        if left.get(part.blank, 0) > 0:
            left[part.blank] -= 1
            return part
        return Part(part.width, part.height)
    if part.axis is None:
        return part
    return row(part.axis, part.width, part.height, [_kept(each, left) for each in part.parts])


def _refilled(part: Part, filling: _Filling, left: dict[str, int]) -> Part:
    """Fill the offcuts of a layout, the largest that lies together first; `left`, that of the filling, learns
    what remains."""
    if part.blank is not None or not any(left.values()):
        return part
    if part.axis is None:
        inner = filling.filled(part.width, part.height)
        for name, count in blanks_in(inner).items():
            left[name] -= count
        return inner
    parts = [_refilled(each, filling, left) for each in reversed(part.parts)]
    return row(part.axis, part.width, part.height, parts[::-1])


def _correct(blanks: Sequence[Blank], values: dict[str, int], stock: Stock, held: Mapping[str, int]) -> None:
    """Raise the values of blanks that lie in sheets with much waste, so that they come earlier next time."""
    sizes = {blank.name: blank.width * blank.height for blank in blanks}
    used = sum(sizes[name] * count for name, count in held.items())
    whole = stock.width * stock.height
    for name in held:
        fair = sizes[name] * FINE * whole // used
        values[name] = (values[name] * KEPT + fair * (8 - KEPT)) // 8
