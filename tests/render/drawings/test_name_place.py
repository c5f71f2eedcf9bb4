"""Names stand inside their section, clear of its edges and of every line on it."""

import pytest

from cardrecipe.render.drawings.glue_zone import glued_rings
from cardrecipe.render.drawings.marks import Box
from cardrecipe.render.drawings.name_place import crosses, free_middle
from cardrecipe.render.drawings.scenes import scenes_of
from tests.hand_made import F, placed, sheet, side_fold

SQUARE = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]
ROOM = Box(0.0, 0.0, 10.0, 10.0)


def test_a_name_stands_in_the_middle_where_nothing_is_in_the_way() -> None:
    assert free_middle(ROOM, SQUARE, [], (4.0, 2.0)) == (5.0, 5.0)


def test_it_moves_off_a_line_and_there_is_none_without_room() -> None:
    line = ((0.0, 5.0), (10.0, 5.0))
    found = free_middle(ROOM, SQUARE, [line], (4.0, 2.0))
    assert found is not None and found[0] == 5.0 and abs(found[1] - 5.0) >= 1.0
    assert free_middle(ROOM, SQUARE, [line], (4.0, 6.0)) is None


def test_it_stays_inside_an_outline_with_a_bay() -> None:
    bay = [(0.0, 0.0), (10.0, 0.0), (10.0, 3.0), (3.0, 3.0), (3.0, 10.0), (0.0, 10.0)]
    edges = [*zip(bay, (*bay[1:], *bay[:1]), strict=True)]
    found = free_middle(ROOM, bay, edges, (4.0, 2.0))
    assert found is not None and found[1] <= 2.0


@pytest.mark.parametrize(
    ("line", "is_in"),
    [
        (((0.0, 0.0), (10.0, 10.0)), True),
        (((0.0, 8.0), (2.0, 10.0)), False),
        (((4.5, 4.5), (5.5, 5.5)), True),
        (((0.0, 4.0), (10.0, 4.0)), False),  # along an edge of the box
    ],
)
def test_which_lines_cross_a_box(line: tuple[tuple[float, float], tuple[float, float]], is_in: bool) -> None:
    assert crosses(line, Box(4.0, 4.0, 6.0, 6.0)) is is_in


def test_only_the_glued_tabs_of_a_scored_panel_are_hatched() -> None:
    at = placed("card", (F(17, 2), F(11, 2)), (4, 1), at=(F(9, 4), 1), is_section=False)
    joins = [("left-tab", "card", "front"), ("right-tab", "card", "back")]
    names = ["left-tab", "near", "far", "right-tab"]
    strip = sheet("strip", [F(1, 2), F(3, 2), F(3, 2), F(1, 2)], "VMV", names, 1, at, joins)
    card = side_fold(strip)
    (scene,) = scenes_of(card, strip)
    rings = glued_rings(strip, scene, 0, ())
    assert rings is not None
    across = [[x for x, _ in ring] for ring in rings]
    assert [(min(each), max(each)) for each in across] == [(0, F(1, 2)), (F(7, 2), 4)]
