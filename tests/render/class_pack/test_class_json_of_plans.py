"""class.json of classes that are really planned: sizes in both units, cuts by the independent checker."""

import json
from fractions import Fraction
from typing import Any

from cardrecipe.plan.classes.sheet import ClassSheet
from cardrecipe.render.class_pack.class_json import render_class_json
from tests.plan.classes.making import HEAD, METRIC, class_text, four_samples, planned
from tests.plan.cutting.checker import Sheet, Wanted, check

INK = 'paper ink is cardstock "Ink" 12 in x 12 in\n'
MM = {"inch": Fraction(254, 10), "mm": Fraction(1)}


def class_json(sheet: ClassSheet) -> dict[str, Any]:
    value: dict[str, Any] = json.loads(render_class_json(sheet))
    return value


def test_each_paper_says_the_unit_of_its_cuts() -> None:
    ash = 'paper ash is cardstock "Ash" 210 x 297\nrectangle card from ash\n  size 105 x 148\n  loose\n'
    tag = "rectangle tag from ink\n  size {}\n  loose\n"
    files = {
        "a.recipe": HEAD.format("A") + INK + tag.format("2 x 3"),
        "m.recipe": METRIC.format("M") + INK + ash + tag.format("52 x 74"),
    }
    value = class_json(planned(class_text(['  make 2 of "m.recipe"', '  make 3 of "a.recipe"']), files))
    assert value["unit"] == "mm" and value["paper_units"] == {"ink": "inch", "ash": "mm"}
    sheets = {each["paper"]: (each["width"], each["height"]) for each in value["cutting"]["sheets"]}
    assert sheets == {"ink": ("12", "12"), "ash": ("210", "297")}


def test_the_cuts_give_every_bag_its_pieces_by_the_checker_that_knows_no_planner() -> None:
    value = class_json(four_samples())
    for total in value["cutting"]["totals"]:
        unit, layouts = value["paper_units"][total["paper"]], []
        sheets: dict[tuple[Fraction, Fraction], Sheet] = {}
        for each in value["cutting"]["sheets"]:
            if each["paper"] == total["paper"]:
                size = Fraction(each["width"]), Fraction(each["height"])
                sheets[size] = Sheet(*size)
                layouts.append(each)
        wanted = {each["piece"]: Wanted(*_lying(each), each["count"], each["lies"] == "either")
                  for each in total["blanks"]}  # fmt: skip
        upright = [_upright(each, wanted) for each in layouts]
        check(upright, wanted, list(sheets.values()))
        assert sum(each["count"] for each in layouts) == total["sheets"]
        for bag in value["bags"]:
            for line in bag["holds"]:
                blank = next((name for name in wanted if _is_of(name, bag["kit"], line["what"])), None)
                if blank is not None:
                    longest = max(wanted[blank].width, wanted[blank].height) * MM[unit]
                    assert longest >= max(map(Fraction, (line["width"], line["height"]))) * MM[bag["unit"]]


def _is_of(blank: str, kit: str, piece: str) -> bool:
    kits, name = blank.split(" ")
    return kit in kits.split("+") and name == piece


def _lying(blank: dict[str, Any]) -> tuple[Fraction, Fraction]:
    """As the checker has it: what lies turned lies so always."""
    sides = Fraction(blank["width"]), Fraction(blank["height"])
    return sides[::-1] if blank["lies"] == "turned" else sides


def _upright(part: dict[str, Any], wanted: dict[str, Wanted]) -> dict[str, Any]:
    """The same cuts, where a piece that always lies turned is as it should be."""
    if "piece" in part:
        return {**part, "turned": part["turned"] and wanted[part["piece"]].may_turn}
    if "cut" in part:
        parts = [_upright(each, wanted) for each in part["cut"]["parts"]]
        return {**part, "cut": {**part["cut"], "parts": parts}}
    return part
