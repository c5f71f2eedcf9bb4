"""The cutting plan in words: each layout as settings of the trimmer in their order, and what to buy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from cardrecipe.model.lengths import TIMES, round_down, to_mm, with_unit
from cardrecipe.model.papers import Paper
from cardrecipe.plan.cutting.card_plans import NumberedLayout, PaperPlan
from cardrecipe.plan.cutting.cut_list import InHand, Off, Setting, settings
from cardrecipe.plan.cutting.job import Blank, Part, blanks_in, orientations
from cardrecipe.plan.cutting.paper_jobs import PaperJob, has_margin
from cardrecipe.plan.cutting.parts import is_offcut
from cardrecipe.plan.sheet import CutSetting, CuttingSheet, PaperTotal
from cardrecipe.plan.supplies import counted_sheets
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import (
    a_count_of,
    bought_length,
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
    longest = trimmer or TRIMMER[card.unit]
    return tuple(_sheet(card, paper, each, longest) for paper in plans for each in paper.layouts)


def cut_by_knife(
    card: SizedCard, plans: Sequence[PaperPlan], trimmer: Fraction | None = None
) -> frozenset[str]:
    """Give the papers of which some cut is longer than the trimmer."""
    longest = trimmer or TRIMMER[card.unit]
    return frozenset(each.of.paper.name for each in plans if _is_too_long(each, longest))


def paper_totals(card: SizedCard, plans: Sequence[PaperPlan]) -> tuple[PaperTotal, ...]:
    """Give what is needed of each paper, how far that is proved, and what to buy."""
    return tuple(_total(card, each) for each in plans)


def is_kept(of: PaperJob, part: Part, unit: str) -> bool:
    """Tell whether a part that is left over is large enough to keep."""
    short, long = sorted(to_mm(of.length(side), unit) for side in (part.width, part.height))
    return short >= KEEP_SHORT_MM and long >= KEEP_LONG_MM


def _sheet(card: SizedCard, paper: PaperPlan, each: NumberedLayout, trimmer: Fraction) -> CuttingSheet:
    words = SheetWords(card, paper, each)
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


class SheetWords:
    """Names and lengths of one layout, as a maker reads them."""

    def __init__(self, card: SizedCard, paper: PaperPlan, layout: NumberedLayout) -> None:
        self.card, self.paper, self.layout = card, paper, layout
        self.many = layout.layout.count > 1

    def settings(self, trimmer: Fraction) -> Iterator[CutSetting]:
        begun: set[tuple[str, str]] = set()
        for each in settings(self.layout.layout.root):
            lines = []
            turns = each.is_turned
            for held in each.in_hand:
                lines.append(self._cut(each, held, turns, (held.letter, each.axis) in begun))
                begun.add((held.letter, each.axis))
                turns = False
            warning = self.too_long(longest_cut(each), trimmer)
            text = sentences(*lines, warning)
            yield CutSetting(each.number, self.with_unit(each.size), text, each.is_turned)

    def afresh(self, each: Setting, held: InHand, gone: int) -> str:
        """Lay down what is in hand, or what is left of it when so many steps are cut off, and cut: for cuts
        that are made apart from those before them."""
        what = self._in_hand(held, with_size=not gone)
        if gone:
            what = say("sheet/rest", what=what).strip()
            across, down = (gone, 0) if each.axis == "x" else (0, gone)
            held = held._replace(width=held.width - across, height=held.height - down)
        return sentences(self._lay(each, held, what, turns=False), self._cut_off(held, ""))

    def _cut(self, each: Setting, held: InHand, turns: bool, is_begun: bool) -> str:
        """Lay it down and cut; what was cut at the setting before stays as it lies."""
        what = say("sheet/rest", what=self._in_hand(held, with_size=False)) if is_begun else ""
        cut = self._cut_off(held, what)
        return sentences("" if is_begun else self._lay(each, held, self._in_hand(held), turns=turns), cut)

    def _cut_off(self, held: InHand, what: str) -> str:
        off, left = _told_once(held)
        return say(
            "sheet/cut",
            what=what,
            times=_TIMES.get(held.times, f"{number(held.times)} times"),
            off=listed(map(self._off, off)),
            left=say("sheet/left", left=listed(map(self._off, left))) if left else "",
        )

    def _lay(self, each: Setting, held: InHand, what: str, *, turns: bool) -> str:
        """Which side lies along the ruler; and how a pattern runs, as a square has no long side."""
        pattern = ""
        if self.paper.of.paper.one_way:
            pattern = say("sheet/pattern-upright" if each.axis == "x" else "sheet/pattern-lying")
        side = self.with_unit(held.width if each.axis == "x" else held.height)
        key = "sheet/turn" if turns else "sheet/lay"
        return say(key, what=what, side=side, pattern=pattern)

    def _in_hand(self, held: InHand, *, with_size: bool = True) -> str:
        if not held.letter:
            return "each sheet" if self.many else "the sheet"
        each = "each strip" if held.count > 1 or self.many else "strip"
        size = f" ({self.size(held.width, held.height)})" if with_size else ""
        return f"{each} {held.letter}{size}"

    def _off(self, off: Off) -> str:
        size = self.size(off.width, off.height)
        if off.kind == "blank":
            blank = a_count_of(off.name, off.count)
            if not has_margin(self.card.piece(off.name)):
                return blank
            return say("sheet/with-margin", blank=blank, size=size, each=" each" if off.count > 1 else "")
        if off.kind == "offcut":
            return self.offcut(Part(off.width, off.height))
        if off.count == 1:
            return f"strip {off.name} ({size})"
        return f"{number(off.count)} strips {off.name} ({size} each)"

    def offcut(self, part: Part) -> str:
        """A part that is left over: scrap, or to keep, and what for."""
        size = self.size(part.width, part.height)
        if not is_kept(self.paper.of, part, self.card.unit):
            return say("sheet/scrap", size=size)
        purpose = say("sheet/keep-tags")
        if more := _room(part, self.paper.of.job.blanks):
            count, pieces = a_count_of(*more).split(" ", 1)
            purpose = say("sheet/keep-room", count=count, pieces=pieces)
        return say("sheet/keep", size=size, purpose=purpose)

    def too_long(self, steps: int, trimmer: Fraction) -> str:
        """What to say of a cut that is longer than the trimmer; "" of others."""
        cut, unit = self.paper.of.length(steps), self.card.unit
        if cut <= trimmer:
            return ""
        return say("sheet/too-long", cut=self.with_unit(steps), trimmer=with_unit(trimmer, unit))

    def with_unit(self, steps: int) -> str:
        return bought_length(self._marked(steps), self.card.unit)

    def size(self, width: int, height: int) -> str:
        """In one unit; where a piece of a recipe in the other one meets the sheet, each side as it is cut."""
        sides, unit = (self._marked(width), self._marked(height)), self.card.unit
        told = [bought_length(side, unit) for side in sides]
        own = [text == with_unit(side, unit) for text, side in zip(told, sides, strict=True)]
        return f" {TIMES} ".join(told) if any(own) and not all(own) else bought_size(sides[0], sides[1], unit)

    def _marked(self, steps: int) -> Fraction:
        """A length as the recipe has it, else to the mark below: a sheet of 12 in is 304.8 mm, and what is
        left of it is told as 304."""
        exact = self.paper.of.length(steps)
        is_asked = any(steps in (blank.width, blank.height) for blank in self.paper.of.job.blanks)
        return exact if is_asked else round_down(exact, self.card.nearest) or exact


def longest_cut(setting: Setting) -> int:
    """How long the longest cut at a setting is, in steps."""
    return max(held.height if setting.axis == "x" else held.width for held in setting.in_hand)


def _is_too_long(paper: PaperPlan, trimmer: Fraction) -> bool:
    return any(
        paper.of.length(longest_cut(each)) > trimmer
        for layout in paper.layouts
        for each in settings(layout.layout.root)
    )


def _told_once(held: InHand) -> tuple[list[Off], list[Off]]:
    """What the last cut leaves counts with what came off before where it is the same."""
    off, left = list(held.off), list(held.left)
    for each in held.left:
        for at, one in enumerate(off):
            if each.kind != "offcut" and one._replace(count=each.count) == each:
                off[at] = one._replace(count=one.count + each.count)
                left.remove(each)
    return off, left


def _room(part: Part, blanks: Sequence[Blank]) -> tuple[str, int] | None:
    """The largest blank that can be cut from an offcut another time, and how often in plain rows."""
    for blank in sorted(blanks, key=lambda each: -each.width * each.height):
        ways = ((wide, tall) for wide, tall, _ in orientations(blank))
        most = max((part.width // wide) * (part.height // tall) for wide, tall in ways)
        if most:
            return blank.name, most
    return None


_TIMES = {1: "once", 2: "twice"}


def _total(card: SizedCard, each: PaperPlan) -> PaperTotal:
    paper, plan = each.of.paper, each.plan
    by_size: dict[str, int] = {}
    for one in each.layouts:
        size = bought_size(one.stock.width, one.stock.height, card.unit)
        by_size[size] = by_size.get(size, 0) + one.layout.count
    sheets = listed(
        say("total/sheets", count=counted_sheets(count), size=size) for size, count in by_size.items()
    )
    cost = _cost(paper, each, packs_of(paper, plan.sheets))
    return total_of(each, f"{sheets}{proof(each)}", plan.sheets, cost)


def total_of(each: PaperPlan, words: str, bought: int, cost: str) -> PaperTotal:
    """Give the total of a paper of which so many sheets are bought, in packs where it comes in packs."""
    paper, plan = each.of.paper, each.plan
    packs = packs_of(paper, bought)
    return PaperTotal(
        paper=paper.name,
        title=paper_words(paper),
        sheets=plan.sheets,
        words=words,
        settings=plan.settings,
        strokes=plan.strokes,
        packs=say("total/packs", packs=counted(packs, "pack"), each=str(paper.pack)) if packs else "",
        cost=cost,
        left=_left(paper, bought, packs),
        spare=spare_pieces(each),
    )


def packs_of(paper: Paper, sheets: int) -> int:
    """Give how many packs hold so many sheets; 0 of a paper that is sold by the sheet."""
    return ceil(Fraction(sheets, paper.pack)) if paper.pack else 0


def proof(each: PaperPlan) -> str:
    """How far it is proved that a plan takes the fewest sheets, or costs the least."""
    plan = each.plan
    if plan.is_proved:
        return say("total/least-cost" if each.of.by_cost else "total/fewest") if plan.sheets > 1 else ""
    if each.of.by_cost:
        least, cost = (money(Fraction(each, 100)) for each in (plan.least, plan.cost))
        return say("total/between-costs", least=least, cost=cost)
    return say("total/between", least=str(plan.least), most=str(plan.cost))


def _cost(paper: Paper, each: PaperPlan, packs: int) -> str:
    """What the sheets cost, where each has a price; of a paper in packs, whole packs."""
    prices = [one.stock.price for one in each.layouts]
    if any(price is None for price in prices):
        return ""
    if packs and paper.pack and len(set(prices)) == 1:
        return money((prices[0] or Fraction(0)) * paper.pack * packs)
    costs = ((one.stock.price or Fraction(0)) * one.layout.count for one in each.layouts)
    return money(sum(costs, Fraction(0)))


def whole_cost(totals: Sequence[PaperTotal]) -> str:
    """What all the papers cost together; "" where that is one paper, or a price is missing."""
    costs = [total.cost for total in totals]
    if len(costs) < 2 or not all(costs):
        return ""
    return money(sum(map(Fraction, costs), Fraction(0)))


def money(amount: Fraction) -> str:
    """An amount in whatever money the recipe's prices are in."""
    return f"{float(amount):.2f}"


def _left(paper: Paper, sheets: int, packs: int) -> str:
    left = packs * (paper.pack or 0) - sheets
    return say("total/left", sheets=counted_sheets(left)) if left > 0 else ""


def spare_pieces(each: PaperPlan) -> str:
    """Pieces beyond what was asked for: cutting them costs nothing."""
    held: dict[str, int] = {}
    for one in each.layouts:
        for name, count in blanks_in(one.layout.root).items():
            held[name] = held.get(name, 0) + count * one.layout.count
    spare = [(blank.name, held.get(blank.name, 0) - blank.demand) for blank in each.of.job.blanks]
    more = [a_count_of(name, count) for name, count in spare if count > 0]
    return say("total/spare", pieces=listed(more)) if more else ""
