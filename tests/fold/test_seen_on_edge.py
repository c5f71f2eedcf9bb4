"""A face that the viewer looks along shows next to nothing, and hides next to nothing."""

import math

import pytest

from cardrecipe.fold.clip import total_area
from cardrecipe.fold.folded import FoldedCard, SpacePart
from cardrecipe.fold.space import eye
from cardrecipe.fold.visible import visible_in_pose, visible_on_page
from tests.recipes import HEAD, compile_text


def card(height: str) -> FoldedCard:
    text = f"{HEAD}base card from ink\n  fold side-fold, width 4, height {height}\n"
    found = compile_text(text).folded
    assert found is not None
    return found


def shown(folded: FoldedCard, angle: float) -> dict[str, float]:
    """How much shows on the page of each face."""
    seen = visible_in_pose(folded, "card", {1: angle})
    return {each.part.section or "": float(total_area(each.areas)) for each in seen}


# The front turns about the upright score until it holds the direction to the eye.
ON_EDGE = 180 - math.degrees(math.atan2(eye()[2], eye()[0]))


@pytest.mark.parametrize("height", ["5", "1/16", "11/16"])
@pytest.mark.parametrize("off", [0, 1e-9, 0.003, -0.003, 0.01, -0.01, 0.02, -0.02, 0.04, -0.04])
def test_a_face_that_is_seen_on_edge_leaves_the_other_as_it_is(height: str, off: float) -> None:
    folded = card(height)
    alone = shown(folded, 0)["back"]
    found = shown(folded, ON_EDGE + off)
    assert found.get("front", 0) < 0.02
    assert found["back"] == pytest.approx(alone, abs=0.02)


def test_a_face_turned_away_from_that_shows_again() -> None:
    assert shown(card("5"), ON_EDGE - 10)["front"] > 1


def test_a_wall_that_stands_in_the_line_of_sight_is_left_out() -> None:
    """Its four corners come to lie on one upright line of the page."""
    far_x, far_y, _ = eye()

    def wall(turned: float) -> SpacePart:
        x, y = far_x + turned * far_y, far_y - turned * far_x
        return SpacePart("card", "front", "inside", ((0, 0, 0), (x, y, 0), (x, y, 5), (0, 0, 5)), 1.0, 0)

    assert visible_on_page([wall(0)], card("5").card) == ()
    (found,) = visible_on_page([wall(0.5)], card("5").card)
    assert total_area(found.areas) > 0.9
