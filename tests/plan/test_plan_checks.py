"""Each check of the plan: a card that trips it, and one beside it that does not."""

from fractions import Fraction

import pytest

from cardrecipe.model.papers import StockSheet, Supply
from cardrecipe.model.work import Work
from cardrecipe.plan.checks import CHECKS, check_plan
from cardrecipe.solve.sized import Around, SizedCard
from cardrecipe.syntax.spans import Span
from tests.hand_made import PAPERS, SPAN, double_gate, piece, side_fold
from tests.plan.cards import folded

F = Fraction


def used_papers(card: SizedCard) -> SizedCard:
    """`card` without the papers and supplies it does not use, so that only the case speaks."""
    names = {one.paper for one in card.pieces}
    papers = {name: paper for name, paper in card.papers.items() if name in names}
    return card._replace(papers=papers, supplies={})


def codes(card: SizedCard) -> list[str]:
    return [found.code for found in check_plan(folded(card))]


def test_a_good_card_is_good() -> None:
    assert codes(double_gate()) == []
    assert codes(used_papers(side_fold())) == []


def test_unused_papers_and_supplies() -> None:
    assert codes(side_fold()) == ["unused-paper"] * 2 + ["unused-supply"] * 3
    messages = [found.message for found in check_plan(folded(side_fold()))]
    assert messages[0] == "no piece is made from the paper “Paper glow”"
    assert messages[2] == "nothing is done with the ink “Coal black”"


def test_a_shared_file_of_papers_is_a_cupboard() -> None:
    elsewhere = Span("papers.recipe", 0, 4)
    card = side_fold()
    papers = {name: paper._replace(span=elsewhere) for name, paper in card.papers.items()}
    supplies = {name: one._replace(span=elsewhere) for name, one in card.supplies.items()}
    assert codes(card._replace(papers=papers, supplies=supplies)) == []


def test_a_tool_and_what_the_makers_words_name_count_as_used() -> None:
    supplies = {
        "awl": Supply("awl", "tool", "Awl", SPAN),
        "thread": Supply("thread", "cord", "Red thread", SPAN),
    }
    card = used_papers(side_fold())._replace(supplies=supplies)
    assert codes(card) == ["unused-supply"]
    base = card.pieces[0]._replace(works=(Work("do", "Tie it with the red thread.", SPAN),))
    assert codes(card._replace(pieces=(base,))) == []


def test_no_sheet_holds() -> None:
    fits = side_fold(piece("wrap", "panel", "glow", (12, 12)))
    assert codes(used_papers(fits)) == []
    wide = side_fold(piece("wrap", "panel", "glow", ("193/16", 2)))
    (found,) = check_plan(folded(used_papers(wide)))
    assert (found.code, found.severity) == ("no-sheet-holds", "error")
    assert "Paper glow" in found.message


def test_a_one_way_pattern_that_must_be_turned() -> None:
    glow = PAPERS["glow"]._replace(sheets=(StockSheet(F(6), F(12)),))
    card = used_papers(side_fold(piece("wide", "panel", "glow", (8, 4))))
    card = card._replace(papers={**card.papers, "glow": glow})
    assert codes(card) == ["one-way-turned"]
    both_ways = {**card.papers, "glow": glow._replace(one_way=False)}
    assert codes(card._replace(papers=both_ways)) == []


@pytest.mark.parametrize(("overlap", "expected"), [("5/16", ["band-overlap-short"]), ("3/8", [])])
def test_the_overlap_of_a_band(overlap: str, expected: list[str]) -> None:
    around = Around("card", False, F(2), F(9), F(overlap))
    band = piece("sash", "band", "ink", (F(9) + F(overlap), 1), around=around)
    assert codes(used_papers(side_fold(band))) == expected


def work(verb: str, text: str = "Moon", middle: Fraction | None = None) -> Work:
    return Work(verb, text, SPAN, middle=middle)


@pytest.mark.parametrize(
    ("works", "expected"),
    [
        ([work("add"), work("stamp")], True),
        ([work("stamp"), work("add")], False),
        ([work("emboss"), work("stamp")], True),
        ([work("emboss", middle=F(1)), work("stamp")], False),
        ([work("trim"), work("stamp")], True),
        ([work("stamp"), work("color"), work("trim")], False),
        ([work("die"), work("emboss")], True),
        ([work("emboss"), work("die")], False),
    ],
)
def test_work_that_comes_too_late(works: list[Work], expected: bool) -> None:
    card = used_papers(side_fold(piece("plate", "panel", "ink", (2, 2), works=tuple(works))))
    found = check_plan(folded(card))
    assert [one.code for one in found] == ["work-too-late"] * expected
    if expected:
        assert found[0].hint.startswith(f"write `{works[1].verb} ") and found[0].related


def test_every_check_states_its_rule() -> None:
    assert all(check.__doc__ and check.__doc__.endswith(".") for check in CHECKS)


def test_a_sheet_that_is_nearly_full_is_told_though_other_papers_are_not() -> None:
    """A strip of 1/4 in is left of the one sheet, most of the other."""
    sheet = StockSheet(F(17, 2), F(23, 4))
    tag = piece("tag", "rectangle", "white", (1, 2), loose=True)
    card = used_papers(side_fold(tag))
    full = {**card.papers, "ink": card.papers["ink"]._replace(sheets=(sheet,))}
    assert codes(card._replace(papers=full)) == ["sheet-nearly-full"]
    assert codes(card) == []


def test_a_supply_that_a_tip_names_counts_as_used() -> None:
    """At the step that works on a piece, and at the one that puts it in its place."""
    supplies = {"thread": Supply("thread", "cord", "Red thread", SPAN)}
    card = used_papers(side_fold())._replace(supplies=supplies)
    base, told = card.pieces[0], ("Keep the red thread at hand.",)
    assert codes(card) == ["unused-supply"]
    for piece_told in (base._replace(tips=told), base._replace(tips_on=told)):
        assert codes(card._replace(pieces=(piece_told,))) == []
