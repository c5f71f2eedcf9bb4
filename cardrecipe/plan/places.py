"""Where a piece goes, in words: on which face of what, and how far from which edge."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.lengths import round_near, with_unit
from cardrecipe.plan.words import lengths, listed, number, spoken, the
from cardrecipe.solve.sized import Edges, Placement, SizedCard, SizedPiece


class Spot(NamedTuple):
    """Copies of a piece that go to like places: `on` their hosts, seen with the same `border`."""

    on: tuple[str, ...]  # "the left door", one for each copy
    face: str  # "inside" | "outside" of a base's section; "" on another piece
    border: Edges
    band: SizedPiece | None  # the band, where they lie on one


class Line(NamedTuple):
    """Copies in a "row" or a "column": where each begins along it, and how far off it lies."""

    word: str
    across: Fraction
    along: tuple[Fraction, ...]


def where(card: SizedCard, piece: SizedPiece) -> str:
    """Where the piece goes: `on the inside of the back, in the middle`."""
    found = spots(card, piece)
    turned = f", turned {degrees(piece.turned)} clockwise" if piece.turned else ""
    line = line_of(card, found)
    if line is not None:
        return _in_line(card, piece, found, line) + turned
    several = len(found) > 1
    return "; ".join(_where_spot(card, piece, spot, several) for spot in found) + turned


def hosts(card: SizedCard, piece: SizedPiece) -> str:
    """What the piece is put on, for a title: `the left door and the right door`."""
    return listed(dict.fromkeys(on for spot in spots(card, piece) for on in spot.on))


def spots(card: SizedCard, piece: SizedPiece) -> tuple[Spot, ...]:
    """The piece's copies, those with equal borders on the same kind of face together."""
    found: dict[tuple[str, Edges, str], list[str]] = {}
    for placement in piece.placements:
        host = card.piece(placement.host_piece)
        face = "" if mat_of(card, piece) else _face(host, placement)
        key = face, _seen_border(card, piece, placement), host.name
        found.setdefault(key, []).append(_host_words(card, piece, placement))
    return tuple(
        Spot(tuple(on), face, border, _band(card, host))
        for (face, border, host), on in found.items()
    )


def line_of(card: SizedCard, found: tuple[Spot, ...]) -> Line | None:
    """The row or column that all the copies stand in on a single host; None if they do not."""
    if len(found) < 2 or len({spot.on for spot in found}) > 1 or len(found[0].on) > 1:
        return None
    lefts = [_from_card_edge(card, spot)[0] for spot in found]
    tops = [_from_card_edge(card, spot)[1] for spot in found]
    for word, across, along in (("row", tops, lefts), ("column", lefts, tops)):
        if len(set(across)) == 1 and min(along) >= 0:
            return Line(word, across[0], tuple(along))
    return None


def mat_of(card: SizedCard, piece: SizedPiece) -> SizedPiece | None:
    """The mat that lies right beneath `piece`, if there is one."""
    return next((one for one in card.pieces if one.under == piece.name), None)


def degrees(turned: Fraction) -> str:
    """An angle for a reader: `30°`."""
    return f"{turned.numerator}°" if turned.denominator == 1 else f"{float(turned):g}°"


def _seen_border(card: SizedCard, piece: SizedPiece, placement: Placement) -> Edges:
    """What shows of the thing the maker lays the piece on: its mat where it has one, else its host."""
    mat = mat_of(card, piece)
    for under in mat.placements if mat else ():
        if _spot_of(under) == _spot_of(placement):
            return Edges(*(a - b for a, b in zip(placement.border, under.border, strict=True)))
    same_host = [one for one in piece.placements if _spot_of(one) == _spot_of(placement)]
    return placement.border if len(same_host) == 1 else _own_border(card, piece, placement)


def _own_border(card: SizedCard, piece: SizedPiece, placement: Placement) -> Edges:
    """What shows around one copy of a repeated piece; its border may tell of the whole row."""
    width, height = _host_size(card, placement)
    left, top = placement.x, placement.y
    return Edges(left, width - left - piece.width, top, height - top - piece.height)


def _host_size(card: SizedCard, placement: Placement) -> tuple[Fraction, Fraction]:
    host = card.piece(placement.host_piece)
    for section in host.sections if placement.is_section else ():
        if section.name == placement.host:
            return section.width, section.height
    return host.width, host.height


def _spot_of(placement: Placement) -> tuple[str, int, str]:
    return placement.host, placement.host_copy, placement.side


def _face(host: SizedPiece, placement: Placement) -> str:
    return placement.side if placement.is_section and host.kind == "base" else ""


def _band(card: SizedCard, name: str) -> SizedPiece | None:
    host = card.piece(name)
    return host if host.around else None


def _host_words(card: SizedCard, piece: SizedPiece, placement: Placement) -> str:
    mat = mat_of(card, piece)
    if mat is not None:
        return the(mat.name)
    host = card.piece(placement.host_piece)
    if placement.is_section:
        part = the(placement.host)
        return part if host.kind == "base" else f"{part} of {the(host.name)}"
    if host.count > 1:
        each = len({one.host_copy for one in piece.placements}) == host.count
        return f"{'each' if each else 'one'} {spoken(host.name)}"
    return the(placement.host)


def _where_spot(card: SizedCard, piece: SizedPiece, spot: Spot, several: bool) -> str:
    distinct = tuple(dict.fromkeys(spot.on))
    if len(distinct) > 1:
        face = f", on the {spot.face}" if spot.face else ""
        target = listed(f"one on {host}" for host in distinct) + face
    else:
        one = "one " if several or distinct[0].startswith("each ") else ""
        target = f"{one}{_target(spot)}"
    return f"{target}, {_position(card, piece, spot, len(distinct) > 1)}"


def _target(spot: Spot) -> str:
    face = f"the {spot.face} of " if spot.face else ""
    return f"on {face}{spot.on[0]}"


def _position(card: SizedCard, piece: SizedPiece, spot: Spot, several: bool) -> str:
    across, down = _distances(card, piece, spot)
    if across or down:
        middle = "its middle " if _is_slanted(piece) else ""
        return middle + listed((across or "centred left to right", down or "centred top to bottom"))
    if spot.band:
        return "in the middle of the front"
    return "in the middle of each" if several else "in the middle"


def _distances(card: SizedCard, piece: SizedPiece, spot: Spot) -> tuple[str, str]:
    """How far from the left and from the top, each "" where the piece is in the middle."""
    border, (left, top) = spot.border, _from_card_edge(card, spot)
    aside, below = _to_middle(piece)
    return (
        "" if border.left == border.right else _from("left", left + aside, card.unit),
        "" if border.top == border.bottom else _from("top", top + below, card.unit),
    )


def _is_slanted(piece: SizedPiece) -> bool:
    return piece.turned % 180 != 0


def _to_middle(piece: SizedPiece) -> tuple[Fraction, Fraction]:
    """A turned piece has no edge to measure to: it is placed by its middle."""
    if _is_slanted(piece):
        return piece.width / 2, piece.height / 2
    return Fraction(0), Fraction(0)


def _from_card_edge(card: SizedCard, spot: Spot) -> tuple[Fraction, Fraction]:
    """The left and top distance a maker can measure.

    The ends of a band are hidden at the back; along it one measures from the edge of the card, to the
    nearest mark, since the band's wrap is no truer than the thickness it goes round.
    """
    left, top = spot.border.left, spot.border.top
    if spot.band is None or spot.band.around is None:
        return left, top
    front = spot.band.around.wrap / 2
    if spot.band.around.downward:
        return left, round_near(top - (spot.band.height - front) / 2, card.nearest)
    return round_near(left - (spot.band.width - front) / 2, card.nearest), top


def _from(side: str, distance: Fraction, unit: str) -> str:
    if distance < 0:
        return f"reaching {with_unit(-distance, unit)} beyond the {side} edge"
    if distance == 0:
        return f"flush with the {side} edge"
    return f"{with_unit(distance, unit)} from the {side}"


def _in_line(card: SizedCard, piece: SizedPiece, found: tuple[Spot, ...], line: Line) -> str:
    """`on the front, all three in a row, their left edges 1⁄4, 2 and 3 in from the left, …`"""
    near, far = ("left", "top") if line.word == "row" else ("top", "left")
    along, across = _to_middle(piece) if line.word == "row" else _to_middle(piece)[::-1]
    what = "middles" if _is_slanted(piece) else f"{near} edges"
    marks = lengths([start + along for start in line.along], card.unit)
    off = _from(far, line.across + across, card.unit)
    every = "both" if len(found) == 2 else f"all {number(len(found))}"
    told = f"{_target(found[0])}, {every} in a {line.word}"
    return f"{told}, their {what} {marks} from the {near}, {off}"
