"""The post: what a card weighs and measures in its envelope, which services take it, and in what words."""

from collections.abc import Iterable
from fractions import Fraction

import pytest

from cardrecipe.fold.folded import FoldedCard, Thickness
from cardrecipe.library.envelopes import find_envelope
from cardrecipe.model.papers import Supply, Weight
from cardrecipe.model.work import Glue, Work
from cardrecipe.plan.card import plan
from cardrecipe.plan.entries import PostFit
from cardrecipe.plan.envelopes import check_envelope
from cardrecipe.plan.post import judged, post
from cardrecipe.plan.post_checks import check_square_letter, check_thick_letter
from cardrecipe.plan.post_lines import post_fact, post_lines
from cardrecipe.plan.stuffed import Grams, Mail, in_envelope, stuffed
from cardrecipe.plan.uneven import stiff_things, uneven_things
from cardrecipe.solve.sized import SizedCard
from cardrecipe.syntax.diagnostics import Diagnostic
from tests.hand_made import PAPERS, SPAN, card_of, double_gate, gate, piece, side_fold, strip_base, strip_card
from tests.plan.cards import folded, loose_pieces
from tests.plan.test_steps import plain
from tests.recipes import HEAD, codes_of

F = Fraction


def services(card: SizedCard) -> dict[str, PostFit]:
    return {fit.service: fit for fit in post(folded(card))}


def because(card: SizedCard, service: str) -> list[str]:
    return [plain(text) for text in services(card)[service].because]


def with_work(*works: Work) -> SizedCard:
    """A side fold, its base worked on."""
    card = side_fold()
    return card._replace(pieces=(card.pieces[0]._replace(works=works),))


def thick(card: SizedCard, likely: str, least: str = "", most: str = "") -> FoldedCard:
    """`card` whose closed thickness in mm is such that, in its envelope, it is `likely` thick."""
    flat = folded(card)
    assert flat.thickness is not None
    empty = in_envelope(Thickness(F(0), F(0), F(0), False))
    ends = F(likely) - empty.likely_mm, F(least or likely) - empty.least_mm, F(most or likely) - empty.most_mm
    return flat._replace(thickness=Thickness(*ends, True))


# ---- the card in its envelope --------------------------------------------------------------------


def test_the_wanted_envelope_else_the_best_else_one_made_to_measure() -> None:
    def sides(card: SizedCard) -> tuple[str, Fraction, Fraction]:
        mail = stuffed(folded(card))
        assert mail is not None
        return mail.envelope, mail.short, mail.long

    assert sides(side_fold()) == ("US A2", F(35, 8), F(23, 4))
    assert sides(side_fold()._replace(envelope="us-a7")) == ("US A7", F(21, 4), F(29, 4))
    large = strip_card([20, 20], "V", height=20)
    assert sides(large) == ("an envelope made to measure", F(81, 4), F(81, 4))
    metric = strip_card([500, 500], "V", height=600, unit="mm")
    assert sides(metric)[1:] == (F(506), F(606))


def test_two_layers_of_an_envelope_add_to_thickness_and_its_sheet_to_weight() -> None:
    """100 gsm, 80 to 150, at a bulk of 1.25, 0.8 to 1.5; a sheet 2.4 times the face. From memory."""
    flat = folded(side_fold())
    card, mail = flat.thickness, stuffed(flat)
    assert card is not None and mail is not None and mail.grams is not None
    whole = mail.thickness
    assert whole == in_envelope(card)
    added = [getattr(whole, end) - getattr(card, end) for end in ("likely_mm", "least_mm", "most_mm")]
    assert added == [F("0.25"), F("0.128"), F("0.45")]
    # 8 1/2 x 5 1/2 in at 270 gsm is 8.143 g; 2.4 x 4 3/8 x 5 3/4 in at 100 gsm is 3.895 g.
    assert float(mail.grams.likely) == pytest.approx(8.1435 + 3.8951, abs=0.001)
    assert float(mail.grams.most) == pytest.approx(8.1435 + 5.8427, abs=0.001)


def test_loose_pieces_are_no_letter() -> None:
    flat = folded(loose_pieces())
    assert post(flat) == () and stuffed(flat) is None
    assert post_lines((), "inch") == () and post_fact((), "inch") == ""
    assert [*check_thick_letter(flat), *check_square_letter(flat)] == []


def test_the_recipes_own_system_comes_first() -> None:
    assert next(iter(services(side_fold()))) == "us-letter"
    assert next(iter(services(strip_card([100, 100], "V", height=140, unit="mm")))) == "uk-letter"


# ---- reasons -------------------------------------------------------------------------------------


def test_a_plain_card_is_an_ordinary_letter_without_a_word_against_it() -> None:
    found = services(side_fold())
    assert found["us-letter"].fits and found["us-letter"].because == ()
    assert not found["us-nonmachinable"].fits and not found["us-flat"].fits
    assert because(side_fold(), "us-flat") == ["it is over no maximum of a US letter"]
    assert because(side_fold(), "us-nonmachinable") == [
        "nothing is known that makes it more than a US letter"
    ]


def test_what_is_too_heavy_for_a_letter_is_over_a_maximum_of_it() -> None:
    """So it goes as the larger thing, as what is too thick does."""
    card = side_fold()
    papers = {
        name: each._replace(weight=Weight(F(4000), "gsm"), thick=F(1, 100)) for name, each in PAPERS.items()
    }
    heavy = because(card._replace(papers=papers), "us-letter")
    assert len(heavy) == 1 and "may weigh 3.5 oz (99 g) at most" in heavy[0]
    assert "it is over no maximum of a US letter" not in because(card._replace(papers=papers), "us-flat")


def test_a_size_is_told_in_the_services_own_unit() -> None:
    large = strip_card([7, 7], "V", height=10)
    assert because(large, "us-letter")[0].startswith("its short side is ")
    a7 = side_fold()._replace(envelope="us-a7")
    assert because(a7, "de-standard")[:1] == ["its short side is 133.35 mm and may be 125 mm at most"]
    c5 = strip_card([150, 150], "V", height=210, unit="mm")
    assert because(c5, "us-letter") == ["its short side is ≈6.378 in and may be 6 1/8 in at most"]


def test_a_square_is_told_as_one() -> None:
    square = strip_card([4, 4], "V", height=4)._replace(envelope="square-5in")
    told = "it is square: the long side must be 1.3 to 2.5 times the short side"
    assert because(square, "us-letter") == because(square, "us-nonmachinable") == [told]
    assert services(square)["us-nonmachinable"].fits and not services(square)["us-letter"].fits
    german = "it is square: the long side must be at least 1.4 times the short side"
    assert german in because(square, "de-kompakt") and services(square)["de-gross"].fits


def test_a_ratio_is_never_rounded_onto_its_limit() -> None:
    def told(long: str) -> list[str]:
        mail = Mail("e", F(100), F(long), "mm", Thickness(F(1), F(1), F(1), False), Grams(F(9), F(9)))
        (letter,) = [fit for fit in judged(side_fold(), mail, mail) if fit.service == "us-letter"]
        return [text for text in letter.because if "times" in text]

    assert told("129.99") == ["its long side is 1.29 times its short side and must be 1.3 to 2.5 times"]
    assert told("250.01") == ["its long side is 2.51 times its short side and may be 2.5 times at most"]
    assert told("130") == told("250") == []


def test_too_thick_and_perhaps_too_thick() -> None:
    def told(likely: str, most: str) -> tuple[bool, list[str]]:
        found = {fit.service: fit for fit in post(thick(side_fold(), likely, "3", most))}
        return found["us-letter"].fits, [plain(text) for text in found["us-letter"].because]

    assert told("6.35", "6.35") == (True, [])
    assert told("5.5", "6.4") == (
        True,
        ["it may be too thick: about 5.5 mm (between 3 and 6.4 mm), and 6.35 mm (1/4 in) is the most"],
    )
    assert told("6.351", "6.4") == (
        False,
        ["it is about 6.4 mm (between 3 and 6.4 mm) thick and may be 6.35 mm (1/4 in) at most"],
    )


def test_what_is_over_is_never_said_to_be_equal() -> None:
    (letter,) = [fit for fit in post(thick(side_fold(), "5.01", "5", "5.02")) if fit.service == "uk-letter"]
    assert [plain(text) for text in letter.because] == [
        "it is about 5.01 mm (between 5 and 5 mm) thick and may be 5 mm at most"
    ]


def test_a_limit_from_memory_says_so() -> None:
    found = {fit.service: fit for fit in post(thick(side_fold(), "5.5"))}
    assert found["ca-standard"].because[-1].endswith("5\u00a0mm at most (a limit from memory)")
    assert not any("memory" in text for text in found["uk-letter"].because)


def test_weight_over_in_doubt_and_unknown() -> None:
    def told(likely: str, most: str) -> list[str]:
        grams = Grams(F(likely), F(most))
        mail = Mail("e", F(114), F(162), "mm", Thickness(F(1), F(1), F(1), False), grams)
        found = judged(side_fold(), mail, mail)
        return [plain(text) for fit in found if fit.service == "de-standard" for text in fit.because]

    tail = " with its envelope, glue and additions not counted"
    assert told("20", "20") == []
    assert told("19", "21") == [f"it may be too heavy: about 19 g{tail}, and 20 g is the most"]
    assert told("20.1", "22") == [f"it weighs about 21 g{tail}, and may weigh 20 g at most"]

    unknown = side_fold()
    papers = {**unknown.papers, "ink": PAPERS["ink"]._replace(weight=None)}
    unknown = unknown._replace(papers=papers)
    assert services(unknown)["us-letter"].fits
    assert because(unknown, "us-letter") == [
        "its weight is not known, since not every paper's is; 3.5 oz (99 g) is the most"
    ]


@pytest.mark.parametrize(
    ("work", "things"),
    [
        (Work("add", "sea blue", SPAN, item="ribbon", long=F(8)), ("ribbon",)),
        (Work("add", "Moon", SPAN, item="gem"), ("gem",)),
        (Work("add", "Hemp", SPAN, item="cord"), ("cord",)),
        (Work("add", "Brass", SPAN, item="brads"), ("brad",)),
        (Work("add", "Small buttons", SPAN), ("button",)),
        (Work("add", "Moon", SPAN, item="sticker"), ()),
        (Work("stamp", "A button", SPAN, ("Penny brown",)), ()),
        (Work("punch", "Eyelet hole", SPAN), ()),
        (Work("add", "Pinwheel", SPAN, item="sticker"), ()),
    ],
)
def test_what_makes_a_letter_uneven(work: Work, things: tuple[str, ...]) -> None:
    card = with_work(work)
    assert uneven_things(card) == things
    found = services(card)
    assert found["us-letter"].fits != bool(things) and found["us-nonmachinable"].fits == bool(things)
    assert found["uk-letter"].fits


def test_foam_makes_it_uneven_and_several_things_are_told_together() -> None:
    gem = (Work("add", "Moon", SPAN, item="gem"),)
    raised = side_fold(piece("plate", "panel", "ink", (2, 2), glue=Glue(SPAN, "foam", thick=F(1, 16))))
    assert uneven_things(raised) == ("foam",)
    both = raised._replace(pieces=(raised.pieces[0]._replace(works=gem), *raised.pieces[1:]))
    assert because(both, "us-nonmachinable") == ["the gem and foam make it uneven"]


def test_a_shared_cupboard_of_ribbons_is_not_sent_but_what_a_text_names_is() -> None:
    cupboard = {"red": Supply("red", "ribbon", "Red silk", SPAN)}
    assert uneven_things(side_fold()._replace(supplies=cupboard)) == ()
    tied = with_work(Work("do", "Tie the red silk round the fold.", SPAN))
    assert uneven_things(tied._replace(supplies=cupboard)) == ("ribbon",)


def test_a_large_envelope_that_is_uneven_may_be_refused() -> None:
    card = with_work(Work("add", "Moon", SPAN, item="gem"))
    flat = {fit.service: fit for fit in post(thick(card, "7"))}["us-flat"]
    assert flat.fits and flat.because == ("it must be evenly thick, so it may be refused",)


def test_board_may_not_bend() -> None:
    card = side_fold()
    board = {**card.papers, "ink": PAPERS["ink"]._replace(title="Grey chipboard")}
    stiff = card._replace(papers=board)
    assert stiff_things(stiff) == ("chipboard",) and stiff_things(card) == ()
    assert services(stiff)["us-letter"].fits
    assert because(stiff, "us-letter") == ["it may not bend enough: chipboard"]
    # A paper that nothing is made from is not sent.
    assert stiff_things(card._replace(papers={**card.papers, "box": board["ink"]._replace(name="box")})) == ()


def test_a_postcard_is_one_flat_card() -> None:
    single = card_of(strip_base([6], "", height=4))
    assert services(single)["us-postcard"].fits and services(single)["us-postcard"].envelope == ""
    titles = [line.title for line in post_lines(post(folded(single)), "inch")]
    assert "US postcard, without an envelope" in titles
    assert "it is one flat card, and this one has one fold" in because(side_fold(), "us-postcard")
    # Domestic Mail Manual 101, 1.1d (2010): corners of cards without an envelope.
    for radius, fits in ((F(1, 8), True), (F(3, 16), False)):
        rounded = card_of(single.pieces[0]._replace(corner_radius=radius))
        assert services(rounded)["us-postcard"].fits == fits
        assert services(rounded)["us-letter"].fits


# ---- on the sheet --------------------------------------------------------------------------------


def test_every_answer_says_how_old_it_is_and_whom_to_ask() -> None:
    for card in (side_fold(), double_gate(), gate()):
        found = post(folded(card))
        assert all(fit.check.endswith("igures; check with your carrier.") or "igures of " in fit.check
                   for fit in found)  # fmt: skip
        for system in ("inch", "mm"):
            assert "check with your carrier" in post_fact(found, system)
            assert all("check with your carrier" in line.note for line in post_lines(found, system))


def lines(found: Iterable[PostFit], system: str) -> list[tuple[str, str]]:
    return [(line.title, plain(line.note)) for line in post_lines(tuple(found), system)]


def test_a_line_for_each_country_with_the_reason_for_a_dearer_service() -> None:
    square = post(folded(strip_card([4, 4], "V", height=4)._replace(envelope="square-5in")))
    assert lines(square, "inch") == [
        (
            "US non-machinable letter (a surcharge)",
            "It is square: the long side must be 1.3 to 2.5 times the short side. Figures of 4 January 2010; "
            "check with your carrier.",
        )
    ]
    titles = [title for title, _ in lines(square, "mm")]
    assert titles == ["UK letter", "No Canadian standard letter, nor a larger one", "German Großbrief"]
    assert lines(square, "mm")[0][1] == "Figures of October 2024 to April 2025; check with your carrier."
    assert lines(square, "mm")[1][1].startswith(
        "Its long side is 127 mm and must be 140 mm at least. Undated"
    )


def test_the_fact_at_the_top() -> None:
    found = post(folded(side_fold()))
    assert post_fact(found, "inch") == "US letter; check with your carrier (figures of 4 January 2010)"
    assert post_fact(found, "mm").startswith("UK letter, Canadian standard letter, German Großbrief; check")
    large = post(folded(strip_card([20, 20], "V", height=20)))
    assert post_fact(large, "inch") == "no US letter; check with your carrier (figures of 4 January 2010)"


def test_the_sheet_carries_it() -> None:
    sheet, _ = plan(folded(side_fold()))
    assert [fit.service for fit in sheet.post][:1] == ["us-letter"] and len(sheet.post) == 11
    assert [fact.label for fact in sheet.facts if fact.label in ("Envelope", "Post")] == ["Envelope", "Post"]


# ---- warnings ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("unit", "likely", "most", "over"),
    [
        ("inch", "6.35", "7.5", False),
        ("inch", "6.351", "6.4", True),
        ("mm", "5", "6", False),
        ("mm", "5.001", "5.1", True),
    ],
)
def test_more_thickness_than_an_ordinary_letter_may_have(
    unit: str, likely: str, most: str, over: bool
) -> None:
    card = side_fold() if unit == "inch" else strip_card([100, 100], "V", height=140, unit="mm")
    found = list(check_thick_letter(thick(card, likely, "3", most)))
    assert [(one.code, one.severity) for one in found] == [("post-too-thick", "warning")] * over
    assert all("check with your carrier" in one.message for one in found)


def square(unit: str, side: int, envelope: str | None = None) -> list[Diagnostic]:
    card = strip_card([side, side], "V", height=side, unit=unit)._replace(envelope=envelope)
    return list(check_square_letter(folded(card)))


def test_a_square_letter_is_unusual() -> None:
    (inch,) = square("inch", 5)
    assert (inch.code, inch.severity) == ("post-square", "warning")
    assert plain(inch.message) == (
        "an envelope of 5 1/2 × 5 1/2 in is square, and a square letter is no US letter (figures of "
        "4 January 2010; check with your carrier)"
    )
    (metric,) = square("mm", 140)
    assert "is no German Standardbrief (figures of 12 February 2025" in metric.message
    assert square("inch", 20) != []  # in an envelope of its own
    assert square("inch", 5, "us-a8") == []  # a square card in an oblong envelope
    assert list(check_square_letter(folded(side_fold()))) == []


def test_an_oblong_card_in_a_square_envelope() -> None:
    card = side_fold()._replace(envelope="square-6in")
    assert [one.code for one in check_square_letter(folded(card))] == ["post-square"]


# ---- envelopes: the clearance grows with the thickness ---------------------------------------------


@pytest.mark.parametrize(("unit", "enough"), [("inch", "1/8"), ("mm", "3")])
def test_enough_is_what_is_left_beyond_the_thickness(unit: str, enough: str) -> None:
    """Warning below 1/8 in or 3 mm after the stack's thickness, error at 0 without it (a rule of thumb)."""
    envelope = find_envelope("square-6in" if unit == "inch" else "square-160mm")
    assert envelope is not None
    per = F("25.4") if unit == "inch" else F(1)

    def code(left: Fraction, thickness_mm: Fraction) -> list[str]:
        side = envelope.width - left
        card = strip_card([side, side], "V", height=side, unit=unit)._replace(envelope=envelope.name)
        flat = folded(card)
        exact = Thickness(thickness_mm, thickness_mm, thickness_mm, False)
        return [one.code for one in check_envelope(flat._replace(thickness=exact))]

    for thickness_mm in (F(0), F(2), F(5)):
        needed = F(enough) + thickness_mm / per
        assert code(needed, thickness_mm) == []
        assert code(needed - F(1, 1000), thickness_mm) == ["envelope-tight"]
        assert code(F(1, 1000), thickness_mm) == ["envelope-tight"]
        assert code(F(0), thickness_mm) == ["envelope-too-small"]


def test_a_recipe_is_warned_of_a_square_letter_and_of_a_thick_one() -> None:
    base = "base card from ink\n  flat 11 x 5\n  score 5 1/2 from left\n  sections front, back\n"
    assert codes_of(HEAD + base) == []
    assert codes_of(HEAD + base.replace("x 5\n", "x 5 1/2\n")) == ["post-square"]
    plate = "rectangle plate from ink on front outside\n  size 2 x 2\n  glue with foam 6 mm thick\n"
    assert codes_of(HEAD + base + plate) == ["post-too-thick"]
    assert codes_of(HEAD + base + plate.replace("6 mm", "2 mm")) == []


# ---- what no size tells --------------------------------------------------------------------------


def test_a_hint_says_how_to_address_a_letter_and_that_no_size_tells_its_stiffness() -> None:
    """The address rule: a quick guide of 2010 to the US manual, quoted elsewhere."""
    title, note = lines(post(folded(side_fold())), "inch")[-1]
    assert title == "Hints for a US letter"
    assert "Address the envelope along its long side" in note and "cannot be told from its sizes" in note
    assert note.endswith("Figures of 4 January 2010; check with your carrier.")


def test_a_card_that_is_no_ordinary_letter_gets_no_hint_for_one() -> None:
    square = post(folded(strip_card([4, 4], "V", height=4)._replace(envelope="square-5in")))
    assert not any(title.startswith("Hints") for title, _ in lines(square, "inch"))
    assert not any(title.startswith("Hints") for title, _ in lines(square, "mm"))


@pytest.mark.parametrize(
    ("envelope", "is_said"), [("iso-dl", False), ("us-a2", False), ("us-a7", True), ("us-10", True)]
)
def test_a_canadian_card_for_abroad_may_be_smaller(envelope: str, is_said: bool) -> None:
    """At most 235 x 120 mm: the carrier's page on letter sizes, an undated copy. DL is 220 x 110 mm, US A2 is
    146.05 x 111.125 mm; US A7 is 133.35 mm high and US No. 10 is 241.3 mm long."""
    found = services(strip_card([3, 3], "V", height=4)._replace(envelope=envelope))["ca-standard"]
    told = "to the USA and abroad a card may be 235 × 120 mm at most"
    assert found.fits and (told in [plain(text) for text in found.because]) is is_said
