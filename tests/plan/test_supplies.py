"""The supply list: gathered from pieces, work and glue; amounts that are true."""

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from cardrecipe.model.papers import StockSheet, Supply
from cardrecipe.model.work import Work
from cardrecipe.plan.papers import least_sheets
from cardrecipe.plan.supplies import supply_lines
from cardrecipe.plan.work_steps import picked_up
from cardrecipe.solve.sized import SizedCard
from tests.hand_made import PAPERS, SPAN, SUPPLIES, double_gate, piece, placed, side_fold
from tests.plan.cards import FRONT, loose_pieces, pocketed, starred
from tests.plan.test_steps import plain

F = Fraction
LETTER = StockSheet(F(17, 2), F(11))


def amounts(card: SizedCard, copies: int = 1) -> dict[str, str]:
    return {line.name: plain(line.amount) for line in supply_lines(card, copies)}


def test_the_double_gate() -> None:
    lines = supply_lines(double_gate(), 1)
    assert [(line.kind, plain(line.name)) for line in lines] == [
        ("paper", "Ink blue, 270 gsm"),
        ("paper", "Paper glow, 150 gsm"),
        ("paper", "White, 80 lb cover"),
        ("stamp", "Three paper boats"),
        ("ink", "Coal black"),
        ("marker", "Sea green"),
        ("marker", "Rust"),
        ("die", "Oval plate"),
        ("folder", "Ripple"),
        ("adhesive", "Double-sided tape"),
        ("adhesive", "Liquid glue"),
        ("adhesive", "Foam tape or foam pads, 2 mm thick"),
        ("tool", "Paper trimmer"),
        ("tool", "Ruler"),
        ("tool", "Pencil"),
        ("tool", "Small scissors"),
        ("tool", "Die-cutting machine"),
        ("tool", "Scoring board"),
        ("tool", "Bone folder"),
    ]
    by_name = {line.name: line for line in lines}
    assert by_name["Coal black"].used_for == ("message", "boats-card")
    assert by_name["Ink blue, 270 gsm"].color == "#22304a"


def test_sheets_of_each_size_that_the_paper_is_sold_in() -> None:
    assert amounts(double_gate(), 12)["Ink blue, 270 gsm"] == (
        "at least 12 sheets of 8 1/2 × 11 in or 6 sheets of 12 × 12 in"
    )


def test_only_sizes_that_hold_every_piece_are_offered() -> None:
    card = side_fold(piece("wrap", "panel", "ink", ("23/2", 2)))
    assert amounts(card)["Ink blue, 270 gsm"] == "at least 1 sheet of 12 × 12 in"


def test_a_paper_without_a_weight() -> None:
    papers = {**PAPERS, "ink": PAPERS["ink"]._replace(weight=None)}
    assert "Ink blue" in amounts(side_fold()._replace(papers=papers))


def test_lengths_and_counts_are_for_all_the_cards() -> None:
    found = amounts(pocketed(), 3)
    assert found["Sea blue"] == "about 24 in"
    assert found["Moon"] == "three pieces"


def test_declared_kinds_win_and_tools_need_no_operation() -> None:
    supplies = {
        **SUPPLIES,
        "sea": Supply("sea", "ink", "Sea green", SPAN),
        "awl": Supply("awl", "tool", "Awl", SPAN),
    }
    lines = supply_lines(double_gate()._replace(supplies=supplies), 1)
    assert {line.kind for line in lines if line.name == "Sea green"} == {"ink"}
    assert "Awl" in [line.name for line in lines]


def test_tools_follow_from_the_pieces() -> None:
    assert "Scoring board" not in amounts(loose_pieces())
    assert {"Craft knife", "Cutting mat"} <= amounts(starred()).keys()
    assert "Craft knife" not in amounts(double_gate())


def test_a_pen_is_needed_where_none_is_named() -> None:
    note = piece("note", "panel", "white", (2, 2), works=(Work("write", "Thank you", SPAN),))
    assert "Pen" in amounts(side_fold(note))


def test_two_large_pieces_never_share_a_sheet() -> None:
    large = piece("large", "panel", "ink", (6, 8), count=2)
    assert large.width * large.height * 2 > LETTER.width * LETTER.height
    tall = piece("tall", "panel", "ink", ("9/2", 6), count=3)
    assert least_sheets([tall], 1, LETTER) == 1
    wide = piece("wide", "panel", "ink", (5, "13/2"), count=2)
    # 65 of 93.5 square inches, yet neither 5 + 5 nor 6 1/2 + 6 1/2 nor 5 + 6 1/2 goes into 8 1/2,
    # and two side by side along the 11 need 8 1/2 >= 6 1/2: they fit.
    assert least_sheets([wide], 1, LETTER) == 1
    bar = piece("bar", "panel", "ink", ("9/2", 9), count=2)
    assert 2 * bar.width * bar.height < LETTER.width * LETTER.height
    assert least_sheets([bar], 3, LETTER) == 6


@settings(max_examples=200, deadline=None)
@given(
    st.integers(1, 5), st.integers(1, 5), st.integers(2, 8), st.integers(2, 10), st.integers(1, 6)
)
def test_the_least_number_is_never_more_than_a_plain_way_of_cutting_needs(
    width: int, height: int, sheet_width: int, sheet_height: int, count: int
) -> None:
    """Rows and columns of one size are a way of cutting; a lower bound may not exceed it."""
    per_sheet = (sheet_width // width) * (sheet_height // height)
    if per_sheet == 0:
        return
    sheet = StockSheet(F(sheet_width), F(sheet_height))
    found = least_sheets([piece("one", "panel", "ink", (width, height), count=count)], 1, sheet)
    assert 1 <= found <= -(-count // per_sheet)


def test_a_ruler_is_listed_where_something_is_measured_and_no_metal_one_is_there() -> None:
    assert "Ruler" in amounts(double_gate()) and "Metal ruler" not in amounts(double_gate())
    assert "Ruler" not in amounts(loose_pieces())
    window = ((F(1), F(1)), (F(2), F(1)), (F(2), F(2)), (F(1), F(2)))
    cut_out = side_fold(piece("frame", "panel", "white", (3, 4), placed("back", FRONT, (3, 4))))
    pieces = tuple(one._replace(windows=(window,)) if one.name == "frame" else one for one in cut_out.pieces)
    found = amounts(cut_out._replace(pieces=pieces))
    assert "Metal ruler" in found and "Ruler" not in found


def test_only_what_is_trimmed_by_hand_is_trimmed_with_scissors() -> None:
    assert picked_up([Work("trim", "", SPAN)]) == ("pencil", "small scissors")
    assert picked_up([Work("stamp", "A star", SPAN, ("Coal",))]) == ("stamp “A star”", "Coal")


def test_a_plain_card_needs_a_trimmer_and_what_it_is_folded_with() -> None:
    """A machine is asked for where something is cut with a die or embossed, and nowhere else."""
    assert [line.name for line in supply_lines(side_fold(), 1) if line.kind == "tool"] == [
        "Paper trimmer",
        "Scoring board",
        "Bone folder",
    ]
    base = side_fold().pieces[0]
    for verb, is_needed in (("stamp", False), ("die", True), ("emboss", True)):
        card = side_fold()._replace(pieces=(base._replace(works=(Work(verb, "Moon", SPAN),)),))
        assert ("Die-cutting machine" in amounts(card)) == is_needed, verb
