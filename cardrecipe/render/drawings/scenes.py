"""The different hosts that a piece is put on: what a picture of placing it has to show."""

from collections.abc import Collection, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.folded import Outline
from cardrecipe.fold.geometry import Motion, bounding_box
from cardrecipe.fold.motions import moved
from cardrecipe.fold.openings import openings
from cardrecipe.fold.outlines import frame_outline
from cardrecipe.model.lengths import round_near
from cardrecipe.model.remembered import once_for_each
from cardrecipe.render.drawings.turned_faces import (
    corners_of,
    lies_turned,
    seen_outside,
    turned_edges,
    turned_way,
)
from cardrecipe.solve.sized import Around, Placement, Point, SizedCard, SizedPiece, SizedSection

OF_A_BAND = ", the front"  # after the name of a band, of which only that half is shown


class Earlier(NamedTuple):
    """A copy that lies on a host already, and where."""

    piece: SizedPiece
    copy: int
    place: Placement
    frame: Outline = ()  # where it lies turned with its face


class Scene(NamedTuple):
    """Hosts that look alike with what is put on them; `names` are the hosts'."""

    names: tuple[str, ...]
    side: str
    is_section: bool
    outline: tuple[
        Point, ...
    ]  # as one looks at that face, left top at (0, 0); () for a whole piece that has none of its own
    kind: str
    paper: str | None
    width: Fraction
    height: Fraction
    copies: tuple[Placement, ...]
    holes: tuple[tuple[Point, ...], ...] = ()  # windows of the host, as it is looked at
    earlier: tuple[Earlier, ...] = ()  # what lies on it before, the lowest first
    frames: tuple[Outline, ...] = ()  # of copies that lie turned with the face; () where all are upright


def scenes_of(card: SizedCard, piece: SizedPiece, done: Collection[str] = ()) -> list[Scene]:
    """One scene for each different picture; hosts that would look the same share one. `done` are the
    pieces that are in place already."""
    by_host: dict[tuple[str, str, int, str], list[Placement]] = {}
    for place in piece.placements:
        key = (place.host, place.host_piece, place.host_copy, place.side)
        by_host.setdefault(key, []).append(place)
    scenes: list[Scene] = []
    for places in by_host.values():
        scene = _with_turned_copies(card, piece, _scene(card, places, tuple(_earlier(card, places[0], done))))
        alike = next((n for n, other in enumerate(scenes) if _look_alike(scene, other)), None)
        if alike is None:
            scenes.append(scene)
            continue
        merged = scenes[alike].names
        if scene.names[0] not in merged:
            scenes[alike] = scenes[alike]._replace(names=(*merged, *scene.names))
    return scenes


def lying_on(card: SizedCard, piece: SizedPiece, copy: int, done: Collection[str]) -> Iterator[Earlier]:
    """What lies on one copy of a piece, the lowest first."""
    there = _by_host(card).get((piece.name, copy), ())
    return (each for each in there if each.piece.name in done)


def _earlier(card: SizedCard, first: Placement, done: Collection[str]) -> Iterator[Earlier]:
    there = _by_host(card).get((first.host_piece, first.host_copy), ())
    face = first.host, first.side
    return (each for each in there if each.piece.name in done and (each.place.host, each.place.side) == face)


@once_for_each
def _by_host(card: SizedCard) -> dict[tuple[str, int], list[Earlier]]:
    """All that comes on each copy of a piece, as it is written, but a mat before what lies on it."""
    found: dict[tuple[str, int], list[Earlier]] = {}
    for each in sorted(card.pieces, key=lambda each: each.under is None):
        for number, place in enumerate(each.placements):
            found.setdefault((place.host_piece, place.host_copy), []).append(Earlier(each, number, place))
    return found


def whole_border(scene: Scene) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    edges = [place.border for place in scene.copies]
    return (
        min(edge.left for edge in edges),
        min(edge.right for edge in edges),
        min(edge.top for edge in edges),
        min(edge.bottom for edge in edges),
    )


def _scene(card: SizedCard, places: Sequence[Placement], earlier: tuple[Earlier, ...]) -> Scene:
    first = places[0]
    host = card.piece(first.host_piece)
    if host.around is not None:
        return _front_of(card, host, host.around, places, earlier)
    if not first.is_section:
        facts = (host.outline or (), host.kind, host.paper, host.width, host.height)
        holes = openings(frame_outline(host), host.windows)
        return Scene((first.host,), first.side, False, *facts, tuple(places), holes, earlier)
    section = next(each for each in host.sections if each.name == first.host)
    if lies_turned(host, first):
        return _turned_scene(card, host, section, places, earlier)
    cut = openings(section.outline, host.windows)
    outline, *rings = (_looked_at(section, first.side, each) for each in (section.outline, *cut))
    facts_of_section = (outline, "panel", host.paper, section.width, section.height)
    return Scene((first.host,), first.side, True, *facts_of_section, tuple(places), tuple(rings), earlier)


def _turned_scene(
    card: SizedCard,
    host: SizedPiece,
    section: SizedSection,
    places: Sequence[Placement],
    earlier: tuple[Earlier, ...],
) -> Scene:
    """The outside of a section as it lies in the closed card."""
    first = places[0]
    seen = seen_outside(card, host, section)
    cut = openings(section.outline, host.windows)
    outline, *rings = (moved(seen, each) for each in (section.outline, *cut))
    box = bounding_box(outline)
    wide, high = Fraction(box.right - box.left), Fraction(box.bottom - box.top)
    return Scene((first.host,), first.side, True, outline, "panel", host.paper, wide, high, tuple(places),
                 tuple(rings), earlier)  # fmt: skip


def _with_turned_copies(card: SizedCard, piece: SizedPiece, scene: Scene) -> Scene:
    """A piece that takes its outline from a section lies as that does: its frames, and what shows on each
    edge, are turned with the face."""
    earlier = tuple(
        each._replace(frame=_turned_frame(card, each.piece, each.place)) for each in scene.earlier
    )
    scene = scene._replace(earlier=earlier)
    way = turned_way(card, piece, scene.copies[0])
    if way is None:
        return scene
    frames = tuple(moved(way, corners_of(piece, place)) for place in scene.copies)
    return scene._replace(
        frames=frames, copies=tuple(map(_turned_place, scene.copies, frames, [way] * len(frames)))
    )


def _turned_frame(card: SizedCard, piece: SizedPiece, place: Placement) -> Outline:
    way = turned_way(card, piece, place)
    return moved(way, corners_of(piece, place)) if way is not None else ()


def _turned_place(place: Placement, frame: Outline, way: Motion) -> Placement:
    box = bounding_box(frame)
    return place._replace(x=Fraction(box.left), y=Fraction(box.top), border=turned_edges(way, place.border))


def _looked_at(section: SizedSection, side: str, ring: tuple[Point, ...]) -> tuple[Point, ...]:
    """A ring of a flat piece, from the left top of a section's face as one looks at it."""
    if side == "outside":
        return tuple((section.x + section.width - x, y - section.y) for x, y in ring)
    return tuple((x - section.x, y - section.y) for x, y in ring)


def _front_of(
    card: SizedCard,
    band: SizedPiece,
    around: Around,
    places: Sequence[Placement],
    earlier: tuple[Earlier, ...],
) -> Scene:
    """The half of a band that is seen on the front: its ends lie behind the card."""
    half = around.wrap / 2
    hidden = ((band.width if not around.downward else band.height) - half) / 2
    shown = tuple(_moved(card, place, hidden, around.downward) for place in places)
    width, height = (band.width, half) if around.downward else (half, band.height)
    names = (f"{band.name}{OF_A_BAND}",)
    before = tuple(each._replace(place=_moved(card, each.place, hidden, around.downward)) for each in earlier)
    return Scene(names, places[0].side, False, (), band.kind, band.paper, width, height, shown, (), before)


def _moved(card: SizedCard, place: Placement, hidden: Fraction, downward: bool) -> Placement:
    """The place as measured from the edge of the front, to the nearest mark: a wrap is no truer.

    Along the band nothing is measured where the piece lies in the middle.
    """
    border = place.border
    if downward:
        centred = border.top == border.bottom
        top = Fraction(0) if centred else round_near(border.top - hidden, card.nearest)
        edges = border._replace(top=top, bottom=Fraction(0))
        return place._replace(y=place.y - hidden, border=edges)
    centred = border.left == border.right
    left = Fraction(0) if centred else round_near(border.left - hidden, card.nearest)
    edges = border._replace(left=left, right=Fraction(0))
    return place._replace(x=place.x - hidden, border=edges)


def _look_alike(one: Scene, other: Scene) -> bool:
    def shown(scene: Scene) -> tuple[object, ...]:
        places = [(place.x, place.y) for place in scene.copies]
        rings = [sorted(ring) for ring in (scene.outline, *scene.holes)]
        before = [(each.piece.name, each.place.x, each.place.y) for each in scene.earlier]
        return (scene.side, rings, scene.width, scene.height, places, before)

    return shown(one) == shown(other)
