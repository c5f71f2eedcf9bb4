"""What a class needs, less what is there, in whole packs: papers by their plans, then all else."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from cardrecipe.model.lengths import convert
from cardrecipe.plan.card import CuttingOptions
from cardrecipe.plan.classes.at_hand import Thing
from cardrecipe.plan.classes.blanks import ClassCut
from cardrecipe.plan.classes.cards import PaperAtHand
from cardrecipe.plan.classes.plans import ClassPlan
from cardrecipe.plan.classes.sheet import Kit, SheetCounts, ShoppingLine
from cardrecipe.plan.classes.supplies import handed_out, shared_tools, supplies
from cardrecipe.plan.cutting_sheets import cut_by_knife, money, packs_of, proof, total_of
from cardrecipe.plan.sheet import PaperTotal
from cardrecipe.plan.supplies import KINDS, counted_sheets, paper_title
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import bought_size, listed


def shopping(
    cut: ClassCut,
    plans: Sequence[ClassPlan],
    there: frozenset[Thing],
    options: CuttingOptions,
    kits: Sequence[Kit],
) -> tuple[ShoppingLine, ...]:
    """Everything to get, in groups, each thing once with the kits that it is for."""
    cards = [(each, cut.cards[each.of.paper.name]) for each in plans]
    by_knife = frozenset(
        name
        for each, card in cards
        for name in cut_by_knife(card, [each.paper_plan], options.trimmer_in(card.unit))
    )
    lines = [
        *(_paper(cut, each) for each in plans),
        *supplies(cut, there),
        *shared_tools(cut, by_knife, there),
        *handed_out(cut, kits),
    ]
    rank = {kind: at for at, kind in enumerate(KINDS)}
    return tuple(sorted(lines, key=lambda line: rank.get(line.kind, len(rank))))


def class_totals(plans: Sequence[ClassPlan]) -> tuple[PaperTotal, ...]:
    """What is needed of each paper, how far that is proved, and what is bought of it."""
    return tuple(_total(each) for each in plans)


def cost_of_all(lines: Sequence[ShoppingLine]) -> str:
    """What the papers that are bought cost together; "" where a price is missing."""
    bought = [line for line in lines if line.counts is not None and line.counts.buy]
    if not all(line.cost for line in bought):
        return ""
    return money(sum((Fraction(line.cost) for line in bought), Fraction(0)))


def cost_told(lines: Sequence[ShoppingLine]) -> str:
    """What the papers cost in words, and which of them have no price; "" where none has one."""
    bought = [line for line in lines if line.counts is not None and line.counts.buy]
    known = [Fraction(line.cost) for line in bought if line.cost]
    if not known:
        return ""
    cost, unknown = money(sum(known, Fraction(0))), [line.title for line in bought if not line.cost]
    if not unknown:
        return say("class/cost", cost=cost)
    return say("class/cost-in-part", cost=cost, papers=listed(unknown))


# ---- papers --------------------------------------------------------------------------------------


def _paper(cut: ClassCut, each: ClassPlan) -> ShoppingLine:
    total = _total(each)
    packs = ", ".join(part for part in (total.packs, total.left) if part)
    bought = _by_size(each, is_bought=True)
    return ShoppingLine(
        "paper",
        paper_title(each.of.paper),
        _with_grain(cut, each, _by_size(each, is_bought=False) if each.is_proved else total.words),
        _there(cut, each),
        ": ".join(part for part in (bought, packs) if part),
        total.cost,
        each.of.kits,
        each.of.paper.color,
        SheetCounts(each.needed, each.used, each.new, _packs(each) * (each.of.paper.pack or 0) - each.new
                    if _packs(each) else 0),
    )  # fmt: skip


def _with_grain(cut: ClassCut, each: ClassPlan, need: str) -> str:
    """The grain is asked for where a piece has to lie along it."""
    paper = each.of.paper
    matters = any(not blank.rect.may_turn for blank in cut.of_paper(paper.name))
    return say("class/grain", need=need, side=paper.grain) if paper.grain and matters else need


def _total(each: ClassPlan) -> PaperTotal:
    words = f"{_by_size(each, is_bought=False)}{_proof(each)}"
    return total_of(each.paper_plan, words, each.new, _cost(each, _packs(each)))


def _by_size(each: ClassPlan, *, is_bought: bool) -> str:
    """`11 sheets of 8 1⁄2 × 11 in and 2 sheets of 6 × 11 in`; of what is bought, without those at hand."""
    counts: dict[str, int] = {}
    at_hand = each.at_hand if is_bought else 0
    for one in each.paper_plan.layouts:
        if is_bought and int(one.layout.stock) >= each.bought_sizes:
            continue
        taken = min(at_hand, one.layout.count)
        at_hand -= taken
        size = bought_size(one.stock.width, one.stock.height, each.of.unit)
        counts[size] = counts.get(size, 0) + one.layout.count - taken
    return listed(say("total/sheets", count=counted_sheets(count), size=size)
                  for size, count in counts.items() if count)  # fmt: skip


def _there(cut: ClassCut, each: ClassPlan) -> str:
    """What is there of a paper, and what of it is not used and why."""
    return listed(_told(cut, each, at, one) for at, one in enumerate(each.there))


def _told(cut: ClassCut, each: ClassPlan, at: int, one: PaperAtHand) -> str:
    count = counted_sheets(one.count)
    if one.size is None:
        return count
    told = say("total/sheets", count=count, size=bought_size(*one.size, cut.card.unit))
    if each.bought_sizes == len(each.paper_plan.of.job.stocks):
        return told
    stock, layouts = each.bought_sizes + at, each.paper_plan.plan.layouts
    left = one.count - sum(layout.count for layout in layouts if int(layout.stock) == stock)
    if not left:
        return told
    unused = say("class/not-needed" if left < one.count else "class/none-needed", left=str(left))
    reason = unused if _holds_any(cut, each, one.size) else say("class/too-small")
    return f"{told} ({reason})"


def _holds_any(cut: ClassCut, each: ClassPlan, size: tuple[Fraction, Fraction]) -> bool:
    """Tell whether some piece of a paper fits a sheet of a size in the class's unit, lying in any way."""
    sheet = sorted(convert(side, cut.card.unit, each.of.unit) for side in size)
    rects = [sorted((blank.rect.width, blank.rect.height)) for blank in cut.of_paper(each.of.paper.name)]
    return any(rect[0] <= sheet[0] and rect[1] <= sheet[1] for rect in rects)


def _proof(each: ClassPlan) -> str:
    if each.bought_sizes == len(each.paper_plan.of.job.stocks):
        return proof(each.paper_plan)
    if each.is_proved:
        return say("class/new-fewest") if each.new else ""
    return say("class/new-between", least=str(each.least_new), most=str(each.new)) if each.new else ""


def _packs(each: ClassPlan) -> int:
    return packs_of(each.of.paper, each.new)


def _cost(each: ClassPlan, packs: int) -> str:
    """What the new sheets cost, whole packs of a paper in packs; "" where a price is missing."""
    new = [(each.of.paper.sheets[int(one.layout.stock)].price, one.layout.count)
           for one in each.paper_plan.layouts if int(one.layout.stock) < each.bought_sizes]  # fmt: skip
    if any(price is None for price, _ in new):
        return ""
    prices = {price for price, _ in new}
    if len(prices) == 1:
        (price,) = prices
        return money((price or Fraction(0)) * (packs * (each.of.paper.pack or 0) if packs else each.new))
    return money(sum(((price or Fraction(0)) * count for price, count in new), Fraction(0)))
