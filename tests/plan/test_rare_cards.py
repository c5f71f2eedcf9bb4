"""Cards that are seldom made: diamonds, foam that the post still takes, papers of which nothing is known."""

import re
from fractions import Fraction as F

import pytest

from cardrecipe.fold.folded import Thickness
from cardrecipe.library import post
from cardrecipe.library.post import Limits, find_service
from cardrecipe.plan.cutting.card_plans import card_plans
from cardrecipe.plan.cutting_sheets import proof
from cardrecipe.plan.post_limits import limits_broken, too_thin_to_sort
from cardrecipe.plan.stuffed import stuffed
from cardrecipe.plan.trims import trim_words, trims
from tests.hand_made import side_fold
from tests.plan.cards import folded
from tests.recipes import HEAD, codes_of, sized
from tests.variant_recipes import together

CARD = (
    f'{HEAD}paper white is cardstock "White" 12 x 12, price 0.30\npaper moss is cardstock "Moss" 12 x 12\n'
    "base card from white\n  fold side-fold, width 4 1/4, height 5 1/2\n"
)
MOSSY = "  panel note from moss on back\n"


# ---- cutting -------------------------------------------------------------------------------------


def test_a_diamond_is_cut_of_its_rectangle_by_four_cuts_from_edge_to_edge() -> None:
    corners = [((0, 3), (3, 0)), ((3, 0), (6, 3)), ((0, 3), (3, 6)), ((3, 6), (6, 3))]
    scores = "".join(f"  score from ({a}, {b}) to ({c}, {d})\n" for (a, b), (c, d) in corners)
    card = sized(f"{HEAD}base card from ink\n  flat 6 x 6\n{scores}panel leaf from ink on section-2\n")
    leaf = card.piece("leaf")
    half = leaf.width / 2
    assert leaf.width == leaf.height and leaf.outline is not None and len(leaf.outline) == 4
    ends = {frozenset(cut) for cut in trims(leaf)}
    assert len(trims(leaf)) == 4 and all(len(cut) == 2 for cut in trims(leaf))
    assert ends == {frozenset((x, y)) for x in ((0, half), (leaf.width, half))
                    for y in ((half, 0), (half, leaf.height))}  # fmt: skip
    assert trim_words(card, leaf).count("cut it") == 1 and trim_words(card, leaf).count(" from the ") >= 4


@pytest.mark.parametrize(
    ("price", "by", "said"), [(", price 0.30 or 0.55", 5, ("0.90", "0.85", "0.90")), ("", 1, ("2", "3"))]
)
def test_where_the_fewest_or_the_least_cost_is_not_proved_both_ends_are_told(
    price: str, by: int, said: tuple[str, ...]
) -> None:
    card = sized(
        f'{HEAD}paper fog is cardstock "Fog" 8 x 10 or 12 x 10{price}\n'
        "rectangle leaf from fog\n  size 7 x 9\n  loose\n  count 3\n"
    )
    (found,) = card_plans(card, 1)
    told = proof(found._replace(plan=found.plan._replace(least=found.plan.least - by)))
    assert told != proof(found) and tuple(re.findall(r"[0-9.]*[0-9]", told)) == said


# ---- the post ------------------------------------------------------------------------------------


@pytest.mark.parametrize(("foam", "is_told"), [(3, False), (4, False), (8, True)])
def test_a_thick_card_is_told_of_only_where_no_letter_takes_it(foam: int, is_told: bool) -> None:
    tile = f"square tile from moss on front outside\n  size 2 x 2\n  glue with foam {foam} mm thick\n"
    assert ("post-too-thick" in codes_of(CARD + tile)) is is_told


def test_what_a_service_sets_no_limit_to_breaks_none() -> None:
    card, letter = folded(side_fold()), find_service("us-letter")
    thick, thin = (stuffed(card._replace(thickness=Thickness(F(mm), F(mm), F(mm), False))) for mm in (9, 0))
    assert thick is not None and thin is not None
    assert [reason.is_over for reason in limits_broken(letter, thick)] == [True]
    assert not list(limits_broken(letter._replace(thick=Limits(None, None)), thick))
    dearer = find_service("us-nonmachinable")
    large = thin._replace(short=F(5), long=F(7), thickness=Thickness(F(0), F(0), F(0), False))
    assert [reason.is_certain for reason in too_thin_to_sort(dearer, large)] == [True]
    assert not list(too_thin_to_sort(dearer._replace(thin=None), large))


def test_a_square_letter_is_warned_of_where_a_service_refuses_it(monkeypatch: pytest.MonkeyPatch) -> None:
    square = f"{HEAD}base card from ink\n  fold side-fold, width 5, height 5\n"
    assert "post-square" in codes_of(square)
    of_any_shape = tuple(each._replace(ratio=Limits(None, None)) for each in post.all_services())
    monkeypatch.setattr(post, "all_services", lambda: of_any_shape)
    assert "post-square" not in codes_of(square)


# ---- variants ------------------------------------------------------------------------------------


def test_a_variant_of_papers_without_a_price_says_so_beside_the_others() -> None:
    found = together(f'{CARD}variant "Kraft"\n  replace white with plain "Kraft" 12 x 12\n')
    (row,) = (each for each in found.rows if each.label == "Cost of the papers")
    assert [cell.lines for cell in row.cells] == [
        ("0.30", "White cardstock: 0.30"),
        ("no price is known",),
    ]


def test_a_card_of_any_paper_has_no_sheets_to_count_beside_its_variants() -> None:
    found = together(CARD.replace("base card from white", "base card") + f'variant "Note"\n{MOSSY}')
    (row,) = (each for each in found.rows if each.label == "Sheets")
    assert row.cells[0].lines == ("–",)
    assert row.cells[1].lines[0].startswith("Moss cardstock: 1")


def test_a_size_that_differs_in_the_other_unit_alone_is_a_new_one() -> None:
    """3 3/4 in is 95 mm where it is written, and 96 between two borders of 6 mm."""
    found = together(
        CARD.replace("border 1/8", "border 1/4")
        + 'panel plate from moss on back\nvariant "Written"\n  set plate.width 3 3/4\n'
    )
    (plain,) = (line for line in found.plain.cuts if line.piece == "plate")
    (cut,) = (each for each in found.variants[0].cuts if each.line.piece == "plate")
    assert (cut.line.size, cut.mark, cut.was) == (plain.size, "new size", plain.other_size)
    assert cut.line.other_size != plain.other_size


def test_a_cut_takes_the_place_of_another_with_what_stood_before_it_left_out() -> None:
    found = together(
        f"{CARD}rectangle ticket from moss\n  size 2 x 3\n  loose\n"
        'step before ticket "Clean the board."\n'
        'variant "Ink"\n  drop ticket\n  panel note from ink on back\n'
    )
    assert [step.title for step in found.plain.steps[:3]] == [
        "Cut the card",
        "Clean the board",
        "Cut the ticket",
    ]
    first = found.variants[0].way.detours[0]
    assert first.before == ("Step 1 as for the main card.", "Leave out step 2.")
    assert first.place == "Instead of step 3" and first.step.title == "Cut the note"
