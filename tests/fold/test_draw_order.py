"""Which of two sheets held in space is drawn first."""

import pytest

from cardrecipe.fold.draw_order import Sheet, back_to_front
from cardrecipe.fold.layers import LayerOrder
from cardrecipe.fold.space import eye, project
from cardrecipe.fold.vectors import Vector, unit

UP: Vector = (0.0, 0.0, 1.0)
TOWARD: Vector = (0.0, 1.0, 0.0)
NO_ORDER = LayerOrder((), frozenset())


def level(height: float, *, shift: float = 0.0) -> Sheet:
    """A square on the table or above it."""
    corners = ((0, 0), (1, 0), (1, 1), (0, 1))
    return Sheet(tuple((x + shift, y + shift, height) for x, y in corners), UP, 1)


def upright(y: float, low: float = -1.0, high: float = 1.0) -> Sheet:
    """A sheet that stands across, facing the viewer."""
    return Sheet(((0, y, low), (1, y, low), (1, y, high), (0, y, high)), TOWARD, 1)


def drawn(*sheets: Sheet, order: LayerOrder = NO_ORDER) -> list[int]:
    units = [[index] for index in range(len(sheets))]
    return [unit[0] for unit in back_to_front(sheets, units, order, eye(), project)]


@pytest.mark.parametrize(
    ("near", "far"),
    [(level(1.0), level(0.0)), (upright(1.2), level(0.0)), (level(0.0), upright(-0.2))],
)
def test_the_nearer_is_drawn_later_whatever_the_order_they_come_in(near: Sheet, far: Sheet) -> None:
    """The upright sheets cut the plane of the level one, which lies on one side of theirs."""
    assert drawn(near, far) == [1, 0]
    assert drawn(far, near) == [0, 1]


def test_in_one_plane_the_layers_of_the_closed_card_decide() -> None:
    first_above = LayerOrder((), frozenset({(0, 1)}))
    assert drawn(level(0.0), level(0.0), order=first_above) == [1, 0]
    turned = [sheet._replace(front=-1) for sheet in (level(0.0), level(0.0))]
    assert drawn(*turned, order=first_above) == [0, 1]


def test_where_nothing_decides_the_farther_middle_goes_first() -> None:
    assert drawn(level(0.0, shift=0.1), level(0.0)) == [1, 0]
    assert drawn(level(0.0), level(0.0, shift=0.1)) == [0, 1]
    slope = unit((0.0, -2.2, 1.0))
    crossing = Sheet(((0, 0, -1), (1, 0, -1), (1, 1, 1.2), (0, 1, 1.2)), slope, 1)
    assert drawn(crossing, level(0.0)) == [1, 0]
    assert drawn(level(0.0), crossing) == [0, 1]


def test_what_does_not_cover_goes_by_its_middle_though_one_lies_higher() -> None:
    """Seen from the side a little, the boxes round both meet on the page; the outlines do not."""
    low = Sheet(((-2, -1, 0), (0, -1, 0), (0, 0, 0), (-2, 0, 0)), UP, 1)
    step = Sheet(((0, -1.5, 0.5), (1, -1.5, 0.5), (1, -0.5, 0.5), (0, -0.5, 0.5)), UP, 1)
    assert drawn(low, step) == [1, 0]
    assert drawn(step, low) == [0, 1]


def test_what_lies_flat_side_by_side_stays_together() -> None:
    beside = level(0.0)._replace(ring=((1, 0, 0), (2, 0, 0), (2, 1, 0), (1, 1, 0)))
    units = [[0, 2], [1]]
    sheets = (level(0.0), level(0.5), beside)
    assert back_to_front(sheets, units, NO_ORDER, eye(), project) == [[0, 2], [1]]
