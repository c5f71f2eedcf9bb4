"""A class of four recipes for thirty seats each: its totals against counts that come of the recipes alone."""

from __future__ import annotations

import json
import re
from collections import Counter
from fractions import Fraction
from functools import cache
from math import ceil
from typing import Any, NamedTuple

import pytest

from cardrecipe.plan.classes.sheet import ClassSheet, ShoppingLine
from cardrecipe.plan.cutting.card_plans import PaperPlan
from cardrecipe.plan.cutting.job import Part
from tests.plan.classes.making import blanks_cut, four_samples, leaves, saturday_bench
from tests.plan.cutting.jobs import checked
from tests.recipes import SAMPLES, run

MARGIN = Fraction(1, 8)  # round a shape, on each side: what the sheet of a single card says
ROUND = ("oval", "circle", "tag", "banner", "cutout")


class Made(NamedTuple):
    """A kit as the class was told to make it: file, variant, kits with spares."""

    file: str
    variant: str | None
    kits: int


FOUR = (
    Made("first-frost", None, 32), Made("mill-letter", None, 31), Made("night-market", "Harvest", 32),
    Made("orchard-walk", None, 32),
)  # fmt: skip
BENCH = (
    Made("first-frost", None, 9), Made("mill-letter", None, 10), Made("night-market", None, 8),
    Made("night-market", "Harvest", 8),
)  # fmt: skip
CLASSES = {"four": (FOUR, four_samples), "bench": (BENCH, saturday_bench)}


@cache
def card_json(made: Made) -> dict[str, Any]:
    """A card as other programs read it."""
    variant = ["--variant", made.variant] if made.variant else []
    ran = run("build", str(SAMPLES / f"{made.file}.recipe"), *variant, "-o", "-", "--to", "json")
    assert ran.status == 0, ran.err
    value: dict[str, Any] = json.loads(ran.out)
    return value


@cache
def titles(file: str) -> dict[str, str]:
    """The titles of the papers by name, read from the recipes' lines."""
    text = (SAMPLES / "papers.recipe").read_text() + (SAMPLES / f"{file}.recipe").read_text()
    return dict(re.findall(r"^paper (\S+) is \S+ \"([^\"]+)\"", text, re.M))


def paper_title(made: Made, name: str) -> str:
    if (made.variant, name) == ("Harvest", "glow"):
        return "Harvest plaid"
    return titles(made.file)[name]


def blank(piece: dict[str, Any]) -> tuple[Fraction, Fraction]:
    """The rectangle that a piece is cut from, its shorter side first."""
    room = 2 * MARGIN if piece["kind"] in ROUND else Fraction(0)
    short, long = sorted((Fraction(piece["width"]) + room, Fraction(piece["height"]) + room))
    return short, long


def wanted(kits: tuple[Made, ...]) -> Counter[tuple[str, Fraction, Fraction]]:
    """Every rectangle that the kits need, by paper and size."""
    found: Counter[tuple[str, Fraction, Fraction]] = Counter()
    for made in kits:
        for piece in card_json(made)["pieces"]:
            found[paper_title(made, piece["paper"]), *blank(piece)] += piece["count"] * made.kits
    return found


def given(sheet: ClassSheet) -> Counter[tuple[str, Fraction, Fraction]]:
    """Every rectangle that comes of the layouts, by paper and size."""
    found: Counter[tuple[str, Fraction, Fraction]] = Counter()
    for plan in sheet.paper_plans:
        for layout in plan.layouts:
            for part in leaves(layout.layout.root):
                if part.blank is not None:
                    short, long = sorted((plan.of.length(part.width), plan.of.length(part.height)))
                    found[plan.of.paper.title, short, long] += layout.layout.count
    return found


def spares_told(sheet: ClassSheet) -> int:
    """How many blanks the totals say are to spare."""
    words = dict(zip(("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"),
                     range(1, 11), strict=True))  # fmt: skip
    told = [total.spare for total in sheet.paper_totals]
    counts = [each for text in told for each in re.findall(r"(?:^|, | and )(\w+) ", text)]
    return sum(words[each] if each in words else int(each) for each in counts)


def area(part: Part) -> int:
    return part.width * part.height


@pytest.fixture(params=list(CLASSES), scope="module")
def case(request: pytest.FixtureRequest) -> tuple[tuple[Made, ...], ClassSheet]:
    kits, sheet = CLASSES[request.param]
    return kits, sheet()


Case = tuple[tuple[Made, ...], ClassSheet]


def test_the_layouts_give_what_the_recipes_need_and_the_rest_is_told(case: Case) -> None:
    kits, sheet = case
    need, got = wanted(kits), given(sheet)
    assert set(got) == set(need)
    assert all(got[key] >= count for key, count in need.items())
    assert got.total() - need.total() == spares_told(sheet)


def test_bags_hold_what_is_cut_and_what_is_to_spare(case: Case) -> None:
    kits, sheet = case
    assert [(each.seats + each.spare, each.variant) for each in sheet.kits] == [
        (made.kits, made.variant) for made in kits
    ]
    assert [each.bags for each in sheet.bags] == [each.kits for each in kits]
    bagged = sum(line.count * bag.bags for bag in sheet.bags for line in bag.lines if line.paper)
    assert bagged + spares_told(sheet) == blanks_cut(sheet).total()


def test_a_bag_lists_the_pieces_of_its_card(case: Case) -> None:
    for made, bag in zip(case[0], case[1].bags, strict=True):
        own = Counter((each["name"], each["count"], each["width"], each["height"])
                      for each in card_json(made)["pieces"])  # fmt: skip
        assert own == Counter((line.what, line.count, str(line.width), str(line.height))
                              for line in bag.lines if line.paper)  # fmt: skip


def test_what_the_plan_says_each_sheet_holds_is_what_its_tree_holds(case: Case) -> None:
    sheet = case[1]
    told: Counter[str] = Counter()
    for each in sheet.cutting:
        told.update({name: count * each.count for name, count in each.holds})
    assert told == blanks_cut(sheet)


def test_no_sheet_holds_more_than_its_area(case: Case) -> None:
    for plan in case[1].paper_plans:
        cut = sum(
            area(part) * layout.layout.count
            for layout in plan.layouts
            for part in leaves(layout.layout.root)
            if part.blank
        )
        laid = sum(area(layout.layout.root) * layout.layout.count for layout in plan.layouts)
        assert cut <= laid
        largest = max(each.width * each.height for each in plan.of.job.stocks)
        need = sum(each.demand * each.width * each.height for each in plan.of.job.blanks)
        assert plan.plan.sheets >= ceil(Fraction(need, largest))


def test_each_plan_can_be_cut_and_its_proof_holds(case: Case) -> None:
    """By the checker that knows nothing of the planner; and its second program for the certificate, where it
    can tell the stocks by their sizes."""
    for plan in case[1].paper_plans:
        sizes = [(each.width, each.height) for each in plan.of.job.stocks]
        checked(plan.plan, prove=len(set(sizes)) == len(sizes) and _has_few_places(plan))


def _has_few_places(plan: PaperPlan) -> bool:
    """The second program looks at every place: only where that does not take minutes."""
    return all(each.width * each.height <= 40_000 for each in plan.of.job.stocks)


def test_everything_is_proved(case: Case) -> None:
    assert all("possible" in total.words or total.sheets == 1 for total in case[1].paper_totals)
    assert not [total.words for total in case[1].paper_totals if "between" in total.words]


def papers_bought(sheet: ClassSheet) -> list[ShoppingLine]:
    return [line for line in sheet.shopping if line.kind == "paper"]


def test_need_less_have_is_what_is_bought_in_whole_packs(case: Case) -> None:
    for line, plan in zip(papers_bought(case[1]), case[1].paper_plans, strict=True):
        assert line.counts is not None
        assert line.counts.needed == plan.plan.sheets
        assert line.counts.needed - line.counts.at_hand == line.counts.buy
        pack = plan.of.paper.pack
        packs = ceil(Fraction(line.counts.buy, pack)) if pack else 0
        assert line.counts.left == (packs * pack - line.counts.buy if pack else 0)


def test_the_cost_is_that_of_what_is_bought(case: Case) -> None:
    prices = {  # and packs, as the shelf of the samples says
        "Ink blue": ("0.40", 20),
        "Soft white": ("0.30", 25),
        "Moss": ("0.35", 1),
        "Paper glow": ("0.90", 1),
        "Ripple": ("0.90", 1),
    }
    for line in papers_bought(case[1]):
        assert line.counts is not None
        title = line.title.split(",")[0]
        if title not in prices:
            assert line.cost == ("0.00" if line.counts.buy == 0 and line.cost else "")
            continue
        price, pack = prices[title]
        sheets = ceil(Fraction(line.counts.buy, pack)) * pack
        assert Fraction(line.cost) == Fraction(price) * sheets
    known = [line.cost for line in papers_bought(case[1]) if line.counts and line.counts.buy]
    total = f"{float(sum(map(Fraction, known))):.2f}" if all(known) else ""
    assert case[1].cost == total


def test_all_sheets_at_hand_of_a_paper_are_told() -> None:
    lines = {line.title.split(",")[0]: line for line in papers_bought(four_samples())}
    assert lines["Soft white"].have == "9\u00a0sheets"
    assert lines["Moss"].have == "4\u00a0sheets and 3\u00a0sheets of 6 × 8\u00a0in"
    assert lines["Ink blue"].counts is not None and lines["Ink blue"].counts.buy == 0
    assert lines["Ink blue"].buy == "" and lines["Ink blue"].cost == "0.00"
