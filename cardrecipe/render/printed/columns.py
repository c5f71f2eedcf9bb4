"""Lists that stand in columns side by side: what goes to which, so that they end at about the same height."""

from collections.abc import Sequence
from typing import TypeVar

Item = TypeVar("Item")


def balanced(items: Sequence[Item], heights: Sequence[float], count: int) -> list[list[Item]]:
    """`items` in their order in at most `count` columns, the tallest as low as it can be."""
    if not items:
        return []
    least, most = max(heights), sum(heights)
    while most - least > 0.1:
        middle = (least + most) / 2
        if len(_filled(items, heights, middle)) <= count:
            most = middle
        else:
            least = middle
    return _filled(items, heights, most)


def _filled(items: Sequence[Item], heights: Sequence[float], most: float) -> list[list[Item]]:
    """Columns filled one after the other up to `most`."""
    columns: list[list[Item]] = []
    room = -1.0
    for item, height in zip(items, heights, strict=True):
        if height > room + 1e-9:
            columns.append([])
            room = most
        columns[-1].append(item)
        room -= height
    return columns
