"""What a piece covers for certain, and what it never leaves: for every kind of piece, wide and tall."""

from fractions import Fraction

import pytest
from shapely import Polygon
from shapely.affinity import scale

from cardrecipe.fold.outlines import fitted, frame_outline, own_outline, sure_shares, widest_shares
from cardrecipe.solve.sized import SizedPiece
from tests.hand_made import piece

F = Fraction
KINDS = ("panel", "rectangle", "circle", "oval", "tag", "banner", "rounded")
SIZES = ((4, 3), (3, 4), (5, 1), (1, 5))
UPRIGHT, LEVEL = "left for right", "top for bottom"


def made(kind: str, size: tuple[int, int]) -> SizedPiece:
    if kind == "rounded":
        return piece("words", "panel", "white", size, corner_radius=F(1, 4))
    return piece("words", kind, "white", size)


def sure(one: SizedPiece) -> Polygon:
    return Polygon(fitted(sure_shares(one), frame_outline(one)))


def widest(one: SizedPiece) -> Polygon:
    return Polygon(fitted(widest_shares(one), frame_outline(one)))


def mirrored(shape: Polygon, one: SizedPiece, way: str) -> Polygon:
    middle = (float(one.width) / 2, float(one.height) / 2)
    across, down = (-1, 1) if way == UPRIGHT else (1, -1)
    return scale(shape, across, down, origin=middle)


def own_mirrors(kind: str, size: tuple[int, int]) -> tuple[str, ...]:
    """A tag has two clipped corners at one end, a banner one notched end or two; the rest have both."""
    is_tall = size[1] > size[0]
    if kind == "tag" or (kind == "banner" and is_tall):
        return (UPRIGHT,) if is_tall else (LEVEL,)
    return UPRIGHT, LEVEL


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("kind", KINDS)
def test_what_is_sure_is_simple_and_within_what_is_never_left(kind: str, size: tuple[int, int]) -> None:
    one = made(kind, size)
    assert sure(one).is_valid and widest(one).is_valid
    assert widest(one).covers(sure(one))
    assert sure(one).area > widest(one).area / 2


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("kind", KINDS)
def test_a_piece_is_its_own_mirror_image(kind: str, size: tuple[int, int]) -> None:
    one = made(kind, size)
    for shape in (sure(one), widest(one)):
        for way in own_mirrors(kind, size):
            assert mirrored(shape, one, way).symmetric_difference(shape).area == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("size", SIZES)
def test_rounded_corners_cost_four_triangles_and_no_more(size: tuple[int, int]) -> None:
    one = made("rounded", size)
    assert sure(one).area == size[0] * size[1] - 2 * float(one.corner_radius or 0) ** 2
    assert Polygon(own_outline(one)).equals(sure(one))


@pytest.mark.parametrize("size", [(2, 1), (1, 2), (2, 2)])
def test_a_radius_of_half_a_side_or_more_leaves_round_ends(size: tuple[int, int]) -> None:
    for radius in (F(1, 2), F(3)):
        one = made("panel", size)._replace(corner_radius=radius)
        half = min(float(radius), min(size) / 2)
        assert sure(one).is_valid
        assert sure(one).area == size[0] * size[1] - 2 * half**2


@pytest.mark.parametrize("kind", ["circle", "oval"])
def test_a_round_piece_is_an_ellipse_between_both(kind: str) -> None:
    """An ellipse has 0.785 of its frame; the polygons of 36 sides lie within one part in 90 of it."""
    one = made(kind, (4, 3))
    for shape in (sure(one), widest(one), Polygon(own_outline(one))):
        assert shape.area / 12 == pytest.approx(0.7854, rel=1 / 60)
    assert sure(one).area < 12 * 0.7854 < widest(one).area
    touched = widest(one).bounds
    assert touched == pytest.approx((0, 0, 4, 3), abs=4 / 60)
