"""The check that a piece sits right: which border must show on which edge, as it really results."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from cardrecipe.model.lengths import with_unit
from cardrecipe.plan.places import Line, Spot, degrees, line_of, spots
from cardrecipe.plan.trims import straight_sides
from cardrecipe.plan.words import capital, listed
from cardrecipe.solve.sized import Edges, SizedCard, SizedPiece

SIDES = ("left", "right", "top", "bottom")


def what_shows(card: SizedCard, piece: SizedPiece) -> str:
    """The sentences that say what shows around the piece; "" where the step says all there is."""
    if piece.turned:
        who = "It" if piece.count == 1 else "Each"
        return f"{who} is turned {degrees(piece.turned)} clockwise, as in the picture."
    found = spots(card, piece)
    if len(found) == 1:
        return _sentences(_shows(card, piece, found[0]))
    line = line_of(card, found)
    if line is not None:
        return _gaps(card, piece, line)
    return _sentences(
        [f"on {listed(spot.on)}, {part}" for spot in found for part in _shows(card, piece, spot)]
    )


def overhanging(border: Edges) -> tuple[str, ...]:
    """The edges over which a piece reaches beyond its host."""
    return tuple(side for side in SIDES if getattr(border, side) < 0)


def _sentences(parts: Sequence[str]) -> str:
    return " ".join(f"{capital(part)}." for part in parts)


def _gaps(card: SizedCard, piece: SizedPiece, line: Line) -> str:
    size = piece.width if line.word == "row" else piece.height
    starts = sorted(line.along)
    gaps = {after - before - size for before, after in pairwise(starts)}
    if len(gaps) == 1 and min(gaps) > 0:
        (gap,) = gaps
        return f"The same {with_unit(gap, card.unit)} shows between one and the next."
    return f"The {line.word} is straight."


def _shows(card: SizedCard, piece: SizedPiece, spot: Spot) -> list[str]:
    if spot.band is not None:
        return _over_band(card, spot, spot.band)
    border, unit = spot.border, card.unit
    each = " of each" if len(spot.on) > 1 else ""
    if piece.outline is not None:
        return _round_outline(border, straight_sides(piece), unit)
    if border.all_equal and border.left > 0:
        return [f"the same {with_unit(border.left, unit)} shows on all four sides{each}"]
    if border.all_equal and border.left == 0:
        return ["all four edges lie flush"]
    return _edge_phrases(border, unit)


def _round_outline(border: Edges, sides: Sequence[str], unit: str) -> list[str]:
    """Only upright edges that reach the side of the box round a piece have their border measured there."""
    shown = {getattr(border, side) for side in sides}
    if len(shown) == 1 and min(shown) > 0:
        return [f"about {with_unit(min(shown), unit)} shows all round"]
    return _edge_phrases(border, unit, sides)


def _edge_phrases(border: Edges, unit: str, sides: Sequence[str] = SIDES) -> list[str]:
    """One phrase for each distance that occurs, with the edges it is seen at."""
    edges: dict[Fraction, list[str]] = {}
    for side in sides:
        edges.setdefault(getattr(border, side), []).append(side)
    shown = [
        f"{with_unit(width, unit)} at {_edges(sides)}"
        for width, sides in edges.items()
        if width > 0
    ]
    over = [
        f"it reaches {with_unit(-width, unit)} over the edge at {_edges(sides)}"
        for width, sides in edges.items()
        if width < 0
    ]
    flush = f"it lies flush at {_edges(edges[Fraction(0)])}" if Fraction(0) in edges else ""
    # "1/8 in at the left and the right and 1/4 in at the top" would run together when read aloud.
    seen = "; ".join(shown)
    return [part for part in (f"you see {seen}" if seen else "", flush, *over) if part]


def _edges(sides: Sequence[str]) -> str:
    return "all four edges" if len(sides) == 4 else listed(f"the {side}" for side in sides)


def _over_band(card: SizedCard, spot: Spot, band: SizedPiece) -> list[str]:
    """Only across a band does a border show; its ends are behind the card."""
    border, unit = spot.border, card.unit
    downward = band.around is not None and band.around.downward
    near, far = (border.left, border.right) if downward else (border.top, border.bottom)
    words = ("to the left", "to the right") if downward else ("above", "below")
    if near == far:
        return [_band_phrase(near, listed(words), unit)]
    return [_band_phrase(edge, word, unit) for edge, word in zip((near, far), words, strict=True)]


def _band_phrase(edge: Fraction, words: str, unit: str) -> str:
    if edge < 0:
        return f"it reaches {with_unit(-edge, unit)} beyond the band {words}"
    return f"{with_unit(edge, unit)} of the band shows {words}"
