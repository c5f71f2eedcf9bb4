"""The fewest sheets for a handful of rectangles by full enumeration, with code of its own.

Every guillotine layout of a set of pieces is two layouts of its parts side by side or one above the other; of
all rectangles that a set can be cut from only the smallest are kept.
"""

from __future__ import annotations

from functools import cache

Piece = tuple[int, int, bool]
Kind = tuple[int, int, int, int | None]  # a sheet's width, height, cost, and how many there are


def fits(pieces: list[Piece], width: int, height: int) -> bool:
    """Tell whether pieces can be cut from one sheet."""
    return fewest_sheets(pieces, width, height) == 1


def fewest_sheets(pieces: list[Piece], width: int, height: int) -> int | None:
    """Give the least number of sheets; None where some piece fits none."""
    return least_cost(pieces, [(width, height, 1, None)])


def least_cost(pieces: list[Piece], kinds: list[Kind]) -> int | None:
    """Give the least cost of sheets of several kinds; None where some piece fits none, or they run out."""
    number = len(pieces)
    width, height = max(kind[0] for kind in kinds), max(kind[1] for kind in kinds)

    @cache
    def boxes(some: int) -> tuple[tuple[int, int], ...]:
        """The smallest rectangles that hold a set of pieces, one bit for each."""
        members = [at for at in range(number) if some >> at & 1]
        if len(members) == 1:
            wide, tall, may_turn = pieces[members[0]]
            return _smallest([(wide, tall), (tall, wide)] if may_turn else [(wide, tall)], width, height)
        found: list[tuple[int, int]] = []
        first = some & -some
        part = (some - 1) & some
        while part:
            if part & first:
                for w1, h1 in boxes(part):
                    for w2, h2 in boxes(some ^ part):
                        found += [(w1 + w2, max(h1, h2)), (max(w1, w2), h1 + h2)]
            part = (part - 1) & some
        return _smallest(found, width, height)

    def holds(kind: Kind, part: int) -> bool:
        return any(wide <= kind[0] and tall <= kind[1] for wide, tall in boxes(part))

    @cache
    def cost(some: int, there: tuple[int, ...]) -> int | None:
        if not some:
            return 0
        first, best = some & -some, None
        part = some
        while part:
            for at, kind in enumerate(kinds) if part & first else ():
                if there[at] and holds(kind, part):
                    less = tuple(count - (at == other) for other, count in enumerate(there))
                    rest = cost(some ^ part, less)
                    if rest is not None and (best is None or rest + kind[2] < best):
                        best = rest + kind[2]
            part = (part - 1) & some
        return best

    return cost((1 << number) - 1, tuple(number if kind[3] is None else kind[3] for kind in kinds))


def _smallest(found: list[tuple[int, int]], width: int, height: int) -> tuple[tuple[int, int], ...]:
    kept: list[tuple[int, int]] = []
    for wide, tall in sorted(set(found)):
        if wide <= width and tall <= height and not any(w <= wide and h <= tall for w, h in kept):
            kept.append((wide, tall))
    return tuple(kept)
