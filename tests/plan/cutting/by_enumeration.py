"""The fewest sheets for a handful of rectangles by full enumeration, with code of its own.

Every guillotine layout of a set of pieces is two layouts of its parts side by side or one above the other; of
all rectangles that a set can be cut from only the smallest are kept.
"""

from __future__ import annotations

from functools import cache

Piece = tuple[int, int, bool]


def fits(pieces: list[Piece], width: int, height: int) -> bool:
    """Tell whether pieces can be cut from one sheet."""
    return fewest_sheets(pieces, width, height) == 1


def fewest_sheets(pieces: list[Piece], width: int, height: int) -> int | None:
    """Give the least number of sheets; None where some piece fits none."""
    number = len(pieces)

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

    @cache
    def sheets(some: int) -> int | None:
        if not some:
            return 0
        first, best = some & -some, None
        part = some
        while part:
            if part & first and boxes(part):
                rest = sheets(some ^ part)
                if rest is not None and (best is None or rest + 1 < best):
                    best = rest + 1
            part = (part - 1) & some
        return best

    return sheets((1 << number) - 1)


def _smallest(found: list[tuple[int, int]], width: int, height: int) -> tuple[tuple[int, int], ...]:
    kept: list[tuple[int, int]] = []
    for wide, tall in sorted(set(found)):
        if wide <= width and tall <= height and not any(w <= wide and h <= tall for w, h in kept):
            kept.append((wide, tall))
    return tuple(kept)
