"""Panels on sections that are no rectangles, from the recipe to the sized card: outlines, mats, exceptions,
several hosts, and the other unit."""

from fractions import Fraction

from tests.recipes import HEAD, borders, codes_of, diagnostics_of, explained, in_other_unit, piece, sized

F = Fraction
TRIANGLE = f"{HEAD}base card from ink\n  fold triangle, width 6\n"
GATE = f"{HEAD}base card from ink\n  fold diagonal-gate, width 4, height 6\n"
WINDOW = (
    f"{HEAD}base card from ink\n  flat 10 x 6\n  score 5 from left\n  window 3 x 2 at (1, 0)\n"
    "  sections front, back\n"
)
Marks = list[tuple[str, str]]


def outline(text: str, name: str) -> Marks | None:
    ring = piece(text, name).outline
    return ring and [(str(x), str(y)) for x, y in ring]


def test_a_panel_on_a_triangle_is_a_triangle() -> None:
    text = f"{TRIANGLE}panel inner from ink on front\n"
    # The legs lie 1/8 in; the slanted edge wants 5 5/8 - 1/8 * sqrt 2 = 5.573, so 5 9/16 is the next mark.
    assert outline(text, "inner") == [("0", "0"), ("89/16", "0"), ("0", "89/16")]
    assert borders(text, "inner") == "1/8, 5/16, 1/8, 5/16"
    assert codes_of(text) == ["post-square"]


def test_an_outside_is_seen_from_the_other_side() -> None:
    text = f"{TRIANGLE}panel outer from ink on front outside\n"
    assert outline(text, "outer") == [("0", "0"), ("89/16", "0"), ("89/16", "89/16")]


def test_one_edge_may_have_a_border_of_its_own() -> None:
    text = f"{TRIANGLE}panel inner from ink on front\n  border 1/2 left\n"
    assert borders(text, "inner").startswith("1/2, ")
    assert outline(text, "inner") == [("0", "0"), ("83/16", "0"), ("0", "83/16")]


def test_every_edge_of_a_corner_beside_a_window_is_drawn_in() -> None:
    text = f"{WINDOW}panel round from ink on front\n"
    assert outline(text, "round") == [
        ("0", "0"), ("3/4", "0"), ("3/4", "2"), ("4", "2"), ("4", "0"), ("19/4", "0"), ("19/4", "23/4"),
        ("0", "23/4"),
    ]  # fmt: skip


def test_a_panel_of_a_given_size_stays_a_rectangle() -> None:
    for lines in ("size 2 x 2", "size 2 x ?", "turned 10"):
        assert outline(f"{TRIANGLE}panel inner from ink on front\n  {lines}\n  loose\n", "inner") is None


def test_a_mat_is_drawn_out_and_what_lies_on_the_panel_is_drawn_in_again() -> None:
    text = (
        f"{TRIANGLE}panel inner from ink on front\npanel mat from ink under inner\n  border 1/16\n"
        "panel top from ink on inner\n"
    )
    # 5 9/16 + 1/16 + 1/16 * (1 + sqrt 2) = 5.776, so 5 3/4 is the mark within.
    assert outline(text, "mat") == [("0", "0"), ("23/4", "0"), ("0", "23/4")]
    assert outline(text, "top") == [("0", "0"), ("41/8", "0"), ("0", "41/8")]
    assert borders(text, "inner") == "1/16, 1/8, 1/16, 1/8"
    assert codes_of(text) == ["post-square"]


def test_mirror_images_are_different_pieces_and_equal_outlines_are_one() -> None:
    gate = sized(f"{GATE}panel tip from ink on left-corner, right-corner\n")
    assert [(each.name, each.count) for each in gate.pieces[1:]] == [
        ("tip-on-left-corner", 1), ("tip-on-right-corner", 1),
    ]  # fmt: skip
    both = sized(f"{GATE}panel tip from ink on left-corner, right-corner outside\n")
    assert [(each.name, each.count) for each in both.pieces[1:]] == [("tip", 2)]


def test_the_size_of_a_panel_is_that_of_the_box_round_it_for_everything_else() -> None:
    text = f"{TRIANGLE}panel inner from ink on front\nrectangle half from ink\n  size inner.width / 2 x 1\n"
    assert piece(text, "half").width == F(89, 32) // F(1, 16) * F(1, 16)
    assert explained(text, "inner.width")[0].startswith("inner.width = 5")


def test_the_other_unit_system_draws_in_by_its_own_marks() -> None:
    metric = in_other_unit(f"{TRIANGLE}panel inner from ink on front\n").piece("inner")
    assert metric.outline is not None
    assert all(number.denominator == 1 for corner in metric.outline for number in corner)
    border = metric.placements[0].border
    assert border.left == border.top == 3 and border.right == border.bottom


def test_a_scored_panel_with_the_outline_of_its_host_is_left_a_rectangle() -> None:
    text = f"{TRIANGLE}panel inner from ink on front\n  score 1 from left\n  sections a, b\n  loose\n"
    assert outline(text, "inner") is None


def test_a_panel_on_an_upright_rectangle_stays_one_beside_sections_that_are_none() -> None:
    text = f"{GATE}panel plate from ink on back\npanel tip from ink on left-corner\n"
    assert outline(text, "plate") is None
    assert outline(text, "tip") is not None


def test_a_border_that_leaves_nothing_of_a_triangle_says_so() -> None:
    (found,) = diagnostics_of(f"{TRIANGLE}panel inner from ink on front\n  border 3\n")
    assert found.code == "border-leaves-nothing"
    assert "its width would be" in found.message
