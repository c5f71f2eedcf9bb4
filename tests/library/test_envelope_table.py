"""The table of envelopes by name, and what an unknown name is answered with."""

import pytest

from cardrecipe.library.envelopes import all_envelopes, find_envelope, meanings, near_envelopes


def test_names_are_unique_and_namespaced() -> None:
    names = [one.name for one in all_envelopes()]
    assert len(names) == len(set(names))
    assert all(name.startswith(("us-", "iso-", "square-")) for name in names)


def test_every_row_has_a_source_and_a_size() -> None:
    for one in all_envelopes():
        assert one.source and one.title and 0 < one.width <= one.height
        assert one.unit in ("inch", "mm")


def test_only_the_exact_name_is_found() -> None:
    assert find_envelope("us-a2") is not None
    assert find_envelope("a2") is None and find_envelope("US-A2") is None


@pytest.mark.parametrize("name", ["a2", "A2"])
def test_a_bare_a2_is_answered_with_both_of_its_meanings(name: str) -> None:
    envelope, sheet = meanings(name)
    assert envelope.startswith("`us-a2`, an envelope 4")
    assert sheet == "ISO A2, a sheet of paper 420 × 594\u00a0mm, no envelope"


@pytest.mark.parametrize(
    ("name", "near"),
    [
        ("c6", ["iso-c6"]),
        ("dl", ["iso-dl"]),
        ("#10", ["us-10"]),
        ("c6/c5", ["iso-c6-c5"]),
        ("us-a77", ["us-a7"]),
        ("squaer-6in", ["square-6in"]),
        ("parcel", []),
    ],
)
def test_near_names(name: str, near: list[str]) -> None:
    assert [one.name for one in near_envelopes(name)] == near


def test_sizes_convert_exactly() -> None:
    a2 = find_envelope("us-a2")
    assert a2 is not None
    width, height = a2.size_in("mm")
    assert (float(width), float(height)) == (111.125, 146.05)
