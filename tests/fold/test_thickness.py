"""How thick the closed card is at its thickest place, and what it weighs."""

from fractions import Fraction
from itertools import pairwise
from random import Random

import pytest

from cardrecipe.fold.card import fold, thickness_of
from cardrecipe.fold.geometry import Box
from cardrecipe.fold.paper_weight import Caliper, caliper, weight_in_grams
from cardrecipe.fold.thickness import _Slab, _thickest, stack_under_band
from cardrecipe.model.papers import Paper, Weight
from cardrecipe.model.work import Glue
from cardrecipe.solve.sized import Around, SizedCard, SizedPiece
from tests.hand_made import (
    PAPERS,
    SPAN,
    card_of,
    double_gate,
    gate,
    piece,
    placed,
    rolled_trifold,
    side_fold,
    strip_base,
    strip_card,
)

F = Fraction
TENTH = F(10, 254)  # inches, 1 mm: every layer of a card below adds one


def even(card: SizedCard) -> SizedCard:
    """The card with every paper 1 mm thick."""
    papers = {name: paper._replace(thick=TENTH) for name, paper in PAPERS.items()}
    return card._replace(papers=papers)


def thickness(card: SizedCard) -> Fraction:
    folded, _ = fold(even(card))
    assert folded.thickness is not None
    assert not folded.thickness.estimated
    assert folded.thickness.least_mm == folded.thickness.likely_mm == folded.thickness.most_mm
    return folded.thickness.likely_mm


def panel(name: str, side: str) -> SizedPiece:
    wide = F(5) if name == "back" else F(5, 2)
    spot = placed(name, (wide, 7), (1, 1), side=side)
    return piece(f"on-{name}-{side}", "panel", "white", (1, 1), spot)


@pytest.mark.parametrize(
    ("card", "layers"),
    [
        (side_fold(), 2),
        (gate(), 2),
        (rolled_trifold(), 3),
        (strip_card([4, 6, 4], "VV"), 3),
        (strip_card([2, 3], "V"), 2),
        (card_of(strip_base([5], "")), 1),
    ],
)
def test_layers_of_plain_cards(card: SizedCard, layers: int) -> None:
    assert thickness(card) == layers


def test_the_thickest_place_is_not_the_sum_of_all_parts() -> None:
    """A panel on each door, beside each other, and one between them on the back."""
    both = (panel("left-door", "outside"), panel("right-door", "outside"))
    assert thickness(gate(*both)) == 3
    assert thickness(gate(panel("back", "inside"))) == 3
    assert thickness(gate(*both, panel("back", "inside"))) == 3
    assert thickness(gate(panel("left-door", "outside"), panel("left-door", "inside"))) == 4


def test_foam_adds_its_thickness_beneath_a_piece() -> None:
    glue = Glue(SPAN, "foam", thick=F(2) * TENTH)
    assert thickness(gate(panel("left-door", "outside")._replace(glue=glue))) == 5
    assert thickness(gate(panel("left-door", "outside")._replace(glue=Glue(SPAN, "tape")))) == 3


def test_the_double_gate_with_all_its_layers() -> None:
    """In the middle of the band: back, message, door, flap and both their papers; band before, behind
    and again behind where its ends overlap; plate, tag, foam of 2 mm and the square."""
    assert thickness(double_gate()) == 6 + 3 + 1 + 1 + 2 + 1


def test_a_band_overlap_counts_only_where_it_is() -> None:
    around = Around("card", False, F(1), F(10), F(1, 2))
    middle = placed("back", (5, 7), ("1/4", 1), side="outside", at=("19/8", 1))
    far = placed("back", (5, 7), ("1/4", 1), side="outside", at=("1/4", 1))
    band = piece("sash", "band", "ink", ("21/2", 1), around=around)
    for spot, layers in ((middle, 6), (far, 5)):
        assert thickness(gate(band, piece("dot", "panel", "white", ("1/4", 1), spot))) == layers


def test_the_stack_under_a_band_leaves_out_all_bands_and_what_is_on_them() -> None:
    card = even(double_gate())
    around = card.piece("sash").around
    assert around is not None
    stack = stack_under_band(card, around, F(1))
    assert stack is not None
    assert stack.likely_mm == 6  # back, message, door, its paper, flap, its paper


def test_the_stack_under_a_band_is_that_of_its_strip() -> None:
    card = even(gate(panel("left-door", "outside")))  # the panel lies from 3 to 4 below the top
    heights = {}
    for at in (F(0), F(2), F(5, 2), F(4)):
        stack = stack_under_band(card, Around("card", False, at, F(0), F(0)), F(1))
        heights[at] = stack and stack.likely_mm
    assert heights == {F(0): 2, F(2): 2, F(5, 2): 3, F(4): 2}
    downward = stack_under_band(card, Around("card", True, F(3), F(0), F(0)), F(1))
    assert downward is not None
    assert downward.likely_mm == 2


def test_a_base_that_cannot_be_closed_has_no_stack() -> None:
    card = strip_card([2, 1, 2], "VV")
    assert stack_under_band(card, Around("card", False, F(0), F(0), F(0)), F(1)) is None


def test_caliper_as_written_is_exact_and_not_an_estimate() -> None:
    paper = PAPERS["ink"]._replace(thick=F(1, 100))
    assert caliper(paper, "inch") == (F(254, 1000), F(254, 1000), F(254, 1000), False)
    assert caliper(PAPERS["ink"]._replace(thick=F(3, 10)), "mm").likely_mm == F(3, 10)


def test_caliper_from_weight_keeps_the_range_of_bulk() -> None:
    """standards.md, section 5: 216 gsm gives 0.17 to 0.32 mm; bulk 0.8 to 1.5, from memory."""
    result = caliper(PAPERS["white"], "inch")  # 80 lb cover
    assert (round(result.least_mm, 2), round(result.most_mm, 2)) == (F(17, 100), F(32, 100))
    assert result.least_mm < result.likely_mm < result.most_mm
    assert result.estimated


@pytest.mark.parametrize("kind", ["cardstock", "patterned", "plain", "vellum", "acetate"])
def test_caliper_by_kind_alone_is_an_estimate(kind: str) -> None:
    result = caliper(Paper("p", kind, "P", (), SPAN), "mm")
    assert 0 < result.least_mm < result.likely_mm < result.most_mm < 1
    assert result.estimated
    assert caliper(Paper("p", kind, "P", (), SPAN, Weight(F(200), "gsm")), "mm").likely_mm > 0


def test_a_card_without_papers_is_estimated_as_card() -> None:
    folded, _ = fold(strip_card([2, 2], "V", paper=None))
    assert folded.thickness is not None
    assert folded.thickness.estimated
    assert folded.thickness.likely_mm == 2 * caliper(None, "inch").likely_mm


def test_weight_of_a_half_letter_sheet() -> None:
    """standards.md, section 5: 5 1/2 x 8 1/2 in at 176 gsm weighs 5.308 g."""
    papers = {"ink": PAPERS["ink"]._replace(weight=Weight(F(176), "gsm"))}
    grams = weight_in_grams(side_fold()._replace(papers=papers))
    assert grams is not None
    assert round(float(grams), 3) == 5.308


def test_weight_counts_every_copy_and_rounds_ovals_off() -> None:
    paper = {"white": PAPERS["white"]._replace(weight=Weight(F(100), "gsm"))}
    square = piece("s", "square", "white", (100, 100))
    card = card_of(square._replace(count=3), unit="mm")._replace(papers=paper)
    assert weight_in_grams(card) == 3
    oval = card_of(square._replace(kind="oval"), unit="mm")._replace(papers=paper)
    assert float(weight_in_grams(oval) or 0) == pytest.approx(3.14159265 / 4, rel=1e-6)


def test_weight_is_not_known_where_a_papers_is_not() -> None:
    papers = {**PAPERS, "glow": PAPERS["glow"]._replace(weight=None)}
    assert weight_in_grams(double_gate()._replace(papers=papers)) is None
    assert weight_in_grams(double_gate()) is not None


def test_the_highest_pile_is_that_of_every_place_tried() -> None:
    """Against a count at the middle of every cell, for boxes that touch, cross and lie in each other."""
    chance = Random(7)
    for boxes in range(40):
        slabs = [_slab_by_chance(chance) for _ in range(boxes)]
        ends = sorted({Fraction(end) for slab in slabs for end in slab.box})
        middles = [(low + high) / 2 for low, high in pairwise(ends)]
        piles = [[slab.thick for slab in slabs if slab.box.left < x < slab.box.right
                  and slab.box.top < y < slab.box.bottom] for x in middles for y in middles]  # fmt: skip
        found = _thickest(slabs)
        assert found.likely_mm == max((sum(each.likely_mm for each in pile) for pile in piles), default=0)
        assert found.least_mm == max((sum(each.least_mm for each in pile) for pile in piles), default=0)
        assert found.most_mm == max((sum(each.most_mm for each in pile) for pile in piles), default=0)


def _slab_by_chance(chance: Random) -> _Slab:
    left, top = chance.randrange(9), chance.randrange(9)
    box = Box(Fraction(left), Fraction(top), Fraction(left + 1 + chance.randrange(5)), Fraction(top + 2))
    least, more, most = (Fraction(chance.randrange(9), chance.randint(1, 9)) for _ in range(3))
    return _Slab(box, Caliper(least + more, least, least + more + most, False))


@pytest.mark.parametrize("card", [side_fold(), gate(), double_gate()], ids=lambda card: card.title)
def test_the_thickness_that_sizes_ask_for_is_that_of_the_sheet(card: SizedCard) -> None:
    assert thickness_of(card) == fold(card)[0].thickness is not None


def test_two_layers_of_card_of_which_nothing_is_told_are_between_four_and_nine_tenths_thick() -> None:
    """Card counts as 0.3 mm, 0.2 at least and 0.45 at most."""
    folded, _ = fold(strip_card([2, 2], "V", paper=None))
    assert folded.thickness == (F(6, 10), F(4, 10), F(9, 10), True)


def test_caliper_from_a_round_weight_is_its_bulk_to_the_last_digit() -> None:
    """200 grams on a square metre of 1 1/4 cubic centimetres to the gram: 250 cubic centimetres, 1/4 mm."""
    paper = Paper("p", "cardstock", "P", (), SPAN, Weight(F(200), "gsm"))
    assert caliper(paper, "mm") == (F(25, 100), F(16, 100), F(30, 100), True)
