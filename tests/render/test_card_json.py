"""card.json against its schema and against the sized card."""

import json
from fractions import Fraction
from importlib.resources import files
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from cardrecipe.fold.card import fold, glued
from cardrecipe.render.card_json import render_json
from cardrecipe.solve.sized import SizedCard
from cardrecipe.syntax.diagnostics import Diagnostic, Related
from cardrecipe.syntax.spans import Span
from tests import hand_made
from tests.render.hand_made_sheet import sheet
from tests.render.hostile import TEXTS, with_text

SCHEMA = json.loads((files("cardrecipe.render") / "card.schema.json").read_text("utf-8"))
VALIDATOR = Draft202012Validator(SCHEMA)


def card_json(**changes: Any) -> dict[str, Any]:
    result: dict[str, Any] = json.loads(render_json(sheet()._replace(**changes)))
    return result


def piece(name: str) -> dict[str, Any]:
    return next(each for each in card_json()["pieces"] if each["name"] == name)


def test_schema_is_a_schema() -> None:
    Draft202012Validator.check_schema(SCHEMA)


def test_sheet_keeps_to_the_schema() -> None:
    VALIDATOR.validate(card_json())


def test_metric_sheet_keeps_to_the_schema() -> None:
    other = sheet().other
    assert other is not None
    VALIDATOR.validate(json.loads(render_json(other)))


def test_lengths_are_exact_and_in_the_recipes_unit() -> None:
    assert piece("door-paper")["width"] == "15/8"
    assert piece("door-paper")["hosts"][0] == {"name": "left-door", "side": "outside", "x": "1/8", "y": "1/8"}
    assert set(piece("door-paper")["border"].values()) == {"1/8"}
    assert piece("card")["scores"][0] == {
        "at": "5/4",
        "from": "left",
        "direction": "mountain",
        "start": ["5/4", "0"],
        "end": ["5/4", "11/2"],
    }
    assert [section["width"] for section in piece("card")["sections"]] == [
        "5/4", "17/8", "17/4", "17/8", "5/4",
    ]  # fmt: skip


def test_every_length_is_the_cards_own() -> None:
    card = hand_made.double_gate()
    for each, sized in zip(card_json()["pieces"], card.pieces, strict=True):
        assert (Fraction(each["width"]), Fraction(each["height"])) == (sized.width, sized.height)


def test_glue_without_a_zone_until_it_is_known() -> None:
    assert piece("plate")["glue"] == {"with": "tape", "only_on": "sash"}
    assert piece("boats-card")["glue"] == {"with": "foam", "thick": "10/127"}
    assert "glue" not in piece("message")


def test_head() -> None:
    value = card_json()
    assert value["format"] == "cardrecipe/1"
    assert (value["unit"], value["nearest"], value["copies"]) == ("inch", "1/16", 1)
    assert value["finished"] == {"width": "17/4", "height": "11/2", "thickness_mm": "2.84"}
    assert (value["post"], value["cutting"]) == ([], {"sheets": [], "totals": []})
    assert value["variant"] is None


def test_loose_pieces_have_no_finished_size() -> None:
    folded = sheet().folded._replace(closed=(), views=(), thickness=None)
    value = card_json(folded=folded)
    assert value["finished"] is None
    VALIDATOR.validate(value)


@pytest.mark.parametrize(
    ("value", "expected"), [("0", "0.00"), ("1.005", "1.01"), ("2.844", "2.84"), ("12", "12.00")]
)
def test_thickness_has_two_decimals(value: str, expected: str) -> None:
    page = sheet()
    thickness = page.folded.thickness
    assert thickness is not None
    folded = page.folded._replace(thickness=thickness._replace(likely_mm=Fraction(value)))
    assert card_json(folded=folded)["finished"]["thickness_mm"] == expected


def test_diagnostics_are_data() -> None:
    related = (Related(Span("a.recipe", 1, 2), "here too"),)
    wrong = Diagnostic("border", "warning", Span("a.recipe", 5, 9), "Unequal.", "Say 1/8.", related)
    value = json.loads(render_json(sheet(), (wrong,)))
    VALIDATOR.validate(value)
    assert value["diagnostics"][0]["related"][0]["start"] == 1


@pytest.mark.parametrize(
    ("where", "value"),
    [
        ("nearest", 0.0625),
        ("nearest", "0.0625"),
        ("nearest", "1/0"),
        ("unit", "in"),
        ("more", 1),
        ("format", "cardrecipe/2"),
    ],
)
def test_schema_refuses(where: str, value: object) -> None:
    assert not VALIDATOR.is_valid({**card_json(), where: value})


def test_schema_refuses_a_piece_with_a_binary_float() -> None:
    value = card_json()
    value["pieces"][0]["width"] = 11.0
    assert not VALIDATOR.is_valid(value)


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_text_comes_back(name: str) -> None:
    value = json.loads(render_json(with_text(sheet(), TEXTS[name])))
    VALIDATOR.validate(value)
    assert value["title"] == value["steps"][0]["text"] == TEXTS[name]


def zoned(card: SizedCard) -> dict[str, Any]:
    """The pieces of a card whose glue zones are known, by name."""
    folded, _ = glued(fold(card)[0])
    result = json.loads(render_json(sheet()._replace(folded=folded)))
    VALIDATOR.validate(result)
    return {each["name"]: each for each in result["pieces"]}


def test_glue_zones_are_rings_in_the_pieces_own_coordinates() -> None:
    pieces = zoned(hand_made.double_gate())
    zone = pieces["plate"]["glue"]["zone"]
    assert pieces["plate"]["glue"]["only_on"] == "sash"
    assert {Fraction(y) for _, y in zone} >= {Fraction(11, 16), Fraction(25, 16)}
    assert pieces["message"]["glue"] == {"zone": [["0", "0"], ["4", "0"], ["4", "21/4"], ["0", "21/4"]]}
    assert "zone" not in pieces["door-paper"]["hosts"][0]
    assert "glue" not in pieces["card"]


def test_copies_with_zones_of_their_own_have_them_at_their_hosts() -> None:
    spots = [
        hand_made.placed(host, ("5/2", 7), (3, 1), side="outside", at=at)
        for host, at in (("left-door", (1, 1)), ("right-door", ("-3/2", 4)))
    ]
    bar = hand_made.piece("bar", "panel", "glow", (3, 1), *spots)
    found = zoned(hand_made.gate(bar))["bar"]
    assert found.get("glue", {}) == {}
    ends = [{Fraction(x) for x, _ in host["zone"]} for host in found["hosts"]]
    assert ends == [{Fraction(0), Fraction(23, 16)}, {Fraction(25, 16), Fraction(3)}]


def test_a_piece_over_the_other_door_says_what_it_is_glued_to() -> None:
    spot = hand_made.placed("left-door", ("5/2", 7), (3, 1), side="outside", at=(1, 3))
    bar = hand_made.piece("bar", "panel", "glow", (3, 1), spot)
    glue = zoned(hand_made.gate(bar))["bar"]["glue"]
    assert glue["only_on"] == "left-door"
    assert max(Fraction(x) for x, _ in glue["zone"]) == Fraction(23, 16)
