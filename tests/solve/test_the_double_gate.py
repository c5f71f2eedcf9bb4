"""One card through everything: the double gate that the language page is written around.

Common practice, no published source: an 11 x 5 1/2 in base scored at 1 1/4 and 3 3/8 in from both ends,
the outer scores mountain and the inner valley, closes to 4 1/4 x 5 1/2 in.
"""

from fractions import Fraction

import pytest

from cardrecipe.model.lengths import is_on
from cardrecipe.solve.sized import SizedCard
from tests.recipes import HEAD, borders, codes_of, compile_text, cut, in_other_unit, scores, size, sized

PANELS = """panel door-paper from ink on left-door outside, right-door outside
panel flap-paper from ink on left-flap inside, right-flap inside
panel message from ink on back
"""
SECTIONS = "  sections left-flap, left-door, back, right-door, right-flap\n"
WRITTEN = f"""{HEAD}base card from ink
  flat 11 x 5 1/2
  score 1 1/4 from both sides, mountain
  score 3 3/8 from both sides
{SECTIONS}{PANELS}"""
FOLD = f"{HEAD}base card from ink\n  fold double-gate, {{}}\n{PANELS}"
WAYS = {
    "flat size and scores": WRITTEN,
    "scores in another order": WRITTEN.replace(
        "  score 1 1/4 from both sides, mountain\n  score 3 3/8 from both sides\n",
        "  score 9 3/4 from left, mountain\n  score 3 3/8 from right\n  score 1 1/4 from left, mountain\n"
        "  score 3 3/8 from left\n",
    ),
    "closed size and flap": FOLD.format("width 4 1/4, height 5 1/2, flap 1 1/4"),
    "one panel's size and the border, flap": FOLD.format("flap 1 1/4").replace(
        "on back\n", "on back\n  size 4 x 5 1/4\n"
    ),
    "sizes of door and flap panels": FOLD.format("height 5 1/2").replace(
        "right-door outside\n", "right-door outside\n  size 1 7/8 x ?\n"
    ).replace("right-flap inside\n", "right-flap inside\n  size 1 x ?\n"),
    "flat width and closed width": f"{FOLD.format('width 4 1/4, height 5 1/2')}".replace(
        "height 5 1/2\n", "height 5 1/2, flap ?\n"
    ).replace("right-flap inside\n", "right-flap inside\n  size 1 x 5 1/4\n"),
    "panels' sizes and borders written "
    "out": FOLD.format("flap 1 1/4").replace("  border 1/8\n", "", 1).replace(
        "on back\n", "on back\n  size 4 x 5 1/4\n  border 1/8\n"
    ).replace("outside\n", "outside\n  border 1/8\n").replace("inside\n", "inside\n  border 1/8\n"),
}  # fmt: skip


@pytest.mark.parametrize("text", WAYS.values(), ids=WAYS)
def test_however_it_is_given_it_is_the_same_card(text: str) -> None:
    assert codes_of(text) == []
    assert cut(text, "card") == "11 x 5 1/2"
    assert scores(text) == "1 1/4 mountain, 3 3/8 valley, 7 5/8 valley, 9 3/4 mountain"
    assert [cut(text, name) for name in ("door-paper", "flap-paper", "message")] == [
        "1 7/8 x 5 1/4", "1 x 5 1/4", "4 x 5 1/4",
    ]  # fmt: skip
    assert sized(text).piece("door-paper").count == 2
    for name in ("door-paper", "flap-paper"):
        assert [borders(text, name, at) for at in (0, 1)] == ["1/8, 1/8, 1/8, 1/8"] * 2
    (closed,) = compile_text(text).folded.closed  # type: ignore[union-attr]
    assert (closed.width, closed.height) == (Fraction(17, 4), Fraction(11, 2))


def test_a_band_round_it_overlaps_by_what_is_left() -> None:
    """Common practice, no published source: an 11 in band overlaps by 2 1/2 in less twice the thickness."""
    text = f"{WRITTEN}band sash from ink around card\n  width 1\n  length 11\n"
    result = compile_text(text)
    assert result.folded is not None
    assert result.solution is not None
    around = result.folded.card.piece("sash").around
    assert around is not None
    thickness = result.solution.values["sash", "stack"]
    assert Fraction(0) < thickness < Fraction(1, 4)
    assert around.overlap == Fraction(5, 2) - 2 * thickness
    assert around.wrap + around.overlap == 11
    assert cut(text, "sash") == "11 x 1"


def test_in_millimetres_every_border_is_the_same_whole_number() -> None:
    card = in_other_unit(f"{WRITTEN}band sash from ink around card\n  width 1\n  length 11\n")
    assert (card.unit, card.nearest) == ("mm", 1)
    check_whole(card)
    edges = {edge for piece in card.pieces for each in piece.placements for edge in each.border}
    assert edges == {Fraction(3)}


def check_whole(card: SizedCard) -> None:
    """Sections add up to the base, doors meet over the back, and all lies on the ruler's marks."""
    base = card.piece("card")
    flap, door, back, other_door, other_flap = (each.width for each in base.sections)
    assert flap + door + back + other_door + other_flap == base.width
    assert (flap, door) == (other_flap, other_door)
    assert door + other_door == back
    assert all(is_on(each, card.nearest) for each in (base.width, base.height, flap, door, back))
    assert all(is_on(each.at, card.nearest) for each in base.scores)


@pytest.mark.parametrize(("width", "height", "flap", "border"), [
    ("4 "
     "1/4", "5 "
            "1/2", "1 "
                   "1/4", "1/8"), ("5", "7", "1", "1/8"), ("4", "4", "3/4", "3/16"),
                   ("3 1/2", "5", "7/8", "1/4"),
    ("5 1/4", "5 1/4", "1 3/8", "1/16"), ("4 7/8", "6 5/8", "1 1/8", "5/16"),
])  # fmt: skip
def test_any_double_gate_keeps_its_borders_and_sums_in_millimetres(
    width: str, height: str, flap: str, border: str
) -> None:
    text = FOLD.format(f"width {width}, height {height}, flap {flap}").replace(
        "border 1/8", f"border {border}"
    )
    card = in_other_unit(text)
    check_whole(card)
    assert len({edge for piece in card.pieces for each in piece.placements for edge in each.border}) == 1


def test_a_gate_whose_doors_are_no_whole_millimetres_still_closes() -> None:
    """10 in are 254 mm, and a quarter of that is 63.5 mm: base and scores both have to move."""
    card = in_other_unit(f"{HEAD}base card from ink\n  flat 10 x 7\n  score 2 1/2 from both sides\n")
    left, back, right = (each.width for each in card.piece("card").sections)
    assert left == right == back / 2
    assert left.denominator == back.denominator == 1
    assert abs(card.piece("card").width - 254) <= 2


def test_a_metric_gate_stays_a_gate_in_inches() -> None:
    text = (
        'recipe "Gate"\n  units mm nearest 1\n  border 3\npaper ink is cardstock "Ink" 300 x 300\n'
        "base card from ink\n  fold gate, width 104, height 147\npanel a from ink on left-door outside\n"
    )
    card = in_other_unit(text)
    assert (card.unit, card.nearest) == ("inch", Fraction(1, 16))
    doors = [each.width for each in card.piece("card").sections]
    assert doors[0] + doors[2] == doors[1]
    assert set(card.piece("a").placements[0].border) == {Fraction(1, 8)}


def test_gates_1_2_1_close_without_overlap_or_gap() -> None:
    text = (
        f"{HEAD}base card from ink\n  flat 8 x 5\n  score 2 from both sides\n  sections left, middle, right\n"
    )
    assert codes_of(text) == []
    (closed,) = compile_text(text).folded.closed  # type: ignore[union-attr]
    assert (closed.width, closed.height) == (4, 5)


def test_a_rolled_fold_2_1_2_is_refused_with_its_reason() -> None:
    text = f"{HEAD}base card from ink\n  flat 10 x 5\n  score 4, 6 from left\n  sections front, spine, back\n"
    (found,) = compile_text(text).diagnostics
    assert (found.code, found.severity) == ("cannot-fold", "error")
    assert "spine is only 2\u00a0in wide" in found.message
    assert len(found.related) >= 1
    assert size(text, "spine.width") == "2"
