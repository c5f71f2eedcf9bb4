"""What recipes seldom say: it is understood all the same, and a mistake in it is told once."""

from fractions import Fraction

import pytest

from cardrecipe.model.blocks import MAX_LINES
from cardrecipe.model.lengths import typed
from cardrecipe.model.texts import NoTexts
from cardrecipe.syntax.words import FORMS
from tests.recipes import (
    HEAD,
    borders,
    codes_of,
    cut,
    diagnostics_of,
    piece,
    scores,
    sized,
    words_of,
)

CARD = f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5\n"
SHEET = f"{HEAD}base card from ink\n  flat 10 x 6\n"


def told(text: str, variant: str | None = None) -> list[tuple[str, str]]:
    return [(each.code, words_of(text, each)) for each in diagnostics_of(text, None, variant)
            if each.severity == "error"]  # fmt: skip


@pytest.mark.parametrize("place", ["base", "panel", "band", "shape"])
def test_each_line_that_may_stand_in_a_piece_means_something_there(place: str) -> None:
    header = {"base": "base card from ink", "panel": "panel a from ink on front",
              "band": "band a from ink", "shape": "circle a from ink on front"}[place]  # fmt: skip
    for form in FORMS:
        if place in form.places:
            text = f"{HEAD}{header}\n  {form.example}\n"
            assert "wrong-place" not in codes_of(text), form.example


def test_too_many_scores_are_told_once() -> None:
    lines = [
        f"  score every 1/16, {MAX_LINES * 3 // 5} times from {edge}\n" for edge in ("left", "top", "right")
    ]
    assert told(SHEET + "".join(lines)) == [("too-many-scores", lines[1].strip())]


def test_a_number_of_scores_that_cannot_be_read_is_told_where_it_is_written() -> None:
    text = HEAD.replace("paper", "let many = \npaper", 1) + "base card from ink\n  flat 10 x 6\n"
    assert [code for code, _ in told(text + "  score every 1/4, many times from left\n")] == [
        "line-incomplete"
    ]


def test_a_number_of_scores_may_be_the_least_of_two() -> None:
    assert scores(f"{SHEET}  score every 2, min(3, 4) times from left\n") == scores(
        f"{SHEET}  score every 2, 3 times from left\n"
    )


def test_round_corners_are_said_once() -> None:
    text = f"{CARD}panel a from ink on front\n  size 2 x 2\n  corners round 1/4\n  corners round 1/8\n"
    assert told(text) == [("said-twice", "corners round 1/8")]


def test_a_border_may_be_left_open_and_others_be_given() -> None:
    text = f"{CARD}panel a from ink on front\n  size 2 x 2\n  border ? left, 1/4 top\n  place 1/2 from left\n"
    assert borders(text, "a").startswith("1/2, ") and ", 1/4, " in borders(text, "a")


def test_a_panel_that_a_structure_brings_has_its_own_paper_or_the_paper_of_the_base() -> None:
    own = (
        f'{HEAD}paper red is cardstock "Red" 12 x 12\nbase card from ink\n  fold own-pocket, width 4\n'
        "structure own-pocket\n  ask width\n  flat 2 * width x 5\n  score width from left\n"
        "  sections front, back\n  panel pocket{} on front\n    size 1 x 1\n"
    )
    assert piece(own.format(" from red"), "pocket").paper == "red"
    assert piece(own.format(""), "pocket").paper == "ink"


def test_a_band_goes_round_the_only_base() -> None:
    text = f"{CARD}band sash from ink{{}}\n  width 1\n"
    assert cut(text.format(""), "sash") == cut(text.format(" around card"), "sash")


def test_what_is_asked_is_given_once_and_may_be_a_sum() -> None:
    assert told(f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5, width 5\n") == [
        ("said-twice", "width")
    ]
    assert cut(CARD.replace("width 4", "width -(1 - 5)"), "card") == cut(CARD, "card")


def test_the_sizes_of_a_piece_are_told_where_another_is_meant() -> None:
    text = f"{CARD}panel a from ink on front\n  size card.zzzzzzzz x 2\n"
    (found,) = [each for each in diagnostics_of(text) if each.code == "unknown-name"]
    assert found.hint.startswith("what is known of it: ") and "card.width" in found.hint


def test_a_length_finer_than_the_other_unit_is_not_nothing_in_it() -> None:
    text = f"{CARD}panel a from ink on front\n  size 2 x 2\n  place 0.001 mm from left, 1 from top\n"
    assert sized(text).piece("a").placements[0].x > 0


def test_a_dropped_base_takes_its_angles_tips_and_steps_along() -> None:
    text = (
        f"{CARD}base tray from ink\n  flat 4 x 3\n  score 2 from left\n  sections left-half, right-half\n"
        'pose standing\n  fold 1 of card at 90\n  fold 1 of tray at 80\ntip on tray "Now."\n'
        'step after tray "Then."\nvariant "B"\n  drop tray\n'
    )
    assert told(text, "B") == []
    card = sized(text, None, "B")
    assert [[base for base, _, _ in pose.folds] for pose in card.poses] == [["card"]]
    assert card.extra_steps == ()


def test_a_variant_sets_the_width_of_what_has_none_yet_and_the_let_of_a_used_file() -> None:
    band = f'{CARD}band sash from ink around card\n  overlap 1/2\nvariant "B"\n  set sash.width 2\n'
    assert cut(band, "sash", "B").endswith(" x 2")
    files = {"lets.recipe": "let wide = 2\n"}
    text = f'use "lets.recipe"\n{CARD}panel a from ink on front\n  size wide x 2\nvariant "B"\n  set wide 3\n'
    assert sized(text, files).piece("a").width == 2
    assert sized(text, files, "B").piece("a").width == 3


def test_a_drop_is_not_blamed_for_a_mistake_in_another_file() -> None:
    files = {"p.recipe": 'paper red is cardstock "Red" 12 x 0\n'}
    text = f'use "p.recipe"\n{CARD}panel a from ink on front\nvariant "B"\n  drop a\n'
    (found,) = [each for each in diagnostics_of(text, files, "B") if each.severity == "error"]
    assert (found.code, found.span.file, found.related) == ("size-not-positive", "p.recipe", ())


def test_a_length_below_nothing_is_typed_with_its_sign() -> None:
    assert [typed(Fraction(each)) for each in ("-11/2", "-1/4", "3")] == ["-5 1/2", "-1/4", "3"]


def test_without_files_nothing_can_be_used() -> None:
    assert NoTexts().read("papers.recipe") is None
    assert "use-missing" in codes_of(f'use "papers.recipe"\n{CARD}')
