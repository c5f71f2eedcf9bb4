"""The card held in space: which way scores swing, what is seen of it, and what is drawn over what."""

import math
from fractions import Fraction
from itertools import pairwise

import pytest

from cardrecipe.fold.card import fold
from cardrecipe.fold.folded import SpacePart
from cardrecipe.fold.space import eye, project, space_view
from cardrecipe.fold.vectors import Vector, dot, minus
from cardrecipe.model.work import Glue
from cardrecipe.solve.sized import SizedCard
from tests.hand_made import (
    SPAN,
    accordion,
    double_gate,
    gate,
    piece,
    placed,
    rolled_trifold,
    strip_card,
    tent,
    z_fold,
)

F = Fraction


def held(card: SizedCard, **angles: float) -> tuple[SpacePart, ...]:
    """The card with score n at the angle given as `sn`."""
    folded, _ = fold(card)
    return space_view(folded, "card", {int(name[1:]): angle for name, angle in angles.items()})


def part(parts: tuple[SpacePart, ...], name: str) -> SpacePart:
    return next(each for each in parts if name in (each.section, each.piece))


def rounded(ring: tuple[Vector, ...]) -> list[tuple[float, ...]]:
    return [tuple(round(number, 9) + 0.0 for number in point) for point in ring]


def test_the_flat_card_lies_on_the_table_inside_up() -> None:
    parts = held(gate())
    assert all(each.side == "inside" for each in parts)
    assert rounded(part(parts, "back").ring) == [(2.5, 0, 0), (7.5, 0, 0), (7.5, 7, 0), (2.5, 7, 0)]


def test_a_valley_swings_toward_the_viewer_and_a_mountain_away() -> None:
    door = part(held(gate(), s1=90), "left-door")
    assert rounded(door.ring) == [(2.5, 0, 2.5), (2.5, 0, 0), (2.5, 7, 0), (2.5, 7, 2.5)]
    flap = part(held(double_gate(), s1=90), "left-flap")
    assert rounded(flap.ring)[0] == (1.25, 0, -1.25)


def test_the_front_of_a_tent_swings_up_about_the_score_across() -> None:
    front = part(held(tent(), s1=90), "front")
    assert rounded(front.ring) == [(0, 4.25, 4.25), (5.5, 4.25, 4.25), (5.5, 4.25, 0), (0, 4.25, 0)]


def test_a_flap_rides_on_its_door() -> None:
    """Outside to outside on a standing door: it points down along the door again."""
    flap = part(held(double_gate(), s1=180, s2=90), "left-flap")
    assert rounded(flap.ring)[:2] == [(3.375, 0, 0.875), (3.375, 0, 2.125)]


def test_folding_never_stretches_the_paper() -> None:
    flat = held(double_gate())
    bent = held(double_gate(), s1=33, s2=71, s3=140, s4=10)
    for before in (each for each in flat if each.section):
        after = part(bent, before.section or "")
        for (a, b), (c, d) in zip(pairwise(before.ring), pairwise(after.ring), strict=True):
            assert math.dist(a, b) == pytest.approx(math.dist(c, d))


def test_at_180_the_sections_lie_where_the_closed_view_has_them() -> None:
    card = double_gate()
    folded, _ = fold(card)
    parts = space_view(folded, "card", dict.fromkeys((1, 2, 3, 4), F(180)))
    view = folded.view("closed-front")
    for seen in view.parts:
        if seen.section:
            ring = part(parts, seen.section).ring
            for (x, y, z), (own_x, own_y) in zip(ring, seen.outline, strict=True):
                assert (x - 3.375, y) == pytest.approx((float(own_x), float(own_y)))
                assert z == pytest.approx(0)


def test_the_closed_card_is_drawn_as_its_layers_lie() -> None:
    parts = held(double_gate(), s1=180, s2=180, s3=180, s4=180)
    order = [each.section for each in parts if each.section]
    assert order[0] == "back"
    assert order.index("left-door") < order.index("left-flap")
    assert order.index("right-door") < order.index("right-flap")


@pytest.mark.parametrize("angle", [1, 30, 60, 90, 120, 150, 179])
def test_a_painter_never_covers_what_is_nearer(angle: int) -> None:
    """Checked point by point, on the way through every fold: where two faces cover each other, the
    later one is nearer."""
    for card in (gate(), double_gate(), z_fold(), rolled_trifold(), accordion(6), tent()):
        folded, _ = fold(card)
        before: dict[int, Fraction] = {}
        for move in folded.closed[0].moves:
            parts = space_view(folded, "card", {**before, **dict.fromkeys(move.scores, F(angle))})
            assert _is_painted_well([each for each in parts if each.section]), (card.title, move)
            before = dict(move.angles)


@pytest.mark.parametrize("angle", [20, 75, 110, 165])
def test_a_zigzag_that_is_pushed_together_is_painted_well(angle: int) -> None:
    for card in (z_fold(), accordion(7), double_gate()):
        folded, _ = fold(card)
        scores = {score.number: F(angle) for score in card.bases[0].scores}
        parts = space_view(folded, "card", scores)
        assert _is_painted_well([each for each in parts if each.section]), card.title


def test_a_packet_that_is_folded_already_keeps_its_layers_while_it_swings() -> None:
    """The flap lies behind its door here, seen from the inside, and before it past the upright."""
    for angle, first, second in ((40, "left-flap", "left-door"), (150, "left-door", "left-flap")):
        order = [each.section for each in held(double_gate(), s1=180, s2=angle) if each.section]
        assert order.index(first) < order.index(second)


def test_the_side_that_is_seen_and_its_pieces() -> None:
    parts = held(double_gate(), s1=180, s4=180, s2=30, s3=30)
    assert part(parts, "left-door").side == "inside"
    assert "door-paper" not in {each.piece for each in parts}
    parts = held(double_gate(), s1=180, s4=180, s2=150, s3=150)
    assert part(parts, "left-door").side == "outside"
    names = [each.section or f"{each.piece}/{each.copy}" for each in parts]
    assert names.index("left-door") < names.index("door-paper/0")


def test_foam_stands_off_the_side_that_the_piece_is_on() -> None:
    """2 mm above the inside of the back; and above the outside of a door that is folded over."""
    foam = Glue(SPAN, "foam", thick=F(10, 127))
    for host, side, angle in (("back", "inside", 0), ("left-door", "outside", 180)):
        spot = placed(host, ("5/2", 7), (1, 1), side=side)
        card = gate(piece("dot", "square", "white", (1, 1), spot, glue=foam))
        dot = part(held(card, s1=angle), "dot")
        assert {round(point[2], 9) for point in dot.ring} == {round(10 / 127, 9)}


def test_what_reaches_beyond_its_section_is_seen_from_behind() -> None:
    spot = placed("left-door", ("5/2", 7), (4, 1), side="outside")
    folded, _ = fold(gate(piece("bar", "panel", "glow", (4, 1), spot)))
    names = [each.section or each.piece for each in space_view(folded, "card", {1: 60, 2: 60})]
    assert names.index("bar") < names.index("left-door")
    flat = [each.section or each.piece for each in space_view(folded, "card", {})]
    assert flat[0] == "bar"  # beyond the sheet's left end, beneath all of it


def test_light_falls_less_on_what_stands_up() -> None:
    parts = held(gate(), s1=90)
    assert 0 < part(parts, "left-door").shade < part(parts, "back").shade <= 1


def test_a_card_that_cannot_be_folded_is_in_no_space() -> None:
    assert held(strip_card([2, 1, 2], "VV")) == ()


def _is_painted_well(parts: list[SpacePart]) -> bool:
    return all(
        _depth(over, point) >= _depth(under, point) - 1e-6
        for late, over in enumerate(parts)
        for under in parts[:late]
        for point in _common_points(under, over)
    )


def _depth(face: SpacePart, point: tuple[float, float]) -> float:
    """How near to the eye a face is at a point of the page, by its own plane."""
    a, b, c = face.ring[0], face.ring[1], face.ring[3]
    (ax, ay), (bx, by), (cx, cy) = project(a), project(b), project(c)
    area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
    u = ((point[0] - ax) * (cy - ay) - (point[1] - ay) * (cx - ax)) / area
    v = ((bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)) / area
    return dot(a, eye()) + u * dot(minus(b, a), eye()) + v * dot(minus(c, a), eye())


def _common_points(one: SpacePart, two: SpacePart) -> list[tuple[float, float]]:
    """Points of a grid that lie well inside both faces on the page."""
    rings = [[project(point) for point in each.ring] for each in (one, two)]
    xs, ys = zip(*rings[1], strict=True)
    grid = [
        (min(xs) + (max(xs) - min(xs)) * i / 9, min(ys) + (max(ys) - min(ys)) * j / 9)
        for i in range(10)
        for j in range(10)
    ]
    return [point for point in grid if all(_is_inside(ring, point) for ring in rings)]


def _is_inside(ring: list[tuple[float, float]], point: tuple[float, float]) -> bool:
    sides = []
    for index, (x, y) in enumerate(ring):
        before_x, before_y = ring[index - 1]
        long = math.dist((x, y), (before_x, before_y))
        cross = (x - before_x) * (point[1] - before_y) - (y - before_y) * (point[0] - before_x)
        sides.append(cross / long)
    return min(sides) > 0.02 or max(sides) < -0.02
