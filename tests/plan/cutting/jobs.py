"""Jobs for the tests: out of files, by chance, and by hand; and a plan as `card.json` says it, checked."""

from __future__ import annotations

import json
import random
from fractions import Fraction
from pathlib import Path
from typing import Any, NamedTuple

from cardrecipe.model.papers import Paper, StockSheet
from cardrecipe.plan.cutting.budget import PAPER, Budget
from cardrecipe.plan.cutting.card_plans import NumberedLayout, PaperPlan
from cardrecipe.plan.cutting.job import Blank, Job, Stock
from cardrecipe.plan.cutting.paper_jobs import PaperJob
from cardrecipe.plan.cutting.planner import Plan, plan
from cardrecipe.plan.cutting.programs import INFINITE, Row
from cardrecipe.render.cutting_json import cutting_value
from cardrecipe.syntax.spans import Span
from tests.plan.cutting.checker import Cut, Rule, Sheet, Wanted, Wrong, check, check_total, stages_of
from tests.recipes import ROOT

OWN = Path(__file__).parent / "class_kits.json"
SHARED = ROOT.parent / "shared" / "data" / "guillotine_cutting.json"
Value = dict[str, Any]


class Checked(NamedTuple):
    """A plan that the checker has nothing against, and its totals as they stand in `card.json`."""

    plan: Plan
    total: Cut


def job_of(instance: Value, copies: int = 1) -> Job:
    """Give an instance of the file as a job; the pieces of kits are so many a card."""
    blanks = tuple(
        Blank(
            each["id"],
            each["w"],
            each["h"],
            each.get("demand") or each["per_card"] * copies,
            each["rotatable"],
        )
        for each in instance["pieces"]
    )
    stocks = tuple(Stock(each["id"], each["w"], each["h"], each["cost"]) for each in instance["stock"])
    return Job(stocks, blanks, instance.get("max_stages"), instance.get("first_cut"))


def planned(job: Job, steps: int = PAPER, *, prove: bool = True) -> Checked:
    """Plan a job in so many steps and check what comes of it; `prove`: its certificate too, by the second
    program."""
    found = plan(job, Budget(steps))
    assert found is not None, "no plan was found"
    return checked(found, prove=prove)


def checked(found: Plan, *, prove: bool = True) -> Checked:
    job, value = found.job, value_of(found)
    wanted, sheets = wanted_of(job), sheets_of(job)
    check(value["sheets"], wanted, sheets)
    for layout in value["sheets"]:
        used = stages_of(layout)
        if job.stages is not None and used > job.stages:
            raise Wrong(f"{used} stages, {job.stages} are allowed")
        if None not in (job.first_cut, job.stages) and used == job.stages and used:
            assert layout["cut"]["across"] == job.first_cut, "the wrong direction is cut first"
    (total,) = value["totals"]
    if prove:
        check_total(total, value["sheets"], wanted, sheets, Rule(job.stages, job.first_cut))
    return Checked(found, total)


def wanted_of(job: Job) -> dict[str, Wanted]:
    return {
        each.name: Wanted(Fraction(each.width), Fraction(each.height), each.demand, each.may_turn)
        for each in job.blanks
    }


def sheets_of(job: Job) -> list[Sheet]:
    """Costs that differ are hundredths in `card.json`."""
    share = 100 if is_by_cost(job) else 1
    return [
        Sheet(Fraction(each.width), Fraction(each.height), Fraction(each.cost, share), each.available)
        for each in job.stocks
    ]


def is_by_cost(job: Job) -> bool:
    return {each.cost for each in job.stocks} != {1}


def value_of(found: Plan) -> Value:
    """Give a plan as it stands in `card.json`, its job's steps being the unit."""
    sizes = tuple(StockSheet(Fraction(each.width), Fraction(each.height)) for each in found.job.stocks)
    paper = Paper("paper", "cardstock", "Paper", sizes, Span("test", 0, 0))
    places = {each.name: at for at, each in enumerate(found.job.stocks)}
    layouts = [each._replace(stock=str(places[each.stock])) for each in found.layouts]
    numbered = [NumberedLayout(at, each, sizes[int(each.stock)]) for at, each in enumerate(layouts, 1)]
    limits = {str(places[name]): limit for name, limit in found.proof.limits.items()}
    found = found._replace(
        proof=found.proof._replace(limits=limits),
        job=found.job._replace(
            stocks=tuple(each._replace(name=str(at)) for at, each in enumerate(found.job.stocks))
        ),
    )
    of = PaperJob(paper, found.job, 1, is_by_cost(found.job))
    return json.loads(json.dumps(cutting_value([PaperPlan(of, found, tuple(numbered))])))


# ---- out of files --------------------------------------------------------------------------------


def class_kits() -> list[tuple[str, Job, Value]]:
    """Give each material of the class kits: its name, its job, and what is known of it."""
    kits = json.loads(OWN.read_text(encoding="utf-8"))["class_kits"]
    return [
        (f"{kit['id']} {each['id']}", job_of(each, kit["copies"]), each["best_known"])
        for kit in kits
        for each in kit["materials"]
    ]


# ---- by chance -----------------------------------------------------------------------------------

# Pieces of cards in inches: width, height (None: square), how many a card.
FAMILIES = (
    ((3.5, 4.25), (4.5, 5.5), (1, 2)),
    ((1.5, 2.5), (4.5, 5.5), (1, 4)),
    ((2.25, 3.5), (2.5, 4.25), (1, 2)),
    ((0.5, 1.25), (8, 10.9), (1, 1)),
    ((0.4, 1), (3, 5.5), (1, 4)),
    ((2, 2.5), None, (1, 3)),
    ((1.25, 1.9), None, (2, 4)),
    ((1.25, 2), (2.25, 3.5), (1, 2)),
    ((0.75, 1.25), (3, 4), (1, 2)),
)
INCH_SHEETS = ((136, 176), (192, 192), (176, 272))
INCH_BASES = ((68, 176), (88, 136), (88, 176), (80, 160), (84, 168))
MM_SHEETS = ((210, 297), (305, 305), (297, 420))
MM_BASES = ((104, 295), (148, 210), (150, 295), (135, 269))


def random_kit(seed: int) -> Job:
    """Give a class kit: 2 to 9 types, 1 to 60 copies, on sheets in sixteenths of an inch or in mm."""
    chance = random.Random(seed)
    while True:
        job = _kit(chance)
        if job.blanks:
            return job


def _kit(chance: random.Random) -> Job:
    if chance.random() < 0.6:
        step, unit, sheet, bases = chance.choice([1, 2, 4]), 16.0, chance.choice(INCH_SHEETS), INCH_BASES
    else:
        step, unit, sheet, bases = chance.choice([1, 5]), 25.4, chance.choice(MM_SHEETS), MM_BASES
    may_turn, copies = chance.random() < 0.5, chance.choice([1, 6, 12, 24, 30, 60])
    blanks = []
    for at in range(chance.randint(2, 9)):
        if at == 0 and chance.random() < 0.4:
            (wide, tall), each = chance.choice(bases), 1
        else:
            across, down, number = chance.choice(FAMILIES)
            wide = max(step, round(chance.uniform(*across) * unit / step) * step)
            tall = wide if down is None else max(step, round(chance.uniform(*down) * unit / step) * step)
            each = chance.randint(*number)
        fits = wide <= sheet[0] and tall <= sheet[1]
        if fits or (may_turn and tall <= sheet[0] and wide <= sheet[1]):
            blanks.append(Blank(f"p{at}", wide, tall, each * copies, may_turn))
    return Job((Stock("S", *sheet),), tuple(blanks))


def random_job(seed: int) -> Job:
    """Give a small job of any kind: sheets of 6 to 30 steps, with costs, few sheets at hand, stages."""
    chance = random.Random(seed)
    number = chance.choice([1, 1, 1, 2])
    stocks = tuple(
        Stock(f"s{at}", chance.randint(6, 20) + 10 * at, chance.randint(6, 20) + 10 * at)
        for at in range(number)
    )
    if number == 2 and chance.random() < 0.7:
        stocks = tuple(each._replace(cost=chance.randint(1, 90)) for each in stocks)
    if number == 2 and chance.random() < 0.3:
        stocks = (stocks[0]._replace(available=chance.randint(0, 3), cost=0), stocks[1])
    largest = stocks[-1]
    blanks = tuple(
        Blank(
            f"p{at}",
            chance.randint(1, largest.width),
            chance.randint(1, max(1, largest.height * 2 // 3)),
            chance.randint(1, chance.choice([2, 2, 6])),
            chance.random() < 0.5,
        )
        for at in range(chance.randint(1, 4))
    )
    stages = chance.choice([None, None, 2, 3])
    return Job(stocks, blanks, stages, chance.choice([None, "x", "y"]) if stages else None)


def a_covering_program() -> list[Row]:
    """Twenty-five rows over forty columns: the best answer is soon there, the proof takes long."""
    chance = random.Random(3)
    terms = [{at: float(chance.randint(1, 5)) for at in chance.sample(range(40), 8)} for _ in range(25)]
    return [Row(chance.randint(20, 60), INFINITE, each) for each in terms]
