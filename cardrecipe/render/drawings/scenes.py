"""The different hosts that a piece is put on: what a picture of placing it has to show."""

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.openings import openings
from cardrecipe.fold.outlines import frame_outline
from cardrecipe.model.lengths import round_near
from cardrecipe.solve.sized import Around, Placement, Point, SizedCard, SizedPiece, SizedSection

OF_A_BAND = ", the front"  # after the name of a band, of which only that half is shown


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


def scenes_of(card: SizedCard, piece: SizedPiece) -> list[Scene]:
    """One scene for each different picture; hosts that would look the same share one."""
    by_host: dict[tuple[str, str, int, str], list[Placement]] = {}
    for place in piece.placements:
        key = (place.host, place.host_piece, place.host_copy, place.side)
        by_host.setdefault(key, []).append(place)
    scenes: list[Scene] = []
    for places in by_host.values():
        scene = _scene(card, places)
        alike = next((n for n, other in enumerate(scenes) if _look_alike(scene, other)), None)
        if alike is None:
            scenes.append(scene)
            continue
        merged = scenes[alike].names
        if scene.names[0] not in merged:
            scenes[alike] = scenes[alike]._replace(names=(*merged, *scene.names))
    return scenes


def whole_border(scene: Scene) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    edges = [place.border for place in scene.copies]
    return (
        min(edge.left for edge in edges),
        min(edge.right for edge in edges),
        min(edge.top for edge in edges),
        min(edge.bottom for edge in edges),
    )


def _scene(card: SizedCard, places: Sequence[Placement]) -> Scene:
    first = places[0]
    host = card.piece(first.host_piece)
    if host.around is not None:
        return _front_of(card, host, host.around, places)
    if not first.is_section:
        facts = (host.outline or (), host.kind, host.paper, host.width, host.height)
        holes = openings(frame_outline(host), host.windows)
        return Scene((first.host,), first.side, False, *facts, tuple(places), holes)
    section = next(each for each in host.sections if each.name == first.host)
    cut = openings(section.outline, host.windows)
    outline, *rings = (_looked_at(section, first.side, each) for each in (section.outline, *cut))
    facts_of_section = (outline, "panel", host.paper, section.width, section.height)
    return Scene((first.host,), first.side, True, *facts_of_section, tuple(places), tuple(rings))


def _looked_at(section: SizedSection, side: str, ring: tuple[Point, ...]) -> tuple[Point, ...]:
    """A ring of a flat piece, from the left top of a section's face as one looks at it."""
    if side == "outside":
        return tuple((section.x + section.width - x, y - section.y) for x, y in ring)
    return tuple((x - section.x, y - section.y) for x, y in ring)


def _front_of(
    card: SizedCard, band: SizedPiece, around: Around, places: Sequence[Placement]
) -> Scene:
    """The half of a band that is seen on the front: its ends lie behind the card."""
    half = around.wrap / 2
    hidden = ((band.width if not around.downward else band.height) - half) / 2
    shown = tuple(_moved(card, place, hidden, around.downward) for place in places)
    width, height = (band.width, half) if around.downward else (half, band.height)
    names = (f"{band.name}{OF_A_BAND}",)
    return Scene(names, places[0].side, False, (), band.kind, band.paper, width, height, shown)


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
        return (scene.side, rings, scene.width, scene.height, places)

    return shown(one) == shown(other)
