"""From recipes to what has to be cut: sizes, margins, turning, costs; and the plan in `card.json`."""

from fractions import Fraction

import pytest

from cardrecipe.plan.cutting.card_plans import card_plans
from cardrecipe.plan.cutting.job import Blank
from cardrecipe.plan.cutting.paper_jobs import MOST_CENTS, MOST_STEPS, PaperJob, paper_jobs
from cardrecipe.render.cutting_json import cutting_value
from tests.plan.cutting.checker import Cut, Sheet, Wanted, check, check_total
from tests.recipes import sized

INCH = 'recipe "Scraps"\n  units inch nearest 1/16\n  border 1/8\n'
MM = 'recipe "Scraps"\n  units mm nearest 1\n  border 3\n'


def jobs(text: str, copies: int = 1) -> list[PaperJob]:
    return list(paper_jobs(sized(text), copies))


def blanks(text: str, copies: int = 1) -> dict[str, Blank]:
    return {each.name: each for job in jobs(text, copies) for each in job.job.blanks}


def size_of(text: str, name: str) -> tuple[Fraction, Fraction]:
    """Give the size that a piece is first cut to, in the recipe's unit."""
    (job,) = [each for each in jobs(text) if any(blank.name == name for blank in each.job.blanks)]
    (blank,) = [each for each in job.job.blanks if each.name == name]
    return job.length(blank.width), job.length(blank.height)


def loose(kind: str, size: str, *lines: str, paper: str = "ink") -> str:
    return f"{kind} it from {paper}\n  {size}\n  loose\n" + "".join(f"  {line}\n" for line in lines)


INK = 'paper ink is cardstock "Ink" 8 1/2 x 11\n'
INK_MM = 'paper ink is cardstock "Ink" 210 x 297\n'


@pytest.mark.parametrize(
    ("kind", "size", "expected"),
    [
        ("circle", "diameter 2", (2, 2)),
        ("oval", "size 3 x 2", (3, 2)),
        ("banner", "size 1 x 4", (1, 4)),
        ("tag", "size 2 x 3", (2, 3)),
        ("cutout", "size 3 x 3", (3, 3)),
    ],
)
def test_a_shape_has_an_eighth_of_an_inch_round_it_or_3_mm(
    kind: str, size: str, expected: tuple[int, int]
) -> None:
    """Common practice, no published source: paper to hold it by, on each side."""
    width, height = expected
    assert size_of(INCH + INK + loose(kind, size), "it") == (width + Fraction(1, 4), height + Fraction(1, 4))
    assert size_of(MM + INK_MM + loose(kind, size.replace("2", "50").replace("3", "60")), "it") == tuple(
        {1: 1, 2: 50, 3: 60, 4: 4}[each] + 6 for each in expected
    )


@pytest.mark.parametrize("work", ['die "scallop square"', "trim by hand"])
def test_what_a_die_or_scissors_cut_out_has_a_margin(work: str) -> None:
    assert size_of(INCH + INK + loose("rectangle", "size 2 x 3", work), "it") == (
        Fraction(9, 4),
        Fraction(13, 4),
    )


def test_a_rectangle_has_no_margin() -> None:
    assert size_of(INCH + INK + loose("rectangle", "size 2 1/16 x 3"), "it") == (Fraction(33, 16), 3)


def test_copies_and_counts_multiply() -> None:
    assert blanks(INCH + INK + loose("rectangle", "size 2 x 3", "count 3"), copies=7)["it"].demand == 21


def test_a_one_way_pattern_is_not_turned() -> None:
    web = 'paper ink is patterned "Web" 12 x 6, one-way\n'
    assert blanks(INCH + INK + loose("rectangle", "size 2 x 3"))["it"].may_turn
    assert not blanks(INCH + web + loose("rectangle", "size 2 x 3"))["it"].may_turn


def test_what_fits_a_one_way_sheet_only_when_it_is_turned_lies_turned() -> None:
    web = 'paper ink is patterned "Web" 12 x 6, one-way\n'
    blank = blanks(INCH + web + loose("rectangle", "size 2 x 7"))["it"]
    assert (blank.width, blank.height, blank.may_turn) == (7, 2, False)


@pytest.mark.parametrize(("grain", "is_turned"), [("long", True), ("short", False)])
def test_scores_lie_along_the_grain(grain: str, is_turned: bool) -> None:
    """A base of 8 1/2 x 5 1/2 is scored along its 5 1/2; grain long runs along the 11 of its sheet. Upright
    the score runs with it; across it would be for grain short, along the 8 1/2, where it must be turned."""
    text = (
        INCH + f'paper ink is cardstock "Ink" 11 x 12, grain {grain}\nbase card from ink\n  fold side-fold\n'
    )
    text += "panel front-panel from ink on front outside\n  size 4 x 5 1/4\n"
    found = blanks(text)
    assert not found["card"].may_turn
    upright = (Fraction(17, 2), Fraction(11, 2))
    # The sheet's long side, 12, stands upright; with grain long it runs along the score, which does so too.
    expected = upright if grain == "long" else upright[::-1]
    assert size_of(text, "card") == expected
    assert found["front-panel"].may_turn
    assert is_turned == (grain == "long")


def test_without_grain_a_base_may_be_turned() -> None:
    text = INCH + INK + "base card from ink\n  fold side-fold\n"
    text += "panel front-panel from ink on front outside\n  size 4 x 5 1/4\n"
    assert blanks(text)["card"].may_turn


def test_lengths_are_whole_steps_of_one_grid() -> None:
    (job,) = jobs(INCH + INK + loose("rectangle", "size 2 3/16 x 3 1/8"))
    assert (job.steps, job.job.blanks[0][1:3]) == (16, (35, 50))
    assert (job.job.stocks[0].width, job.job.stocks[0].height) == (136, 176)


def test_prices_that_differ_are_compared_and_equal_ones_are_not() -> None:
    two = 'paper ink is cardstock "Ink" 8 1/2 x 11 or 12 x 12, price 0.40 or {}\n'
    (by_cost,) = jobs(INCH + two.format("0.75") + loose("rectangle", "size 2 x 3"))
    assert [each.cost for each in by_cost.job.stocks] == [40, 75]
    (by_sheets,) = jobs(INCH + two.format("0.40") + loose("rectangle", "size 2 x 3"))
    assert [each.cost for each in by_sheets.job.stocks] == [1, 1]
    assert not by_sheets.by_cost


def test_a_price_that_is_none_is_not_compared() -> None:
    two = f'paper ink is cardstock "Ink" 8 1/2 x 11 or 12 x 12, price 0.40 or {MOST_CENTS}\n'
    (job,) = jobs(INCH + two + loose("rectangle", "size 2 x 3"))
    assert not job.by_cost


def test_a_grid_as_fine_as_can_be_rounds_blanks_up_and_sheets_down() -> None:
    text = (
        INCH
        + 'paper ink is cardstock "Ink" 8.50000001 x 11.00000007\n'
        + loose("rectangle", "size 1 1/16 x 2")
    )
    (job,) = jobs(text, copies=9)
    (blank,), (stock,), step = job.job.blanks, job.job.stocks, Fraction(1, job.steps)
    assert stock.height <= MOST_STEPS
    assert 0 <= job.length(blank.width) - Fraction(17, 16) < step
    assert 0 <= Fraction("11.00000007") - job.length(stock.height) < step
    assert [each.plan.is_proved for each in card_plans(sized(text), 9)] == [True]


def test_a_sheet_that_is_narrower_than_a_step_holds_nothing() -> None:
    paper = 'paper ink is cardstock "Ink" 8 1/2 x 1/1000000 or 12 x 12\n'
    text = INCH + paper + loose("rectangle", "size 7 x 7")
    (found,) = card_plans(sized(text), 3)
    narrow, square = found.of.job.stocks
    assert narrow.height == 1 and Fraction(1, found.of.steps) > Fraction(1, 1_000_000)
    assert {layout.layout.stock for layout in found.layouts} == {square.name}
    assert (found.plan.sheets, found.plan.is_proved) == (3, True)


# ---- the plan as card.json says it ---------------------------------------------------------------

TWO_PAPERS = (
    INCH
    + 'paper two is cardstock "Two" 8 1/2 x 11 or 12 x 12, price 0.40 or 0.75\n'
    + 'paper web is patterned "Web" 12 x 6, one-way\n'
    + "circle dot from two\n  diameter 2\n  loose\n  count 3\n"
    + 'rectangle cut from two\n  size 2 x 1\n  die "scallop"\n  loose\n'
    + "rectangle strip from web\n  size 2 x 5\n  loose\n"
    + "rectangle tall from web\n  size 2 x 7\n  loose\n"
)


def checked(text: str, copies: int) -> dict[str, Cut]:
    """Give the totals by paper, after the checker has gone through all that stands there."""
    card = sized(text)
    value = cutting_value(card_plans(card, copies))
    totals = value["totals"]
    assert isinstance(totals, list)
    for total in totals:
        layouts = [each for each in value["sheets"] if each["paper"] == total["paper"]]  # type: ignore[attr-defined]
        wanted = {
            each["piece"]: Wanted(
                Fraction(each["width"]), Fraction(each["height"]), each["count"], each["lies"] != "upright"
            )
            for each in total["blanks"]
        }
        prices = "cost" in total
        sheets = [
            Sheet(each.width, each.height, each.price if prices and each.price else Fraction(1))
            for each in card.papers[total["paper"]].sheets
        ]
        check(layouts, wanted, sheets)
        check_total(total, layouts, wanted, sheets)
    return {each["paper"]: each for each in totals}


def test_what_card_json_says_can_be_cut_and_is_proved() -> None:
    totals = checked(TWO_PAPERS, 6)
    assert totals["two"]["cost"] == totals["two"]["least_cost"] == "0.75"
    assert (totals["two"]["sheets"], totals["two"]["least"], totals["two"]["proved"]) == (1, 1, True)
    assert "cost" not in totals["web"]
    assert (totals["web"]["sheets"], totals["web"]["least"], totals["web"]["proved"]) == (3, 3, True)
    assert set(totals["two"]["certificate"]["sheet_limit"]) == {"8 1/2 x 11", "12 x 12"}


def test_the_blanks_are_listed_with_their_margin_and_as_they_must_lie() -> None:
    totals = checked(TWO_PAPERS, 6)
    assert totals["two"]["blanks"][0] == {
        "piece": "dot", "width": "9/4", "height": "9/4", "count": 18, "lies": "either",
    }  # fmt: skip
    assert {each["piece"]: (each["width"], each["lies"]) for each in totals["web"]["blanks"]} == {
        "tall": ("2", "turned"), "strip": ("2", "upright"),
    }  # fmt: skip


def test_metric_sheets_are_named_in_mm() -> None:
    totals = checked(MM + INK_MM + loose("rectangle", "size 100 x 50", "count 9"), 3)
    assert list(totals["ink"]["certificate"]["sheet_limit"]) == ["210 x 297"]


def test_a_proof_by_search_is_named_as_such() -> None:
    """Four round a square in the middle fill the sheet to the last bit, but no trimmer can cut a pinwheel."""
    text = INCH + 'paper ink is cardstock "Ink" 10 x 10\n' + loose("rectangle", "size 4 x 6", "count 4")
    totals = checked(text + "rectangle last from ink\n  size 2 x 2\n  loose\n", 1)
    assert (totals["ink"]["sheets"], totals["ink"]["least"], totals["ink"]["proved"]) == (2, 2, True)
    assert "prices" in totals["ink"]["certificate"] or totals["ink"]["certificate"] == {"exhausted": True}


def test_layouts_are_numbered_through_all_papers() -> None:
    plans = card_plans(sized(TWO_PAPERS), 6)
    assert [each.number for plan in plans for each in plan.layouts] == [1, 2, 3]
    assert plans[1].numbers_with("strip") != ()
    assert plans[0].numbers_with("strip") == ()
