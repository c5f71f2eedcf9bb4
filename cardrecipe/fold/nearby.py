"""Which of many boxes lie near a place, so that an exact question is asked of few of them."""

from __future__ import annotations

from collections.abc import Sequence
from math import isqrt

from cardrecipe.fold.geometry import Box, Number

# What lies on more squares than this is looked at for every place: to write it down in each of them
# would take longer.
MOST_SQUARES = 16


class Nearby:
    """Boxes, one at least, by the squares of a grid on which they lie: about as many squares as boxes."""

    def __init__(self, boxes: Sequence[Box]) -> None:
        self._all = range(len(boxes))
        self._wide: list[int] = []
        self._on: dict[tuple[int, int], list[int]] = {}
        self._left, self._top = min(box.left for box in boxes), min(box.top for box in boxes)
        many = isqrt(len(boxes))
        self._step_across = _step(self._left, max(box.right for box in boxes), many)
        self._step_down = _step(self._top, max(box.bottom for box in boxes), many)
        for number, box in enumerate(boxes):
            squares = self._squares(box)
            if squares is None:
                self._wide.append(number)
            else:
                for square in squares:
                    self._on.setdefault(square, []).append(number)

    def near(self, box: Box) -> Sequence[int]:
        """Give the places, in order, of all boxes that may share a point with another, and of few others."""
        squares = self._squares(box)
        if squares is None:
            return self._all
        found = set(self._wide)
        for square in squares:
            found.update(self._on.get(square, ()))
        return sorted(found)

    def _squares(self, box: Box) -> list[tuple[int, int]] | None:
        """Give the squares on which a box lies, its edges included; None for too many."""
        first = int((box.left - self._left) // self._step_across)
        last = int((box.right - self._left) // self._step_across)
        top = int((box.top - self._top) // self._step_down)
        bottom = int((box.bottom - self._top) // self._step_down)
        if (last - first + 1) * (bottom - top + 1) > MOST_SQUARES:
            return None
        return [(x, y) for x in range(first, last + 1) for y in range(top, bottom + 1)]


def _step(low: Number, high: Number, many: int) -> int:
    """Give a whole width of which `many` are as far as it is from `low` to `high`, and never none."""
    return max(int((high - low) // many) + 1, 1)
