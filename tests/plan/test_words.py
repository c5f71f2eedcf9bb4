"""Singular and plural, lists and names as they are read aloud."""

from fractions import Fraction

import pytest

from cardrecipe.plan.words import (
    a_count_of,
    bought_length,
    bought_size,
    counted,
    listed,
    paper_words,
    plural,
    sentences,
    the,
    the_count_of,
)
from tests.hand_made import PAPERS


@pytest.mark.parametrize(
    ("noun", "more"),
    [
        ("mat", "mats"),
        ("leaf", "leaves"),
        ("berry", "berries"),
        ("tray", "trays"),
        ("box", "boxes"),
        ("pass", "passes"),
        ("petals", "petals"),
        ("star", "stars"),
    ],
)
def test_plural(noun: str, more: str) -> None:
    assert plural(noun) == more


def test_counts_and_names() -> None:
    assert counted(1, "piece") == "one piece"
    assert counted(11, "score") == "11 scores"
    assert a_count_of("door-paper", 2) == "two door papers"
    assert the_count_of("door-paper", 1) == "the door paper"
    assert the_count_of("row-2", 3) == "the three row 2 pieces"
    assert (the("section-2"), the("left"), the("back")) == (
        "section 2",
        "the left part",
        "the back",
    )


def test_lists_and_sentences() -> None:
    assert [listed("abc"[:count]) for count in range(4)] == ["", "a", "a and b", "a, b and c"]
    assert sentences("fold it", "", "is it flat?") == "Fold it. Is it flat?"


def test_a_foam_of_two_millimetres_is_called_that_in_an_inch_recipe() -> None:
    assert bought_length(Fraction(10, 127), "inch") == "2\u00a0mm"
    assert bought_length(Fraction(1, 8), "inch") == "1⁄8\u00a0in"
    assert bought_length(Fraction(2), "mm") == "2\u00a0mm"
    assert bought_length(Fraction(254, 160), "mm") == "1⁄16\u00a0in (about 1.6\u00a0mm)"
    assert bought_length(Fraction(381, 100), "mm") == "3.81\u00a0mm"


def test_a_paper_is_called_by_its_title_and_kind_once() -> None:
    assert [paper_words(PAPERS[name]) for name in ("ink", "glow", "white")] == [
        "Ink blue cardstock",
        "Paper glow",
        "White cardstock",
    ]


@pytest.mark.parametrize(
    ("width", "height", "unit", "said"),
    [
        (Fraction(12), Fraction(12), "inch", "12 × 12\xa0in"),
        (Fraction(1143, 10), Fraction(1524, 10), "mm", "4\u202f1⁄2 × 6\xa0in"),
        (Fraction(114) / Fraction(254, 10), Fraction(162) / Fraction(254, 10), "inch", "114 × 162\xa0mm"),
        (Fraction(210), Fraction(297), "mm", "210 × 297\xa0mm"),
        (Fraction(10, 3), Fraction(4), "inch", "3\u202f1⁄3 × 4\xa0in"),
    ],
)
def test_sheets_and_envelopes_are_named_as_they_are_sold(
    width: Fraction, height: Fraction, unit: str, said: str
) -> None:
    assert bought_size(width, height, unit) == said


def test_a_thickness_in_tenths_of_a_millimetre_is_called_that_in_an_inch_recipe() -> None:
    assert bought_length(Fraction(13, 254), "inch") == "1.3\u00a0mm"


def test_a_sheet_is_named_in_inches_where_one_side_alone_is_whole_in_millimetres() -> None:
    """5 in are 127 mm, 12 in are 304.8 mm: nobody sells a sheet of 127 × 304.8 mm."""
    sides = Fraction(127), Fraction(3048, 10)
    assert bought_size(*sides, "mm") == bought_size(*sides[::-1], "mm").replace("12 × 5", "5 × 12")
    assert bought_size(*sides, "mm") == "5 × 12\u00a0in"
