"""A plan made easier by taking one or two of its layouts out and one or two others in, over and over.

Source: exchanges of pairs, as in the local search of Lin and Kernighan (1973), Operations Research 21, from
memory. Whatever is given is a plan: it is tried in whole numbers.
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from itertools import combinations
from typing import NamedTuple

import numpy as np

from cardrecipe.plan.cutting.budget import ENDLESS, Budget, Spent
from cardrecipe.plan.cutting.choice import Choice
from cardrecipe.plan.cutting.grid import Table

# Of two layouts that come in, one is tried for so many sheets and no more.
MOST_SHEETS = 3
# What looking for others takes, and for each pair and blank, in steps.
SEARCH, TRIED = 20_000, 8
# More sheets than any layout is used for: of one that lacks a blank. It is looked for by itself: so many
# sheets may still be free and need no cut.
NEVER = 1_000_000


def exchanged(choice: Choice, counts: Table, among: Iterable[int], budget: Budget = ENDLESS) -> Table:
    """Give a plan as easy as `counts` or easier, with layouts `among` some; the best so far where the budget
    ends."""
    best, in_vain = counts, set[bytes]()
    others = np.array(sorted({*among, *np.flatnonzero(counts)}), dtype=np.int64)
    with suppress(Spent):
        while (better := _better(choice, best, others, in_vain, budget)) is not None:
            best = better
    return best


def _better(
    choice: Choice, counts: Table, others: Table, in_vain: set[bytes], budget: Budget
) -> Table | None:
    """Give the first easier plan; what is left after taking out in vain is not tried again."""
    toil = choice.toil(counts)
    for out in _taken_out(choice, counts):
        rest = counts.copy()
        rest[list(out)] = 0
        key = rest.tobytes()
        if key in in_vain:
            continue
        found = _filled_up(choice, rest, others, toil - choice.toil(rest), budget)
        if found is not None:
            better: Table = rest + found
            return better
        in_vain.add(key)
    return None


def _taken_out(choice: Choice, counts: Table) -> list[tuple[int, ...]]:
    """Give the layouts of a plan, each alone and each with each, those first that are the most toil."""
    toil = {int(at): int(choice.once[at] + counts[at] * choice.each[at]) for at in np.flatnonzero(counts)}
    return sorted(
        [*((at,) for at in toil), *combinations(toil, 2)], key=lambda out: -sum(toil[at] for at in out)
    )


class _Gap(NamedTuple):
    """What a plan lacks after some of it was taken out, and the layouts that may fill it: tables as those of
    a choice, of the blanks alone that are missing; a layout that is used anyhow is set already."""

    missing: Table
    room: Table
    holds: Table
    takes: Table
    once: Table
    each: Table


# Toil, and layouts with how many sheets of each.
_Filled = tuple[int, tuple[tuple[int, int], ...]]


def _filled_up(choice: Choice, rest: Table, others: Table, below: int, budget: Budget) -> Table | None:
    """Give the counts of one or two layouts that hold what `rest` lacks and take less toil than `below`, the
    least there is; None where there are none."""
    missing, found = choice.missing(rest), np.zeros_like(rest)
    lacks = missing > 0
    if not lacks.any():
        return found
    once = np.where(rest[others] > 0, 0, choice.once[others])
    gap = _Gap(missing[lacks], choice.room(rest), choice.holds[others][:, lacks], choice.takes[others], once,
               choice.each[others])  # fmt: skip
    best = _by_one(gap, (below, ()), budget)
    for sheets in range(1, MOST_SHEETS + 1):
        best = _by_two(gap, sheets, best, budget)
    for at, count in best[1]:
        found[others[at]] += count
    return found if best[1] else None


def _sheets_for(missing: Table, holds: Table) -> Table:
    """Give how many sheets hold what is missing, (blanks,) or (layouts, blanks), for layouts that hold so
    much each, (layouts, blanks)."""
    needed = -(-np.maximum(missing, 0) // np.maximum(holds, 1))
    sheets: Table = np.where((missing > 0) & (holds == 0), NEVER, needed).max(axis=1)
    return sheets


def _by_one(gap: _Gap, best: _Filled, budget: Budget) -> _Filled:
    budget.spend(SEARCH + TRIED * gap.holds.size)
    needed = _sheets_for(gap.missing, gap.holds)
    fits = (needed < NEVER) & (needed[:, None] * gap.takes <= gap.room).all(axis=1)
    toil = np.where(fits, gap.once + needed * gap.each, best[0])
    at = int(toil.argmin())
    return (int(toil[at]), ((at, int(needed[at])),)) if toil[at] < best[0] else best


def _by_two(gap: _Gap, sheets: int, best: _Filled, budget: Budget) -> _Filled:
    """Try each layout for so many sheets, and for what is then missing each other one."""
    begun = gap.once + sheets * gap.each
    fits = np.flatnonzero((begun < best[0]) & (sheets * gap.takes <= gap.room).all(axis=1))
    budget.spend(SEARCH + len(fits) * len(gap.once))
    first, second = np.nonzero(begun[fits][:, None] + gap.once + gap.each < best[0])
    if not len(first):
        return best
    first = fits[first]
    budget.spend(TRIED * len(first) * len(gap.missing))
    needed = _sheets_for(gap.missing - sheets * gap.holds[first], gap.holds[second])
    taken = sheets * gap.takes[first] + needed[:, None] * gap.takes[second]
    is_such = (first != second) & (needed < NEVER) & (taken <= gap.room).all(axis=1)
    toil = np.where(is_such, begun[first] + gap.once[second] + needed * gap.each[second], best[0])
    at = int(toil.argmin())
    if toil[at] >= best[0]:
        return best
    return int(toil[at]), ((int(first[at]), sheets), (int(second[at]), int(needed[at])))
