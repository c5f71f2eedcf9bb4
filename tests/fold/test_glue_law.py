"""The law of glue on random cards, held against shapely: no zone touches two bodies, and no piece that
lies on one body is refused.

The closed cards are families whose fronts are known without folding anything: here each is written
down as the faces that show from the front, bottom first. What lies on what is worked out with
shapely's areas alone, from true ellipses (fine polygons) and turned frames.
"""

import math
import random
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

import pytest
import shapely
from shapely import affinity
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from cardrecipe.fold.card import fold, glued, what_glue_locks
from cardrecipe.fold.folded import GlueZone
from cardrecipe.fold.outlines import ellipse_inside, ellipse_outside
from cardrecipe.model.work import Glue
from cardrecipe.solve.sized import Around, Edges, Placement, SizedCard, SizedPiece
from tests.hand_made import SPAN, piece, strip_card

F = Fraction
CARDS = 540
TINY = 1e-7  # square inches; what floats lose on a card is some 1e-12
MARGIN = 1 / 16
FINE = 256  # segments to a quarter of shapely's ellipses

KINDS = ("panel", "rectangle", "square", "circle", "oval", "cutout")


class Face(NamedTuple):
    """A face that shows, or is covered, on the front of a closed card: where, and which it is."""

    section: str
    side: str
    left: Fraction
    top: Fraction
    width: Fraction
    height: Fraction


class Family(NamedTuple):
    card: SizedCard
    faces: tuple[Face, ...]  # bottom first; those at one height in written order
    heights: tuple[int, ...]


def gate(wide: Fraction, high: Fraction) -> Family:
    names = ["left-door", "back", "right-door"]
    card = strip_card([wide / 2, wide, wide / 2], "VV", names, high)
    faces = (
        Face("back", "inside", F(0), F(0), wide, high),
        Face("left-door", "outside", F(0), F(0), wide / 2, high),
        Face("right-door", "outside", wide / 2, F(0), wide / 2, high),
    )
    return Family(card, faces, (0, 1, 1))


def double_gate(wide: Fraction, high: Fraction) -> Family:
    """Each door carries a flap that folds back over it; the flaps show their inside."""
    flap = wide / 4
    names = ["left-flap", "left-door", "back", "right-door", "right-flap"]
    card = strip_card([flap, wide / 2, wide, wide / 2, flap], "MVVM", names, high)
    faces = (
        Face("back", "inside", F(0), F(0), wide, high),
        Face("left-door", "outside", F(0), F(0), wide / 2, high),
        Face("right-door", "outside", wide / 2, F(0), wide / 2, high),
        Face("left-flap", "inside", wide / 2 - flap, F(0), flap, high),
        Face("right-flap", "inside", wide / 2, F(0), flap, high),
    )
    return Family(card, faces, (0, 1, 1, 2, 2))


def easel(wide: Fraction, high: Fraction) -> Family:
    """The front is folded back on itself: its end lies on top, inside up, over half of the card."""
    card = strip_card([wide, wide / 2, wide / 2], "VM", ["back", "middle", "end"], high)
    faces = (
        Face("back", "inside", F(0), F(0), wide, high),
        Face("middle", "outside", wide / 2, F(0), wide / 2, high),
        Face("end", "inside", wide / 2, F(0), wide / 2, high),
    )
    return Family(card, faces, (0, 1, 2))


def short_front(wide: Fraction, high: Fraction) -> Family:
    """A tent whose front ends 1 before its back."""
    card = strip_card([high - 1, high], "V", ["front", "back"], wide, axis="y")
    faces = (
        Face("back", "inside", F(0), F(0), wide, high),
        Face("front", "outside", F(0), F(0), wide, high - 1),
    )
    return Family(card, faces, (0, 1))


FAMILIES = (gate, double_gate, easel, short_front)


class Laid(NamedTuple):
    """A piece of the law's own: its shape seen from the front, and what it moves with."""

    key: tuple[str, int]
    shape: BaseGeometry
    body: str
    beneath: list[tuple[str, BaseGeometry]]  # faces and earlier pieces under it, bottom first


def random_family(dice: random.Random) -> Family:
    wide, high = F(dice.randint(24, 48), 8), F(dice.randint(24, 56), 8)
    return dice.choice(FAMILIES)(wide, high)


def random_pieces(dice: random.Random, family: Family) -> list[SizedPiece]:
    """Give one to four pieces on the top faces, some on each other or on a band, of any shape."""
    made: list[SizedPiece] = []
    if dice.random() < 0.3:
        made.append(random_band(dice, family))
    tops = [face for face, at in zip(family.faces, family.heights, strict=True) if at == max(family.heights)]
    for number in range(dice.randint(1, 4)):
        face = dice.choice(tops)
        hosts = [each for each in made if each.kind in ("panel", "rectangle", "oval", "band")]
        host = dice.choice(hosts) if hosts and dice.random() < 0.35 else None
        size = (F(dice.randint(4, 32), 8), F(dice.randint(4, 32), 8))
        kind = dice.choice(KINDS)
        if kind in ("square", "circle"):
            size = (size[0], size[0])
        room = (host.width, host.height) if host else (face.width, face.height)
        at = [F(dice.randint(-8, int(part * 8) - 2), 8) for part in room]
        turned = F(dice.choice((0, 0, 0, 30, 45, 90, 7)))
        name = host.name if host else face.section
        spot = Placement(
            name, name if host else "card", 0, "inside" if host else face.side, at[0], at[1],
            Edges(F(0), F(0), F(0), F(0)), host is None,
        )  # fmt: skip
        glue = Glue(SPAN, all_over=True) if dice.random() < 0.5 else None
        made.append(piece(f"p{number}", kind, "ink", size, spot, turned=turned, glue=glue, overhangs=True))
    return made


def random_band(dice: random.Random, family: Family) -> SizedPiece:
    back = family.faces[0]
    wide = F(dice.randint(4, 12), 8)
    long = 2 * back.width + 1
    at = F(dice.randint(0, int((back.height - wide) * 8)), 8)
    around = Around("card", False, at, 2 * back.width, F(1))
    return piece("sash", "band", "ink", (long, wide), around=around)


def shape_of(each: SizedPiece) -> BaseGeometry:
    """A piece's true outline from its own left top, turned about its middle."""
    wide, high = float(each.width), float(each.height)
    shape: BaseGeometry = box(0, 0, wide, high)
    if each.kind in ("circle", "oval"):
        round_ = shapely.Point(0, 0).buffer(1, quad_segs=FINE)
        shape = affinity.translate(affinity.scale(round_, wide / 2, high / 2), wide / 2, high / 2)
    return affinity.rotate(shape, exact_degrees(each.turned), origin=(wide / 2, high / 2))


def exact_degrees(turned: Fraction) -> float:
    """The turn that a card really makes: angles are rounded to a tangent of 1/4096."""
    quarters = round(turned / 90)
    rest = math.radians(float(turned - 90 * quarters))
    return 90 * quarters + math.degrees(2 * math.atan(round(math.tan(rest / 2) * 4096) / 4096))


def laid_out(family: Family, pieces: Sequence[SizedPiece]) -> Iterator[Laid]:
    """Lay the pieces on the front by hand: faces, then pieces on them in written order, then the band
    with what is on it. Only the topmost faces carry pieces, so this is the order in which they lie."""
    under = [
        (face.section, box(float(face.left), float(face.top), float(face.left + face.width),
                           float(face.top + face.height)))
        for face in family.faces
    ]
    starts = {face.section: (face.left, face.top) for face in family.faces}
    bodies = {face.section: face.section for face in family.faces}
    turns: dict[str, list[tuple[float, float, float, float]]] = {face.section: [] for face in family.faces}
    names = {each.name for each in pieces}
    order = sorted(pieces, key=lambda each: on_band(each, pieces))
    for each in in_pile_order(order):
        if each.around:
            front = family.faces[0]
            starts["sash"] = ((front.width - each.width) / 2, each.around.at)
            bodies["sash"], turns["sash"] = "sash", []
            strip = box(0, float(each.around.at), float(front.width), float(each.around.at + each.height))
            under.append(("sash", strip))
            continue
        spot = each.placements[0]
        x, y = starts[spot.host][0] + spot.x, starts[spot.host][1] + spot.y
        shape = affinity.translate(shape_of(each), float(x), float(y))
        for turn in turns[spot.host]:
            shape = affinity.rotate(shape, turn[0], origin=turn[1:3])
        body = bodies[spot.host]
        yield Laid((each.name, 0), shape, body, list(under))
        under.append((body, shape))
        starts[each.name], bodies[each.name] = (x, y), body
        own = (exact_degrees(each.turned), float(x + each.width / 2), float(y + each.height / 2), 0.0)
        turns[each.name] = [own, *turns[spot.host]]
        assert spot.host in names or spot.is_section


def on_band(each: SizedPiece, pieces: Sequence[SizedPiece]) -> bool:
    if each.around:
        return True
    host = next((one for one in pieces if each.placements and one.name == each.placements[0].host), None)
    return host is not None and on_band(host, pieces)


def in_pile_order(pieces: Sequence[SizedPiece]) -> list[SizedPiece]:
    """Written order, what lies on a piece right after it."""
    names = {each.name for each in pieces}
    ordered: list[SizedPiece] = []

    def add(each: SizedPiece) -> None:
        ordered.append(each)
        for other in pieces:
            if other.placements and other.placements[0].host == each.name:
                add(other)

    for each in pieces:
        if not each.placements or each.placements[0].host not in names:
            add(each)
    return ordered


def seen_beneath(laid: Laid) -> tuple[BaseGeometry, BaseGeometry]:
    """What of a piece lies on its own body, and what on another."""
    rest = laid.shape
    mine: BaseGeometry = Polygon()
    others: BaseGeometry = Polygon()
    for body, shape in reversed(laid.beneath):
        part = rest.intersection(shape)
        mine, others = (mine.union(part), others) if body == laid.body else (mine, others.union(part))
        rest = rest.difference(shape)
    return areas_of(mine), areas_of(others)


def areas_of(shape: BaseGeometry) -> BaseGeometry:
    """Leave out the points, lines and slivers that remain where edges touch."""
    parts = shapely.get_parts(shape)
    return shapely.union_all([part for part in parts if part.area > TINY])


def zone_shape(
    zone: GlueZone, each: SizedPiece, family: Family, pieces: Sequence[SizedPiece]
) -> BaseGeometry:
    """The zone where the piece lies on the front: moved as the piece itself is moved."""
    parts = [Polygon([(float(x), float(y)) for x, y in ring]) for ring in zone.rings]
    assert all(part.is_valid for part in parts)
    whole = shapely.union_all(parts)
    assert sum(part.area for part in parts) == pytest.approx(whole.area)
    return moved_like(whole, each, family, pieces)


def moved_like(
    shape: BaseGeometry, each: SizedPiece, family: Family, pieces: Sequence[SizedPiece]
) -> BaseGeometry:
    by_name = {one.name: one for one in pieces}
    faces = {face.section: face for face in family.faces}
    while True:
        wide, high = float(each.width), float(each.height)
        shape = affinity.rotate(shape, exact_degrees(each.turned), origin=(wide / 2, high / 2))
        spot = each.placements[0]
        shape = affinity.translate(shape, float(spot.x), float(spot.y))
        if spot.host in faces:
            return affinity.translate(shape, float(faces[spot.host].left), float(faces[spot.host].top))
        host = by_name[spot.host]
        if host.around:
            left = (family.faces[0].width - host.width) / 2
            return affinity.translate(shape, float(left), float(host.around.at))
        each = host


@pytest.mark.parametrize("seed", range(6))
def test_no_zone_touches_two_bodies_and_what_lies_on_one_is_not_refused(seed: int) -> None:
    dice = random.Random(seed)
    refused = whole = part = 0
    for _ in range(CARDS // 6):
        family = random_family(dice)
        pieces = random_pieces(dice, family)
        card = family.card._replace(pieces=(*family.card.pieces, *pieces))
        folded, said = glued(fold(card)[0])
        assert what_glue_locks(folded) == said
        zones = {(zone.piece, zone.copy): zone for zone in folded.zones}
        refusals = {each.message.split("`")[1] for each in said if each.severity == "error"}
        by_name = {each.name: each for each in pieces}
        for laid in laid_out(family, pieces):
            each, zone = by_name[laid.key[0]], zones[laid.key]
            mine, others = seen_beneath(laid)
            shape = zone_shape(zone, each, family, pieces)
            assert zone.host_body == laid.body
            assert shape.intersection(others).area < TINY
            assert shape.difference(mine).area < TINY
            assert shape.difference(laid.shape).area < TINY
            if others.area > TINY and not shape.is_empty:
                assert shape.distance(others) > MARGIN - 1e-6
                part += 1
            if others.area < TINY and laid.shape.difference(mine).area < TINY:
                assert zone.is_whole or has_rims(by_name)
                assert each.name not in refusals
                whole += 1
            # what is refused lies on two bodies, on none, or across a score
            if each.name in refusals:
                refused += 1
                assert others.area > TINY or laid.shape.difference(mine).area > TINY
            is_all_over = each.glue is not None and each.glue.all_over
            if is_all_over and others.area > 0.02:
                assert each.name in refusals
            if not zone.rings:
                assert each.name in refusals
            if mine.area < TINY:
                assert zone.rings == ()
            elif not others.area and not has_rims(by_name):
                assert shape.area > mine.area * 0.98 - 0.07 * mine.length
    assert min(refused, whole, part) > 10


def has_rims(by_name: dict[str, SizedPiece]) -> bool:
    """The zone of a round piece, or of one on a round piece, may stop short of a rim, a polygon there."""
    return any(one.kind in ("circle", "oval") for one in by_name.values())


def test_the_polygons_of_an_ellipse_stay_on_their_sides() -> None:
    for wide, high in ((F(2), F(2)), (F(3), F(9, 4)), (F(1, 3), F(7))):
        truth = [
            ((1 + math.cos(t / 500)) * float(wide) / 2, (1 + math.sin(t / 500)) * float(high) / 2)
            for t in range(3142)
        ]
        inside, outside = Polygon(ellipse_inside(wide, high)), Polygon(ellipse_outside(wide, high))
        assert inside.is_valid and outside.is_valid
        assert outside.buffer(1e-9).contains(Polygon(truth))
        for x, y in ellipse_inside(wide, high):
            assert (2 * x / wide - 1) ** 2 + (2 * y / high - 1) ** 2 <= 1
        assert inside.area > float(wide * high) * math.pi / 4 * 0.99
        assert outside.area < float(wide * high) * math.pi / 4 * 1.01
