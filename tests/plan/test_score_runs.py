"""Lines that stop inside the sheet: told by where they begin and stop, and joined where they meet."""

from cardrecipe.plan.cut_steps import cut_step
from cardrecipe.plan.fold_steps import score_step
from cardrecipe.plan.score_runs import Run, score_runs
from cardrecipe.plan.scores import score_guides
from cardrecipe.plan.window_words import window_lines, window_words
from cardrecipe.solve.sized import SizedCard
from tests.hand_made import F
from tests.plan.test_steps import plain
from tests.recipes import compile_text


def card_of(*lines: str) -> SizedCard:
    folded = compile_text(
        'recipe "Stopped"\npaper ink is cardstock "Ink" 12 x 12\nbase card from ink\n  flat 6 x 4\n'
        + "".join(f"  {line}\n" for line in lines)
    ).folded
    assert folded is not None
    return folded.card


def told(card: SizedCard) -> str:
    return plain(score_step(card, card.piece("card")).text)


BRIDGE = ("score 3 from left", "score 2 from left, mountain, between 1 and 3",
          "score 4 from left, between 1 and 3", "cut 1 from top, between 2 and 4",
          "cut 3 from top, between 2 and 4")  # fmt: skip


def test_parts_of_one_line_that_meet_are_one_stroke() -> None:
    card = card_of("score 3 from left, between 0 and 1", "score 3 from left, between 1 and 4")
    assert score_runs(card.piece("card"), "x") == (Run(F(3), F(0), F(4)),)
    assert "Score at 3 in: it is the middle" in told(card)
    assert "only" not in told(card)


def test_parts_of_one_line_with_a_gap_stay_apart() -> None:
    card = card_of("score 3 from left, between 0 and 1", "score 3 from left, between 2 and 4",
                   "cut 1 from top, between 3 and 6", "cut 2 from top, between 3 and 6")  # fmt: skip
    assert score_runs(card.piece("card"), "x") == (Run(F(3), F(0), F(1)), Run(F(3), F(2), F(4)))
    assert "At 3 in from the left score only from the top edge as far as 1 in from it." in told(card)
    assert "score only from 2 in from the top as far as the bottom edge." in told(card)


def test_whole_lines_come_first_then_those_that_stop_then_the_slits() -> None:
    words = told(card_of(*BRIDGE))
    whole = words.index("Score at 3 in: it is the middle")
    part = words.index("At 2 and 4 in from the left score only between 1 and 3 in from the top.")
    slits = words.index("Cut slits at 1 and 3 in from the top, between 2 and 4 in from the left.")
    assert whole < part < slits


def test_the_guide_says_how_far_each_line_reaches_and_which_are_cuts() -> None:
    from_left, from_top = score_guides(card_of(*BRIDGE))
    assert {line.reach for line in from_left.lines} == {"", "1 to 3 from the top"}
    assert [(line.number, line.direction, line.at, line.reach) for line in from_top.lines] == [
        (0, "slit", "1", "2 to 4 from the left"),
        (0, "slit", "3", "2 to 4 from the left"),
    ]


def test_a_slanted_line_stands_in_the_guide_by_both_its_ends() -> None:
    (guide,) = score_guides(card_of("score 3 from left", "score from (0, 1) to (1, 0), mountain"))
    slanted = next(line for line in guide.lines if line.direction == "mountain")
    assert (slanted.at, slanted.from_other_end) == ("0", "6")
    assert slanted.reach == "from 1 down, straight to 1 from the left, 0 down"


def test_a_window_is_cut_by_its_size_and_its_place() -> None:
    card = card_of("score 3 from left", "window 2 x 1 at (1/2, 0)")
    (words,) = map(plain, window_words(card, card.piece("card")))
    place = "1/2 in from the left and flush with the top edge."
    assert words == f"Cut a window of 2 × 1 in out of the card, {place}"
    (row,) = window_lines(card.piece("card"), "inch")
    assert plain(row) == "window 2 × 1 in: left 1/2, top 0"
    assert words in plain(cut_step(card, "ink", 1).text)


def test_a_sheet_with_slanted_lines_alone_is_laid_down_first() -> None:
    slanted = told(card_of("score from (0, 1) to (1, 0), mountain"))
    assert slanted.startswith("Lay the card inside up.")
    both = told(card_of("score 3 from left", "score from (0, 1) to (1, 0), mountain"))
    assert both.count("inside up") == 1
