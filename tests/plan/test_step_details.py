"""The rarer sentences: uneven places, flush edges, corners, scored panels, folds told in turn."""

from fractions import Fraction

import pytest

from cardrecipe.fold.folded import ClosedBase, FoldAction, FoldedCard
from cardrecipe.model.work import Work
from cardrecipe.plan.cuts import cut_lines
from cardrecipe.plan.order import tasks_of
from cardrecipe.plan.steps import steps
from cardrecipe.plan.supplies import supply_lines
from cardrecipe.solve.sized import Edges, ExtraStep, Placement, SizedCard, SizedPiece
from tests.hand_made import (
    SPAN,
    accordion,
    double_gate,
    gate,
    piece,
    placed,
    side_fold,
    strip_base,
    strip_card,
    tent,
)
from tests.plan.cards import FRONT, matted, step_for, steps_of, tall_band, twin_hosts
from tests.plan.test_steps import plain
from tests.recipes import HEAD, compile_text

F = Fraction
DOOR = ("5/2", 7)


def on_front(at: tuple[str, str], name: str = "tile") -> SizedPiece:
    spot = placed("front", FRONT, (1, 1), side="outside", at=at)
    return piece(name, "square", "white", (1, 1), spot)


def test_copies_at_different_places_are_told_one_by_one() -> None:
    spots = [
        placed(name, DOOR, (1, 1), side="outside", at=at)
        for name, at in (("left-door", ("1/4", "1/2")), ("right-door", ("5/4", "1/2")))
    ]
    step = step_for(gate(piece("tile", "square", "white", (1, 1), *spots)), "place-tile")
    assert (
        "Press one on the outside of the left door, 1/4 in from the left and 1/2 in from the top; one "
        "on the outside of the right door, 1 1/4 in from the left and 1/2 in from the top."
        in plain(step.text)
    )
    assert plain(step.check).startswith("On the left door, you see 1/4 in at the left;")


def test_a_column_with_uneven_gaps() -> None:
    spots = [placed("back", FRONT, (1, 1), at=(1, top)) for top in ("1/4", 2, 4)]
    step = step_for(side_fold(piece("tile", "square", "white", (1, 1), *spots)), "place-tile")
    assert "all three in a column, their top edges 1/4, 2 and 4 in from the top" in plain(step.text)
    assert step.check == "The column is straight."


def test_a_repeated_piece_whose_border_tells_of_the_whole_row() -> None:
    around = Edges(F(3, 4), F(1, 2), F(3, 8), F(4))
    row = [
        Placement("back", "card", 0, "inside", F(left), F(3, 8), around, True)
        for left in ("3/4", "7/4", "11/4")
    ]
    kite = piece("kite", "square", "glow", (1, 1), *row)
    plain_row = step_for(side_fold(kite), "place-kite")
    assert "their left edges 3/4, 1 3/4 and 2 3/4 in from the left" in plain(plain_row.text)
    assert plain_row.check == "The row is straight."
    slanted = step_for(side_fold(kite._replace(turned=F(45))), "place-kite")
    assert (
        "their middles 1 1/4, 2 1/4 and 3 1/4 in from the left, 7/8 in from the top, turned 45° "
        "clockwise" in plain(slanted.text)
    )
    assert slanted.check == "Each is turned 45° clockwise, as in the picture."


def test_a_turned_piece_is_placed_by_its_middle() -> None:
    tile = on_front(("1/4", "1/2"))._replace(turned=F(30))
    text = plain(step_for(side_fold(tile), "place-tile").text)
    assert "its middle 3/4 in from the left and 1 in from the top, turned 30° clockwise" in text


def test_copies_in_neither_row_nor_column() -> None:
    spots = [placed("back", FRONT, (1, 1), at=at) for at in (("1/4", 1), (2, 3))]
    step = step_for(side_fold(piece("tile", "square", "white", (1, 1), *spots)), "place-tile")
    assert (
        "Press one on the inside of the back, 1/4 in from the left and 1 in from the top; one on the "
        "inside of the back, 2 in from the left and 3 in from the top." in plain(step.text)
    )


def test_one_copy_of_two_hosts() -> None:
    doors = [placed(name, DOOR, (2, 6), side="outside") for name in ("left-door", "right-door")]
    leaf = placed("paper", (2, 6), (1, 1), host_piece="paper", host_copy=1, is_section=False)
    card = gate(
        piece("paper", "panel", "glow", (2, 6), *doors),
        piece("leaf", "square", "white", (1, 1), leaf),
    )
    assert "Press it on one paper, in the middle." in step_for(card, "place-leaf").text


def test_flush_and_over_the_edge() -> None:
    flush = piece("cover", "panel", "glow", FRONT, placed("front", FRONT, FRONT, side="outside"))
    assert step_for(side_fold(flush), "place-cover").check == "All four edges lie flush."
    corner = step_for(side_fold(on_front(("0", "-1/2"))), "place-tile")
    assert "flush with the left edge and reaching 1/2 in beyond the top edge" in plain(corner.text)
    assert "It lies flush at the left. It reaches 1/2 in over the edge at the top." in plain(corner.check)


def test_off_the_middle_of_a_band() -> None:
    across = double_gate()
    sash = across.piece("sash")
    assert sash.around is not None
    # The sash is 11 in long and its front 4 5/16 in: so the front begins 3 11/32 in from its end, and
    # 21/32 in is left, to the nearest mark 11/16.
    at = placed("sash", (11, 1), (1, 2), host_piece="sash", is_section=False, at=("4", "-1/4"))
    card = across._replace(pieces=(*across.pieces, piece("fish", "tag", "white", (1, 2), at)))
    step = step_for(card, "place-fish")
    assert "11/16 in from the left and reaching 1/4 in beyond the top edge" in plain(step.text)
    assert plain(step.check) == (
        "It reaches 1/4 in beyond the band above. It reaches 3/4 in beyond the band below."
    )


def test_off_the_middle_of_a_band_that_runs_down() -> None:
    card = tall_band()
    at = placed("belt", (1, 9), ("1/2", 1), host_piece="belt", is_section=False, at=("1/4", 3))
    label = card.piece("label")._replace(placements=(at,))
    moved = card._replace(pieces=(*card.pieces[:2], label))
    # 9 in long, its front half of 8 9/16 in: the front begins 2 23/64 in from the end, 3 - 2 23/64.
    assert "centred left to right and 5/8 in from the top" in plain(step_for(moved, "place-label").text)


def test_a_mat_elsewhere_and_half_a_degree() -> None:
    base, message, mat = matted().pieces
    on_front = placed("front", FRONT, (mat.width, mat.height))
    card = side_fold(message._replace(turned=F(25, 2)), mat._replace(placements=(on_front,)))
    assert base.name == "card"
    assert "turned 12.5° clockwise" in step_for(card, "place-message").text


def test_rounded_corners_are_cut_with_the_sheet() -> None:
    base = side_fold().pieces[0]._replace(corner_radius=F(1, 4))
    card = side_fold()._replace(pieces=(base,))
    assert "Round the corners of the card: the radius is 1/4 in." in plain(steps_of(card)[0].text)
    assert plain(cut_lines(card, 1)[0].notes[0]) == "corners rounded, radius 1/4"
    assert "Corner rounder" in [line.name for line in supply_lines(card, 1)]


def test_a_cut_off_the_ruler_and_a_slit() -> None:
    base = tent().pieces[0]
    slit = base._replace(width=F(17, 6), scores=tuple(one._replace(direction="slit") for one in base.scores))
    card = tent()._replace(pieces=(slit,))
    first = steps(FoldedCard(card, (), (), None), 1)[0]
    assert "2 5/6 in is between two marks of the ruler" in plain(first.text)
    assert "Metal ruler" in [line.name for line in supply_lines(card, 1)]


def test_a_panel_that_is_scored_itself() -> None:
    flap = strip_base([1, 1], "V", ["top-half", "low-half"], 2)
    spot = placed("back", FRONT, (2, 2))
    panel = flap._replace(name="flap", kind="panel", placements=(spot,))
    corner = placed("top-half", (1, 2), ("1/2", 1), host_piece="flap")
    card = side_fold(panel, piece("dot", "circle", "white", ("1/2", 1), corner))
    scored = next(step for step in steps_of(card) if step.title == "Score the flap")
    assert scored.text.endswith("the bone folder and open it out again.")
    assert scored.picture == "step-score-flap"
    assert "Press it on the top half of the flap" in step_for(card, "place-dot").text


def test_scores_in_two_directions() -> None:
    base = strip_base([2, 2], "V", height=3)
    cross = strip_base([1, 2], "M", height=4, axis="y").scores[0]._replace(number=2)
    card = side_fold()._replace(pieces=(base._replace(scores=(*base.scores, cross)),))
    score = steps(FoldedCard(card, (), (), None), 1)[1]
    assert "Score at 1 in from the top." in plain(score.text)
    assert score.check == "You see two scores on the inside."


def with_actions(card: SizedCard, *actions: FoldAction) -> FoldedCard:
    """`card` closed by these actions, whatever the fold stage would say."""
    root = card.pieces[0].sections[-1].name
    return FoldedCard(card, (ClosedBase("card", root, F(2), F(5), (), actions, ()),), (), None)


def action(direction: str, *scores: int) -> FoldAction:
    return FoldAction("card", scores, direction, ("section-1", "section-2", "section-3"), (), ())


def test_many_scores_in_one_movement() -> None:
    card = strip_card([2, 2, 2, 2], "VVV")
    fold = steps(with_actions(card, action("valley", 1, 2, 3)), 1)[-1]
    assert fold.title == "Fold scores 1, 2 and 3"
    assert "so that the inside faces meet" in fold.text


def test_folds_that_are_no_fan_are_told_in_turn() -> None:
    card = strip_card([2] * 6, "VVMVV")
    turns = [action("mountain" if score == 3 else "valley", score) for score in range(1, 6)]
    fold = steps(with_actions(card, *turns), 1)[-1]
    assert "Fold score 1 in, score 2 in, score 3 back, score 4 in and score 5 in, in this order." in fold.text


@pytest.mark.parametrize("slits", [0, 1, 2])
def test_slits_in_a_fan_are_no_folds_of_it(slits: int) -> None:
    text = HEAD + "base card from ink\n  fold concertina-spine, width 4 1/4, height 6\n" + "".join(
        f"  cut from (2, {4 - at}) to (1, {3 - at})\n" for at in range(slits)
    )  # fmt: skip
    folded = compile_text(text).folded
    assert folded is not None
    (fold,) = (step for step in steps(folded, 1) if step.picture == "fold-card-fan")
    assert "Fold score 1 in, score 2 back, and so on by turns, like a fan." in fold.text


def test_a_base_that_cannot_be_folded_has_no_folding_step() -> None:
    titles = [step.title for step in steps(FoldedCard(gate(), (), (), None), 1)]
    assert titles == ["Cut the card", "Score the card"]


def test_a_mat_that_is_written_as_lying_on_its_message() -> None:
    base, message, mat = matted().pieces
    on_message = placed("message", (3, 4), (3, 4), host_piece="message", is_section=False)
    card = side_fold(message, mat._replace(placements=(on_message,)))
    order = [task.name for task in tasks_of(card) if task.what == "place"]
    assert order == ["mat", "message"] and base.kind == "base"


def test_works_of_other_kinds() -> None:
    works = (
        Work("foil", "Star field", SPAN, middle=F(2)),
        Work("ink-edges", "", SPAN, ("Coal black",)),
        Work("do", "Curl the corners round a pencil", SPAN),
    )
    note = piece("note", "panel", "white", (3, 2), placed("back", FRONT, (3, 2)), works=works)
    step = next(step for step in steps_of(side_fold(note)) if step.picture == "piece-note")
    note_step = next(s for s in steps_of(side_fold(note)) if s.title.startswith("Foil"))
    assert step.number < note_step.number
    assert plain(note_step.text) == (
        "Mark the back of the note in pencil, 1/2 in from each end. Add the foil “Star field” to it. "
        "Work only on the middle 2 in. Ink the edges of it with Coal black. Curl the corners round a pencil. "
        "Let it dry before you go on."
    )
    only = note._replace(works=works[2:])
    prepared = next(s for s in steps_of(side_fold(only)) if s.title == "Prepare the note")
    assert prepared.check == ""


def test_all_copies_dry_before_the_next_step() -> None:
    works = (Work("stamp", "Moon", SPAN, ("Coal black",)),)
    card = side_fold(piece("token", "circle", "white", (1, 1), works=works, count=3))
    text = next(step.text for step in steps_of(card) if step.title.startswith("Stamp"))
    assert text.endswith("Do the same with the other two. Let them dry before you go on.")


def test_an_extra_step_for_nothing_is_a_mistake_of_the_caller() -> None:
    card = side_fold()._replace(extra_steps=(ExtraStep("after", "moon", "Wait.", SPAN),))
    with pytest.raises(KeyError):
        steps_of(card)


def test_the_tip_of_a_piece_that_is_only_cut() -> None:
    two = [piece(name, "panel", "ink", (2, 6), tips=(f"Mind {name}.",)) for name in ("one", "other")]
    card = side_fold()._replace(pieces=tuple(two))
    assert steps_of(card)[0].tips == ("Mind one.", "Mind other.")


def test_a_row_on_another_piece() -> None:
    sky = piece("sky", "panel", "white", (4, 4), placed("back", FRONT, (4, 4)))
    row = [
        placed("sky", (4, 4), (1, 1), host_piece="sky", is_section=False, at=(left, 1)) for left in ("1/2", 2)
    ]
    card = side_fold(sky, piece("bird", "square", "glow", (1, 1), *row))
    step = step_for(card, "place-bird")
    assert "on the sky, all two in a row" not in step.text
    assert "on the sky, both in a row, their left edges 1/2 and 2 in from the left" in plain(step.text)
    assert plain(step.check) == "The same 1/2 in shows between one and the next."


def test_a_piece_on_each_copy_of_a_host_is_told_for_each() -> None:
    step = step_for(twin_hosts(), "place-leaf")
    assert step.title == "Glue one leaf to each of the two door papers"


def test_a_cord_added_after_a_punch_is_checked_by_its_hold() -> None:
    works = (Work("punch", "Hole", SPAN), Work("add", "Twine", SPAN, item="cord", long=F(8)))
    tile = on_front(("1", "1"))._replace(works=works)
    step = next(one for one in steps_of(side_fold(tile)) if "Twine" in one.text and tile.name in one.pieces)
    assert "small scissors" in step.picks_up and step.check in (
        "Nothing comes loose when you lift it.",
        "It holds when you tilt the card.",
    )


def test_what_is_written_stands_last_and_in_quotes() -> None:
    tile = on_front(("1", "1"))._replace(works=(Work("write", "The letter", SPAN),))
    assert any(step.text.startswith("Write on the tile: “The letter”.") for step in steps_of(side_fold(tile)))


def test_a_makers_step_of_more_than_six_words_keeps_its_text_in_the_body() -> None:
    long = ExtraStep("after", "card", "Open it once, then close it and press it flat.", SPAN)
    step = steps_of(side_fold()._replace(extra_steps=(long,)))[-1]
    assert (step.title, step.text) == ("Open it once", long.text)


@pytest.mark.parametrize(
    ("text", "title"),
    [
        ("Slide the sash off, open the doors once so that the folds learn, and close them.",
         "Slide the sash off"),
        ("lay the card under a book – a heavy one – and leave it there until morning.",
         "Lay the card under a book"),
        ("When the glue is dry, fold the card over the edge of a table.", "When the glue is dry, fold …"),
        ("Take it, turn it over, and look whether any glue shows at the edges.", "Take it"),
        ("Now, with a light hand, rub the edges until no line of pencil shows.",
         "Now, with a light hand, rub …"),
        ("Hold the card against the window and look for thin places.", "Hold the card against the window …"),
        ("Press the card.\nThen leave it for as long as you can bear to wait.", "Press the card"),
    ],
)  # fmt: skip
def test_the_title_of_a_long_step_is_what_it_asks_for_first(text: str, title: str) -> None:
    extra = ExtraStep("after", "card", text, SPAN)
    step = steps_of(side_fold()._replace(extra_steps=(extra,)))[-1]
    assert step.title == title and len(step.title.split()) <= 7


def test_the_middle_of_a_strip_is_marked_from_its_ends() -> None:
    strip = on_front(("0", "1"))._replace(works=(Work("emboss", "ripple", SPAN, middle=F(3)),), width=F(6))
    (step,) = (step for step in steps_of(side_fold(strip)) if step.title.startswith("Emboss"))
    assert plain(step.text).startswith("Mark the back of the tile in pencil, 1 1/2 in from each end. Emboss")
    assert "pencil" in step.picks_up


def test_a_ribbon_round_a_base_is_tied_last_and_one_on_a_panel_before_it_is_glued() -> None:
    ribbon = Work("add", "red", SPAN, item="ribbon")
    panel = piece("label", "panel", "white", (2, 2), placed("back", FRONT, (2, 2)), works=(ribbon,))
    names = [step.title for step in steps_of(side_fold(panel))]
    assert names.index("Decorate the label") < names.index("Glue the label to the back")
    card = side_fold(panel._replace(works=()))
    base = card.pieces[0]._replace(works=(ribbon,))
    assert [step.title for step in steps_of(card._replace(pieces=(base, *card.pieces[1:])))][-1] == (
        "Finish the card"
    )


def test_what_a_trimmer_cannot_cut_is_named_among_what_to_pick_up() -> None:
    dot = piece("dot", "circle", "white", ("1/2", "1/2"), placed("back", FRONT, ("1/2", "1/2")))
    cut = [step for step in steps_of(side_fold(dot)) if step.title.startswith("Cut")]
    assert ["scissors" in step.picks_up for step in cut] == [False, True]


def test_a_corner_rounder_is_taken_to_hand_with_the_paper_whose_corners_are_rounded() -> None:
    dot = piece("dot", "square", "white", ("1/2", "1/2"), placed("back", FRONT, ("1/2", "1/2")))
    card = side_fold(dot._replace(corner_radius=F(1, 8)))
    cut = [step for step in steps_of(card) if step.title.startswith("Cut")]
    assert [(step.title, "corner rounder" in step.picks_up) for step in cut] == [
        ("Cut the card", False),
        ("Cut the dot", True),
    ]


def test_four_folds_are_a_step_each_and_five_are_one() -> None:
    """More than four are one movement, of one picture."""
    folds = {
        count: [step.picture for step in steps_of(accordion(count + 1)) if step.title.startswith("Fold")]
        for count in (4, 5)
    }
    assert folds == {4: [f"fold-card-{number}" for number in range(1, 5)], 5: ["fold-card-fan"]}


def test_one_crease_is_pressed_or_all_that_are_folded_at_once() -> None:
    assert "Press the crease down with the bone folder." in step_for(side_fold(), "fold-card-1").text
    assert "Press the creases down with the bone folder." in step_for(double_gate(), "fold-card-1").text
