"""Cutting plans → the value of `cutting` in card.json: nested cuts of two parts, exact sizes, proofs."""

from collections.abc import Sequence

from cardrecipe.model.lengths import typed
from cardrecipe.model.papers import StockSheet
from cardrecipe.plan.cutting.card_plans import NumberedLayout, PaperPlan
from cardrecipe.plan.cutting.job import Blank, Part
from cardrecipe.plan.cutting.paper_jobs import CENTS, PaperJob
from cardrecipe.plan.cutting.parts import length

Value = dict[str, object]


def cutting_value(plans: Sequence[PaperPlan]) -> Value:
    """Give the layouts of all papers, in the order of their numbers, and the totals of each paper."""
    sheets = [_sheet(plan.of, layout) for plan in plans for layout in plan.layouts]
    return {"sheets": sheets, "totals": [_total(plan) for plan in plans]}


def _sheet(of: PaperJob, numbered: NumberedLayout) -> Value:
    value: Value = {
        "paper": of.paper.name,
        "width": str(numbered.stock.width),
        "height": str(numbered.stock.height),
        "count": numbered.layout.count,
    }
    return value | _part(of, numbered.layout.root)


def _part(of: PaperJob, part: Part) -> Value:
    """Give a part as it is cut: a row of several is cut once, and what follows is cut again."""
    if part.blank is not None:
        return {"piece": part.blank, "turned": part.turned or part.blank in of.turned}
    if part.axis is None:
        return {"offcut": True}
    rest = _part(of, part.parts[-1])
    for each in reversed(part.parts[:-1]):
        at = str(of.length(length(each, part.axis)))
        rest = {"cut": {"across": part.axis, "at": at, "parts": [_part(of, each), rest]}}
    return rest


def _total(plan: PaperPlan) -> Value:
    """Give what a paper comes to. `least` and `proved` speak of sheets.

    Where sizes have prices of their own, `proved` speaks of the cost, and `least` is the number of sheets
    that the prices of the pieces prove.
    """
    found = plan.plan
    value: Value = {
        "paper": plan.of.paper.name,
        "sheets": found.sheets,
        "least": found.least_sheets,
        "proved": found.is_proved,
        "settings": found.settings,
        "strokes": found.strokes,
        "certificate": _certificate(plan),
        "blanks": [_blank(plan.of, each) for each in plan.of.job.blanks],
    }
    if plan.of.by_cost:
        value["cost"] = _money(found.cost)
        value["least_cost"] = _money(found.least)
    return value


def _certificate(plan: PaperPlan) -> Value:
    proof, sheets = plan.plan.proof, plan.of.paper.sheets
    if proof.is_exhausted:
        return {"exhausted": True}
    limits = {_size(sheets[int(name)]): limit for name, limit in proof.limits.items()}
    return {"prices": dict(proof.prices), "sheet_limit": limits}


def _size(sheet: StockSheet) -> str:
    return f"{typed(sheet.width)} x {typed(sheet.height)}"


def _blank(of: PaperJob, blank: Blank) -> Value:
    """Give the rectangle that a piece is cut from, with its margin, and the ways it may lie on the paper."""
    is_turned = blank.name in of.turned
    width, height = (blank.height, blank.width) if is_turned else (blank.width, blank.height)
    return {
        "piece": blank.name,
        "width": str(of.length(width)),
        "height": str(of.length(height)),
        "count": blank.demand,
        "lies": "either" if blank.may_turn else "turned" if is_turned else "upright",
    }


def _money(hundredths: int) -> str:
    return f"{hundredths // CENTS}.{hundredths % CENTS:02}"
