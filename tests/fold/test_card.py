"""The whole stage: what comes of a card, and what is said about one that folds badly or not at all."""

from fractions import Fraction

import pytest

from cardrecipe.fold.card import fold
from cardrecipe.fold.closed import CannotFold
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.fold.layers import CannotTell
from cardrecipe.fold.refusals import cannot_fold
from cardrecipe.model.papers import StockSheet, Weight
from cardrecipe.solve.sized import SizedCard, SizedPiece, SizedSection
from cardrecipe.syntax.diagnostics import Diagnostic
from tests.hand_made import (
    PAPERS,
    accordion,
    card_of,
    double_gate,
    gate,
    piece,
    rolled_trifold,
    side_fold,
    strip_base,
    strip_card,
    tent,
    z_fold,
)

F = Fraction
THREE = ["left", "middle", "right"]
DOORS = ["left-door", "back", "right-door"]


def said(card: SizedCard) -> list[Diagnostic]:
    return fold(card)[1]


def only(card: SizedCard) -> Diagnostic:
    (diagnostic,) = said(card)
    return diagnostic


@pytest.mark.parametrize(
    "card",
    [side_fold(), tent(), gate(), double_gate(), z_fold(), rolled_trifold(), accordion(7)],
    ids=lambda card: str(card.title),
)
def test_ordinary_cards_fold_without_a_word(card: SizedCard) -> None:
    folded, diagnostics = fold(card)
    assert diagnostics == []
    assert [view.name for view in folded.views] == [
        "closed-front",
        "closed-back",
        "open-inside",
        "open-outside",
    ]
    assert folded.thickness is not None
    assert fold(card) == (folded, diagnostics)


def test_a_card_of_loose_pieces_has_nothing_to_fold() -> None:
    card = card_of(piece("tag", "tag", "white", (2, 4), loose=True))
    assert fold(card) == (FoldedCard(card, (), (), None), [])


def test_two_bases_fold_each_for_itself() -> None:
    second = strip_base([2, 2], "V")._replace(name="insert")
    folded, _ = fold(card_of(strip_base([3, 3], "V"), second))
    assert [base.base for base in folded.closed] == ["card", "insert"]
    assert folded.view("closed-front", "insert").width == 2
    assert folded.view("closed-front").width == 3
    with pytest.raises(KeyError):
        folded.view("closed-front", "cover")


def test_a_rolled_fold_with_a_short_middle_is_refused_with_its_reason() -> None:
    folded, (diagnostic,) = fold(strip_card([2, 1, 2], "VV", THREE))
    assert (folded.closed, folded.views, folded.thickness) == ((), (), None)
    assert (diagnostic.code, diagnostic.severity) == ("cannot-fold", "error")
    assert diagnostic.message == (
        "right would have to pass through the fold at score 1: middle is only 1\u00a0in wide"
    )
    assert [related.message for related in diagnostic.related] == [
        "score 1 (valley) joins left and middle",
        "score 2 (valley) joins middle and right",
    ]


def test_the_reason_names_heights_where_the_scores_run_across() -> None:
    message = only(strip_card([2, 1, 2], "MM", THREE, axis="y")).message
    assert message.endswith("middle is only 1\u00a0in high")


def test_a_refusal_without_a_short_section_still_names_what_collides() -> None:
    diagnostic = only(strip_card([4, 2, 2, 2, 4], "MMMV", list("abcde")))
    assert diagnostic.message == "b would have to pass through the fold at score 4"
    assert diagnostic.hint.startswith("turn one of these scores over")


def test_where_the_search_gives_up_the_base_is_named() -> None:
    card = z_fold()
    diagnostic = cannot_fold(card, card.bases[0], CannotFold(CannotTell(20_000), (), (), ()))
    assert (diagnostic.code, diagnostic.severity) == ("cannot-tell", "error")
    assert "whether card can be folded" in diagnostic.message


def test_one_bad_base_does_not_hide_another() -> None:
    bad = strip_base([2, 1, 2], "VV")._replace(name="bad")
    folded, diagnostics = fold(card_of(bad, strip_base([3, 3], "V")))
    assert [base.base for base in folded.closed] == ["card"]
    assert [diagnostic.code for diagnostic in diagnostics] == ["cannot-fold"]


def test_a_score_that_ends_inside_a_section_is_refused() -> None:
    base = gate().bases[0]
    first, second = base.scores
    short = second._replace(start=(F(15, 2), F(1)), end=(F(15, 2), F(3)))
    diagnostic = only(card_of(base._replace(scores=(first, short), sections=whole_but_the_left_door(base))))
    assert (diagnostic.code, diagnostic.severity) == ("score-dangles", "error")
    assert "score 2 of card" in diagnostic.message


def test_a_section_that_a_slit_cuts_off_is_refused() -> None:
    base = gate().bases[0]
    first, second = base.scores
    diagnostic = only(card_of(base._replace(scores=(first, second._replace(direction="slit", number=0)))))
    assert (diagnostic.code, diagnostic.severity) == ("section-loose", "error")
    assert diagnostic.message.startswith("right-door would fall off")


def whole_but_the_left_door(base: SizedPiece) -> tuple[SizedSection, ...]:
    """The sections of a gate whose right score parts nothing."""
    left, back, right = base.sections
    ring = (back.outline[0], right.outline[1], right.outline[2], back.outline[3])
    return left, back._replace(width=back.width + right.width, outline=ring)


@pytest.mark.parametrize(
    ("doors", "code", "amount"),
    [
        (("5/2", 5, "5/2"), None, ""),
        (("21/8", 5, "5/2"), "doors-overlap", "overlap by 1\u20448\u00a0in"),
        (("19/8", 5, "5/2"), "doors-gape", "gape by 1\u20448\u00a0in"),
        (("15/8", 5, "15/8"), "doors-gape", "gape by 1\u202f1\u20444\u00a0in"),
        (("7/4", 5, "7/4"), None, ""),  # not meant to meet
    ],
)
def test_doors_meet_or_it_is_said(doors: list[str], code: str | None, amount: str) -> None:
    diagnostics = said(strip_card(doors, "VV", DOORS))
    assert [each.code for each in diagnostics] == ([code] if code else [])
    for each in diagnostics:
        assert each.severity == "warning"
        assert each.message == f"left-door and right-door {amount} when the card is closed"
        assert "doors of 2\u202f1\u20442\u00a0in each" in each.hint


def test_doors_that_fold_to_the_back_or_stay_flat_are_not_meant_to_meet() -> None:
    assert said(strip_card(["19/8", 5, "5/2"], "VM", DOORS)) == []
    assert said(side_fold()) == []


def test_a_rolled_part_is_narrower_than_what_it_is_rolled_into() -> None:
    names = ["cover", "back", "tuck"]
    diagnostic = only(strip_card([100, 100, 100], "VV", names, 150, unit="mm"))
    assert diagnostic.message.startswith(
        "tuck is rolled in under cover but is no narrower than back: it will jam in the fold, which takes"
    )
    assert diagnostic.hint.startswith("make tuck 99\u00a0mm or less")
    assert said(strip_card([100, 100, 98], "VV", names, 150, unit="mm")) == []


def on_sheet(card: SizedCard, width: int, height: int, grain: str, gsm: int) -> SizedCard:
    sheet = StockSheet(F(width), F(height))
    paper = PAPERS["ink"]._replace(sheets=(sheet,), grain=grain, weight=Weight(F(gsm), "gsm"))
    return card._replace(papers={**PAPERS, "ink": paper})


@pytest.mark.parametrize(
    ("sheet", "grain", "gsm", "crosses"),
    [
        ((11, 8), "long", 270, True),  # 10 x 7 fits one way only; its scores are 7 long
        ((11, 8), "short", 270, False),
        ((11, 8), "long", 160, False),  # light enough
        ((12, 12), "long", 270, False),  # fits either way
        ((6, 6), "long", 270, False),  # fits no way: said elsewhere
    ],
)
def test_scores_across_the_grain(sheet: tuple[int, int], grain: str, gsm: int, crosses: bool) -> None:
    diagnostics = said(on_sheet(gate(), *sheet, grain, gsm))
    assert [each.code for each in diagnostics] == ["score-across-grain"] * crosses


def test_grain_and_a_score_from_left_to_right() -> None:
    """A tent of 5 1/2 x 8 1/2: its score is 5 1/2 long."""
    assert [each.code for each in said(on_sheet(tent(), 6, 9, "long", 270))] == ["score-across-grain"]
    assert said(on_sheet(tent(), 6, 9, "short", 270)) == []
