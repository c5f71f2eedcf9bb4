"""The sheet of a class as JSON for other programs, as `class.schema.json` describes it.

Lengths are exact rationals as strings; those of the cutting plan are in the unit that `paper_units` gives for
their paper, those of a bag in that of its recipe.
"""

from collections.abc import Iterable
from fractions import Fraction

from cardrecipe.plan.classes.sheet import Bag, BagLine, ClassSheet, Kit, PrepTask, ShoppingLine
from cardrecipe.render.card_json import Value, diagnostic_value, finished_value
from cardrecipe.render.class_pack.labels import label_numbers
from cardrecipe.render.cutting_json import cutting_value
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.unseen import json_text

FORMAT = "cardrecipe-class/1"


def render_class_json(sheet: ClassSheet, diagnostics: Iterable[Diagnostic] = ()) -> str:
    """The whole class as one JSON object, indented by two, with a last newline."""
    value: Value = {
        "format": FORMAT,
        "title": sheet.title,
        "unit": sheet.unit,
        "kits": [_kit(kit) for kit in sheet.kits],
        "shopping": [_to_get(line) for line in sheet.shopping],
        "cost": sheet.cost or None,
        "prep": [_task(task) for task in sheet.prep],
        "cutting": cutting_value(sheet.paper_plans),
        "paper_units": {
            plan.of.paper.name: sheet.card_of(plan.of.paper.name).unit for plan in sheet.paper_plans
        },
        "bags": [_bag(bag) for bag in sheet.bags],
        "cautions": list(sheet.cautions),
        "notes": list(sheet.notes),
        "diagnostics": [diagnostic_value(each) for each in diagnostics],
    }
    return json_text(value)


def _kit(kit: Kit) -> Value:
    """`labels` are the numbers on its bags; the last ones, as many as are spare, are those of spare kits."""
    return {
        "letter": kit.letter,
        "title": kit.title,
        "recipe": kit.path,
        "variant": kit.variant,
        "unit": kit.sheet.folded.card.unit,
        "seats": kit.seats,
        "spare": kit.spare,
        "finished": finished_value(kit.sheet),
        "labels": list(label_numbers(kit)),
    }


def _to_get(line: ShoppingLine) -> Value:
    return {
        "kind": line.kind,
        "title": line.title,
        "need": line.need,
        "have": line.have,
        "buy": line.buy,
        "cost": line.cost or None,
        "kits": list(line.used_for),
        "sheets": line.counts._asdict() if line.counts is not None else None,
    }


def _task(task: PrepTask) -> Value:
    return {
        "number": task.number,
        "tool": task.tool,
        "setting": task.setting,
        "text": task.text,
        "lines": list(task.lines),
        "amount": task.amount,
        "starts_minute": task.starts,
        "minutes": task.minutes,
        "kits": list(task.kits),
        "paper": task.paper or None,
    }


def _bag(bag: Bag) -> Value:
    return {
        "kit": bag.kit,
        "bags": bag.bags,
        "unit": bag.unit,
        "holds": [_in_the_bag(line) for line in bag.lines],
        "on_the_table": list(bag.shared),
    }


def _in_the_bag(line: BagLine) -> Value:
    return {
        "what": line.what,
        "count": line.count,
        "width": _length(line.width),
        "height": _length(line.height),
        "paper": line.paper,
        "note": line.note,
    }


def _length(value: Fraction | None) -> str | None:
    return str(value) if value is not None else None
