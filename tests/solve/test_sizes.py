"""Sizes run either way: borders, sections, mats, places, rows of copies, bands; what stays open; the grid."""

from fractions import Fraction

import pytest

from cardrecipe.model.lengths import typed
from tests.recipes import (
    HEAD,
    METRIC,
    borders,
    codes_of,
    compile_text,
    cut,
    diagnostics_of,
    in_other_unit,
    scores,
    size,
    sized,
    words_of,
)

GATE = (
    f"{HEAD}base card from ink\n  flat 10 x 7\n  score 2 1/2 from both sides\n"
    "  sections left-door, back, right-door\n"
)
PLAIN = f"{HEAD}base card from ink\n  flat 8 x 6\n"


@pytest.mark.parametrize(("lines", "expected", "edges"), [
    ("", "4 3/4 x 6 3/4", "1/8, 1/8, 1/8, 1/8"),
    ("border 1/4", "4 1/2 x 6 1/2", "1/4, 1/4, 1/4, 1/4"),
    ("border 1/4, 1 top", "4 1/2 x 5 3/4", "1/4, 1/4, 1, 1/4"),
    ("border 1/4 left", "4 5/8 x 6 3/4", "1/4, 1/8, 1/8, 1/8"),
    ("border 1/4 left; border 1 bottom", "4 5/8 x 5 7/8", "1/4, 1/8, 1/8, 1"),
    ("border 1/4 left right", "4 1/2 x 6 3/4", "1/4, 1/4, 1/8, 1/8"),
    ("size 4 x 6", "4 x 6", "1/2, 1/2, 1/2, 1/2"),
    ("size 4 x 6; border 3/4 left", "4 x 6", "3/4, 1/4, 1/2, 1/2"),
    ("size 4 x 6; place 1/4 from right, 0 from top", "4 x 6", "3/4, 1/4, 0, 1"),
    ("place 1/2 from left", "4 3/8 x 6 3/4", "1/2, 1/8, 1/8, 1/8"),
    ("size ? x 6; border 1/2", "4 x 6", "1/2, 1/2, 1/2, 1/2"),
    ("border 0", "5 x 7", "0, 0, 0, 0"),
    ("size back.width - 1 x back.height / 2", "4 x 3 1/2", "1/2, 1/2, 1 3/4, 1 3/4"),
    ("size min(back.width, 3) x max(1, back.height - 5)", "3 x 2", "1, 1, 2 1/2, 2 1/2"),
])  # fmt: skip
def test_a_panel_on_a_section(lines: str, expected: str, edges: str) -> None:
    text = f"{GATE}panel a from ink on back\n" + "".join(f"  {line}\n" for line in lines.split("; ") if line)
    assert not [code for code in codes_of(text) if code not in ("border-not-equal",)]
    assert (cut(text, "a"), borders(text, "a")) == (expected, edges)


def test_a_panel_and_a_border_give_the_section_and_so_the_base() -> None:
    text = (
        f"{HEAD}base card from ink\n  fold side-fold\npanel a from ink on front outside\n  size 4 x 5 1/4\n"
    )
    assert codes_of(text) == []
    assert (cut(text, "card"), scores(text)) == ("8 1/2 x 5 1/2", "4 1/4 valley")


def test_the_default_border_is_a_wish_and_what_results_is_stated() -> None:
    text = f"{GATE}panel a from ink on back\n  size 4 x 6 3/4\n"
    assert borders(text, "a") == "1/2, 1/2, 1/8, 1/8"
    (found,) = diagnostics_of(text)
    assert (found.code, found.severity) == ("border-not-equal", "warning")
    assert "1⁄2\u00a0in at the sides, 1⁄8\u00a0in at top and bottom" in found.message


def test_a_panel_on_two_hosts_of_one_size_is_one_piece_on_two_of_another_two() -> None:
    text = f"{GATE}panel a from ink on left-door, right-door\npanel b from ink on left-door outside, back\n"
    card = sized(text)
    assert (card.piece("a").count, [p.host for p in card.piece("a").placements]) == (
        2,
        ["left-door", "right-door"],
    )
    assert [piece.name for piece in card.pieces] == ["card", "a", "b-on-left-door", "b-on-back"]


@pytest.mark.parametrize(("kind", "line", "expected"), [
    ("circle", "diameter 2", "2 x 2"), ("circle", "size 2 x ?", "2 x 2"), ("square", "size ? x 1", "1 x 1"),
    ("oval", "size 3 x 2", "3 x 2"), ("square", "border 2", "conflict"), ("circle", "size 2 x 3", "conflict"),
    ("square", "diameter 1 1/2", "1 1/2 x 1 1/2"), ("banner", "size 3 x 1", "3 x 1"),
])  # fmt: skip
def test_shapes(kind: str, line: str, expected: str) -> None:
    text = f"{GATE}{kind} a from ink on back\n  {line}\n"
    assert (codes_of(text) or [cut(text, "a")]) == [expected]


# ---- mats ----------------------------------------------------------------------------------------


def test_a_mat_grows_outward_and_lies_beneath() -> None:
    text = f"{GATE}panel a from ink on back\n  size 3 x 5\npanel mat from ink under a\n"
    assert cut(text, "mat") == "3 1/4 x 5 1/4"
    assert borders(text, "mat") == "7/8, 7/8, 7/8, 7/8"
    card = sized(text)
    assert (card.piece("mat").under, card.piece("mat").placements[0].host) == ("a", "back")
    assert card.piece("a").placements[0].host == "mat"
    assert borders(text, "a") == "1/8, 1/8, 1/8, 1/8"


@pytest.mark.parametrize("second", ["under a", "under mat"])
def test_two_mats(second: str) -> None:
    text = (
        f"{GATE}panel a from ink on back\n  size 3 x 5\npanel mat from ink under a\n  border 1/16\n"
        f"panel outer from ink {second}\n  border 1/4\n"
    )
    assert cut(text, "mat") == "3 1/8 x 5 1/8"
    assert cut(text, "outer") == ("3 1/2 x 5 1/2" if second == "under a" else "3 5/8 x 5 5/8")
    card = sized(text)
    assert [card.piece(name).placements[0].host for name in ("outer", "mat", "a")] == ["back", "outer", "mat"]
    assert borders(text, "a") == "1/16, 1/16, 1/16, 1/16"
    for name in ("outer", "mat", "a"):
        placed = card.piece(name)
        width = placed.width + placed.placements[0].border.left + placed.placements[0].border.right
        host = placed.placements[0].host
        assert width == (5 if host == "back" else card.piece(host).width)


def test_a_mat_of_a_panel_on_two_hosts_is_two_mats() -> None:
    text = (
        f"{GATE}panel a from ink on left-door, right-door\n  border 1/4\npanel mat from ink under a\n"
        "  border 1/8\n"
    )
    assert (cut(text, "mat"), sized(text).piece("mat").count) == ("2 1/4 x 6 3/4", 2)


def test_a_mats_size_gives_the_size_of_what_lies_on_it() -> None:
    text = (
        f"{GATE}panel a from ink on back\n  size ? x ?\n  border ?\npanel mat from ink under a\n"
        "  size 4 x 6\n  border 1/4\n"
    )
    text = text.replace("  border 1/8\n", "", 1)
    assert cut(text, "a") == "3 1/2 x 5 1/2"


# ---- rows of copies ------------------------------------------------------------------------------


@pytest.mark.parametrize(("lines", "lefts", "count"), [
    ("size 1 x 1; repeat 3 across, gap 1/2", ["2", "3 1/2", "5"], 3),
    ("size 1 x 1; repeat 3 across", ["1 1/4", "3 1/2", "5 3/4"], 3),
    ("size 1 x 1; repeat 2 across, gap 1; place 1 from left", ["1", "3"], 2),
    ("size 1 x 1; repeat 2 down", ["3 1/2", "3 1/2"], 2),
])  # fmt: skip
def test_copies_stand_in_a_row(lines: str, lefts: list[str], count: int) -> None:
    text = f"{PLAIN}rectangle a from ink on card\n" + "".join(f"  {line}\n" for line in lines.split("; "))
    assert codes_of(text) == []
    found = sized(text).piece("a")
    assert ([_typed(each.x) for each in found.placements], found.count) == (lefts, count)


def test_what_stands_on_a_row_stands_on_each_copy() -> None:
    text = (
        f"{PLAIN}rectangle a from ink on card\n  size 2 x 2\n  repeat 3 across\n"
        "circle b from ink on a\n  diameter 1\n"
    )
    assert sized(text).piece("b").count == 3
    assert [each.host_copy for each in sized(text).piece("b").placements] == [0, 1, 2]


def test_count_makes_several_of_each() -> None:
    text = f"{PLAIN}rectangle a from ink\n  size 2 x 2\n  count 5\n  loose\n"
    assert sized(text).piece("a").count == 5


# ---- bands ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("head", "overlap"), [(HEAD, "1/2"), (METRIC, "12")])
def test_a_band_has_the_usual_overlap_and_is_cut_on_the_grid(head: str, overlap: str) -> None:
    width = "4" if head is HEAD else "100"
    text = (
        f"{head}base card from ink\n  fold side-fold, width {width}, height {width}\n"
        f"band sash from ink around card\n  width {width} / 4\n"
    )
    band = sized(text).piece("sash")
    assert band.around is not None
    assert size(text, "sash.overlap") == overlap
    assert band.width == band.around.wrap + band.around.overlap
    grid = sized(text).nearest
    assert 0 <= band.width - (band.exact_width or band.width) < grid
    assert (band.width / grid).denominator == 1


def test_a_band_lies_in_the_middle_or_where_it_says() -> None:
    text = f"{GATE}band sash from ink around card\n  width 1\n"
    around = [sized(f"{text}{line}").piece("sash").around
              for line in ("", "  at 1 from top\n", "  at 1 from bottom\n")]  # fmt: skip
    assert [each.at for each in around if each] == [3, 1, 5]


def test_a_band_downward_wraps_the_height() -> None:
    text = f"{GATE}band sash from ink around card downward\n  width 1\n  length 16\n".replace(
        "12 x 12", "12 x 18"
    )
    around = sized(text).piece("sash").around
    assert around is not None
    assert (around.downward, around.at) == (True, 2)
    assert 14 < around.wrap < 15


def test_a_piece_on_a_band_stands_in_the_middle_of_its_front() -> None:
    text = f"{GATE}band sash from ink around card\n  width 1\noval a from ink on sash\n  size 3 x 2\n"
    (placed,), band = sized(text).piece("a").placements, sized(text).piece("sash")
    assert (placed.host, _typed(placed.border.top)) == ("sash", "-1/2")
    assert placed.border.left == placed.border.right == (band.width - 3) / 2


# ---- scores --------------------------------------------------------------------------------------


@pytest.mark.parametrize("lines", [
    ["score 2 from left", "score 5 from left", "score 1 from right"],
    ["score 1 from right", "score 5 from left", "score 2 from left"],
    ["score 5, 7, 2 from left"], ["score 6, 1, 3 from right"], ["score 7 from left", "score 6, 3 from right"],
])  # fmt: skip
def test_scores_may_be_given_in_any_order(lines: list[str]) -> None:
    text = f"{PLAIN}" + "".join(f"  {line}\n" for line in lines) + "  sections a, b, c, d\n"
    solution = compile_text(text).solution
    assert solution is not None
    assert [size(text, f"{name}.width") for name in "abcd"] == ["2", "3", "2", "1"]
    places = [_typed(solution.values[var]) for _, var in solution.draft.lines["card", "x"]]
    assert places == ["2", "5", "7"]


def test_scores_whose_places_are_only_solved_later_are_put_in_order() -> None:
    text = (
        f"{HEAD}base card from ink\n  flat 9 x 4\n  score far from left\n  score near from left, mountain\n"
        "  sections a, b, c\nlet far = note.width + 4\nlet near = note.width\n"
        "rectangle note from ink on card\n  size 2 x 1\n"
    )
    assert [size(text, f"{name}.width") for name in "abc"] == ["2", "4", "3"]


def test_sections_are_numbered_left_to_right_then_top_to_bottom() -> None:
    text = f"{PLAIN}  score 4 from left\n  score 2 from top\n  sections a, b, c, d\n"
    assert [size(text, f"{name}.height") for name in "abcd"] == ["2", "2", "4", "4"]


# ---- what cannot be ------------------------------------------------------------------------------


def test_a_size_that_nothing_settles_is_named_once_with_what_to_write() -> None:
    text = (
        f"{HEAD}base card from ink\n  fold double-gate, height 5\npanel a from ink on back\n"
        "panel b from ink on a\n"
    )
    (found,) = diagnostics_of(text)
    assert (found.code, words_of(text, found)) == ("unsolved", "card")
    assert "width …" in found.hint
    assert "height" not in found.hint


@pytest.mark.parametrize(("lines", "code"), [
    ("border 2 1/2", "border-leaves-nothing"), ("border 3", "border-leaves-nothing"),
    ("size 0 x 1", "size-not-positive"),
    ("size 1 - 2 x 1", "size-not-positive"), ("size 1/32 x 1", "size-not-positive"),
])  # fmt: skip
def test_nothing_is_no_size(lines: str, code: str) -> None:
    assert codes_of(f"{GATE}panel a from ink on back\n  {lines}\n") == [code]


def test_what_overhangs_says_so() -> None:
    text = f"{GATE}panel a from ink on left-door\n  size 3 x 4\n  glue with tape\n"
    (found,) = [each for each in diagnostics_of(text) if each.code == "overhang"]
    assert found.message.count("1⁄4\u00a0in") == 2
    assert "overhang" not in codes_of(f"{text}  overhangs\n")


# ---- the grid ------------------------------------------------------------------------------------


def test_a_size_off_the_grid_is_cut_down_and_its_equal_borders_stay_equal() -> None:
    text = (
        f"{HEAD}base card from ink\n  flat 8 1/3 x 5\n  score 4 from left\n  sections front, back\n"
        "panel a from ink on back\n"
    )
    assert size(text, "a.width") == "4 1/12"
    assert cut(text, "a") == "4 1/16 x 4 3/4"
    edges = sized(text).piece("a").placements[0].border
    assert (_typed(edges.left), _typed(edges.right)) == ("13/96", "13/96")
    assert sorted(set(codes_of(text))) == ["border-not-equal", "off-grid"]


def test_what_stands_on_a_rounded_piece_keeps_its_border() -> None:
    text = f"{PLAIN}panel a from ink on card\n  size 4 1/3 x 4 1/3\npanel b from ink on a\n  border 1/8\n"
    assert (cut(text, "a"), cut(text, "b")) == ("4 5/16 x 4 5/16", "4 1/16 x 4 1/16")
    assert borders(text, "b") == "1/8, 1/8, 1/8, 1/8"


@pytest.mark.parametrize(
    ("nearest", "expected"), [("1/16", "3 5/16"), ("1/8", "3 1/4"), ("1/4", "3 1/4"), ("1/3", "3 1/3")]
)
def test_the_grid_is_the_recipes(nearest: str, expected: str) -> None:
    text = f"{PLAIN}rectangle a from ink on card\n  size 3 1/3 x 3\n".replace("1/16", nearest)
    assert cut(text, "a") == f"{expected} x 3"


@pytest.mark.parametrize(("nearest", "code"), [("0", "size-not-positive"), ("-1", "size-not-positive"),
("card.width", "not-a-number"),
                                               ("1 in / 2 in", "not-a-length")])  # fmt: skip
def test_a_grid_that_is_none_is_a_mistake(nearest: str, code: str) -> None:
    assert code in codes_of(PLAIN.replace("1/16", nearest)) or "unknown-name" in codes_of(
        PLAIN.replace("1/16", nearest)
    )


# ---- the other unit ------------------------------------------------------------------------------


def test_a_score_may_be_left_open() -> None:
    text = f"{PLAIN}  score ? from right\n  sections a, b\npanel note from ink on b\n  size 3 3/4 x ?\n"
    assert scores(text) == "4 valley"
    (found,) = diagnostics_of(text.replace("  size 3 3/4 x ?\n", ""))
    assert (found.code, found.message) == ("unsolved", "nothing settles where this score of `card` lies")


def test_the_other_units_sheet_is_solved_and_never_converted() -> None:
    text = (
        f"{GATE}panel a from ink on back\nrectangle b from ink on a\n  size 1 1/3 x 2\n"
        "  corners round 1/4\n  glue with foam 1/16 thick\n"
    )
    card = in_other_unit(text)
    assert (card.unit, card.nearest) == ("mm", 1)
    assert [(each.width, each.height) for each in card.pieces] == [(256, 178), (122, 172), (34, 51)]
    assert card.piece("b").corner_radius == 6
    glue = card.piece("b").glue
    assert glue is not None
    assert glue.thick == sized(text).piece("b").glue.thick * 127 / 5  # type: ignore[union-attr, operator]


def test_counts_stay_counts_in_the_other_unit() -> None:
    text = (
        f"{HEAD}let parts = 4\nbase card from ink\n  flat 2 * parts x 10 / 2\n  score 8 / parts from left\n"
    )
    card = in_other_unit(text)
    assert [(each.width, each.height) for each in card.pieces] == [(203, 127)]


def _typed(value: Fraction) -> str:
    return typed(value)
