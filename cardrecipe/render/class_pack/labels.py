"""One label for each bag: its number, its card, what is inside; and how labels lie on a page, so that
straight cuts from edge to edge part them all.

The sizes are our own: what fills Letter and A4 alike, in round marks of either ruler.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby
from typing import NamedTuple

from cardrecipe.model.lengths import size_written, to_mm
from cardrecipe.plan.classes.sheet import Bag, ClassSheet, Kit
from cardrecipe.render.class_pack.words import item_written
from cardrecipe.render.papers import Paper, Printing

LEAST_DIGITS = 2


class Label(NamedTuple):
    """What is printed for one bag. `number` stands on no other label of the class."""

    number: str  # "A-07"
    kit: str
    title: str
    is_spare: bool
    inside: tuple[str, ...]


class LabelGrid(NamedTuple):
    """So many labels across and down, each of one size in mm, in the middle of the page."""

    across: int
    down: int
    width: float
    height: float
    size: str  # as written

    @property
    def on_a_page(self) -> int:
        return self.across * self.down


class _Size(NamedTuple):
    across: int
    down: int
    width: Fraction
    height: Fraction


_USUAL = {
    "inch": _Size(2, 6, Fraction(15, 4), Fraction(13, 8)),
    "mm": _Size(2, 6, Fraction(94), Fraction(42)),
}
_LARGE = {
    "inch": _Size(1, 4, Fraction(15, 2), Fraction(5, 2)),
    "mm": _Size(1, 4, Fraction(188), Fraction(62)),
}


def labels(sheet: ClassSheet) -> tuple[Label, ...]:
    """All labels, kit by kit, the spare ones of a kit last."""
    bags = {bag.kit: bag for bag in sheet.bags}
    return tuple(label for kit in sheet.kits for label in _of_kit(kit, bags.get(kit.letter)))


def label_pages(every: Sequence[Label], across: int, on_a_page: int) -> list[list[Label | None]]:
    """The labels page by page; the first of a kit begins a row, and None fills the row before it."""
    cells: list[Label | None] = []
    for _, of_kit in groupby(every, lambda label: label.kit):
        cells += [None] * (-len(cells) % across)
        cells += of_kit
    return [cells[first : first + on_a_page] for first in range(0, len(cells), on_a_page)]


def label_grid(unit: str, paper: Paper, printing: Printing) -> LabelGrid:
    """How the labels lie on a page of `paper`, in the marks of the class's ruler."""
    of = (_LARGE if printing.is_large else _USUAL)[unit]
    width, height = to_mm(of.width, unit), to_mm(of.height, unit)
    size = size_written(of.width, of.height, unit)
    return LabelGrid(of.across, of.down, float(width), float(height), size)


def _of_kit(kit: Kit, bag: Bag | None) -> Iterator[Label]:
    inside = tuple(map(item_written, bag.lines)) if bag is not None else ()
    for at, number in enumerate(label_numbers(kit)):
        yield Label(number, kit.letter, kit.title, at >= kit.seats, inside)


def label_numbers(kit: Kit) -> Sequence[str]:
    """`A-01`, `A-02`, …, with as many digits as the last one needs."""
    digits = max(LEAST_DIGITS, len(str(kit.kits)))
    return [f"{kit.letter}-{number:0{digits}d}" for number in range(1, kit.kits + 1)]
