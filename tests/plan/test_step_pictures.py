"""Each step has a picture of its own, and the plan knows what is in place by then."""

from collections import Counter

import pytest

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.library.folds import fold_names
from cardrecipe.plan.order import tasks_of
from cardrecipe.plan.step_pictures import StepPicture, step_pictures, told_of
from cardrecipe.plan.steps import steps
from cardrecipe.solve.sized import ExtraStep, SizedCard
from tests.hand_made import SPAN, double_gate, piece, placed, side_fold
from tests.plan.cards import every_card, folded, steps_of, tall_band
from tests.recipes import HEAD, compile_text
from tests.shipped import every_sample, structure

CARDS = {
    **{f"hand-made {number} {card.title}": folded(card) for number, card in enumerate(every_card())},
    **every_sample(),
    **{name: structure(name) for name in fold_names()},
}
ALL = pytest.mark.parametrize("card", CARDS.values(), ids=CARDS)


@ALL
def test_steps_and_pictures_agree(card: FoldedCard) -> None:
    named = [step.picture for step in steps(card, 1)]
    assert named == [picture.name for picture in step_pictures(card)]
    assert "" not in named


@ALL
def test_no_two_steps_share_a_picture(card: FoldedCard) -> None:
    shown = Counter(each.name for each in step_pictures(card))
    assert [name for name, count in shown.items() if count > 1] == []


@ALL
def test_what_is_in_place_only_grows(card: FoldedCard) -> None:
    before: frozenset[str] = frozenset()
    for picture in step_pictures(card):
        assert before <= picture.done
        assert picture.what not in ("place", "band") or picture.piece not in picture.done
        before = picture.done


def _off(card: SizedCard) -> list[tuple[str, str, str]]:
    return [(each.piece, each.off, each.when) for each in step_pictures(folded(card)) if each.off]


def test_a_band_is_off_the_card_while_pieces_are_put_on_it() -> None:
    assert _off(double_gate()) == [("plate", "sash", "first"), ("pennant", "sash", "between"),
                                   ("boats-card", "sash", "last")]  # fmt: skip
    assert _off(tall_band()) == [("label", "belt", "both")]
    assert _off(side_fold()) == []


def test_a_step_of_the_maker_finds_the_band_on_the_card() -> None:
    extra = (ExtraStep("after", "plate", "Try the card on", SPAN),)
    assert _off(double_gate()._replace(extra_steps=extra)) == [
        ("plate", "sash", "both"), ("pennant", "sash", "first"), ("boats-card", "sash", "last")
    ]  # fmt: skip


def test_the_text_says_when_the_band_comes_off_and_goes_on() -> None:
    plate, pennant, boats = (
        next(step.text for step in steps_of(double_gate()) if step.picture == f"place-{name}")
        for name in ("plate", "pennant", "boats-card")
    )
    assert plate.startswith("Slide the sash off the card") and "slide the sash on again" not in plate
    assert pennant.startswith("The sash stays off the card.")
    assert boats.endswith("When the glue holds, slide the sash on again.")


def test_a_note_before_the_base_finds_nothing_in_place() -> None:
    message = piece("message", "panel", "white", (3, 4), placed("back", ("17/4", "11/2"), (3, 4)))
    extra = (
        ExtraStep("before", "card", "Wash your hands", SPAN),
        ExtraStep("after", "message", "Wait", SPAN),
    )
    card = side_fold(message)._replace(extra_steps=extra)
    found = [each for each in step_pictures(folded(card)) if each.what == "extra"]
    assert found == [
        StepPicture("extra-1", "extra", "card", frozenset(), 0),
        StepPicture("extra-2", "extra", "message", frozenset({"message"}), 1),
    ]


SLIDER = """
base card from ink
  fold slider-pocket, width 4, height 5
panel slide from ink on back
  loose
square picture from ink on slide
  size 1 x 1
"""


def test_what_lies_on_a_slider_goes_on_before_it_is_slipped_in() -> None:
    found = compile_text(HEAD + SLIDER).folded
    assert found is not None
    order = [each.piece for each in step_pictures(found) if each.what == "place"]
    assert order == ["picture", "slide"]


def test_to_cut_a_paper_is_about_all_pieces_of_it() -> None:
    card = double_gate()
    told = [each.pieces for each in told_of(card, tasks_of(card)) if each.what == "cut"]
    assert told == [("card", "sash"), ("door-paper", "flap-paper", "plate"),
                    ("message", "pennant", "boats-card")]  # fmt: skip
