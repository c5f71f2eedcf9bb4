"""Where glue is safe: for each glued copy the part of it that lies on what it moves with.

The pose is the one in which it is glued: on a face that the closed card shows, and on a band, the
closed card; on any other face the open sheet.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.area import region
from cardrecipe.fold.bodies import Ride, Rides, is_on_whole_base, part_outlines, rides
from cardrecipe.fold.clip import grown, joined_rings, without
from cardrecipe.fold.closed import FlatFold
from cardrecipe.fold.contact import Copy, Pile, Touched, in_piece, in_pile, pile_of, touched
from cardrecipe.fold.folded import ClosedBase, GlueZone, Outline
from cardrecipe.fold.geometry import Ring
from cardrecipe.fold.outlines import own_outline
from cardrecipe.fold.placing import Placed
from cardrecipe.fold.stack import Layer
from cardrecipe.solve.sized import Placement, SizedCard, SizedPiece

# Left free beside what moves on its own, because glue is pressed out a little: common practice, no
# published source.
MARGIN = {"inch": Fraction(1, 16), "mm": Fraction(1)}


class Part(NamedTuple):
    """A part of a copy in its own coordinates and what it rides with; `swings` on the copy's own score."""

    outline: Outline
    ride: Ride
    swings: bool


class Gluing(NamedTuple):
    """A glued copy and what is known of where it lies: the reasons for a refusal need that too."""

    card: SizedCard
    placed: Placed
    pile: Pile  # in the pose in which it is glued
    opened: Pile  # on the open sheet; the same pile for what is on a band
    parts: tuple[Part, ...]
    zone: GlueZone

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


class Meeting(NamedTuple):
    """What lies beneath a part: what it rides with (and `only on` does not leave out), what moves
    apart from it, and the areas that lie on nothing of that."""

    mine: list[Touched]
    others: list[Touched]
    beside: list[Ring]


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
    seen = {row[1:3] for row in base.visible if row[0].startswith("closed")}
    pile = _piles(card, every, *piles)
    found: list[Gluing] = []
    for each in glued:
        spread = pile("open", each.side == "inside") if each.section is not None else pile("closed", True)
        own = spread
        if each.section is not None and not _hangs_on_whole_base(card, flat, each):
            is_up = (each.side == "inside") != flat.is_flipped(each.section)
            if (flat.sections[each.section].name, each.side) in seen:
                own = pile("closed", is_up)
        found.append(_gluing(card, every[each.piece.name, each.copy], each, own, spread))
    return tuple(found)


def meets(
    gluing: Gluing, pile: Pile, part: Part, area: Sequence[Ring] | None = None, *, is_cautious: bool
) -> Meeting:
    """Say what lies beneath a part, or beneath an area of it on the pile's scale.

    Cautious or for certain: as `contact.touched` says.
    """
    if area is None:
        area = region(in_pile(pile, gluing.copy, part.outline)).pieces
    found, beside = touched(pile, gluing.copy, area, part.ride.body, is_cautious=is_cautious)
    mine = [each for each in found if each.surface.ride.body == part.ride.body]
    others = [each for each in found if each.surface.ride.body != part.ride.body]
    asked = [each for each in mine if _is_asked_for(gluing, part.ride, each)]
    beside += [each.part for each in mine if each not in asked]
    return Meeting(asked, others, beside)


def _is_asked_for(gluing: Gluing, ride: Ride, touch: Touched) -> bool:
    """Tell whether `only on`, where it names one thing of a body, names the one that is touched."""
    glue, placement = gluing.piece.glue, gluing.placement
    name = glue.only_on if glue else None
    if name is None or name in (placement.host, placement.host_piece, ride.carrier):
        return True
    return name in touch.surface.names


def _gluing(card: SizedCard, of_copy: Sequence[Ride], placed: Placed, pile: Pile, opened: Pile) -> Gluing:
    piece = placed.piece
    parts = _parts(piece, placed.copy, of_copy)
    held = next((part.ride for part in parts if not part.swings), of_copy[0])
    unknown = GlueZone(piece.name, placed.copy, held.carrier, ())
    gluing = Gluing(card, placed, pile, opened, parts, unknown)
    return gluing._replace(zone=_zone(gluing)) if gluing.has_body else gluing


def _parts(piece: SizedPiece, copy: int, of_copy: Sequence[Ride]) -> tuple[Part, ...]:
    def swings(ride: Ride) -> bool:
        return (ride.body.piece, ride.body.copy) == (piece.name, copy)

    if len({ride.body for ride in of_copy}) < 2:
        return (Part(own_outline(piece), of_copy[0], swings(of_copy[0])),)
    outlines = part_outlines(piece)
    return tuple(Part(each, ride, swings(ride)) for each, ride in zip(outlines, of_copy, strict=True))


def _zone(gluing: Gluing) -> GlueZone:
    """Give the safe area: what lies on the body, less a margin beside all that moves apart from it."""
    pile, margin = gluing.pile, MARGIN[gluing.card.unit] * gluing.pile.scale
    is_whole = all(not part.swings for part in gluing.parts)
    safe: list[Ring] = []
    names: dict[str, None] = {}
    for part in gluing.parts:
        if part.swings:
            continue
        mine, others, beside = meets(gluing, pile, part, is_cautious=True)
        is_whole = is_whole and not others and not beside
        names |= {each.surface.ride.carrier: None for each in others}
        safe += without([each.part for each in mine], [grown(each.part, margin) for each in others])
    if is_whole:
        return gluing.zone._replace(rings=(own_outline(gluing.piece),), is_whole=True)
    rings = joined_rings([in_piece(pile, gluing.copy, ring) for ring in safe])
    outlines = tuple(tuple((Fraction(x), Fraction(y)) for x, y in ring) for ring in rings)
    return gluing.zone._replace(rings=outlines, others=tuple(names))


def _hangs_on_whole_base(card: SizedCard, flat: FlatFold, placed: Placed) -> bool:
    """Tell whether a copy, or what carries it, is put across the scores of the base."""
    piece, copy = placed.piece, placed.copy
    while piece.placements:
        placement = piece.placements[copy]
        if is_on_whole_base(flat, placement):
            return True
        if placement.host_piece == flat.piece.name:
            return False
        piece, copy = card.piece(placement.host_piece), placement.host_copy
    return False


def _piles(
    card: SizedCard, every: Rides, closed: Sequence[Layer], opened: Sequence[Layer]
) -> Callable[[str, bool], Pile]:
    """Give piles by pose and by whether one looks at them from above, each prepared when it is asked
    for. What is on a band is put on last, so it is beneath nothing that lies on the base."""
    made: dict[tuple[str, bool], Pile] = {}

    def pile(pose: str, is_up: bool) -> Pile:
        if (pose, is_up) not in made:
            layers = [each for each in (closed if pose == "closed" else opened)
                      if not each.on_band or (is_up and each.is_face_up)]  # fmt: skip
            made[pose, is_up] = pile_of(card, layers if is_up else layers[::-1], every)
        return made[pose, is_up]

    return pile
