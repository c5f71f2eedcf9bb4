"""Where the parts stand that have no fixed place: the legend, the layers, what is read when the card is done.

Heights are estimates from the font's advance widths, in mm; a wrong one costs white paper and nothing else.
"""

from collections.abc import Sequence
from typing import NamedTuple

FORSAKEN = 75.0  # mm: a last page that holds less than this looks forgotten
SAFE = 3.0  # what an estimate may be out by before a page overflows
GAP = 4.0  # in each height, but not at the top or foot of a page
LEGEND_BEFORE = ("cuts", "plan", "guide", "steps")


class Places(NamedTuple):
    """What the legend stands before ("cuts": on the first page), whether the first page also holds what is
    read when the card is done, and whether the layers stand before the steps."""

    legend: str
    after_first: bool
    layers_first: bool


class Parts(NamedTuple):
    """The heights that the places are settled by; 0 for what a sheet does not have."""

    head: float  # all of the first page but what may fill it and the slip at its foot
    slip: float
    after: float
    legend: float
    plan: tuple[float, ...]  # the cutting plan, block by block
    guide: float
    layers: float
    rows: tuple[float, ...]
    views: float


def settle(parts: Parts, page: float) -> Places:
    """The places that take the fewest pages; of those the ones without a forsaken last page and with the
    least white paper at the foot of the others."""
    room = max(0.0, _room(parts, page) - SAFE) if parts.slip else 0.0
    ways = [
        Places(legend, after, early)
        for legend in LEGEND_BEFORE
        for after in (True, False)
        for early in (True, False)
        if parts.legend * (legend == "cuts") + parts.after * after <= room
    ]
    return min(ways, key=lambda way: _waste(_pages(parts, way, page), page))


def pages_taken(parts: Parts, page: float) -> tuple[int, bool]:
    """How many pages the sheet takes, and whether the last looks forsaken."""
    return _waste(_pages(parts, settle(parts, page), page), page)[:2]


def _room(parts: Parts, page: float) -> float:
    """What is left between the head and the slip; all of the page where the slip needs one of its own."""
    left = page - parts.head % page
    return left - parts.slip if parts.slip <= left else left


def _pages(parts: Parts, way: Places, page: float) -> list[float]:
    """How far each page is filled by parts that are not broken, in their order."""
    legend = {place: parts.legend * (way.legend == place) for place in LEGEND_BEFORE}
    after = parts.after * way.after_first
    early = parts.layers * way.layers_first
    full, rest = divmod(parts.head, page)
    pages = [page] * int(full) + [rest + after + legend["cuts"]]
    if pages[-1] + parts.slip > page:
        pages.append(parts.slip)
    elif parts.slip:
        pages[-1] += parts.slip
    if parts.slip:
        pages.append(0.0)  # the slip stands at the foot, so that nothing comes after it
    work = (legend["plan"], *parts.plan, legend["guide"], parts.guide, early, legend["steps"], *parts.rows)
    for height in (*work, parts.layers - early, parts.views + parts.after - after):
        if pages[-1] and pages[-1] + height > page + GAP:
            pages.append(0.0)
        pages[-1] += height
    return pages if pages[-1] else pages[:-1]


def _waste(pages: Sequence[float], page: float) -> tuple[int, bool, float]:
    *before, last = pages
    return len(pages), len(pages) > 1 and last < FORSAKEN, sum(max(0.0, page - each) ** 2 for each in before)
