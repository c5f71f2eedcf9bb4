"""The cut list: grouped, in order, with both systems' own sizes."""

from cardrecipe.plan.cuts import cut_lines
from tests.hand_made import PAPERS, card_of, double_gate, piece, side_fold, strip_card
from tests.plan.cards import starred, uneven
from tests.plan.test_steps import plain


def test_by_paper_and_the_base_and_the_largest_first() -> None:
    lines = cut_lines(double_gate(), 12)
    assert [(line.paper, line.piece, line.count, line.total) for line in lines] == [
        ("ink", "card", 1, 12),
        ("ink", "sash", 1, 12),
        ("glow", "door-paper", 2, 24),
        ("glow", "plate", 1, 12),
        ("glow", "flap-paper", 2, 24),
        ("white", "message", 1, 12),
        ("white", "boats-card", 1, 12),
        ("white", "pennant", 1, 12),
    ]
    assert plain(lines[2].size) == "1 7/8 × 5 1/4 in"


def test_a_base_leads_though_another_piece_is_larger_and_written_first() -> None:
    base = side_fold().pieces[0]
    card = card_of(piece("wrap", "panel", "white", (8, 8)), base)
    assert [line.piece for line in cut_lines(card, 1)] == ["card", "wrap"]


def test_the_other_size_is_that_of_the_other_version() -> None:
    metric = strip_card([108, 108], "V", height=140, unit="mm")
    (line,) = cut_lines(side_fold(), 1, metric)
    assert line.other_size == "216 × 140\u00a0mm"
    assert cut_lines(double_gate(), 1, metric)[1].other_size == ""


def test_notes() -> None:
    by_piece = {line.piece: line for line in cut_lines(double_gate(), 1)}
    assert by_piece["plate"].notes[:2] == ("oval", "die-cut")
    assert by_piece["door-paper"].notes == (
        "pattern upright: the second number runs from top to bottom",
    )
    assert by_piece["message"].notes == ()
    heart = [line for line in cut_lines(starred(), 1) if line.piece == "heart"]
    assert tuple(map(plain, heart[0].notes)) == (
        "trimmed by hand along the outline",
        "first a rectangle of 3/4 × 3/4 in",
    )


def test_a_size_off_the_grid_stands_between_two_marks() -> None:
    base = uneven().pieces[0]._replace(width=side_fold().pieces[0].width / 3)
    (line,) = cut_lines(card_of(base), 1)
    assert [plain(note) for note in line.notes] == [
        "2 5/6 is between 2 13/16 and 2 7/8 on the ruler"
    ]


def test_the_grain_is_named_where_the_packet_tells_it() -> None:
    papers = {**PAPERS, "ink": PAPERS["ink"]._replace(grain="long")}
    (line,) = cut_lines(side_fold()._replace(papers=papers), 1)
    assert line.notes == ("grain best top to bottom, along the folds",)
