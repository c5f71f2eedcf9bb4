"""The cutting plan in card.json: a second program, which knows what a maker wants, cuts it up."""

import json
from fractions import Fraction
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from cardrecipe.compile import Compiled, compile_recipe
from cardrecipe.files import FolderTexts, read_source
from cardrecipe.model.papers import Paper
from cardrecipe.plan.card import CuttingOptions
from cardrecipe.render.card_json import render_json
from cardrecipe.sheets import sheet_of
from cardrecipe.solve.sized import SizedCard, SizedPiece
from tests.plan.cutting.checker import Rule, Sheet, Wanted, check, check_total, stages_of
from tests.recipes import SAMPLES, compile_text, sample_cards

VALIDATOR = Draft202012Validator(
    json.loads((files("cardrecipe.render") / "card.schema.json").read_text("utf-8"))
)
RECIPES = sample_cards()
SHAPES = ("circle", "oval", "banner", "tag", "cutout")
HEAD = 'recipe "Bench"\n  units inch nearest 1/16\n  border 1/8\n'


def compiled(path: Path) -> Compiled:
    return compile_recipe(read_source(str(path)), FolderTexts(str(path)))


def cutting(
    result: Compiled, copies: int, units: str | None = None, options: CuttingOptions | None = None
) -> tuple[dict[str, Any], SizedCard]:
    """The value of `cutting`, and the card that it is for."""
    sheet = sheet_of(result, units, copies, options)
    value = json.loads(render_json(sheet))
    VALIDATOR.validate(value)
    return value["cutting"], sheet.folded.card


def blank_of(card: SizedCard, paper: Paper, piece: SizedPiece, copies: int) -> Wanted:
    """What a maker cuts for a piece: shapes, and what is die-cut or trimmed, with a margin."""
    is_shaped = piece.kind in SHAPES or any(work.verb in ("die", "trim") for work in piece.works)
    margin = (2 * Fraction(1, 8) if card.unit == "inch" else Fraction(6)) if is_shaped else Fraction(0)
    return Wanted(piece.width + margin, piece.height + margin, piece.count * copies, not paper.one_way)


def assert_can_be_cut(value: dict[str, Any], card: SizedCard, copies: int, rule: Rule = Rule()) -> None:  # noqa: B008
    planned = {total["paper"]: total for total in value["totals"]}
    used = {piece.paper for piece in card.pieces if piece.paper in card.papers}
    assert planned.keys() == used
    for name, total in planned.items():
        paper = card.papers[name]
        own = [piece for piece in card.pieces if piece.paper == name]
        wanted = {piece.name: blank_of(card, paper, piece, copies) for piece in own}
        prices = {sheet.price for sheet in paper.sheets}
        by_cost = len(prices) > 1 and None not in prices
        sheets = [
            Sheet(each.width, each.height, (each.price or Fraction(1)) if by_cost else Fraction(1))
            for each in paper.sheets
        ]
        layouts = [each for each in value["sheets"] if each["paper"] == name]
        check(layouts, wanted, sheets)
        check_total(total, layouts, as_they_may_lie(total, wanted), sheets, rule)
        assert rule.stages is None or max(map(stages_of, layouts)) <= rule.stages


def as_they_may_lie(total: dict[str, Any], wanted: dict[str, Wanted]) -> dict[str, Wanted]:
    """Where scores follow the grain a piece lies one way only, which the proof counts on."""
    found = {}
    for blank in total["blanks"]:
        width, height, count, may_turn = wanted[blank["piece"]]
        assert (Fraction(blank["width"]), Fraction(blank["height"]), blank["count"]) == (width, height, count)
        assert may_turn or blank["lies"] == "upright"
        size = (height, width) if blank["lies"] == "turned" else (width, height)
        found[blank["piece"]] = Wanted(*size, count, blank["lies"] == "either")
    return found


@pytest.mark.parametrize("copies", [1, 30])
@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_the_plan_of_a_sample_can_be_cut_and_is_proved(path: Path, copies: int) -> None:
    value, card = cutting(compiled(path), copies)
    assert_can_be_cut(value, card, copies)
    assert all(total["proved"] for total in value["totals"])


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_the_other_unit_has_a_plan_of_its_own(path: Path) -> None:
    result = compiled(path)
    assert result.folded is not None
    other = "mm" if result.folded.card.unit == "inch" else "inch"
    value, card = cutting(result, 7, other)
    assert card.unit == other
    assert_can_be_cut(value, card, 7)


@pytest.mark.parametrize("stages", [2, 3])
def test_a_limit_of_stages_is_kept_and_proved(stages: int) -> None:
    value, card = cutting(compiled(SAMPLES / "night-market.recipe"), 6, None, CuttingOptions(stages))
    assert_can_be_cut(value, card, 6, Rule(stages))


@pytest.mark.parametrize(("score", "lies"), [("3 1/2 from left", "upright"), ("4 from top", "turned")])
def test_turned_is_told_of_the_piece_as_the_recipe_has_it(score: str, lies: str) -> None:
    """Scores follow the grain, so that the base may lie on its sheet in one way only."""
    text = f"""paper ink is cardstock "Ink" 8 1/2 x 11, grain long
base card from ink
  flat 7 x 8
  score {score}
"""
    value, card = cutting(compile_text(HEAD + text), 1)
    (blank,) = value["totals"][0]["blanks"]
    assert (blank["width"], blank["height"], blank["lies"]) == ("7", "8", lies)
    assert f'"turned": {str(lies == "turned").lower()}' in json.dumps(value["sheets"])
    assert_can_be_cut(value, card, 1)


def test_a_paper_in_two_sizes_is_planned_by_cost() -> None:
    text = """paper ink is cardstock "Ink" 8 1/2 x 11 or 12 x 12, price 0.40 or 0.55
rectangle tile from ink
  size 4 x 5
  loose
"""
    value, card = cutting(compile_text(HEAD + text), 25)
    assert_can_be_cut(value, card, 25)
    assert "cost" in value["totals"][0]
