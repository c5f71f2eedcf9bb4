"""Arithmetic slips that recipes are known to contain, each against what the compiler makes of it.

The slips are those of craft pages and merchants' lists; each test names beside it where its figures are from.
"""

from tests.recipes import HEAD, METRIC, checked, scores, sizes


def test_a_bare_a7_is_two_sizes() -> None:
    """Envelope 5 1/4 x 7 1/4 in (merchants' pages) and ISO 216 sheet 74 x 105 mm share a name."""
    found = checked(HEAD.replace("border 1/8", "border 1/8\n  envelope a7"))
    assert "unknown-envelope" in {each.code for each in found}


def test_a_score_from_the_right_is_given_from_the_left() -> None:
    """Geometry: 2 from the right of 8 1/2 is 6 1/2 from the left."""
    text = HEAD + "base card from ink\n  flat 8 1/2 x 5\n  score 2 from right\n"
    assert scores(text) == "6 1/2 valley"


def test_thirds_do_not_drift() -> None:
    """Computed: 3 x 99 = 297, an A4 sheet of ISO 216 in three."""
    text = METRIC + "base card from ink\n  flat 297 x 210\n  score 99 from both sides\n"
    text += "  sections one, two, three\n"
    assert sizes(text, "one.width", "two.width", "three.width") == ["99", "99", "99"]


def test_half_of_a4_is_not_a_whole_millimetre() -> None:
    """Computed: 297 / 2 = 148 1/2, while A5 of ISO 216 is 148."""
    text = METRIC + "base card from ink\n  flat 297 x 210\n  score 297 / 2 from left\n"
    text += "  sections one, two\n"
    assert sizes(text, "one.width", "two.width") == ["148 1/2", "148 1/2"]


def test_a_roll_round_too_short_a_middle_cannot_close() -> None:
    """Brute-forced layer orders: strips 2, 1, 2 with both folds valley have none."""
    text = HEAD + "base card from ink\n  flat 5 x 5\n  score 2, 3 from left, valley\n"
    assert "cannot-fold" in {each.code for each in checked(text)}
