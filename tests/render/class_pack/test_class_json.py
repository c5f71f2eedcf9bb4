"""class.json against its schema and against the class."""

import json
from fractions import Fraction
from importlib.resources import files
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from cardrecipe.plan.classes.sheet import ClassSheet
from cardrecipe.render.class_pack.class_json import render_class_json
from tests.render.class_pack.hand_made_class import class_sheet
from tests.render.class_pack.hostile_class import hostile_class
from tests.render.hostile import TEXTS


def _schema(name: str) -> dict[str, Any]:
    schema: dict[str, Any] = json.loads((files("cardrecipe.render") / name).read_text("utf-8"))
    return schema


SCHEMA = _schema("class.schema.json")
VALIDATOR = Draft202012Validator(SCHEMA)


def class_json(sheet: ClassSheet) -> dict[str, Any]:
    value: dict[str, Any] = json.loads(render_class_json(sheet))
    VALIDATOR.validate(value)
    return value


def test_schema_is_a_schema() -> None:
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("unit", ["inch", "mm"])
def test_every_count_and_length_is_that_of_the_class(unit: str) -> None:
    sheet = class_sheet(unit=unit)
    value = class_json(sheet)
    assert (value["format"], value["unit"], value["cost"]) == ("cardrecipe-class/1", unit, sheet.cost)
    assert [(kit["seats"], kit["spare"]) for kit in value["kits"]] == [
        (kit.seats, kit.spare) for kit in sheet.kits
    ]
    for kit, bag, of in zip(value["kits"], value["bags"], sheet.bags, strict=True):
        assert len(kit["labels"]) == len(set(kit["labels"])) == bag["bags"] == of.bags
        for line, held in zip(bag["holds"], of.lines, strict=True):
            assert (line["what"], line["count"]) == (held.what, held.count)
            assert line["width"] is None or Fraction(line["width"]) == held.width
    assert [task["starts_minute"] for task in value["prep"]] == [task.starts for task in sheet.prep]


def test_the_cutting_plan_holds_what_the_bags_ask_for() -> None:
    """Counted on the nested cuts, which the bags know nothing of."""
    value = class_json(class_sheet())
    cut: dict[str, int] = {}
    for sheet in value["cutting"]["sheets"]:
        for piece in _pieces(sheet):
            cut[piece] = cut.get(piece, 0) + sheet["count"]
    for bag in value["bags"]:
        for line in bag["holds"]:
            if line["width"] is not None:
                assert cut[f"{bag['kit']} {line['what']}"] >= line["count"] * bag["bags"]


def _pieces(part: dict[str, Any]) -> list[str]:
    if "piece" in part:
        return [part["piece"]]
    return [each for inner in part.get("cut", {}).get("parts", ()) for each in _pieces(inner)]


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_text_comes_back(name: str) -> None:
    value = class_json(hostile_class(TEXTS[name]))
    assert value["title"] == value["prep"][0]["text"] == value["bags"][0]["on_the_table"][0] == TEXTS[name]


@pytest.mark.parametrize(
    ("where", "wrong"),
    [("format", "cardrecipe/1"), ("unit", "in"), ("kits", []), ("more", 1), ("cost", 3.5)],
)
def test_schema_refuses(where: str, wrong: object) -> None:
    assert not VALIDATOR.is_valid({**class_json(class_sheet()), where: wrong})


def test_what_both_schemas_say_they_say_alike() -> None:
    card, own = _schema("card.schema.json"), SCHEMA
    for name in own["$defs"].keys() & card["$defs"].keys() - {"name"}:
        assert own["$defs"][name] == card["$defs"][name], name
    assert own["properties"]["cutting"] == card["properties"]["cutting"]
