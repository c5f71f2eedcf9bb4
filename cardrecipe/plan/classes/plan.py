"""The plan of a class: from its folded cards and their counts to everything that is printed for it.

    cards  what comes in           papers, blanks  what is cut, each once under its own name
    at_hand  what is there         plans  the cutting plan of each paper
    order  few settings, in an order that can be followed
    cut_order, piece_prep, prep  the preparation
    ready  what is printed, counted and laid out besides
    bags, shopping, supplies, facts  its lists   sheet  what goes out
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from cardrecipe.fold.card import glued
from cardrecipe.plan.card import CuttingOptions, plan_alone
from cardrecipe.plan.cautions import GENERAL, cautions_of
from cardrecipe.plan.classes.bags import bag_of
from cardrecipe.plan.classes.blanks import ClassCut, KitCard, class_cut
from cardrecipe.plan.classes.cards import ClassCards
from cardrecipe.plan.classes.facts import class_facts, class_notes
from cardrecipe.plan.classes.plans import ClassPlan, class_plans
from cardrecipe.plan.classes.prep import prep_tasks
from cardrecipe.plan.classes.sheet import ClassSheet, Kit, PrepTask
from cardrecipe.plan.classes.shopping import class_totals, cost_of_all, cost_told, shopping
from cardrecipe.plan.cutting_sheets import cutting_sheets
from cardrecipe.plan.sheet import CuttingSheet
from cardrecipe.plan.wording import say

Progress = Callable[[int, int, str], None]


def silent(step: int, of: int, what: str) -> None:
    """Nobody waits."""


def plan_class(
    cards: ClassCards, options: CuttingOptions | None = None, progress: Progress = silent
) -> ClassSheet:
    """The sheet of a class. `progress` is told before each kit and each paper: the how manieth of how many it
    is, from 1, and what it is."""
    options = options or CuttingOptions()
    cut = class_cut(cards)
    steps = _Steps(progress, len(cut.kits) + len(cut.papers))
    kits = tuple(_kit(kit, options, steps) for kit in cut.kits)
    plans = class_plans(cut, cards.papers, options.stages, steps.begin)
    paper_plans = tuple(each.paper_plan for each in plans)
    lines = shopping(cut, plans, cards.supplies, options, kits)
    cost, prep = cost_of_all(lines), prep_tasks(cut, paper_plans, options)
    return ClassSheet(
        title=cards.title,
        about_markdown=cards.about,
        unit=cards.unit,
        facts=class_facts(cut, plans, prep, cost_told(lines)),
        kits=kits,
        shopping=lines,
        cost=cost,
        cutting=tuple(sheet for each in plans for sheet in _sheets(cut, each, options)),
        paper_totals=class_totals(plans),
        paper_plans=paper_plans,
        bags=tuple(bag_of(kit, _title(kit)) for kit in cut.kits),
        prep=prep,
        cautions=(GENERAL, *_cautions(prep)),
        notes=class_notes(cut, plans, cost),
        card=cut.card,
        cards=cut.cards,
        cost_told=cost_told(lines),
        by_setting=options.by_setting,
    )


class _Steps:
    """Counts what is begun."""

    def __init__(self, progress: Progress, of: int) -> None:
        self._progress, self._of, self._step = progress, of, 0

    def begin(self, what: str) -> None:
        self._step += 1
        self._progress(self._step, self._of, what)


def _kit(kit: KitCard, options: CuttingOptions, steps: _Steps) -> Kit:
    steps.begin(say("class/kit-title", letter=kit.letter))
    sheet = plan_alone(glued(kit.of.folded)[0], 1, None, kit.of.warnings, options)
    return Kit(kit.letter, _title(kit), kit.of.path, kit.of.variant, kit.of.seats, kit.of.spare, sheet)


def _title(kit: KitCard) -> str:
    title = kit.card.title
    return say("class/kit", title=title, variant=kit.of.variant) if kit.of.variant else title


def _sheets(cut: ClassCut, each: ClassPlan, options: CuttingOptions) -> Iterator[CuttingSheet]:
    """The sheets of one paper; one of an odd size says that it is at hand."""
    card = cut.cards[each.of.paper.name]
    made = cutting_sheets(card, [each.paper_plan], options.trimmer_in(card.unit))
    for sheet, layout in zip(made, each.paper_plan.layouts, strict=True):
        is_there = int(layout.layout.stock) >= each.bought_sizes
        yield sheet._replace(size=say("class/to-hand", size=sheet.size)) if is_there else sheet


def _cautions(prep: Sequence[PrepTask]) -> tuple[str, ...]:
    return cautions_of(" ".join(" ".join((task.tool, task.text, *task.lines)) for task in prep))
