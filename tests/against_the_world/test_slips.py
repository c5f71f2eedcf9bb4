"""Arithmetic slips that recipes are known to contain, each against what the compiler makes of it.

The slips are those of craft pages and merchants' lists. Tags: [STD] a standard, [PAGE] pages of craft,
print or merchants, [CARRIER] a carrier's own text, [CALC] computed here, [GEOM] geometry.
"""

from fractions import Fraction
from pathlib import Path

import pytest

from cardrecipe.plan.post import post
from tests.against_the_world.test_post import MM_PER_INCH, services
from tests.recipes import (
    HEAD,
    METRIC,
    borders,
    checked,
    compile_text,
    diagnostics_of,
    explained,
    in_other_unit,
    run,
    scores,
    sized,
    sizes,
)

F = Fraction
CARD = "base card from ink\n"
GATE = f"{HEAD}{CARD}  flat 10 x 7\n  score 2 1/2 from both sides\n  sections left-door, back, right-door\n"
FOLDED = f"{CARD}  flat 10 x 7\n  score 5 from left\n  sections back, front\n"
GRAIN = HEAD.replace("12 x 12", "8 1/2 x 11, 270 gsm, grain long")


def plain(text: str) -> str:
    return text.replace("\u00a0", " ").replace("\u202f", " ").replace("⁄", "/")


def codes(text: str) -> set[str]:
    return {each.code for each in checked(text)}


def said(text: str, code: str) -> str:
    """The message and the hint of the first diagnostic with this code."""
    found = [each for each in diagnostics_of(text) if each.code == code]
    assert found, [str(each) for each in checked(text)]
    return plain(f"{found[0].message} | {found[0].hint}")


def sheet(text: str, folder: Path) -> str:
    """The sheet that a recipe builds, as Markdown."""
    (folder / "card.recipe").write_text(text, encoding="utf-8")
    ran = run("build", "-o", str(folder), "--to", "md", str(folder / "card.recipe"))
    assert ran.status == 0, ran.err
    return plain((folder / "card.md").read_text(encoding="utf-8"))


def letters(text: str) -> dict[str, bool]:
    """Which services take the card."""
    folded = compile_text(text).folded
    assert folded is not None
    return {each.service: each.fits for each in post(folded)}


# ---- 1, 2, 3: one word, two sizes ----------------------------------------------------------------


def test_1_a_bare_a7_is_two_sizes() -> None:
    """Envelope 5 1/4 x 7 1/4 in [PAGE] and ISO 216 sheet 74 x 105 mm [STD] share a name."""
    text = HEAD.replace("border 1/8", "border 1/8\n  envelope a7") + FOLDED
    told = said(text, "unknown-envelope")
    assert "5 1/4 × 7 1/4 in" in told and "74 × 105 mm" in told and "`us-a7`" in told


def test_1_the_a7_card_goes_into_the_a7_envelope_and_no_larger_one_does() -> None:
    """A 5 x 7 card in 5 1/4 x 7 1/4 in [PAGE]; a card of the envelope's own size does not go in [GEOM]."""
    head = HEAD.replace("border 1/8", "border 1/8\n  envelope us-a7")
    assert codes(head + FOLDED) == set()
    large = FOLDED.replace("10 x 7", "10 1/2 x 7 1/4").replace("score 5 from", "score 5 1/4 from")
    assert "5 1/4 × 7 1/4 in" in said(head + large, "envelope-too-small")


@pytest.mark.parametrize("wrong", ["12 pt", "thick 12 pt", "thick 12pt", "12 point"])
def test_2_points_are_no_length(wrong: str) -> None:
    """12 pt card is 12/1000 in thick [PAGE]; 12 pt type is 12/72 in = 1/6 in high [CALC]."""
    told = said(HEAD.replace("12 x 12", f"12 x 12, {wrong}") + FOLDED, "not-understood")
    assert "no `pt`" in told and "`thick 0.012 in`" in told and "1/72 in" in told


def test_2_what_is_to_be_typed_for_12_pt_is_two_layers_of_12_thousandths() -> None:
    """2 x 0.012 x 25.4 = 0.6096 mm [CALC]."""
    folded = compile_text(HEAD.replace("12 x 12", "12 x 12, thick 0.012 in") + FOLDED).folded
    assert folded is not None and folded.thickness is not None
    assert folded.thickness.likely_mm == F(6096, 10000)


def test_3_a_border_is_taken_off_on_both_sides() -> None:
    """5 - 2 x 1/8 = 4 3/4 [CALC]; pages use `1/8 mat` for each side and for both together [PAGE]."""
    text = GATE + "panel mat from ink on back\n"
    assert sizes(text, "mat.width", "mat.height") == ["4 3/4", "6 3/4"]
    assert plain(explained(text, "mat.width")[0]) == "mat.width = back.width 5 − 2 × border 1/8 = 4 3/4 in"


def test_3_a_size_reduced_only_once_contradicts_its_border() -> None:
    """5 - 1/8 = 4 7/8 leaves nothing at the left once 1/8 shows at the right [CALC]."""
    text = GATE + "panel mat from ink on back\n  size 4 7/8 x 6 7/8\n"
    assert borders(text, "mat") == "1/16, 1/16, 1/16, 1/16"
    told = said(text + "  border 1/8\n", "conflict")
    assert "1/8 in here" in told and "make it 0 in" in told


def test_3_one_side_reduced_once_and_the_other_twice_shows() -> None:
    """(7 - 6 7/8) / 2 = 1/16 beside (5 - 4 3/4) / 2 = 1/8 [CALC]."""
    told = said(GATE + "panel mat from ink on back\n  size 4 3/4 x 6 7/8\n", "border-not-equal")
    assert "1/8 in at the sides" in told and "1/16 in at top and bottom" in told


# ---- 4, 5: from which end, from which side -------------------------------------------------------


def test_4_a_score_from_the_right_is_given_from_both_ends(tmp_path: Path) -> None:
    """2 from the right of 8 1/2 is 6 1/2 from the left [CALC]; a sheet that shows both fits any ruler."""
    text = HEAD + CARD + "  flat 8 1/2 x 5\n  score 2 from right\n"
    assert scores(text) == "6 1/2 valley"
    page = sheet(text, tmp_path)
    assert "| Score | From the left | From the right | Fold |" in page
    assert "| 1 | 6 1/2 | 2 | valley |" in page


@pytest.mark.parametrize(
    ("wrong", "code"), [("2 1/4", "doors-gape"), ("2 3/4", "doors-overlap")]
)
def test_5_a_door_scored_from_the_wrong_place_does_not_meet(wrong: str, code: str) -> None:
    """10 - 2 1/2 - 2 1/4 = 5 1/4 behind doors of 4 3/4: 1/2 open; with 2 3/4, 1/2 over [CALC]."""
    text = GATE.replace("2 1/2 from both sides", f"2 1/2 from left\n  score {wrong} from right")
    told = said(text, code)
    assert "1/2 in" in told and "left-door and right-door" in told


def test_5_a_score_counted_from_the_other_end_is_caught() -> None:
    """`2 1/2, 2 3/4 from left` where the second was meant from the right: 1/4 between them [GEOM]."""
    text = GATE.replace("2 1/2 from both sides", "2 1/2, 2 3/4 from left")
    assert "only 1/4 in wide" in said(text, "cannot-fold")


def test_5_the_outside_of_a_door_is_mirrored() -> None:
    """1/4 from the left of a closed left door is 1/4 from its fold; the flat sheet's outside is mirrored
    [GEOM]: turned over, the left door (5/2 wide at 0) lies at the right, from 7 1/2 to 10."""
    text = GATE + "panel star from ink on left-door outside\n  size 1/2 x 1\n  place 1/4 from left\n"
    folded = compile_text(text).folded
    assert folded is not None
    seen = {}
    for name in ("closed-front", "open-outside"):
        part = next(each for each in folded.view(name).parts if each.piece == "star")
        seen[name] = sorted({x for x, _ in part.outline})
    assert seen == {"closed-front": [F(1, 4), F(3, 4)], "open-outside": [F(31, 4), F(33, 4)]}


def test_5_the_sheet_says_which_side_is_up_when_it_is_scored(tmp_path: Path) -> None:
    """The groove is made on one face, and on the other left is right [GEOM]."""
    assert "Lay the card inside up, its 10 in side from left to right. Score" in sheet(GATE, tmp_path)


# ---- 6, 7: two units, and sums that drift --------------------------------------------------------


def test_6_the_metric_version_is_solved_again() -> None:
    """1 1/4 in is 31.75 mm, so 32, and 5 in is 127 mm; but 4 x 32 = 128 [CALC]: the sections must add up,
    so the sheet that is cut is 128, and the version says that it is within 1 mm."""
    text = HEAD + CARD + "  flat 5 x 5\n  score 1 1/4 from left, valley\n"
    text += "  score 2 1/2 from left, mountain\n  score 3 3/4 from left, valley\n"
    card = in_other_unit(text)
    base = card.bases[0]
    assert card.unit == "mm" and abs(base.width - 127) <= 1
    assert sum(section.width for section in base.sections) == base.width
    assert {section.width for section in base.sections} == {F(32)}


def test_6_borders_still_match_in_the_other_unit() -> None:
    """A border of 1/8 in is 3.175 mm, shown as 3 on all sides [CALC]."""
    placed = in_other_unit(GATE + "panel mat from ink on back\n").piece("mat").placements[0]
    assert set(placed.border) == {F(3)}


@pytest.mark.parametrize(
    ("head", "width", "parts"), [(HEAD, "8 1/2", 3), (HEAD, "10", 7), (METRIC, "297", 7), (METRIC, "297", 3)]
)
def test_7_sections_of_a_width_with_a_remainder_add_up(head: str, width: str, parts: int) -> None:
    """8 1/2 / 3, 10 / 7 and 297 / 7 have remainders on both rulers; their sum has none [CALC]."""
    number = width.replace(" 1/2", ".5")
    lines = "".join(
        f"  score {each} * {number} / {parts} from left, {'valley' if each % 2 else 'mountain'}\n"
        for each in range(1, parts)
    )
    tall = "5" if head == HEAD else "150"
    text = f"{head}{CARD}  flat {width} x {tall}\n{lines}"
    for card in (sized(text), in_other_unit(text)):
        base = card.bases[0]
        assert len(base.sections) == parts
        assert sum(section.width for section in base.sections) == base.width
    assert sized(text).bases[0].width == F(number)


def test_7_a_third_that_no_ruler_shows_is_named_with_the_marks_beside_it() -> None:
    """8 1/2 / 3 = 2 5/6, between 2 13/16 and 2 7/8 [CALC]."""
    text = HEAD + CARD + "  flat 8 1/2 x 5\n  score 8.5 / 3 from left\n"
    told = said(text, "off-grid")
    assert "2 5/6 in" in told and "2 13/16 in" in told and "2 7/8 in" in told


def test_7_thirds_do_not_drift() -> None:
    """3 x 99 = 297, an A4 sheet of ISO 216 [STD] in three [CALC]."""
    text = METRIC + CARD + "  flat 297 x 210\n  score 99 from both sides\n  sections one, two, three\n"
    assert sizes(text, "one.width", "two.width", "three.width") == ["99", "99", "99"]


# ---- 8: grain ------------------------------------------------------------------------------------


def test_8_a_sheet_turned_to_fit_is_scored_across_its_grain() -> None:
    """8 x 10 goes into 8 1/2 x 11 one way only; heavy card cracks across the grain [PAGE]."""
    told = said(GRAIN + CARD + "  flat 8 x 10\n  score 5 from top\n", "score-across-grain")
    assert "270 gsm" in told and "cross the grain" in told
    assert codes(GRAIN + CARD + "  flat 8 x 10\n  score 4 from left\n") == set()


def test_8_light_paper_may_be_folded_across() -> None:
    """Trade pages speak of heavy card alone [PAGE]."""
    text = GRAIN.replace("270", "120") + CARD + "  flat 8 x 10\n  score 5 from top\n"
    assert "score-across-grain" not in codes(text)


# ---- 9, 10, 11, 12: envelopes, post and sheets ---------------------------------------------------


def test_9_a_card_that_fits_by_size_may_not_by_thickness() -> None:
    """1/4 in to spare is 6.35 mm; less 2 x 0.3 + 0.3 + 3 mm it is 2.45, under 1/8 in = 3.175 [CALC]."""
    head = HEAD.replace("border 1/8", "border 1/8\n  envelope us-a7")
    card = head.replace("12 x 12", "12 x 12, thick 0.3 mm") + FOLDED
    raised = card + "oval plate from ink on front outside\n  size 3 x 2\n  glue with foam 3 mm thick\n"
    told = said(raised, "envelope-tight")
    assert "5 × 7 in" in told and "5 1/4 × 7 1/4 in" in told and "3.9 mm" in told
    assert codes(raised.replace("foam 3 mm", "foam 1 mm")) == codes(card) == set()


@pytest.mark.parametrize(
    ("width", "height", "is_plain"),
    [("5", "6.5", True), ("5", "6.4375", False), ("4", "10", True), ("4", "10.0625", False)],
)
def test_10_the_ratio_of_a_letter_is_inclusive(width: str, height: str, is_plain: bool) -> None:
    """6.5 / 5 = 1.3 and 10 / 4 = 2.5 [CALC] are still letters: 1.3 to 2.5 inclusive [CARRIER] 2010-01-04."""
    found = services(F(width) * MM_PER_INCH, F(height) * MM_PER_INCH)
    assert found["us-letter"].fits is is_plain
    assert found["us-nonmachinable"].fits is not is_plain


def test_11_c5_is_a_letter_in_one_country_and_none_in_others() -> None:
    """C5 is 162 x 229 mm [STD]: under 165 x 240 (UK [PAGE]); over 6 1/8 in = 155.575 (US [CARRIER]);
    over 156 (Canada [CARRIER])."""
    head = METRIC.replace("border 3", "border 3\n  envelope iso-c5")
    found = letters(head + CARD + "  flat 296 x 210\n  score 148 from left\n")
    assert found["uk-letter"]
    assert not found["us-letter"] and found["us-flat"]
    assert not found["ca-standard"] and found["ca-nonstandard"]


def test_12_half_of_a4_is_not_a_whole_millimetre() -> None:
    """297 / 2 = 148 1/2 [CALC], while A5 of ISO 216 is 148 [STD]."""
    text = METRIC + CARD + "  flat 297 x 210\n  score 297 / 2 from left\n  sections one, two\n"
    assert sizes(text, "one.width", "two.width") == ["148 1/2", "148 1/2"]
    told = said(text, "off-grid")
    assert "148.5 mm" in told and "148 mm and 149 mm" in told


# ---- 13, 14: folds -------------------------------------------------------------------------------


def test_13_a_roll_round_too_short_a_middle_cannot_close() -> None:
    """Brute-forced layer orders [CALC]: strips 2, 1, 2 with both folds valley have none."""
    text = HEAD + CARD + "  flat 5 x 5\n  score 2, 3 from left, valley\n"
    assert "section-2 is only 1 in wide" in said(text, "cannot-fold")


@pytest.mark.parametrize(("thick", "jams"), [("0.7 mm", False), ("0.8 mm", True)])
def test_13_a_panel_rolled_in_leaves_room_for_the_paper(thick: str, jams: bool) -> None:
    """A fold round one layer takes 2 x t (square corners) [GEOM]; 1/16 in = 1.5875 mm [CALC]."""
    head = HEAD.replace("12 x 12", f"12 x 12, thick {thick}")
    text = head + CARD + "  flat 8 15/16 x 4\n  score 2 15/16, 5 15/16 from left\n"
    assert ("rolled-too-wide" in codes(text)) is jams
    if jams:
        told = said(text, "rolled-too-wide")
        assert "only 1/16 in narrower" in told and "1.6 mm (0.063 in)" in told
        assert "make section-1 2 15/16 in or less" not in told and "2 7/8 in or less" in told


STAIR = (
    "  score 4 from top, valley, between 0 and 1\n  score 4 from top, valley, between 3 and 4\n"
    "  cut 1 from both sides, between 3 and 5\n  score 3, 4, 5 from top, valley, between 1 and 3\n"
    "  score 3 1/2, 4 1/2 from top, mountain, between 1 and 3\n"
)


def test_14_the_strips_of_a_slit_card_land_on_one_point_at_the_slits_ends() -> None:
    """Between slits 3 to 5 from the top the middle strip must end where the sides do: steps of 1/2, in
    pairs of the same height [GEOM]. One score off by 1/8 ends elsewhere."""
    text = HEAD + CARD + "  flat 4 x 8\n" + STAIR
    assert "cannot-fold" not in codes(text) and "score-dangles" not in codes(text)
    assert "cannot-fold" in codes(text.replace("4 1/2 from top", "4 5/8 from top"))
    told = said(text.replace("3, 4, 5 from top", "3, 4, 5 1/8 from top"), "score-dangles")
    assert "score" in told


def test_every_slip_is_here() -> None:
    """The list of known slips has 14 numbers, and each has a test of its own."""
    names = [name.split("_") for name in globals() if name.startswith("test_")]
    numbers = {int(words[1]) for words in names if words[1].isdigit()}
    assert numbers == set(range(1, 15))
