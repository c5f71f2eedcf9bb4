"""The letter services against the carriers' published figures, by size alone and at every limit.

Sources, as seen in November 2026: US, Domestic Mail Manual 101, sections 1.1 and 1.2, archived edition
of 2010-01-04, and pages quoting the carrier for postcard (2025) and large envelope (undated); UK, the
regulator's help page and five others, one dated to about 2024-10 to 2025-04; Canada, the carrier's page on
letter sizes (undated copy), 0.18 mm and 20 mm from a military-mail page, 5 mm from memory; Germany, news
and other pages, one of 2025-02-12. Such figures change every year: these tests hold the shipped table to
the figures seen, not to today's.
"""

from fractions import Fraction

import pytest

from cardrecipe.fold.folded import Thickness
from cardrecipe.plan.entries import PostFit
from cardrecipe.plan.post import judged
from cardrecipe.plan.stuffed import Grams, Mail
from tests.hand_made import card_of, strip_base

F = Fraction
MM_PER_INCH = F("25.4")
PLAIN = card_of(strip_base([4], "", height=5))
THIN, LIGHT = F(1), F(10)


def services(
    width: Fraction, height: Fraction, thick: Fraction = THIN, grams: Fraction = LIGHT
) -> dict[str, PostFit]:
    """Every service against an envelope in mm whose thickness and weight are exactly known."""
    short, long = sorted((width, height))
    mail = Mail("envelope", short, long, "mm", Thickness(thick, thick, thick, False), Grams(grams, grams))
    return {fit.service: fit for fit in judged(PLAIN, mail, mail)}


def fits(
    service: str, width: Fraction, height: Fraction, thick: Fraction = THIN, grams: Fraction = LIGHT
) -> bool:
    return services(width, height, thick, grams)[service].fits


def first(country: str, width: Fraction, height: Fraction) -> str:
    """The first service that takes it in the table's order; a postcard has no envelope."""
    found = services(width, height).items()
    taken = (name for name, fit in found if name.startswith(country) and fit.fits)
    return next((name for name in taken if name != "us-postcard"), "")


# ---- by size alone -------------------------------------------------------------------------------

STANDARD, NONSTANDARD = "ca-standard", "ca-nonstandard"
LETTER, LARGE = "uk-letter", "uk-large-letter"
# Computed from the limits above with fractions, apart from the code: size only, thin and light.
TABLE = [
    ("A1", "3 5/8", "5 1/8", "us-letter", LETTER, "", "de-kompakt"),
    ("A2", "4 3/8", "5 3/4", "us-letter", LETTER, STANDARD, "de-gross"),
    ("A6", "4 3/4", "6 1/2", "us-letter", LETTER, STANDARD, "de-gross"),
    ("A7", "5 1/4", "7 1/4", "us-letter", LETTER, STANDARD, "de-gross"),
    ("A9", "5 3/4", "8 3/4", "us-letter", LETTER, STANDARD, "de-gross"),
    ("A10", "6", "9 1/2", "us-letter", LARGE, STANDARD, "de-gross"),
    ("#10", "4 1/8", "9 1/2", "us-letter", LARGE, STANDARD, "de-gross"),
    ("4 in square", "4", "4", "", LETTER, "", "de-gross"),
    ("5 in square", "5", "5", "us-nonmachinable", LETTER, "", "de-gross"),
    ("6 in square", "6", "6", "us-nonmachinable", LETTER, STANDARD, "de-gross"),
    ("6 1/4 in square", "6 1/4", "6 1/4", "us-flat", LETTER, NONSTANDARD, "de-gross"),
    ("C6", 114, 162, "us-letter", LETTER, STANDARD, "de-standard"),
    ("C5", 162, 229, "us-flat", LETTER, NONSTANDARD, "de-gross"),
    ("DL", 110, 220, "us-letter", LETTER, STANDARD, "de-standard"),
    ("B6", 125, 176, "us-letter", LETTER, STANDARD, "de-standard"),
]


def mm(size: str | int) -> Fraction:
    if isinstance(size, int):
        return F(size)
    return sum((F(part) for part in size.split()), F(0)) * MM_PER_INCH


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row[0])
def test_the_computed_table(row: tuple[str, str | int, str | int, str, str, str, str]) -> None:
    _, width, height, *expected = row
    sides = mm(width), mm(height)
    assert [first(prefix, *sides) for prefix in ("us-", "uk-", "ca-", "de-")] == expected
    turned = sides[::-1]
    assert [first(prefix, *turned) for prefix in ("us-", "uk-", "ca-", "de-")] == expected


# ---- each side of every limit --------------------------------------------------------------------

HAIR = F(1, 1000)
# service, a size inside it in inches or mm, then the limits: what is varied, the limit, least or most
LIMITS = [
    # Domestic Mail Manual 101, 1.1 (2010-01-04)
    ("us-letter", "in", ("3.6", "6"), [
        ("short", "3.5", "least"), ("long", "5", "least"),
        ("thick", "0.007", "least"), ("thick", "0.25", "most"),
    ]),
    ("us-letter", "in", ("6", "11"), [("short", "6.125", "most"), ("long", "11.5", "most")]),
    # a page quoting the carrier, undated
    ("us-flat", "in", ("11", "14"), [
        ("short", "12", "most"), ("long", "15", "most"), ("thick", "0.75", "most"),
    ]),
    # a page quoting the carrier, 2025
    ("us-postcard", "in", ("4", "5.5"), [
        ("short", "3.5", "least"), ("short", "4.25", "most"), ("long", "5", "least"), ("long", "6", "most"),
        ("thick", "0.007", "least"), ("thick", "0.016", "most"),
    ]),
    # the regulator's help page
    ("uk-letter", "mm", ("100", "200"), [
        ("short", "165", "most"), ("long", "240", "most"), ("thick", "5", "most"), ("grams", "100", "most"),
    ]),
    ("uk-large-letter", "mm", ("200", "300"), [
        ("short", "250", "most"), ("long", "353", "most"), ("thick", "25", "most"), ("grams", "750", "most"),
    ]),
    # the carrier's page on letter sizes; 5 mm from memory
    ("ca-standard", "mm", ("100", "200"), [
        ("short", "90", "least"), ("short", "156", "most"), ("long", "140", "least"), ("long", "245", "most"),
        ("thick", "0.18", "least"), ("thick", "5", "most"), ("grams", "50", "most"),
    ]),
    ("ca-nonstandard", "mm", ("200", "300"), [
        ("short", "270", "most"), ("long", "380", "most"), ("thick", "20", "most"), ("grams", "500", "most"),
    ]),
    # news pages, one of 2025-02-12, and others
    ("de-standard", "mm", ("95", "200"), [
        ("short", "90", "least"), ("short", "125", "most"), ("long", "140", "least"), ("long", "235", "most"),
        ("thick", "5", "most"), ("grams", "20", "most"),
    ]),
    ("de-kompakt", "mm", ("100", "200"), [
        ("short", "70", "least"), ("short", "125", "most"), ("long", "235", "most"),
        ("thick", "10", "most"), ("grams", "50", "most"),
    ]),
    ("de-kompakt", "mm", ("70", "120"), [("long", "100", "least")]),
    ("de-gross", "mm", ("150", "300"), [
        ("short", "70", "least"), ("short", "250", "most"), ("long", "353", "most"), ("thick", "20", "most"),
        ("grams", "500", "most"),
    ]),
    ("de-gross", "mm", ("80", "120"), [("long", "100", "least")]),
]  # fmt: skip
EVERY_LIMIT = [(service, unit, sides, *limit) for service, unit, sides, limits in LIMITS for limit in limits]


@pytest.mark.parametrize("case", EVERY_LIMIT, ids=lambda case: "-".join(map(str, (case[0], *case[3:]))))
def test_each_side_of_every_limit(
    case: tuple[str, str, tuple[str, str], str, str, str],
) -> None:
    service, unit, sides, what, limit, end = case
    scale = MM_PER_INCH if unit == "in" else F(1)
    thick = F(3, 10) if service == "us-postcard" else THIN
    values = {"short": F(sides[0]) * scale, "long": F(sides[1]) * scale, "thick": thick, "grams": LIGHT}

    def at(value: Fraction) -> bool:
        varied = {**values, what: value * (1 if what == "grams" else scale)}
        return fits(service, varied["short"], varied["long"], varied["thick"], varied["grams"])

    outside = F(limit) + (HAIR if end == "most" else -HAIR)
    assert at(F(limit)), "the limit itself is still allowed"
    assert not at(outside), "a hair beyond it is not"


def test_the_weight_of_a_us_letter() -> None:
    """3.5 oz by the international ounce, 28.349523125 g."""
    most = F("3.5") * F("28.349523125")
    assert fits("us-letter", F(100), F(150), grams=most)
    assert not fits("us-letter", F(100), F(150), grams=most + HAIR)
    assert fits("us-flat", F(100), F(150), grams=most + HAIR)


def test_the_us_ratio_is_inclusive_at_both_ends() -> None:
    """Domestic Mail Manual 101, 1.2: less than 1.3 or more than 2.5 is non-machinable."""
    inch = MM_PER_INCH
    for long, short, ordinary in [
        ("6.5", "5", True),  # 1.3
        ("6.499", "5", False),
        ("10", "4", True),  # 2.5
        ("10.001", "4", False),
    ]:
        found = services(F(short) * inch, F(long) * inch)
        assert (found["us-letter"].fits, found["us-nonmachinable"].fits) == (ordinary, not ordinary)


def test_the_german_ratio_is_inclusive() -> None:
    """At least 1.4, so no squares: those and the near-squares go as the next larger letter."""
    for long, ordinary in [("168", True), ("167.999", False)]:
        found = services(F(120), F(long))
        assert (found["de-standard"].fits, found["de-kompakt"].fits) == (ordinary, ordinary)
        assert found["de-gross"].fits


@pytest.mark.parametrize(
    ("short", "long", "thick", "machined"),
    [
        # Domestic Mail Manual 101, 1.2: 0.009 in when over 4 1/4 in high or over 6 in long.
        ("4.25", "6", "0.0089", True),
        ("4.26", "6", "0.0089", False),
        ("4.25", "6.01", "0.0089", False),
        ("4.26", "6", "0.009", True),
        ("4.25", "6.01", "0.009", True),
    ],
)
def test_a_larger_us_letter_must_be_a_little_thicker(
    short: str, long: str, thick: str, machined: bool
) -> None:
    sides = [F(value) * MM_PER_INCH for value in (short, long, thick)]
    found = services(*sides)
    assert (found["us-letter"].fits, found["us-nonmachinable"].fits) == (machined, not machined)


def test_a_thick_letter_of_any_size_is_a_larger_one() -> None:
    """Trap: it fits by size, not by thickness."""
    c6 = F(114), F(162)
    over = F("6.36")
    assert [fits(name, *c6, over) for name in ("us-letter", "us-nonmachinable", "us-flat")] == [
        False,
        False,
        True,
    ]
    assert [fits(name, *c6, F("5.01")) for name in ("uk-letter", "uk-large-letter")] == [False, True]
    assert [fits(name, *c6, F("5.01")) for name in ("ca-standard", "ca-nonstandard")] == [False, True]
    assert [fits(name, *c6, F("5.01")) for name in ("de-standard", "de-kompakt")] == [False, True]


def test_c5_is_three_things() -> None:
    """Trap: a letter in the UK, a large envelope in the US, oversize in Canada."""
    c5 = F(162), F(229)
    assert (first("uk-", *c5), first("us-", *c5), first("ca-", *c5)) == (LETTER, "us-flat", NONSTANDARD)
