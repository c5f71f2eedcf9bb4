"""The sheet of a class as data: everything printed for many cards at once, in the order it is printed.

Texts are plain text with real characters, as in `cardrecipe.plan.sheet`.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple

from cardrecipe.plan.cutting.card_plans import PaperPlan
from cardrecipe.plan.sheet import CuttingSheet, Fact, PaperTotal, Sheet
from cardrecipe.solve.sized import SizedCard


class Kit(NamedTuple):
    """One card of the class. `letter` tells it apart in every list: "K", "L"; `sheet` is that of one card."""

    letter: str
    title: str  # "Night market lanterns, Harvest"
    path: str
    variant: str | None
    seats: int  # cards to be made in the class
    spare: int  # kits more, for slips
    sheet: Sheet

    @property
    def kits(self) -> int:
        return self.seats + self.spare


class SheetCounts(NamedTuple):
    """Sheets of one paper: `needed` by the plan, of these `at_hand` from what is there, the others to `buy`;
    with whole packs `left` of the bought ones stay over."""

    needed: int
    at_hand: int
    buy: int
    left: int


class ShoppingLine(NamedTuple):
    """One thing to get: what the class needs, what is there, what to buy. What does not arise is ""."""

    kind: str  # as in `SupplyLine`
    title: str
    need: str  # "14 sheets of 8 1⁄2 × 11 in, the fewest possible"
    have: str  # "3 sheets"
    buy: str  # "11 sheets: one pack of 20, 9 left over"
    cost: str
    used_for: tuple[str, ...]  # kits, by letter
    color: str | None = None
    counts: SheetCounts | None = None  # of papers


class BagLine(NamedTuple):
    """One thing that goes into a bag. Lengths are in the unit of its `Bag`."""

    what: str  # "door-paper"
    count: int  # type: ignore[assignment]  # a tuple has a method of that name
    size: str  # "2 1⁄4 × 6 3⁄4 in", "" for what has none
    paper: str  # "Paper glow", "" for what is none
    note: str = ""  # "scored", "die-cut", "pattern upright"
    width: Fraction | None = None
    height: Fraction | None = None


class Bag(NamedTuple):
    """What goes into each bag of one kit, and how many bags there are."""

    kit: str  # letter
    title: str
    bags: int
    lines: tuple[BagLine, ...]
    shared: tuple[str, ...]  # what lies on the table for all: "stamp “Row of lanterns”"
    unit: str = "inch"  # the recipe's own


class PrepTask(NamedTuple):
    """One thing to do before the class, at one setting of one tool; `starts` counts minutes from the first.

    `lines` are what is laid on at that setting, one after the other: a sheet of the cutting plan, a piece.
    Tasks at the trimmer go paper after paper, and of one paper by their settings.
    """

    number: int
    tool: str  # "trimmer", "scoring board", "die-cutting machine", "table"
    setting: str  # "2 1⁄4 in", "" for a tool without one
    text: str
    amount: str  # "36 cuts", "24 pieces"
    minutes: int
    starts: int
    kits: tuple[str, ...]
    lines: tuple[str, ...] = ()
    paper: str = ""  # its name in the class, where a task cuts one


class ClassSheet(NamedTuple):
    """All that the pages of a class need. `kits` in written order; `cutting` numbered through all papers."""

    title: str
    about_markdown: str
    unit: str
    facts: tuple[Fact, ...]
    kits: tuple[Kit, ...]
    shopping: tuple[ShoppingLine, ...]
    cost: str  # of the papers that are bought, "" where a price is missing
    cutting: tuple[CuttingSheet, ...]
    paper_totals: tuple[PaperTotal, ...]
    paper_plans: tuple[PaperPlan, ...]
    bags: tuple[Bag, ...]
    prep: tuple[PrepTask, ...]
    cautions: tuple[str, ...]
    notes: tuple[str, ...]
    card: SizedCard  # what is cut, of all kits, as one set of loose pieces in the class's unit
    cards: Mapping[str, SizedCard] = MappingProxyType({})  # the same in the unit of each paper's plan
    cost_told: str = ""  # the same in words, with the papers that have no price
    by_setting: bool = False  # the papers are all cut together, else one after the other

    def card_of(self, paper: str) -> SizedCard:
        """What is cut, in the unit that a paper of the class is measured in."""
        return self.cards.get(paper, self.card)
