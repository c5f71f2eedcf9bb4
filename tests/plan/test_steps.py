"""The steps as somebody at a table hears them, and the laws that every card's steps keep."""

import re

import pytest

from cardrecipe.model.work import Glue
from cardrecipe.plan.steps import steps
from cardrecipe.solve.sized import ExtraStep, SizedCard
from tests.hand_made import SPAN, accordion, double_gate, rolled_trifold, side_fold, strip_card
from tests.plan.cards import (
    every_card,
    folded,
    loose_pieces,
    matted,
    overlapping,
    pocketed,
    starred,
    step_for,
    steps_of,
    tall_band,
    twin_hosts,
    uneven,
)

ALL = pytest.mark.parametrize("card", every_card(), ids=lambda card: card.title)


def plain(text: str) -> str:
    """A text with common spaces and slashes, as one would type it."""
    return text.replace("\u202f", " ").replace("\u00a0", " ").replace("\u2044", "/")


@ALL
def test_numbers_are_consecutive(card: SizedCard) -> None:
    found = steps_of(card)
    assert [step.number for step in found] == list(range(1, len(found) + 1))


@ALL
def test_each_piece_is_put_on_once_and_cut_once(card: SizedCard) -> None:
    found = steps_of(card)
    for piece in card.pieces:
        pictures = [step.picture for step in found if piece.name in step.pieces]
        put_on = [one for one in pictures if one in (f"place-{piece.name}", f"band-{piece.name}")]
        assert len(put_on) == bool(piece.placements or piece.around)
        cut = [
            step for step in found if step.title.startswith("Cut ") and piece.name in step.pieces
        ]
        assert len(cut) == 1
        scored = f"step-score-{piece.name}" in pictures
        assert scored == bool(piece.scores)


@ALL
def test_a_host_is_there_before_its_pieces(card: SizedCard) -> None:
    found = steps_of(card)
    put_on = {
        step.pieces[0]: step.number
        for step in found
        if step.picture.startswith(("place-", "band-", "step-score-"))
    }
    for piece in card.pieces:
        for placement in piece.placements:
            assert put_on[placement.host_piece] < put_on[piece.name]


@ALL
def test_no_caution_repeats(card: SizedCard) -> None:
    said = [caution for step in steps_of(card) for caution in step.cautions]
    assert said and len(said) == len(set(said))


@ALL
def test_every_text_can_be_read_aloud(card: SizedCard) -> None:
    for step in steps_of(card):
        for text in (step.title, step.text, step.check):
            assert "  " not in text and "{" not in text and " ." not in text and ".." not in text
            assert not re.search(r"\b(\w+) \1\b", text), text
            assert not text or text[0].isupper() or text[0].isdigit()
        assert not step.title.endswith(".")
        assert not step.text or step.text.endswith((".", "!", "?", "…"))


def test_the_same_card_gives_the_same_steps() -> None:
    assert steps_of(double_gate()) == steps_of(double_gate())


def test_scoring_the_double_gate() -> None:
    step = step_for(double_gate(), "step-score-card")
    assert plain(step.text) == (
        "Lay the card inside up, its 11 in side from left to right. Score at 1 1/4 and 3 3/8 in from "
        "the left, then turn the card round, the same face up, and score at the same two numbers. "
        "Scores 1 and 4 will fold back, away from you."
    )
    assert plain(step.check) == (
        "From left to right the parts measure 1 1/4, 2 1/8, 4 1/4, 2 1/8 and 1 1/4 in."
    )


def test_folding_the_double_gate() -> None:
    flaps, doors = (step_for(double_gate(), f"fold-card-{count}") for count in (1, 2))
    assert flaps.title == "Fold the left flap and the right flap back"
    assert "away from you, behind the left door and the right door" in flaps.text
    assert doors.title == "Fold the left door and the right door in"
    assert doors.text.endswith("Then open the card out again, inside up.")
    assert plain(doors.check) == "Folded up, the card measures 4 1/4 × 5 1/2 in."


def test_folding_other_strips() -> None:
    z_fold = strip_card([4, 4, 4], "VM", ["left", "middle", "right"], 6)
    assert step_for(z_fold, "fold-card-1").title == "Fold the left part over"
    assert step_for(z_fold, "fold-card-2").title == "Fold the middle back"
    assert "onto the right part and the middle" in step_for(rolled_trifold(), "fold-card-2").text
    fan = step_for(accordion(6), "fold-card-fan")
    assert "Fold score 1 in, score 2 back, and so on by turns, like a fan." in fan.text


def test_a_card_that_takes_no_pieces_stays_folded() -> None:
    assert "open" not in step_for(side_fold(), "fold-card-1").text


def test_panels_on_two_doors() -> None:
    step = step_for(double_gate(), "place-door-paper")
    assert step.title == "Glue the two door papers to the left door and the right door"
    assert step.text == (
        "Lay the card open, its outside up. Put double-sided tape on the back of both door papers, "
        "close to the edges. Press one on the "
        "left door and one on the right door, on the outside, in the middle of each."
    )
    assert plain(step.check) == "The same 1/8 in shows on all four sides of each."


def test_the_band_touches_no_glue_but_its_own() -> None:
    band = step_for(double_gate(), "band-sash")
    assert "no glue touches the card" in band.text
    assert "its top edge 2 1/4 in from the top" in plain(band.text)
    assert band.check == "The sash slides off the closed card and back on."
    plate = step_for(double_gate(), "place-plate")
    assert "only where it will lie on the sash" in plate.text
    assert "No glue touches the card" in plate.text
    assert plain(plate.check) == "It reaches 5/8 in beyond the band above and below."


def test_a_band_from_top_to_bottom() -> None:
    band = step_for(tall_band(), "band-belt")
    assert "down the front, middle on middle, its left edge 2 in from the left" in plain(band.text)
    label = step_for(tall_band(), "place-label")
    assert plain(label.check) == "1/4 in of the band shows to the left and to the right."


def test_foam_and_turning() -> None:
    raised = step_for(double_gate(), "place-boats-card")
    assert "foam 2 mm thick" in plain(raised.text)
    assert plain(raised.check) == (
        "You see 5/8 in at the left and the right; 1/4 in at the top and the bottom."
    )
    turned = step_for(double_gate(), "place-pennant")
    assert "in the middle, turned 30° clockwise" in turned.text


def test_a_mat_shows_round_its_message() -> None:
    step = step_for(matted(), "place-message")
    assert step.title == "Glue the message to the mat"
    assert "Press it on the mat, in the middle." in step.text
    assert plain(step.check) == "The same 1/16 in shows on all four sides."


def test_a_row_and_a_place_off_the_middle() -> None:
    stars = step_for(starred(), "place-star")
    assert (
        "Press them on the outside of the front, all three in a row, their left edges 1/4, 1 5/8 and "
        "3 in from the left, 1/2 in from the top." in plain(stars.text)
    )
    assert plain(stars.check) == "The same 3/8 in shows between one and the next."
    heart = step_for(starred(), "place-heart")
    assert "3 1/2 in from the left and 4 1/2 in from the top" in plain(heart.text)


def test_what_reaches_over_an_edge_is_glued_to_its_host_only() -> None:
    step = step_for(overlapping(), "place-moon")
    assert step.text.startswith("Close the card and lay it front up.")
    assert "only where it will lie on the left door" in step.text
    assert "It reaches 3/4 in over the edge at the right." in plain(step.check)


def test_a_pocket_a_loose_ticket_and_a_gem() -> None:
    pocket = step_for(pocketed(), "place-pocket")
    assert "along the left, right and bottom edges of the back of the pocket" in pocket.text
    assert "The top stays open, as a pocket." in pocket.text
    assert step_for(pocketed(), "place-ticket").title == "Slip the ticket into the pocket"
    assert steps_of(pocketed())[-1].text == "Add the gem “Moon” to the pocket."


def test_a_loose_piece_elsewhere_is_laid_without_glue() -> None:
    card = side_fold(*(one._replace(loose=True) for one in matted().pieces[1:2]))
    step = step_for(card, "place-message")
    assert step.title == "Lay the message on the back"
    assert step.text == (
        "Lay the message on the inside of the back, in the middle. Use no glue: it must be free to move."
    )


def test_copies_of_one_host() -> None:
    assert (
        "Press one on each door paper, in the middle." in step_for(twin_hosts(), "place-leaf").text
    )


def test_glue_as_written() -> None:
    message = matted().pieces[1]

    def text(glue: Glue) -> str:
        return step_for(side_fold(message._replace(glue=glue)), "place-message").text

    assert text(Glue(SPAN, "dots")).startswith("Put glue dots on the back of the message.")
    assert text(Glue(SPAN, "Rice paste")).startswith("Put Rice paste on the back of the message.")
    everywhere = text(Glue(SPAN, along=("left", "right", "top", "bottom")))
    assert (
        "along the left, right, top and bottom edges" in everywhere and "pocket" not in everywhere
    )
    assert text(Glue(SPAN, all_over=True)).startswith("Spread a thin layer of liquid glue over")


def test_the_makers_own_steps_stand_where_they_belong() -> None:
    titles = [step.title for step in steps_of(pocketed())]
    assert titles.index("Wash your hands") == titles.index("Score the card") - 1
    assert titles.index("Let the glue set") == titles.index("Glue the pocket to the back") + 1
    long = ExtraStep("after", "card", "Hold the card against the window and look " * 3, SPAN)
    card = side_fold()._replace(extra_steps=(long,))
    assert steps_of(card)[-1].title == "Hold the card against the window …"


def test_tips_stand_with_their_piece() -> None:
    tipped_steps = [step.title for step in steps_of(double_gate()) if step.tips]
    assert tipped_steps == ["Write on the message", "Stamp and colour the boats card"]
    card = loose_pieces()
    tipped = card._replace(pieces=tuple(one._replace(tips=("Wait.",)) for one in card.pieces))
    assert [step.tips for step in steps_of(tipped)].count(("Wait.",)) == 2


def test_a_tip_on_a_piece_stands_where_it_is_put_in_place() -> None:
    card = double_gate()
    tipped = [one._replace(tips=("In.",), tips_on=("On.",)) for one in card.pieces if one.works]
    for one in tipped:
        pieces = tuple(one if one.name == each.name else each for each in card.pieces)
        told = [step for step in steps_of(card._replace(pieces=pieces)) if step.pieces == (one.name,)]
        inside = [step.picture for step in told if "In." in step.tips]
        on = [step.picture for step in told if "On." in step.tips]
        assert inside == [f"work-{one.name}"]
        assert on == [f"{'band' if one.around else 'place'}-{one.name}"]


def test_a_tip_on_a_piece_that_is_only_glued() -> None:
    base, message, mat = matted().pieces
    card = side_fold(message._replace(tips=("Press it well.",)), mat)
    assert step_for(card, "place-message").tips == ("Press it well.",) and base.tips == ()


def test_wet_work_dries_before_anything_else() -> None:
    work = next(step for step in steps_of(double_gate()) if step.title.startswith("Stamp"))
    assert work.title == "Stamp and colour the boats card"
    assert work.text == (
        "Stamp the boats card with “Three paper boats” in Coal black. Let that dry. Colour it with Sea "
        "green and Rust. Let it dry before you go on."
    )


def test_many_copies_and_many_cards() -> None:
    assert "a\xa0card" not in steps_of(double_gate())[0].text
    many = steps(folded(double_gate()), 12)
    assert "24 door papers of 1\u202f7⁄8 × 5\u202f1⁄4\xa0in (2\xa0a\xa0card)" in many[1].text
    assert "12 oval plates" in many[1].text and many[1].check == "You have 60 pieces of Paper glow."


def test_a_size_between_two_marks_is_named_with_both() -> None:
    text = plain(step_for(uneven(), "step-score-card").text)
    assert "2 5/6 in is between two marks of the ruler: 2 13/16 in and 2 7/8 in." in text
