"""The table of letter services: every row whole, with its source and its date, and no price."""

import json
from fractions import Fraction
from importlib.resources import files

import pytest

from cardrecipe.fold.folded import Thickness
from cardrecipe.library.envelopes import all_envelopes
from cardrecipe.library.post import (
    Service,
    all_services,
    find_service,
    no_letter_for_squares,
    ordinary_letters,
    services_of,
)
from cardrecipe.plan.post_checks import THIN_ENOUGH_MM
from cardrecipe.plan.stuffed import in_envelope

F = Fraction
RAW = json.loads((files("cardrecipe.library.tables") / "post.json").read_text("utf-8"))
WORDS = (
    *("name", "title", "country", "system", "unit", "date", "source", "note", "from_memory", "weight_unit"),
    *("hint", "abroad_short", "abroad_long"),
    *("ordinary", "bare", "surcharge_on", "over", "uneven", "rigid", "thin", "thin_short", "thin_long"),
)
TAGS = ("[CARRIER]", "[PAGE]", "[MEM]")


def test_the_services_and_their_order() -> None:
    assert [one.name for one in all_services()] == [
        "us-letter",
        "us-nonmachinable",
        "us-flat",
        "us-postcard",
        "uk-letter",
        "uk-large-letter",
        "ca-standard",
        "ca-nonstandard",
        "de-standard",
        "de-kompakt",
        "de-gross",
    ]


@pytest.mark.parametrize("row", RAW["services"], ids=lambda row: row["name"])
def test_every_row_is_text_with_a_source_and_a_date(row: dict[str, str]) -> None:
    assert all(isinstance(value, str) for value in row.values())
    assert row["date"] and row["source"].startswith(TAGS)
    assert not any(word in str(row).lower() for word in ("price of", "$", "£", "€", "stamp"))
    figures = [value for key, value in row.items() if key.endswith(("_least", "_most")) or key == "thin"]
    assert all("." not in value and Fraction(value) > 0 for value in figures)


@pytest.mark.parametrize("row", RAW["services"], ids=lambda row: row["name"])
def test_a_row_has_only_words_that_are_read(row: dict[str, str]) -> None:
    measures = ("short", "long", "thick", "weight", "ratio", "corner")
    limits = {f"{measure}_{end}" for measure in measures for end in ("least", "most")}
    assert set(row) <= limits.union(WORDS)


@pytest.mark.parametrize("service", all_services(), ids=lambda one: one.name)
def test_limits_are_in_order_and_what_is_named_is_there(service: Service) -> None:
    for limits in (service.short, service.long, service.thick, service.ratio):
        if limits.least is not None and limits.most is not None:
            assert limits.least < limits.most
    for other in (service.surcharge_on, service.over):
        assert not other or find_service(other).country == service.country
    assert all(hasattr(service, name.split("_")[0]) for name in service.from_memory)


def test_each_system_has_its_countries_and_each_country_one_ordinary_letter() -> None:
    assert {one.country for one in services_of("inch")} == {"US"}
    assert [one.name for one in ordinary_letters("mm")] == ["uk-letter", "ca-standard", "de-standard"]
    assert [one.name for one in ordinary_letters("inch")] == ["us-letter"]


def test_squares() -> None:
    assert [getattr(no_letter_for_squares(unit), "name", None) for unit in ("inch", "mm")] == [
        "us-letter",
        "de-standard",
    ]


def test_weights_are_exact() -> None:
    assert find_service("us-letter").most_grams == F("99.2233309375")
    assert find_service("uk-letter").most_grams == 100
    assert find_service("us-flat").most_grams is None


def test_a_name_that_is_none() -> None:
    with pytest.raises(KeyError):
        find_service("us-parcel")


def test_a_thin_card_needs_no_look_into_the_table() -> None:
    thin = Thickness(THIN_ENOUGH_MM, THIN_ENOUGH_MM, THIN_ENOUGH_MM, False)
    likely = in_envelope(thin).likely_mm
    assert all(one.most_mm >= likely for unit in ("inch", "mm") for one in ordinary_letters(unit))


def test_only_square_envelopes_are_unusual_in_their_own_system() -> None:
    """So the check for squares need not look at the ratio of any other envelope."""
    ratios = {"inch": find_service("us-nonmachinable").ratio, "mm": find_service("de-standard").ratio}
    for envelope in all_envelopes():
        if envelope.width != envelope.height:
            ratio, (least, most) = envelope.height / envelope.width, ratios[envelope.unit]
            assert least is not None and least <= ratio and (most is None or ratio <= most), envelope.name
