"""Bands lie on their card, and copies in a row beside each other."""

import pytest

from tests.recipes import HEAD, diagnostics_of, with_typed_signs, words_of

CARD = f"{HEAD}base card from ink\n  flat 9 x 5\n  score 4 1/2 from left\n  sections front, back\n"
SASH = f"{CARD}band sash from ink around card\n  width 1\n  {{}}\n"
DOWN = f"{CARD}band sash from ink around card downward\n  width 1\n  {{}}\n"
ROW = f"{CARD}panel tile from ink on front\n  size 1 x 1\n  {{}}\n"


def told(text: str) -> list[tuple[str, str, str]]:
    return [(each.code, words_of(text, each), with_typed_signs(each.message)) for each in diagnostics_of(text)
            if each.code not in ("border-not-equal", "post-too-thick")]  # fmt: skip


@pytest.mark.parametrize("text", [SASH, DOWN], ids=["across", "downward"])
@pytest.mark.parametrize("edge", ["near", "far"])
@pytest.mark.parametrize(
    ("at", "code"),
    [
        ("2", None),
        ("0", None),
        ("0 - 1/16", "overhang"),
        ("0 - 15/16", "overhang"),
        ("0 - 1", "band-off-card"),
        ("{}", "band-off-card"),
        ("{} - 1/16", "overhang"),
        ("{} - 1", None),
    ],
)
def test_a_band_lies_on_its_card(text: str, edge: str, at: str, code: str | None) -> None:
    edges, whole = (("left", "right"), "4 1/2") if text is DOWN else (("top", "bottom"), "5")
    line = f"at {at.format(whole)} from {edges[edge == 'far']}"
    found = told(text.format(line))
    assert [(each, words) for each, words, _ in found] == ([(code, line)] if code else [])


def test_how_far_a_band_reaches_beyond_is_told() -> None:
    [(_, _, message)] = told(SASH.format("at 4 1/2 from top"))
    assert message == "`sash` reaches beyond the closed card: 1⁄2 in at the bottom"
    [(_, _, message)] = told(DOWN.format("at 5 from left"))
    assert message == "`sash` would lie beside the closed card, which is 4 1⁄2 in wide"


@pytest.mark.parametrize(
    ("text", "edge", "way", "hint"),
    [
        (SASH, "left", "left to right", "write `from top` or `from bottom`"),
        (SASH, "right", "left to right", "write `from top` or `from bottom`"),
        (DOWN, "top", "top to bottom", "write `from left` or `from right`"),
    ],
)
def test_a_band_has_no_distance_from_where_it_goes(text: str, edge: str, way: str, hint: str) -> None:
    (found,) = diagnostics_of(text.format(f"at 1 from {edge}"))
    assert found.code == "band-off-card"
    assert found.message == f"`sash` goes all the way from {way}: it has no distance from the {edge}"
    assert found.hint == hint


def test_a_band_that_does_not_reach_round_is_an_error() -> None:
    [(code, _, message)] = told(SASH.format("length 6"))
    assert (code, message) == (
        "band-too-short", "sash is 6 in long and does not go round card: that takes ≈9.047 in"
    )  # fmt: skip
    assert [code for code, _, _ in told(SASH.format("length 9 1/8"))] == ["band-overlap-short"]
    assert [code for code, _, _ in told(SASH.format("overlap 0 - 1"))] == ["band-too-short"]


@pytest.mark.parametrize(
    ("line", "amount"),
    [
        ("repeat 4 across", None),
        ("repeat 5 across", "3⁄16"),
        ("repeat 4 down", None),
        ("repeat 5 down", "1⁄16"),
    ],
)
def test_copies_lie_beside_each_other(line: str, amount: str | None) -> None:
    message = "5 copies of `tile` have no room beside each other on front: each would overlap the next by "
    assert told(ROW.format(line)) == ([("copies-overlap", line, f"{message}{amount} in")] if amount else [])


def test_copies_in_the_middle_are_not_said_to_reach_beyond() -> None:
    """Their even gaps are what is beyond the edges, too."""
    text = ROW.replace("panel", "rectangle").format("repeat 5 across")
    assert [code for code, _, _ in told(text) if code in ("copies-overlap", "overhang")] == ["copies-overlap"]


def test_a_gap_of_less_than_nothing_is_meant_where_it_is_written() -> None:
    assert told(ROW.format("repeat 5 across, gap 0 - 3/16")) == []
