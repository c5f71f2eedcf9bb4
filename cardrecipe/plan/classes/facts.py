"""The facts at the top of a class's sheet, and its notes: how many, how much, how long."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from cardrecipe.model.lengths import round_near
from cardrecipe.plan.classes.blanks import ClassCut, KitCard
from cardrecipe.plan.classes.papers import unlike_prices
from cardrecipe.plan.classes.piece_prep import MACHINES, ready_works
from cardrecipe.plan.classes.plans import ClassPlan
from cardrecipe.plan.classes.sheet import PrepTask
from cardrecipe.plan.facts import MINUTES
from cardrecipe.plan.full_sheets import is_of_full_sheets
from cardrecipe.plan.sheet import Fact
from cardrecipe.plan.supplies import counted_sheets
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import listed, plural, quoted, sentence, the
from cardrecipe.solve.sized import SizedCard


def class_facts(
    cut: ClassCut, plans: Sequence[ClassPlan], prep: Sequence[PrepTask], cost: str
) -> tuple[Fact, ...]:
    """What one wants to know before one says yes to a class; `cost` in words."""
    return tuple(_facts(cut, plans, prep, cost))


def class_notes(cut: ClassCut, plans: Sequence[ClassPlan], cost: str) -> tuple[str, ...]:
    """What is to be known of the lists and what the recipes warn of, each once."""
    return tuple(dict.fromkeys(_notes(cut, plans, cost)))


def minutes_in_class(card: SizedCard) -> int:
    """About how long a card takes out of its bag, to five minutes, without what is done before the class."""
    total = Fraction(0)
    for piece in card.pieces:
        left = len(piece.works) - len(ready_works(piece))
        total += piece.count * MINUTES["work"] * left
        total += MINUTES["fold"] * sum(score.direction != "slit" for score in piece.scores)
        total += MINUTES["glue"] * len(piece.placements)
        total += MINUTES["band"] if piece.around else Fraction(0)
    return max(5, int(round_near(total, Fraction(5))))


def time_told(minutes: int) -> str:
    """`45 min`, `2 h 5 min`."""
    hours, rest = divmod(minutes, 60)
    parts = [f"{hours}\u00a0h"] if hours else []
    return " ".join(parts + ([f"{rest}\u00a0min"] if rest or not hours else []))


def _facts(cut: ClassCut, plans: Sequence[ClassPlan], prep: Sequence[PrepTask], cost: str) -> Iterator[Fact]:
    seats, spare = sum(kit.of.seats for kit in cut.kits), sum(kit.of.spare for kit in cut.kits)
    key = "class/makes" if spare else "class/makes-no-spares"
    kits = _figure(len(cut.kits), "kit")
    yield Fact("Makes", say(key, cards=_figure(seats, "card"), kits=kits, spares=_figure(spare, "spare")))
    sheets = [
        sum(each.needed for each in plans),
        sum(each.used for each in plans),
        sum(each.new for each in plans),
    ]
    if plans:
        papers = _figure(len(plans), "paper")
        yield Fact("Papers", say("class/papers", papers=papers, sheets=counted_sheets(sheets[0]),
                                 there=str(sheets[1]), buy=str(sheets[2]), packs=_in_packs(plans),
                                 fewest=_fewest(plans)))  # fmt: skip
    if cost:
        yield Fact("Cost", cost)
    at_trimmer = [task for task in prep if task.tool == "trimmer" and task.setting]
    strokes = sum(each.paper_plan.plan.strokes for each in plans)
    if at_trimmer:
        yield Fact("Cutting", say("class/cutting", settings=_figure(len(at_trimmer), "setting"),
                                  cuts=_figure(strokes, "cut")))  # fmt: skip
    yield Fact("Preparation", say("class/minutes", time=time_told(sum(task.minutes for task in prep))))
    times = dict.fromkeys(minutes_in_class(kit.card) for kit in cut.kits)
    told = " to ".join(time_told(each) for each in dict.fromkeys((min(times), max(times))))
    yield Fact("At the table", say("class/minutes-a-card", time=told))


def _in_packs(plans: Sequence[ClassPlan]) -> str:
    """How many sheets whole packs come to, where that is more."""
    new = sum(each.new for each in plans)
    bought = sum(-(-each.new // each.of.paper.pack) * each.of.paper.pack if each.of.paper.pack else each.new
                 for each in plans)  # fmt: skip
    return say("class/in-packs", bought=str(bought)) if bought > new else ""


def _fewest(plans: Sequence[ClassPlan]) -> str:
    by_cost = any(each.paper_plan.of.by_cost for each in plans)
    is_told = all(each.is_proved for each in plans) and not by_cost and sum(each.new for each in plans) > 1
    return say("class/fewest") if is_told else ""


def _notes(cut: ClassCut, plans: Sequence[ClassPlan], cost: str) -> Iterator[str]:
    yield say("class/ready")
    for kit in cut.kits:
        yield from _worked_before(kit)
        yield from _of_any_paper(kit)
    planned = {each.of.packet for each in plans}
    for paper in cut.papers:
        if paper.packet not in planned:
            yield say("class/not-planned", paper=quoted(paper.paper.title))
    if any(kit.card.unit != cut.card.unit for kit in cut.kits):
        yield say("class/mixed-units")
    yield from unlike_prices([(kit.letter, kit.card) for kit in cut.kits], cut.papers)
    if cost:
        yield say("total/all-papers", cost=cost)
    for kit in cut.kits:
        for warning in kit.of.warnings:
            if warning.severity == "warning" and not is_of_full_sheets(warning):
                yield say("class/of-kit", kit=kit.letter, text=sentence(warning.message))


def _worked_before(kit: KitCard) -> Iterator[str]:
    """Stamps and the like that a die or a folder waits for."""
    for piece in kit.card.pieces:
        works = ready_works(piece)
        if works and any(work.verb not in MACHINES for work in works):
            names = listed(quoted(work.text or work.verb) for work in works if work.verb not in MACHINES)
            yield say("class/worked-before", work=names, piece=the(piece.name), kit=kit.letter,
                      tool=MACHINES[works[-1].verb])  # fmt: skip


def _of_any_paper(kit: KitCard) -> Iterator[str]:
    names = [the(piece.name) for piece in kit.card.pieces if piece.paper not in kit.card.papers]
    if names:
        yield say(
            "class/no-paper", kit=kit.letter, pieces=listed(names), is_are="is" if len(names) == 1 else "are"
        )


def _figure(count: int, noun: str) -> str:
    return f"{count:,}\u00a0{noun if count == 1 else plural(noun)}"
