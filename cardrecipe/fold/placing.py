"""Says where every piece of a card lies: on which face of the flat base, or on the closed card's
band.

A recipe counts left and top as one looks at a face; here that becomes one exact motion from a
piece's own corner to the flat base, which every view and the card in space carry further.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.area import overlap, region
from cardrecipe.fold.closed import FlatFold
from cardrecipe.fold.folded import Outline
from cardrecipe.fold.geometry import Motion, bounding_box
from cardrecipe.fold.motions import inverse, mirrored, moved, turned
from cardrecipe.model.lengths import to_mm
from cardrecipe.solve.sized import Around, Placement, SizedCard, SizedPiece, SizedSection

# Where a recipe says foam and not how thick. From memory: 1, 2 and 3 mm are usual.
FOAM_MM = Fraction(2)


class Placed(NamedTuple):
    """One copy of a piece where it lies. `way` leads from its own left top corner, as one looks at
    its face, to the flat base; for a band and what is on it (`section` None) to the closed card as
    seen from the front."""

    piece: SizedPiece
    copy: int
    section: int | None
    side: str  # the side of the section it lies on; "outside" for a band
    way: Motion
    frame: Outline  # its corners, moved: left top, right top, right bottom, left bottom
    foam_mm: Fraction  # beneath this piece
    lift_mm: Fraction  # foam beneath it, summed down to the section


def face_motion(flat: FlatFold, section: int, side: str) -> Motion:
    """Give the motion from the flat base to a face as one looks at it, its left top at (0, 0).

    An inside face is looked at as the flat piece lies on the table, inside up. An outside face is
    looked at as it is seen on the closed card: from the front where the section is turned over,
    else from behind, with left and right swapped as when the card is turned like a page. So on a
    card with upright scores every outside is the inside mirrored left to right; on a tent the
    front's outside is mirrored top to bottom, and its top edge is the fold.
    """
    outline = flat.sections[section].outline
    if side == "inside":
        way = Motion.shift(0, 0)
    elif flat.is_flipped(section):
        way = flat.motions[section]
    else:
        way = mirrored(flat.width).after(flat.motions[section])
    box = bounding_box(moved(way, outline))
    return Motion.shift(-box.left, -box.top).after(way)


def foam_under(piece: SizedPiece, unit: str) -> Fraction:
    """Give the thickness in mm of the foam that a piece is fixed with, 0 for other adhesives."""
    if piece.glue is None:
        return Fraction(0)
    if piece.glue.thick is not None:
        return to_mm(piece.glue.thick, unit)
    return FOAM_MM if piece.glue.adhesive == "foam" else Fraction(0)


def placed_pieces(card: SizedCard, flat: FlatFold) -> tuple[Placed, ...]:
    """Give every copy that lies on a base, what lies beneath first; pieces that are loose or on
    another base are left out. Bands, with what is on them, come last.

    What is glued on later lies over what was there before, on whichever section: a piece that reaches
    over to the next section covers the panel there. A piece on the base as a whole counts with the
    section that it lies on.
    """
    hosted = _by_host(card)
    whole = _on_whole_base(flat, hosted)
    on_faces = _in_written_order(card, flat, hosted, [
        placed
        for index, section in enumerate(flat.sections)
        for side in ("inside", "outside")
        for placed in _on_face(card, flat, hosted, (index, section.name, side), whole.get((index, side), []))
    ])  # fmt: skip
    bands = (piece for piece in card.pieces if _goes_round(piece, flat))
    on_bands = [placed for band in bands for placed in _band(card, flat, hosted, band)]
    return (*on_faces, *on_bands)


def _in_written_order(
    card: SizedCard, flat: FlatFold, hosted: _Hosted, faces: Sequence[Placed]
) -> list[Placed]:
    """Sort the pieces that lie on sections by their place in the recipe, each with what lies on it."""
    rank = {piece.name: at for at, piece in enumerate(_beneath_first(card.pieces))}
    on_base = {(spot.piece.name, spot.copy) for spot in hosted.get((flat.piece.name, 0), [])}
    ranked: list[tuple[int, Placed]] = []
    current = 0
    for placed in faces:
        if (placed.piece.name, placed.copy) in on_base:
            current = rank[placed.piece.name]
        ranked.append((current, placed))
    return [placed for _, placed in sorted(ranked, key=lambda each: each[0])]


class _Spot(NamedTuple):
    """One placement of one piece."""

    piece: SizedPiece
    copy: int
    placement: Placement


class _Host(NamedTuple):
    """What a spot is measured on: its motion, and what is carried along from the face.

    `drawn` is the motion of what takes the host's outline: it lies as the host does, which on a folded
    section's outside need not be upright.
    """

    way: Motion
    section: int | None
    side: str
    lift_mm: Fraction
    drawn: Motion | None = None


_Hosted = Mapping[tuple[str, int], list[_Spot]]


def _by_host(card: SizedCard) -> _Hosted:
    """Give, for each copy of a hosting piece, what lies on it; what lies under another comes
    first."""
    hosted: dict[tuple[str, int], list[_Spot]] = {}
    for piece in _beneath_first(card.pieces):
        for copy, placement in enumerate(piece.placements):
            key = (placement.host_piece, placement.host_copy)
            hosted.setdefault(key, []).append(_Spot(piece, copy, placement))
    return hosted


def _beneath_first(pieces: tuple[SizedPiece, ...]) -> list[SizedPiece]:
    """Put every `under` piece right before its partner; written order otherwise."""
    names = {piece.name for piece in pieces}
    under: dict[str | None, list[SizedPiece]] = {}
    for piece in pieces:
        under.setdefault(piece.under, []).append(piece)
    return [each for piece in pieces if piece.under not in names for each in _with_those_under(piece, under)]


def _with_those_under(piece: SizedPiece, under: Mapping[str | None, list[SizedPiece]]) -> list[SizedPiece]:
    """Give what lies under a piece, what lies under that before it, and the piece last."""
    found, waiting = list[SizedPiece](), [piece]
    while waiting:
        found.append(waiting.pop())
        waiting += under.get(found[-1].name, ())
    return found[::-1]


def _on_whole_base(flat: FlatFold, hosted: _Hosted) -> Mapping[tuple[int, str], list[_Spot]]:
    """Give the pieces on the base as a whole by the section that each moves with, and their side of it."""
    found: dict[tuple[int, str], list[_Spot]] = {}
    if all(section.name != flat.piece.name for section in flat.sections):
        for spot in hosted.get((flat.piece.name, 0), []):
            if spot.placement.host == flat.piece.name:
                found.setdefault((_beneath(flat, spot), spot.placement.side), []).append(spot)
    return found


def _beneath(flat: FlatFold, spot: _Spot) -> int:
    """Give the section that a piece on the base as a whole moves with.

    Of several it is the one that its glue is only on, else the one that stays on the table.
    """
    piece = spot.piece
    if len(piece.sections) > 1:
        return flat.root  # its parts are facets themselves
    way = _way(_whole_face(flat, spot.placement.side), piece, flat.piece, spot.placement)
    own = region(_frame(way, piece.width, piece.height))
    found = [at for at, each in enumerate(flat.sections) if overlap(own, region(each.outline))]
    only = piece.glue.only_on if piece.glue else None
    glued = [at for at in found if flat.sections[at].name == only]
    if glued or len(found) == 1:
        return (glued or found)[0]
    return flat.root if flat.root in found or not found else found[0]


def _whole_face(flat: FlatFold, side: str) -> Motion:
    """Give the motion from a side of the whole base, as one looks at it, to the flat base."""
    return Motion.shift(0, 0) if side == "inside" else mirrored(flat.piece.width)


def _on_face(
    card: SizedCard, flat: FlatFold, hosted: _Hosted, face: tuple[int, str, str], on_whole: list[_Spot]
) -> Iterator[Placed]:
    section, name, side = face
    on_base = hosted.get((flat.piece.name, 0), [])
    spots = [spot for spot in on_base if (spot.placement.host, spot.placement.side) == (name, side)]
    if spots:
        way = inverse(face_motion(flat, section, side))
        drawn = _turned_over(flat.sections[section]) if side == "outside" else None
        host = _Host(way, section, side, Fraction(0), drawn)
        yield from _laid(card, hosted, host, spots, flat.piece)
    if on_whole:
        host = _Host(_whole_face(flat, side), section, side, Fraction(0))
        yield from _laid(card, hosted, host, on_whole, flat.piece)


def _laid(
    card: SizedCard, hosted: _Hosted, host: _Host, spots: list[_Spot], host_piece: SizedPiece
) -> Iterator[Placed]:
    """Give pieces on one host, each followed by what lies on it, however high that stands."""
    levels = [_side_by_side(card, host, spots, host_piece)]
    while levels:
        found = next(levels[-1], None)
        if found is None:
            levels.pop()
            continue
        placed, inner = found
        yield placed
        on_it = hosted.get((placed.piece.name, placed.copy), [])
        levels.append(_side_by_side(card, inner, on_it, placed.piece))


def _side_by_side(
    card: SizedCard, host: _Host, spots: list[_Spot], host_piece: SizedPiece
) -> Iterator[tuple[Placed, _Host]]:
    """Give pieces on one host, each with itself as the host of what lies on it."""
    padding: dict[str, Fraction] = {}
    for piece, copy, placement in spots:
        foam = foam_under(piece, card.unit)
        lift = host.lift_mm + padding.get(piece.name, Fraction(0)) + foam
        if piece.under is not None:
            padding[piece.under] = lift - host.lift_mm
        drawn = host.drawn if piece.outline is not None else None
        way = _way(drawn or host.way, piece, host_piece, placement)
        frame = _frame(way, piece.width, piece.height)
        inner = _Host(way, host.section, host.side, lift)
        if drawn is not None and piece.outline is not None:
            inner = inner._replace(way=_upright(host.way, way, piece.outline), drawn=way)
        yield Placed(piece, copy, host.section, host.side, way, frame, foam, lift), inner


def _way(host: Motion, piece: SizedPiece, host_piece: SizedPiece, placement: Placement) -> Motion:
    """Give the motion from a piece's own corner, of that of the piece beneath it."""
    way = host.after(Motion.shift(*_offset(host_piece, placement)))
    if piece.turned % 360:
        way = way.after(turned(piece.turned, (piece.width / 2, piece.height / 2)))
    return way


def _turned_over(section: SizedSection) -> Motion:
    """Give the motion from a section's outside to the flat base, as one turns it like a page."""
    return Motion.shift(section.x, section.y).after(mirrored(section.width))


def _upright(face: Motion, way: Motion, outline: Outline) -> Motion:
    """Give the motion from the left top of a piece that lies on a face, as one looks at the face."""
    box = bounding_box(moved(inverse(face).after(way), outline))
    return face.after(Motion.shift(box.left, box.top))


def _offset(host_piece: SizedPiece, placement: Placement) -> tuple[Fraction, Fraction]:
    """Give a placement's left top on its hosting piece; a glued panel's own sections lie flat."""
    if placement.is_section and host_piece.kind != "base":
        for section in host_piece.sections:
            if section.name == placement.host:
                return placement.x + section.x, placement.y + section.y
    return placement.x, placement.y


def _goes_round(piece: SizedPiece, flat: FlatFold) -> bool:
    return piece.around is not None and piece.around.base == flat.piece.name


def strip_outline(flat: FlatFold, around: Around, wide: Fraction) -> Outline:
    """Give what a band `wide` covers of the closed card's front."""
    if around.downward:
        return _frame(Motion.shift(around.at, 0), wide, flat.height)
    return _frame(Motion.shift(0, around.at), flat.width, wide)


def _band(card: SizedCard, flat: FlatFold, hosted: _Hosted, band: SizedPiece) -> Iterator[Placed]:
    """Give a band's part on the front, and what is on it: its middle is the middle of the front.

    Its longer side goes round. What is on a band is measured on the whole strip laid out flat, from
    the end that lies beyond the left (or the top) of the front.
    """
    assert band.around is not None
    long, wide = max(band.width, band.height), min(band.width, band.height)
    frame = strip_outline(flat, band.around, wide)
    if band.around.downward:
        way = Motion.shift(band.around.at, (flat.height - long) / 2)
    else:
        way = Motion.shift((flat.width - long) / 2, band.around.at)
    yield Placed(band, 0, None, "outside", way, frame, Fraction(0), Fraction(0))
    host = _Host(way, None, "outside", Fraction(0))
    yield from _laid(card, hosted, host, hosted.get((band.name, 0), []), band)


def _frame(way: Motion, width: Fraction, height: Fraction) -> Outline:
    nil = Fraction(0)
    return moved(way, ((nil, nil), (width, nil), (width, height), (nil, height)))
