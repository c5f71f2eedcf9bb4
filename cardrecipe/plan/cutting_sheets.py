"""The cutting plan in words: each layout as settings of the trimmer in their order, and what to buy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from cardrecipe.model.lengths import round_down, size_written, to_mm, with_unit
from cardrecipe.model.papers import Paper
from cardrecipe.plan.cutting.card_plans import NumberedLayout, PaperPlan
from cardrecipe.plan.cutting.cut_list import InHand, Off, Setting, settings
from cardrecipe.plan.cutting.job import Part, blanks_in
from cardrecipe.plan.cutting.parts import is_offcut
from cardrecipe.plan.sheet import CutSetting, CuttingSheet, PaperTotal
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import (
    a_count_of,
    bought_size,
    counted,
    listed,
    number,
    paper_words,
    sentences,
)
from cardrecipe.solve.sized import SizedCard

# What is worth keeping: a strip for a tag or a banner. Common practice, no published source.
KEEP_SHORT_MM, KEEP_LONG_MM = 25, 75
# The longest cut of a common trimmer: common practice, no published source.
TRIMMER = {"inch": Fraction(12), "mm": Fraction(310)}


def cutting_sheets(
    card: SizedCard, plans: Sequence[PaperPlan], trimmer: Fraction | None = None
) -> tuple[CuttingSheet, ...]:
    """Give every layout of the papers' plans; `trimmer` is the longest cut that can be made, in the card's
    unit."""
    longest = TRIMMER[card.unit] if trimmer is None else trimmer
    return tuple(_sheet(card, paper, each, longest) for paper in plans for each in paper.layouts)


def paper_totals(card: SizedCard, plans: Sequence[PaperPlan]) -> tuple[PaperTotal, ...]:
    """Give what is needed of each paper, how far that is proved, and what to buy."""
    return tuple(_total(card, each) for each in plans)


def _sheet(card: SizedCard, paper: PaperPlan, each: NumberedLayout, trimmer: Fraction) -> CuttingSheet:
    words = _Words(card, paper, each)
    root = each.layout.root
    held = blanks_in(root)
    return CuttingSheet(
        number=each.number,
        paper=paper.of.paper.name,
        paper_title=paper_words(paper.of.paper),
        size=bought_size(each.stock.width, each.stock.height, card.unit),
        count=each.layout.count,
        settings=tuple(words.settings(trimmer)),
        holds=tuple((blank.name, held[blank.name]) for blank in paper.of.job.blanks if blank.name in held),
        offcuts=tuple(dict.fromkeys(words.offcut(part) for part in _offcuts(root))),
        picture=f"sheet-{each.number}",
    )


def _offcuts(part: Part) -> Iterator[Part]:
    """Give what is left over, the largest first."""
    found = []
    waiting = [part]
    while waiting:
        here = waiting.pop()
        waiting += here.parts
        if is_offcut(here):
            found.append(here)
    yield from sorted(found, key=lambda each: (-each.width * each.height, each.width))


class _Words:
    """Names and lengths of one layout, as a maker reads them."""

    def __init__(self, card: SizedCard, paper: PaperPlan, layout: NumberedLayout) -> None:
        self.card, self.paper, self.layout = card, paper, layout
        self.many = layout.layout.count > 1

    def settings(self, trimmer: Fraction) -> Iterator[CutSetting]:
        seen: set[tuple[str, str]] = set()
        for each in settings(self.layout.layout.root):
            lines = []
            for held in each.in_hand:
                is_new = (held.letter, each.axis) not in seen
                seen.add((held.letter, each.axis))
                lines.append(self._cut(each, held, is_new))
            long = max(held.height if each.axis == "x" else held.width for held in each.in_hand)
            warning = self._too_long(self.paper.of.length(long), trimmer)
            text = sentences(*lines, warning)
            yield CutSetting(each.number, self.with_unit(each.size), text, each.is_turned)

    def _cut(self, each: Setting, held: InHand, is_new: bool) -> str:
        along = held.width if each.axis == "x" else held.height
        lay = ""
        if is_new:
            key = "sheet/turn" if each.is_turned else "sheet/lay"
            lay = say(key, what=self._in_hand(held), side=self.with_unit(along))
        left = say("sheet/left", left=listed(map(self._off, held.left))) if held.left else ""
        what = "" if is_new else say("sheet/again", what=self._in_hand(held))
        cut = say(
            "sheet/cut",
            what=what,
            times=_TIMES.get(held.times, f"{number(held.times)} times"),
            off=listed(map(self._off, held.off)),
            left=left,
        )
        return sentences(lay, cut)

    def _in_hand(self, held: InHand) -> str:
        size = self.size(held.width, held.height)
        if not held.letter:
            return "each sheet" if self.many else "the sheet"
        each = "each strip" if held.count > 1 or self.many else "strip"
        return f"{each} {held.letter} ({size})"

    def _off(self, off: Off) -> str:
        size = self.size(off.width, off.height)
        if off.kind == "blank":
            return a_count_of(off.name, off.count)
        if off.kind == "offcut":
            return self.offcut(Part(off.width, off.height))
        if off.count == 1:
            return f"strip {off.name} ({size})"
        return f"{number(off.count)} strips {off.name} ({size} each)"

    def offcut(self, part: Part) -> str:
        """A part that is left over: to keep, or scrap."""
        size = self.size(part.width, part.height)
        short, long = sorted(
            to_mm(self.paper.of.length(side), self.card.unit) for side in (part.width, part.height)
        )
        is_kept = short >= KEEP_SHORT_MM and long >= KEEP_LONG_MM
        return say("sheet/keep" if is_kept else "sheet/scrap", size=size)

    def _too_long(self, cut: Fraction, trimmer: Fraction) -> str:
        if cut <= trimmer:
            return ""
        unit = self.card.unit
        return say("sheet/too-long", cut=with_unit(self._marked(cut), unit), trimmer=with_unit(trimmer, unit))

    def with_unit(self, steps: int) -> str:
        return with_unit(self._marked(self.paper.of.length(steps)), self.card.unit)

    def size(self, width: int, height: int) -> str:
        sides = [self._marked(self.paper.of.length(each)) for each in (width, height)]
        return size_written(sides[0], sides[1], self.card.unit)

    def _marked(self, length: Fraction) -> Fraction:
        """A length to the mark below, where it is left over of a sheet of the other unit system: 304.8 mm is
        304."""
        return round_down(length, self.card.nearest) if length.denominator > 64 else length


_TIMES = {1: "once", 2: "twice"}


def _total(card: SizedCard, each: PaperPlan) -> PaperTotal:
    paper, plan = each.of.paper, each.plan
    by_size: dict[str, int] = {}
    for one in each.layouts:
        size = bought_size(one.stock.width, one.stock.height, card.unit)
        by_size[size] = by_size.get(size, 0) + one.layout.count
    sheets = listed(say("total/sheets", count=_sheets(count), size=size) for size, count in by_size.items())
    packs = ceil(Fraction(plan.sheets, paper.pack)) if paper.pack else 0
    return PaperTotal(
        paper=paper.name,
        title=paper_words(paper),
        sheets=plan.sheets,
        words=f"{sheets}{_proof(each)}",
        settings=plan.settings,
        strokes=plan.strokes,
        packs=say("total/packs", packs=counted(packs, "pack"), each=str(paper.pack)) if packs else "",
        cost=_cost(paper, each, packs),
        left=_left(paper, plan.sheets, packs),
        spare=_spare(each),
    )


def _sheets(count: int) -> str:
    return f"{count}\u00a0{'sheet' if count == 1 else 'sheets'}"


def _proof(each: PaperPlan) -> str:
    plan = each.plan
    if plan.is_proved:
        return say("total/least-cost" if each.of.by_cost else "total/fewest") if plan.sheets > 1 else ""
    if each.of.by_cost:
        least, cost = (_money(Fraction(each, 100)) for each in (plan.least, plan.cost))
        return say("total/between-costs", least=least, cost=cost)
    return say("total/between", least=str(plan.least), most=str(plan.cost))


def _cost(paper: Paper, each: PaperPlan, packs: int) -> str:
    """What the sheets cost, where each has a price; of a paper in packs, whole packs."""
    prices = [one.stock.price for one in each.layouts]
    if any(price is None for price in prices):
        return ""
    if packs and paper.pack and len(set(prices)) == 1:
        return _money((prices[0] or Fraction(0)) * paper.pack * packs)
    costs = ((one.stock.price or Fraction(0)) * one.layout.count for one in each.layouts)
    return _money(sum(costs, Fraction(0)))


def _money(amount: Fraction) -> str:
    """An amount in whatever money the recipe's prices are in."""
    return f"{float(amount):.2f}"


def _left(paper: Paper, sheets: int, packs: int) -> str:
    left = packs * (paper.pack or 0) - sheets
    return say("total/left", sheets=_sheets(left)) if left > 0 else ""


def _spare(each: PaperPlan) -> str:
    """Pieces beyond what was asked for: cutting them costs nothing."""
    held: dict[str, int] = {}
    for one in each.layouts:
        for name, count in blanks_in(one.layout.root).items():
            held[name] = held.get(name, 0) + count * one.layout.count
    spare = [(blank.name, held.get(blank.name, 0) - blank.demand) for blank in each.of.job.blanks]
    more = [a_count_of(name, count) for name, count in spare if count > 0]
    return say("total/spare", pieces=listed(more)) if more else ""


def sheets_with(plans: Sequence[PaperPlan], piece: str) -> str:
    """Which of the numbered sheets a piece is cut from, in words; "" where there is no plan for it."""
    numbers = [at for each in plans for at in each.numbers_with(piece)]
    if not numbers:
        return ""
    return f"sheet{'s' if len(numbers) > 1 else ''} {listed(map(str, numbers))}"

