"""What a class needs, less what is there, in whole packs: papers by their plans, supplies over all kits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from cardrecipe.model.lengths import convert
from cardrecipe.plan.card import CuttingOptions
from cardrecipe.plan.class_at_hand import Thing
from cardrecipe.plan.class_blanks import ClassCut, KitCard
from cardrecipe.plan.class_plans import ClassPlan
from cardrecipe.plan.class_sheet import SheetCounts, ShoppingLine
from cardrecipe.plan.cutting_sheets import cut_by_knife, money, proof, spare_pieces
from cardrecipe.plan.sheet import PaperTotal
from cardrecipe.plan.supplies import KINDS, Need, counted_sheets, needs, paper_title
from cardrecipe.plan.tools import KNIFE, tools
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import bought_length, bought_size, capital, counted, listed, paper_words, plural

ONE_FOR_ALL = ("stamp", "die", "folder", "punch", "ink", "marker", "foil")


def shopping(
    cut: ClassCut, plans: Sequence[ClassPlan], supplies: frozenset[Thing], options: CuttingOptions
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
        *_supplies(cut, supplies),
        *_tools(cut, by_knife, supplies),
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


# ---- papers --------------------------------------------------------------------------------------


def _paper(cut: ClassCut, each: ClassPlan) -> ShoppingLine:
    total = _total(each)
    packs = ", ".join(part for part in (total.packs, total.left) if part)
    bought = _by_size(each, is_bought=True)
    return ShoppingLine(
        "paper",
        paper_title(each.of.paper),
        total.words,
        _there(cut, each),
        ": ".join(part for part in (bought, packs) if part),
        total.cost,
        each.of.kits,
        each.of.paper.color,
        SheetCounts(each.needed, each.used, each.new, _packs(each) * (each.of.paper.pack or 0) - each.new
                    if _packs(each) else 0),
    )  # fmt: skip


def _total(each: ClassPlan) -> PaperTotal:
    plan, packs = each.paper_plan.plan, _packs(each)
    paper, left = each.of.paper, packs * (each.of.paper.pack or 0) - each.new
    return PaperTotal(
        paper=paper.name,
        title=paper_words(paper),
        sheets=plan.sheets,
        words=f"{_by_size(each, is_bought=False)}{_proof(each)}",
        settings=plan.settings,
        strokes=plan.strokes,
        packs=say("total/packs", packs=counted(packs, "pack"), each=str(paper.pack)) if packs else "",
        cost=_cost(each, packs),
        left=say("total/left", sheets=counted_sheets(left)) if packs and left else "",
        spare=spare_pieces(each.paper_plan),
    )


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
    """What is there of a paper, whether it is used or not."""
    return listed(
        counted_sheets(one.count) if one.size is None
        else say("total/sheets", count=counted_sheets(one.count), size=bought_size(*one.size, cut.card.unit))
        for one in each.there
    )  # fmt: skip


def _proof(each: ClassPlan) -> str:
    if each.bought_sizes == len(each.paper_plan.of.job.stocks):
        return proof(each.paper_plan)
    if each.is_proved:
        return say("class/new-fewest") if each.new else ""
    return say("class/new-between", least=str(each.least_new), most=str(each.new)) if each.new else ""


def _packs(each: ClassPlan) -> int:
    return ceil(Fraction(each.new, each.of.paper.pack)) if each.of.paper.pack else 0


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


# ---- supplies ------------------------------------------------------------------------------------


def _supplies(cut: ClassCut, there: frozenset[Thing]) -> Iterator[ShoppingLine]:
    """Each thing once, whatever the capitals it is written with."""
    groups: dict[Thing, list[tuple[KitCard, Need]]] = {}
    for kit in cut.kits:
        for need in needs(kit.card):
            groups.setdefault((need.kind, need.title.casefold()), []).append((kit, need))
    for thing, same in groups.items():
        amount = _amount(cut, same)
        is_there = thing in there
        yield ShoppingLine(
            same[0][1].kind,
            capital(same[0][1].title),
            amount,
            say("class/there") if is_there else "",
            "" if is_there else amount,
            "",
            tuple(dict.fromkeys(kit.letter for kit, _ in same)),
        )


def _amount(cut: ClassCut, same: Sequence[tuple[KitCard, Need]]) -> str:
    """Lengths are added, gems and what is glued are counted, a stamp or an ink is one for all."""
    kind = same[0][1].kind
    units = {kit.card.unit for kit, _ in same}
    unit = units.pop() if len(units) == 1 else cut.card.unit
    lengths = [convert(need.length, kit.card.unit, unit) * kit.of.kits
               for kit, need in same if need.length is not None]  # fmt: skip
    if lengths:
        return f"about {bought_length(sum(lengths, Fraction(0)), unit)}"
    count = sum(kit.card.piece(need.piece).count * kit.of.kits for kit, need in same if need.piece)
    if kind == "gem":
        return _figure(count, "piece")
    if kind == "adhesive":
        return say("class/pieces-to-glue", pieces=_figure(count, "piece"))
    return say("class/shared") if kind in ONE_FOR_ALL else ""


def _tools(cut: ClassCut, by_knife: frozenset[str], there: frozenset[Thing]) -> Iterator[ShoppingLine]:
    """The tools that the cards and their cutting imply; how many of each, the table decides."""
    used: dict[str, dict[str, None]] = {}
    for kit in cut.kits:
        for line in tools(kit.card):
            used.setdefault(line.name, {})[kit.letter] = None
    long = {letter for blank in cut.blanks if blank.paper in by_knife for letter, _ in blank.counts}
    for tool in KNIFE if long else ():
        used.setdefault(tool, {}).update(dict.fromkeys(kit.letter for kit in cut.kits if kit.letter in long))
    if "Metal ruler" in used:  # it measures as well
        used["Metal ruler"] |= used.pop("Ruler", {})
    for tool, letters in used.items():
        have = say("class/there") if ("tool", tool.casefold()) in there else ""
        kits = tuple(kit.letter for kit in cut.kits if kit.letter in letters)
        yield ShoppingLine("tool", tool, "", have, "", "", kits)


def _figure(count: int, noun: str) -> str:
    return f"{count:,}\u00a0{noun if count == 1 else plural(noun)}"
