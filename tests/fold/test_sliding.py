"""Pockets, belts and sleeves as recipe text: what is loose in them can be drawn out, or is said not to be."""

import pytest

from cardrecipe.fold.card import glued
from cardrecipe.syntax.diagnostics import Diagnostic
from tests.recipes import HEAD, METRIC, compile_text, diagnostics_of, lines_of, words_of

CARD = f"{HEAD}base card from ink\n  flat 10 x 7\n  score 5 from left\n  sections front, back\n"
POUCH = f"{CARD}panel pouch from ink on back\n  size 4 x 3\n"
OPEN = f"{POUCH}  glue along left, bottom, right\n"
SLIP = "panel slip from ink on pouch\n  size 3 1/2 x 2 1/2\n  loose\n"
SLEEVE = f"{HEAD}base card from ink\n  fold slider-pocket, width 4, height 5\n"


def said(text: str) -> list[str]:
    return [each.code for each in diagnostics_of(text) if each.code != "border-not-equal"]


def only(text: str) -> Diagnostic:
    (found,) = (each for each in diagnostics_of(text) if each.code != "border-not-equal")
    return found


def plain(text: str) -> str:
    return text.replace("\u00a0", " ").replace("\u202f", " ").replace("\u2044", "/")


# ---- pockets -------------------------------------------------------------------------------------


@pytest.mark.parametrize("open_edge", ["left", "right", "top", "bottom"])
def test_a_pocket_open_at_any_one_edge_lets_go(open_edge: str) -> None:
    edges = ", ".join(each for each in ("left", "right", "top", "bottom") if each != open_edge)
    assert said(f"{POUCH}  glue along {edges}\n{SLIP}") == []


def test_a_pocket_glued_along_all_its_edges_is_closed() -> None:
    text = f"{POUCH}  glue along left, bottom, right, top\n{SLIP}"
    found = only(text)
    assert (found.code, found.severity) == ("slider-shut-in", "error")
    assert words_of(text, found).strip() == "glue along left, bottom, right, top"
    assert found.hint == "write `glue along left, bottom, right` under `pouch`: the top stays open"


@pytest.mark.parametrize("line", ["", "  glue with tape\n", "  glue along left, bottom, right, top\n"])
def test_a_panel_over_something_loose_has_to_leave_an_edge_open(line: str) -> None:
    loose = "panel slip from ink on back\n  size 3 x 2\n  loose\n"
    cover = "panel cover from ink on back\n  size 4 x 3\n"
    assert said(f"{CARD}{loose}{cover}{line}") == ["slider-shut-in"]
    assert said(f"{CARD}{loose}{cover}  glue along left, bottom, right\n") == []
    assert said(f"{CARD}{cover}{line}") == []


def test_what_looks_out_of_a_panel_on_one_side_can_be_drawn_out_there() -> None:
    loose = "panel slip from ink on back\n  size 3 x 2\n  place 2 from top\n  loose\n"
    cover = "panel cover from ink on back\n  size 4 x {}\n  place 1 from top\n"
    assert said(f"{CARD}{loose}{cover.format(2)}") == []
    assert said(f"{CARD}{loose}{cover.format(4)}") == ["slider-shut-in"]


def test_too_wide_a_slider_is_told_the_size_to_write() -> None:
    text = f"{OPEN}panel slip from ink on pouch\n  size 3 7/8 x 2\n  loose\n"
    found = only(text)
    assert found.code == "glue-locks"
    assert plain(found.hint).endswith("make it at most 3 3/4 in wide, or the pocket wider")
    assert said(text.replace("3 7/8", "3 3/4")) == []


def test_too_high_a_slider_between_upper_and_lower_seams_too() -> None:
    text = f"{POUCH}  glue along top, bottom\npanel slip from ink on pouch\n  size 3 x 2 7/8\n  loose\n"
    assert plain(only(text).hint).endswith("make it at most 2 3/4 in high, or the pocket higher")


def test_a_slider_that_lies_on_a_seam_is_told_to_move() -> None:
    text = f"{OPEN}panel slip from ink on pouch\n  size 3 x 2\n  place 0 in from left\n  loose\n"
    assert plain(only(text).hint).endswith("place it at least 1/8 in from them")


def test_in_millimetres_the_seam_is_three() -> None:
    text = (
        'recipe "A"\n  units mm nearest 1\n  border 3\npaper ink is cardstock "Ink" 300 x 300\n'
        "base card from ink\n  flat 250 x 180\n  score 125 from left\n  sections front, back\n"
        "panel pouch from ink on back\n  size 100 x 80\n  glue along left, bottom, right\n"
        "panel slip from ink on pouch\n  size 95 x 60\n  loose\n"
    )
    assert plain(only(text).hint).endswith("make it at most 94 mm wide, or the pocket wider")


# ---- what is glued over the way out --------------------------------------------------------------

BAR = "panel bar from ink on back\n  size {} x 1\n  place {} from left, 1 1/2 from top\n"


def test_what_is_glued_across_the_open_edge_closes_it() -> None:
    text = OPEN + SLIP + BAR.format("4 1/2", "1/4")
    found = only(text)
    assert found.code == "slider-shut-in"
    assert plain(found.message) == (
        "`bar` is glued across the open edge of `pouch`: `slip`, 3 1/2 in wide, could not slide out"
    )
    assert found.hint.endswith("write `glue with tape only on pouch`")
    assert "loose" not in lines_of(text, found) and len(found.related) == 2


def test_beside_the_way_out_it_does_no_harm() -> None:
    narrow = SLIP.replace("3 1/2", "2").replace("2 1/2\n", "2 1/2\n  place 1/4 from left\n")
    assert said(OPEN + narrow + BAR.format("1", "3 1/2")) == []
    assert said(OPEN + narrow + BAR.format("1", "2")) == ["slider-shut-in"]


def test_glued_on_the_pocket_alone_it_does_no_harm() -> None:
    bar = "panel bar from ink on pouch\n  size 2 x 1\n  place -1/2 from top\n  overhangs\n{}"
    assert said(OPEN + SLIP + bar.format("")) == ["slider-shut-in"]
    assert said(OPEN + SLIP + bar.format("  glue with tape only on pouch\n")) == []


def test_what_was_there_before_the_pocket_is_passed_over() -> None:
    before = "panel bar from ink on back\n  size 4 1/2 x 1\n  place 1 from top\n"
    assert said(CARD + before + OPEN.removeprefix(CARD) + SLIP) == []


# ---- what is raised, and what is not loose -------------------------------------------------------

STAR = "square star from ink on slip\n  size 1 x 1\n"


def test_what_stands_on_foam_in_a_pocket_catches() -> None:
    found = only(f"{OPEN}{SLIP}{STAR}  glue with foam 3 mm thick\n")
    assert (found.code, found.severity) == ("slider-catches", "warning")
    assert "stands 3 mm high on `slip`" in plain(found.message)
    assert said(f"{OPEN}{SLIP}{STAR}  glue with tape\n") == []


def test_what_is_wider_than_the_pocket_on_a_slider_is_caught_by_its_glue() -> None:
    wide = "panel star from ink on slip\n  size 4 x 1\n  overhangs\n"
    assert said(f"{OPEN}{SLIP}{wide}") == ["glue-locks"]


def test_what_lies_clear_in_a_pocket_was_meant_to_slide() -> None:
    text = f"{CARD}panel slip from ink on back\n  size 3 x 2\n{OPEN.removeprefix(CARD)}"
    found = only(text)
    assert (found.code, found.hint) == ("slider-glued", "write `loose` under `slip`")
    assert said(text.replace("size 3 x 2\n", "size 3 x 2\n  loose\n")) == []
    assert said(text.replace("size 3 x 2\n", "size 4 1/2 x 5\n")) == []  # a ground under the pocket


# ---- sleeves -------------------------------------------------------------------------------------


@pytest.mark.parametrize("section", ["front", "back"])
@pytest.mark.parametrize(("wide", "codes"), [("3 15/16", []), ("4", ["slider-too-wide"])])
def test_what_slides_in_a_sleeve_is_narrower(section: str, wide: str, codes: list[str]) -> None:
    assert said(f"{SLEEVE}panel slip from ink on {section}\n  size {wide} x 4\n  loose\n") == codes


def test_too_wide_for_a_sleeve_is_told_the_size_to_write() -> None:
    found = only(f"{SLEEVE}panel slip from ink on back\n  size 4 x 4\n  loose\n")
    assert plain(found.hint) == "make it at most 3 15/16 in wide (common practice, no published source)"


def test_what_is_glued_in_a_sleeve_was_meant_to_slide() -> None:
    panel = "panel slip from ink on back\n  size 3 x 4\n"
    assert said(SLEEVE + panel) == ["slider-glued"]
    assert said(f"{SLEEVE}{panel}panel card-in from ink on back\n  size 2 x 3\n  loose\n") == []
    assert said(f"{SLEEVE}{panel.replace('on back', 'on back outside')}") == []


ENDS = f"""{HEAD}base card from ink
  flat 8 1/2 x 7
  window 4 1/2 x 1 at (4, 0)
  window 4 1/2 x 1 at (4, 6)
  score 4 from left, between 1 and 6
  score 8 from left, between 1 and 6
  score 1 from top, between 0 and 4
  score 1 from bottom, between 0 and 4
  sections upper, front, back, tab, lower
  glue tab on front
"""


def test_a_sleeve_with_both_ends_glued_is_closed() -> None:
    panel = "panel slip from ink on back\n  size 3 x 4\n  loose\n"
    assert said(f"{ENDS}  glue lower on back\n{panel}") == []
    found = only(f"{ENDS}  glue lower on back\n  glue upper on back\n{panel}")
    assert found.code == "slider-shut-in"
    assert found.message == "upper and lower close the sleeve at both ends: `slip` could not slide out"
    assert found.hint == "leave out `glue lower on back`"
    assert said(f"{ENDS}  glue lower on back\n  glue upper on back\n") == []


def test_a_flap_glued_all_over_holds_what_is_under_it() -> None:
    text = f"{HEAD}base card from ink\n  flat 4 x 9\n  score 6 from top\n  sections page, flap\n"
    panel = "panel slip from ink on page\n  size 3 x 5\n  place 1/2 from left, {} from top\n  loose\n"
    found = only(f"{text}  glue flap on page\n{panel.format('1/2')}")
    assert found.code == "slider-shut-in"
    assert found.message == "flap is glued on page all over: `slip` could not slide out between them"
    assert said(text + panel.format("1/2")) == []


# ---- zones on what is loose ----------------------------------------------------------------------


def test_what_is_glued_on_a_loose_piece_has_its_zone_there() -> None:
    text = (
        f"{HEAD}rectangle label from ink\n  size 2 x 4\n  loose\n  count 2\n"
        "rectangle star from ink on label\n  size 3 x 1\n  overhangs\n"
    )
    found = compile_text(text).folded
    assert found is not None
    zones = glued(found)[0].zones
    assert [(each.piece, each.copy, each.host_body) for each in zones] == [
        ("star", 0, "label"), ("star", 1, "label"),
    ]  # fmt: skip
    for each in zones:
        (ring,) = each.rings
        across = [x for x, _ in ring]
        assert (min(across) * 16, max(across) * 16) == (9, 39)  # 1/2 in and the margin of 1/16 at each side


def test_what_lies_beside_its_loose_host_is_glued_to_nothing() -> None:
    text = (
        f"{HEAD}rectangle label from ink\n  size 2 x 4\n  loose\n"
        "square star from ink on label\n  size 1 x 1\n  place -2 from left\n  overhangs\n"
    )
    assert said(text) == ["glue-nowhere"]


def test_a_slider_as_high_as_its_room_is_told_to_move_and_not_to_shrink() -> None:
    text = f"{POUCH}  glue along top, bottom\npanel slip from ink on pouch\n  size 3 x 2 3/4\n"
    found = only(f"{text}  place 0 from top\n  loose\n")
    assert plain(found.hint).endswith("place it at least 1/8 in from them")


def test_in_millimetres_a_slider_is_narrower_than_its_sleeve_by_one() -> None:
    metric = SLEEVE.replace("width 4, height 5", "width 100, height 120").replace(HEAD, METRIC)
    found = only(f"{metric}panel slip from ink on back\n  size 100 x 90\n  loose\n")
    assert plain(found.hint) == "make it at most 99 mm wide (common practice, no published source)"


def test_a_lining_in_two_parts_takes_glue_along_the_edges_that_each_part_has() -> None:
    """The strip along its left edge lies on one part alone."""
    lining = "panel lining from ink on card\n  size 9 x 6\n  score 4 1/2 from left\n  glue along {}\n"
    loose = "panel slip from ink on back\n  size 3 x 2\n  loose\n"
    assert said(f"{CARD}{loose}{lining.format('left, bottom, right')}") == []
    assert said(f"{CARD}{loose}{lining.format('left, bottom, right, top')}") == ["slider-shut-in"]


def test_in_a_pocket_with_little_room_a_slider_is_told_the_height_to_write_too() -> None:
    """1 1/8 high, and 1/8 of glue above and below: 7/8 is left."""
    pouch = POUCH.replace("size 4 x 3", "size 4 x 1 1/8") + "  glue along top, bottom\n"
    slip = "panel slip from ink on pouch\n  size 3 x 1\n  loose\n"
    assert plain(only(pouch + slip).hint).endswith("make it at most 7/8 in high, or the pocket higher")


@pytest.mark.parametrize(("first", "second"), [("back", "front"), ("front", "back"), ("back", "back")])
def test_of_several_things_glued_in_a_sleeve_the_one_written_first_is_named(first: str, second: str) -> None:
    text = f"{SLEEVE}panel slip from ink on {first}\n  size 3 x 4\npanel note from ink on {second}\n"
    found = only(f"{text}  size 2 x 2\n")
    assert (found.code, found.hint) == ("slider-glued", "write `loose` under `slip`")
