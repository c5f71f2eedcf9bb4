"""Which parts of a card move against each other: sections that no live score parts are one body, a
band is a body of its own because it slides, and whatever is glued rides with what it is glued to.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from cardrecipe.fold.area import Region, overlap, region
from cardrecipe.fold.closed import FlatFold, closed_pose, speaks_of
from cardrecipe.fold.geometry import Point
from cardrecipe.fold.joints import Joint, joints
from cardrecipe.fold.motions import moved
from cardrecipe.fold.placing import Placed
from cardrecipe.solve.sized import Placement, SizedCard, SizedPiece, SizedSection


class Body(NamedTuple):
    """Parts that keep still to each other: some sections of a copy, or a copy that has none."""

    piece: str
    copy: int
    sections: tuple[str, ...]


class Ride(NamedTuple):
    """What a part moves with, and the name by which a maker knows that: the section, the band or the
    loose piece at the bottom of all that it is glued to."""

    body: Body
    carrier: str


# For each copy its rides: one for each of its sections, or the only one of a piece without any.
Rides = Mapping[tuple[str, int], tuple[Ride, ...]]


def bodies(card: SizedCard, flat: FlatFold, placed: Sequence[Placed]) -> tuple[Body, ...]:
    """Give every body of a closed base and of what is on it, sections first, each once."""
    every = rides(card, flat, placed)
    return tuple(dict.fromkeys(ride.body for copy in every.values() for ride in copy))


def rides(card: SizedCard, flat: FlatFold, placed: Sequence[Placed]) -> Rides:
    """Say what each section and each placed copy moves with.

    A piece with live scores of its own is held by one of its parts, and the others swing; where
    every part lies on a body of its own (a lining scored where the card is) each rides with that.
    """
    base = flat.piece
    parts = _own_parts(base, 0, flat.sections, flat.joints, live_scores(card, base))
    known = {(base.name, 0): _with_glued_tabs(flat, parts) if base.joins else parts}
    grounds = _grounds(flat, known[base.name, 0])
    for each in placed:
        known[each.piece.name, each.copy] = _rides_of(card, flat, known, grounds, each)
    if any(each.piece.joins for each in placed):
        return _with_held_sheets(known, placed)
    return known


def live_scores(card: SizedCard, piece: SizedPiece) -> frozenset[int]:
    """Give the scores of a piece that fold: in the closed card or in any pose.

    A glued piece is live at all its scores but those that poses hold at 0 and never at more.
    """
    every = frozenset(score.number for score in piece.scores if score.direction != "slit")
    named = frozenset(
        number for pose in card.poses for name, number, angle in pose.folds if name == piece.name and angle
    )
    if piece.kind != "base":
        flat = {number for pose in card.poses for name, number, _ in pose.folds if name == piece.name}
        return every - (flat - named)
    return every & named if speaks_of(closed_pose(card), piece) else every


def is_on_whole_base(flat: FlatFold, placement: Placement) -> bool:
    """Tell whether a piece is put on a base as a whole, and not on one of its sections."""
    return placement.host == flat.piece.name and len(flat.sections) > 1


def part_outlines(piece: SizedPiece) -> tuple[tuple[Point, ...], ...]:
    """Give the outlines of a piece's sections, from its own left top."""
    return tuple(section.outline for section in piece.sections)


def _own_parts(
    piece: SizedPiece,
    copy: int,
    sections: Sequence[SizedSection],
    every: Sequence[Joint],
    live: frozenset[int],
) -> tuple[Ride, ...]:
    """Give each section the body that it makes with those that no live score parts from it."""
    leaders = list(range(len(sections)))
    for joint in every:
        if joint.score.number not in live:
            keep, gone = sorted((leaders[joint.first], leaders[joint.second]))
            leaders = [keep if leader == gone else leader for leader in leaders]
    names = [section.name for section in sections]
    members = {
        leader: tuple(name for name, own in zip(names, leaders, strict=True) if own == leader)
        for leader in leaders
    }
    return tuple(
        Ride(Body(piece.name, copy, members[leader]), name)
        for name, leader in zip(names, leaders, strict=True)
    )


def _with_glued_tabs(flat: FlatFold, parts: tuple[Ride, ...]) -> tuple[Ride, ...]:
    """Let a tab ride with the part of the same sheet that it is glued to, where the closed card brings
    them together; a box's corners meet only when it stands."""
    names = [section.name for section in flat.sections]
    outlines = [region(facet.outline) for facet in flat.order.facets]
    for join in flat.piece.joins:
        if join.section in names and join.host in names:
            tab, host = names.index(join.section), names.index(join.host)
            if overlap(outlines[tab], outlines[host]):
                parts = tuple(parts[host] if part.body == parts[tab].body else part for part in parts)
    return parts


class _Ground(NamedTuple):
    """A section of the open base, and what moves with it."""

    shape: Region
    ride: Ride


def _grounds(flat: FlatFold, of_sections: Sequence[Ride]) -> list[_Ground]:
    return [
        _Ground(region(section.outline), ride)
        for section, ride in zip(flat.sections, of_sections, strict=True)
    ]


def _rides_of(
    card: SizedCard, flat: FlatFold, known: Rides, grounds: Sequence[_Ground], placed: Placed
) -> tuple[Ride, ...]:
    piece = placed.piece
    own = Ride(Body(piece.name, placed.copy, ()), piece.name)
    parts = _own_swinging(card, piece, placed.copy)
    if piece.loose or piece.around or not piece.placements:
        return parts or (own,)
    if piece.joins:
        return _joined(known, placed, parts or (own,))
    placement = piece.placements[placed.copy]
    host = _host_ride(card, flat, known, grounds, placed) or own
    if len({part.body for part in parts}) < 2:
        return tuple(host for _ in parts) or (host,)
    if placement.host_piece == flat.piece.name:
        each = _each_on_its_own(grounds, placed, parts)
        if each:
            return each
    anchor = parts[held_part(piece)].body
    return tuple(host if part.body == anchor else part for part in parts)


def _joined(known: Rides, placed: Placed, parts: Sequence[Ride]) -> tuple[Ride, ...]:
    """Give the parts of a sheet that is glued by some of its sections; the others swing."""
    held: dict[Body, Ride] = {}
    for own, host in _joints_of_glue(known, placed, parts):
        held.setdefault(own.body, host)
    return tuple(held.get(part.body, part) for part in parts)


def _joints_of_glue(known: Rides, placed: Placed, parts: Sequence[Ride]) -> Iterator[tuple[Ride, Ride]]:
    """Give, for each line that joins a section, what the section and what its host rides with."""
    names = [section.name for section in placed.piece.sections]
    for join in placed.piece.joins:
        placement = placed.piece.placements[placed.copy]
        copy = placement.host_copy if join.host_piece == placement.host_piece else placed.copy
        host = known.get((join.host_piece, copy)) or known.get((join.host_piece, 0))
        if host is not None:
            own = parts[names.index(join.section)] if len(parts) > 1 else parts[0]
            yield own, next((ride for ride in host if join.host in ride.body.sections), host[0])


def _with_held_sheets(known: Mapping[tuple[str, int], tuple[Ride, ...]], placed: Sequence[Placed]) -> Rides:
    """Let what is loose but for another sheet's glue ride with that sheet, and all that is on it too."""
    loose = {each.piece.name for each in placed if each.piece.loose}
    held: dict[Body, Ride] = {}

    def of(ride: Ride) -> Ride:
        while ride.body in held:
            ride = held[ride.body]
        return ride

    for each in placed:
        for one, two in _joints_of_glue(known, each, known[each.piece.name, each.copy]):
            own, host = of(one), of(two)
            if own.body != host.body and host.body.piece in loose:
                held[host.body] = own
    return {copy: tuple(of(ride) for ride in rides_of) for copy, rides_of in known.items()}


def held_part(piece: SizedPiece) -> int:
    """Give the section by which a scored piece is held: `back`, else the largest, the first of
    equals."""
    names = [section.name for section in piece.sections]
    if "back" in names:
        return names.index("back")
    areas = [section.width * section.height for section in piece.sections]
    return areas.index(max(areas))


def _own_swinging(card: SizedCard, piece: SizedPiece, copy: int) -> tuple[Ride, ...]:
    if len(piece.sections) < 2:
        return ()
    every = joints(piece.sections, piece.scores)
    return _own_parts(piece, copy, piece.sections, every, live_scores(card, piece))


def _host_ride(
    card: SizedCard, flat: FlatFold, known: Rides, grounds: Sequence[_Ground], placed: Placed
) -> Ride | None:
    """Give what the host moves with; None for a piece that lies across several bodies of a base."""
    placement = placed.piece.placements[placed.copy]
    if is_on_whole_base(flat, placement):
        found = list(_beneath(grounds, placed.frame))
        only_on = placed.piece.glue.only_on if placed.piece.glue else None
        chosen = [ride for ride in found if ride.carrier == only_on]
        if len({ride.body for ride in found}) == 1 or chosen:
            return (chosen or found)[0]
        return None
    host = known.get((placement.host_piece, placement.host_copy))
    if host is None or len(host) == 1:
        return host[0] if host else None
    piece = card.piece(placement.host_piece)
    sections = flat.sections if piece.kind == "base" else piece.sections
    names = [section.name for section in sections]
    return host[names.index(placement.host) if placement.host in names else held_part(piece)]


def _each_on_its_own(grounds: Sequence[_Ground], placed: Placed, parts: Sequence[Ride]) -> tuple[Ride, ...]:
    """Give every part the one body that it lies on; () where two share one or one lies on two.

    Then the scores of both lie in one line, because the parts meet where the bodies meet.
    """
    found: list[Ride] = []
    for outline in part_outlines(placed.piece):
        rides_beneath = {ride.body: ride for ride in _beneath(grounds, moved(placed.way, outline))}
        if len(rides_beneath) != 1:
            return ()
        found += rides_beneath.values()
    pairs = {(part.body, ride.body) for part, ride in zip(parts, found, strict=True)}
    if len(pairs) > len({part for part, _ in pairs}) or len(pairs) > len({ride for _, ride in pairs}):
        return ()
    return tuple(found)


def _beneath(grounds: Sequence[_Ground], outline: Sequence[Point]) -> Iterator[Ride]:
    shape = region(outline)
    return (ground.ride for ground in grounds if overlap(ground.shape, shape))
