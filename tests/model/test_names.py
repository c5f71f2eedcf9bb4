"""Names: lets, sections, pieces; what is doubled, unknown, ambiguous; what a broken line poisons."""

import pytest

from tests.recipes import (
    HEAD,
    borders,
    codes_of,
    compile_text,
    cut,
    diagnostics_of,
    lines_of,
    size,
    sized,
    words_of,
)

GATE = (
    f"{HEAD}base card from ink\n  flat 10 x 7\n  score 2 1/2 from both sides\n"
    "  sections left-door, back, right-door\n"
)


def test_lets_name_lengths_numbers_and_sums_in_any_order() -> None:
    text = (
        f"{GATE}rectangle a from ink on back\n  size wide x 2 * half\nlet wide = half + reveal\n"
        "let half = 2\nlet reveal = 1/16\n"
    )
    assert cut(text, "a") == "2 1/16 x 4"


def test_a_let_may_name_a_size_of_the_card() -> None:
    assert (
        cut(f"{GATE}let third = back.width / 5\nrectangle a from ink on back\n  size third x 2\n", "a")
        == "1 x 2"
    )


def test_sizes_are_named_by_piece_section_or_both() -> None:
    text = (
        f"{GATE}panel note from ink on back\nrectangle a from ink on back\n"
        "  size note.width - 3 x card.back.height - 5\n"
    )
    assert cut(text, "a") == "1 3/4 x 2"
    assert size(text, "card.left-door.width") == size(text, "left-door.width") == "2 1/2"


def test_a_closed_size_may_be_used() -> None:
    text = f"{GATE}rectangle a from ink\n  size card.finished-width - 1 x card.finished-height / 2\n  loose\n"
    assert cut(text, "a") == "4 x 3 1/2"


def test_the_closed_size_of_a_lone_base_is_the_cards_whatever_its_name() -> None:
    text = (
        GATE.replace("base card", "base kite")
        + "rectangle a from ink\n  size card.finished-width x 1\n  loose\n"
    )
    assert cut(text, "a") == "5 x 1"


def test_a_doubled_name_shows_both_places() -> None:
    text = f"{GATE}oval a from ink on back\n  size 1 x 2\nsquare a from ink on back\n  size 1 x 1\n"
    (found,) = diagnostics_of(text)
    assert found.code == "doubled-name"
    assert lines_of(text, found) == ["oval a from ink on back", "square a from ink on back"]


@pytest.mark.parametrize(("wrong", "meant"), [
    ("panel a from inc on back", "ink"), ("panel a from ink on bakc", "back"),
    ("panel a from ink on left-dor", "left-door"), ("panel a from ink under crad", "card"),
    ("band a from ink around cadr\n  width 1", "card"), ('tip on cad "Now."', "card"),
    ("rectangle a from ink on back\n  size bakc.width x 1", "back.width"),
    ("base b from ink\n  fold gaet, width 2, height 3", "gate"),
    ("base b from ink\n  fold gate, widht 2, height 3", "width"),
    ("panel a from ink on back\n  glue with tap", "tape"),
])  # fmt: skip
def test_an_unknown_name_is_answered_with_the_nearest(wrong: str, meant: str) -> None:
    text = f"{GATE}{wrong}\n"
    (found,) = diagnostics_of(text)
    assert found.code == "unknown-name"
    assert found.hint == f"did you mean `{meant}`?"
    assert words_of(text, found) in wrong


@pytest.mark.parametrize(("wrong", "hint"), [
    ("panel a from ink on back\n  turned tilt", "write a number such as 45, or `let tilt = 45` above"),
    ("pose half\n  fold 1 at tilt / 2", "write a number such as 45, or `let tilt = 45` above"),
    ("panel a from ink on back\n  turned back.widht", "write a number such as 45"),
    ("let half-way = 90\npose half\n  fold 1 at halfway", "did you mean `half-way`?"),
    ("rectangle a from ink on back\n  size tilt x 1", "write `let tilt = …`, or a size such as `a.width`"),
])  # fmt: skip
def test_an_unknown_name_for_a_number_is_not_answered_with_a_size(wrong: str, hint: str) -> None:
    """Nor is one for a length that comes after it answered with a number."""
    (found,) = diagnostics_of(f"{GATE}{wrong}\n")
    assert (found.code, found.hint) == ("unknown-name", hint)


def test_a_far_name_is_answered_with_what_there_is() -> None:
    (found,) = diagnostics_of(f"{GATE}panel a from ink on window\n")
    assert "left-door, back, right-door" in found.hint


def test_a_section_of_two_pieces_is_written_with_its_piece() -> None:
    text = f"{GATE}base inner from ink\n  fold gate, width 4, height 6\npanel a from ink on {{}}\n"
    (found,) = diagnostics_of(text.replace("{}", "back"))
    assert (found.code, found.hint) == ("two-sections", "write card.back or inner.back")
    assert cut(text.replace("{}", "inner.back"), "a") == "3 3/4 x 5 3/4"


def test_sections_that_have_no_name_get_one() -> None:
    text = (
        f"{HEAD}base card from ink\n  flat 9 x 4\n  score 4 from left\n"
        "  score 8 1/2 from left, mountain\n  sections front\n"
    )
    assert [each.name for each in sized(text).piece("card").sections] == ["front", "section-2", "section-3"]


def test_a_panel_has_sections_of_its_own() -> None:
    text = (
        f"{GATE}panel booklet from ink on back\n  size 4 x 6\n  score 2 from left\n  sections cover, page\n"
        "panel note from ink on page\n"
    )
    assert cut(text, "note") == "1 3/4 x 5 3/4"
    assert borders(text, "note") == "1/8, 1/8, 1/8, 1/8"


def test_hosts_may_come_after_what_stands_on_them() -> None:
    text = f"{HEAD}circle star from ink on plate\n  diameter 1\noval plate from ink\n  size 3 x 2\n  loose\n"
    assert codes_of(text) == []
    assert borders(text, "star") == "1, 1, 1/2, 1/2"


@pytest.mark.parametrize("broken", [
    "base card form ink", "base card from Ink", "bsae card from ink", "base card from ink on",
])  # fmt: skip
def test_a_broken_header_causes_nothing_on_right_lines(broken: str) -> None:
    text = GATE.replace("base card from ink", broken) + (
        "panel note from ink on back\noval plate from ink on note\n  size note.width x 1\n"
        'band sash from ink around card\n  width back.width\ntip on card "Now."\nstep after card "Now."\n'
        'variant "B"\n  set card.width 9\n  drop card\n'
    )
    for variant in (None, "B"):
        (found,) = diagnostics_of(text, variant=variant)
        assert lines_of(text, found) == [broken]


@pytest.mark.parametrize("broken", [
    "  flat 10 by 7", "  score 2 1/2 form both sides", "  sections left_door, back",
])  # fmt: skip
def test_a_broken_line_of_a_base_causes_nothing_on_right_lines(broken: str) -> None:
    word = broken.split()[0]
    lines = [broken if line.split()[:1] == [word] else line for line in GATE.split("\n")]
    text = "\n".join(lines) + "panel note from ink on back\npanel left from ink on left-door\n"
    (found,) = diagnostics_of(text)
    assert lines_of(text, found) == [broken.strip()]


def test_a_recipe_without_a_base_has_cuts_and_no_folding() -> None:
    result = compile_text(f"{HEAD}tag label from ink\n  size 2 x 3\n  count 4\n  loose\n")
    assert result.diagnostics == []
    assert result.folded is not None
    assert result.folded.closed == ()
    assert result.folded.card.piece("label").count == 4
