"""Where glue is safe: for each glued copy the part of it that lies on what it moves with.

The pose is the one in which it is glued: on a face that the closed card shows, and on a band, the
closed card; on any other face the open sheet.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from cardrecipe.fold.area import region
from cardrecipe.fold.bodies import Ride, Rides, is_on_whole_base, part_outlines, rides
from cardrecipe.fold.clip import common, grown, joined_rings, without
from cardrecipe.fold.closed import FlatFold, in_reach
from cardrecipe.fold.contact import (
    Beneath,
    Copy,
    Pile,
    Touched,
    in_piece,
    in_pile,
    lies_within,
    pile_of,
    touched,
)
from cardrecipe.fold.folded import GLUE_MARGIN, WIDE_ENOUGH, ClosedBase, GlueZone, Outline
from cardrecipe.fold.geometry import STAY, Ring, bounding_box, signed_area
from cardrecipe.fold.motions import moved
from cardrecipe.fold.outlines import own_outline, widest_outline
from cardrecipe.fold.placing import Placed
from cardrecipe.fold.sheets import is_sheet
from cardrecipe.fold.stack import Layer
from cardrecipe.solve.sized import Placement, SizedCard, SizedPiece
from cardrecipe.syntax.record import Record


class Part(NamedTuple):
    """A part of a copy in its own coordinates and what it rides with; `swings` on the copy's own score."""

    sure: Outline  # it takes glue here for certain
    widest: Outline  # and reaches no further than this
    ride: Ride
    swings: bool


class Gluing(Record):
    """A glued copy and what is known of where it lies: the reasons for a refusal need that too.

    Its zone is worked out when it is asked for: a check without a mistake needs none.
    """

    card: SizedCard
    placed: Placed
    pile: Pile  # in the pose in which it is glued
    opened: Pile  # on the open sheet; the same pile for what is on a band
    parts: tuple[Part, ...]
    unknown: GlueZone  # the zone as far as it is known without measuring

    @cached_property
    def zone(self) -> GlueZone:
        return _zone(self) if self.has_body else self.unknown

    @property
    def host_body(self) -> str:
        return self.unknown.host_body

    @cached_property
    def has_ground(self) -> bool:
        """Tell whether there is a safe area: it lies on what it rides with, if only in part."""
        return _is_on_own_in_a_sample(self) or bool(self.zone.rings)

    @property
    def piece(self) -> SizedPiece:
        return self.placed.piece

    @property
    def copy(self) -> Copy:
        return self.placed.piece.name, self.placed.copy

    @property
    def placement(self) -> Placement:
        return self.placed.piece.placements[self.placed.copy]

    @property
    def has_body(self) -> bool:
        """Tell whether there is something that it rides with; not so across several bodies."""
        return any(not part.swings for part in self.parts)


def gluings(
    card: SizedCard,
    flat: FlatFold,
    base: ClosedBase,
    placed: Sequence[Placed],
    piles: tuple[Sequence[Layer], Sequence[Layer]],
) -> tuple[Gluing, ...]:
    """Give every copy that is glued on a base or on its band, with its zone, beneath ones first.

    `piles` are the closed one and the open one.
    """
    glued = [each for each in placed if each.piece.placements and not each.piece.loose]
    if not glued:
        return ()
    every = rides(card, flat, placed)
    seen = {row[1:3] for row in in_reach(card, base) if row[0].startswith("closed")}
    pile = _piles(card, flat, every, *piles)
    flat_copies = _laid_flat(flat, placed)
    found: list[Gluing] = []
    for each in glued:
        spread = pile("open", each.side == "inside") if each.section is not None else pile("closed", True)
        own = spread
        if each.section is not None and (each.piece.name, each.copy) not in flat_copies:
            is_up = (each.side == "inside") != flat.is_flipped(each.section)
            if (flat.sections[each.section].name, each.side) in seen:
                own = pile("closed", is_up)
        found.append(_gluing(card, every[each.piece.name, each.copy], each, own, spread))
    return tuple(found)


def meets(
    gluing: Gluing, pile: Pile, part: Part, area: Sequence[Ring] | None = None, *, is_cautious: bool
) -> Beneath:
    """Say what lies beneath a part, or beneath an area of it on the pile's scale.

    What `only on` leaves out counts as nothing. Cautious, which takes the part as far as it may reach,
    or for certain: as `contact.touched` says.
    """
    if area is None:
        area = region(in_pile(pile, gluing.copy, part.widest if is_cautious else part.sure)).pieces
    found = touched(pile, gluing.copy, area, part.ride.body, is_cautious=is_cautious)
    left_out = [each for each in found.own if not _is_asked_for(gluing, part.ride, each)]
    if not left_out:
        return found
    parts = [each.part for each in left_out]
    asked = [each for each in found.own if each not in left_out]
    return Beneath(asked, found.others, [*found.nothing, *parts], [*found.not_own, *parts])


def _asks_for_all(gluing: Gluing) -> bool:
    """Tell whether no `only on` narrows down where the glue may be."""
    name = gluing.piece.glue.only_on if gluing.piece.glue else None
    if _is_piece_on_a_body(gluing, name, gluing.host_body):
        return False
    return name in (None, gluing.placement.host)


def _is_asked_for(gluing: Gluing, ride: Ride, touch: Touched) -> bool:
    """Tell whether `only on`, where it names one thing of a body, names the one that is touched."""
    glue, placement = gluing.piece.glue, gluing.placement
    name = glue.only_on if glue else None
    if _is_piece_on_a_body(gluing, name, ride.carrier):
        return any(_is_on(gluing.card, each, placement.host_piece) for each in touch.surface.names)
    if name is None or name in (placement.host, placement.host_piece, ride.carrier):
        return True
    return name in touch.surface.names


def _is_piece_on_a_body(gluing: Gluing, name: str | None, carrier: str) -> bool:
    """Tell whether `only on` names the host, and that is but a piece glued on a larger body."""
    placement = gluing.placement
    return name is not None and name == placement.host_piece != carrier and not placement.is_section


def _is_on(card: SizedCard, name: str, host: str) -> bool:
    """Tell whether a name is that of a piece, or of one that is put on it at whatever remove."""
    while name != host:
        piece = next((each for each in card.pieces if each.name == name), None)
        if piece is None or not piece.placements:
            return False
        name = piece.placements[0].host_piece
    return True


def _gluing(card: SizedCard, of_copy: Sequence[Ride], placed: Placed, pile: Pile, opened: Pile) -> Gluing:
    piece = placed.piece
    parts = _parts(piece, placed.copy, of_copy)
    held = next((part.ride for part in parts if not part.swings), of_copy[0])
    unknown = GlueZone(piece.name, placed.copy, held.carrier, ())
    return Gluing(card, placed, pile, opened, parts, unknown)


# Places at which to look beneath a piece, in parts of its frame; well inside, away from any margin.
_SAMPLES = tuple((Fraction(x, 4), Fraction(y, 4)) for y in (2, 1, 3) for x in (2, 1, 3))
# So many margins round such a place are enough for some of it to take glue, whatever lies further away.
_ROUND_SAMPLE = 3


def _is_on_own_in_a_sample(gluing: Gluing) -> bool:
    """Tell quickly that there is a safe area: around some place of a whole piece nothing but its body lies
    right beneath it. False is no answer."""
    if len(gluing.parts) > 1 or gluing.parts[0].swings or not _asks_for_all(gluing):
        return False
    piece, margin = gluing.piece, GLUE_MARGIN[gluing.card.unit]
    if piece.outline is not None:
        return False  # its frame is more than it
    if min(piece.width, piece.height) < WIDE_ENOUGH * margin:
        return False  # so little of it may be a speck
    pile, reach = gluing.pile, margin * _ROUND_SAMPLE
    frame = pile.layers[pile.places[gluing.copy]].outline
    (x, y), (right, right_y), _, (low_x, low) = frame
    whole = bounding_box(frame)
    for across, down in _SAMPLES:
        at_x = x + (right - x) * across + (low_x - x) * down
        at_y = y + (right_y - y) * across + (low - y) * down
        left, end = max(whole.left, at_x - reach), min(whole.right, at_x + reach)
        top, bottom = max(whole.top, at_y - reach), min(whole.bottom, at_y + reach)
        corners = ((left, top), (end, top), (end, bottom), (left, bottom))
        square = [(each_x * pile.scale, each_y * pile.scale) for each_x, each_y in corners]
        if lies_within(pile, gluing.copy, [square], gluing.parts[0].ride.body):
            return True
    return False


def _parts(piece: SizedPiece, copy: int, of_copy: Sequence[Ride]) -> tuple[Part, ...]:
    def swings(ride: Ride) -> bool:
        return (ride.body.piece, ride.body.copy) == (piece.name, copy)

    if len({ride.body for ride in of_copy}) < 2:
        return (Part(own_outline(piece), widest_outline(piece), of_copy[0], swings(of_copy[0])),)
    outlines = part_outlines(piece)
    return tuple(Part(each, each, ride, swings(ride)) for each, ride in zip(outlines, of_copy, strict=True))


def _zone(gluing: Gluing) -> GlueZone:
    """Give the safe area: what lies on the body, less a margin where the piece goes on beyond it."""
    pile, margin = gluing.pile, GLUE_MARGIN[gluing.card.unit] * gluing.pile.scale
    is_whole = all(not part.swings for part in gluing.parts)
    safe: list[Ring] = []
    beside: list[Touched] = []
    for part in gluing.parts:
        if part.swings:
            continue
        area = region(in_pile(pile, gluing.copy, part.widest)).pieces
        if _asks_for_all(gluing) and lies_within(pile, gluing.copy, area, part.ride.body):
            safe += region(in_pile(pile, gluing.copy, part.sure)).pieces
            continue
        mine, others, nothing, not_own = meets(gluing, pile, part, area, is_cautious=True)
        is_whole = is_whole and not others and not nothing
        beside += others
        held = without([each.part for each in mine], [grown(each, margin, area) for each in not_own])
        if part.sure != part.widest:
            (sure,) = region(in_pile(pile, gluing.copy, part.sure)).pieces
            held = [each for each in (common(sure, cover, area) for cover in held) if each]
        safe += held
    if is_whole:
        return gluing.unknown._replace(rings=(own_outline(gluing.piece),), is_whole=True)
    least = GLUE_MARGIN[gluing.card.unit] ** 2  # of a hairline or a speck nobody can make use
    rings = joined_rings([in_piece(pile, gluing.copy, ring) for ring in safe])
    outlines = tuple(
        tuple((Fraction(x), Fraction(y)) for x, y in ring) for ring in rings if signed_area(ring) > least
    )
    return gluing.unknown._replace(rings=outlines, others=pile.named(beside))


def _laid_flat(flat: FlatFold, placed: Sequence[Placed]) -> set[Copy]:
    """Give the copies that are glued with the sheets laid flat: sheets themselves, what is on one, what is
    put across the scores of the base, and what such a copy carries. What carries comes before what it
    carries in `placed`."""
    found: set[Copy] = set()
    for piece, copy in ((each.piece, each.copy) for each in placed if each.piece.placements):
        placement = piece.placements[copy]
        is_carried = (placement.host_piece, placement.host_copy) in found
        if is_carried or is_sheet(piece) or is_on_whole_base(flat, placement):
            found.add((piece.name, copy))
    return found


def _piles(
    card: SizedCard, flat: FlatFold, every: Rides, closed: Sequence[Layer], opened: Sequence[Layer]
) -> Callable[[str, bool], Pile]:
    """Give piles by pose and by whether one looks at them from above, each prepared when it is asked
    for. What is on a band is put on last, so it is beneath nothing that lies on the base."""
    made: dict[tuple[str, bool], Pile] = {}

    def pile(pose: str, is_up: bool) -> Pile:
        if (pose, is_up) not in made:
            layers = [each for each in (closed if pose == "closed" else opened)
                      if not each.on_band or (is_up and each.is_face_up)]  # fmt: skip
            openings = _openings(flat, pose)
            made[pose, is_up] = pile_of(card, layers if is_up else layers[::-1], every, openings)
        return made[pose, is_up]

    return pile


def _openings(flat: FlatFold, pose: str) -> dict[str, tuple[Outline, ...]]:
    """Give the windows of a base where each section has them, those of all sections for each."""
    if not flat.piece.windows:
        return {}
    return {
        section.name: tuple(
            moved(motion if pose == "closed" else STAY, window) for window in flat.piece.windows
        )
        for section, motion in zip(flat.sections, flat.motions, strict=True)
    }
