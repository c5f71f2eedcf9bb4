"""The closed card and the open sheet as one pile of faces, from the bottom to the top.

Views, hidden parts and thickness are all read from this pile, so they cannot disagree.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.closed import FlatFold
from cardrecipe.fold.folded import Outline
from cardrecipe.fold.geometry import STAY, Motion
from cardrecipe.fold.motions import mirrored, moved
from cardrecipe.fold.openings import moved_openings, openings
from cardrecipe.fold.outlines import frame_outline
from cardrecipe.fold.placing import Placed
from cardrecipe.model.papers import Paper
from cardrecipe.solve.sized import SizedPiece

# Shapes that fill their frame, so that what lies wholly under one is hidden.
FILLS_FRAME = {"base", "panel", "band", "square", "rectangle"}
SEEN_THROUGH = {"vellum", "acetate"}


class Layer(NamedTuple):
    """A section, a glued copy, or one side of a band, in the plane of the pile it belongs to."""

    piece: SizedPiece
    copy: int
    section: str | None  # a section's name; None for pieces
    outline: Outline
    is_face_up: bool  # a section's inside, or a piece's own face, looks up
    foam_mm: Fraction = Fraction(0)
    lift_mm: Fraction = Fraction(0)
    on_band: bool = False  # a band, or something on one
    holes: tuple[Outline, ...] = ()  # windows in it, in the same plane


def closed_pile(card: Assembly) -> tuple[Layer, ...]:
    """Give the closed card's layers from the back to the front, as seen from the front: sections of every
    sheet, what is on them, and the bands.

    Sections at the same height come together, with what is on them before the next ones: a piece
    that reaches beyond its section lies over its neighbours and under what folds on top.
    """
    pile: list[Layer] = []
    for level in range(max(card.levels) + 1):
        members = [index for index, height in enumerate(card.levels) if height == level]
        sheets = [_sheet(card, index) for index in members]
        pile += _sandwich(sheets, card.placed, members, card.motions)
    bands = [each for each in card.placed if each.section is None]
    page = mirrored(card.width)
    backs = [
        _layer(band, STAY, is_face_up=False)._replace(outline=moved(page, band.frame))
        for band in bands
        if band.piece.around
    ]
    fronts = [_layer(each, STAY, is_face_up=True) for each in bands]
    return (*reversed(backs), *pile, *fronts)


def open_pile(flat: FlatFold, placed: Sequence[Placed]) -> tuple[Layer, ...]:
    """Give the layers of the open sheet, inside up; bands are not part of it."""
    members = range(len(flat.sections))
    windows = flat.piece.windows
    sheets = [
        Layer(flat.piece, 0, each.name, each.outline, True, holes=openings(each.outline, windows))
        for each in flat.sections
    ]
    return tuple(_sandwich(sheets, placed, members, [STAY] * len(members)))


def hides(layer: Layer, papers: dict[str, Paper]) -> bool:
    """Tell whether nothing is seen through a layer's outline."""
    paper = papers.get(layer.piece.paper or "")
    is_clear = paper is not None and paper.kind in SEEN_THROUGH
    return layer.piece.kind in FILLS_FRAME and not is_clear


def _sandwich(
    sheets: Sequence[Layer], placed: Sequence[Placed], members: Sequence[int], motions: Sequence[Motion]
) -> list[Layer]:
    """Give sections of one height between what lies behind them and what lies on them."""
    below: list[Layer] = []
    above: list[Layer] = []
    for each in placed:
        if each.section is None or each.section not in members:
            continue
        motion = motions[each.section]
        is_up = (each.side == "inside") != motion.is_flipped()
        (above if is_up else below).append(_layer(each, motion, is_face_up=is_up))
    return [*reversed(below), *sheets, *above]


def _sheet(card: Assembly, index: int) -> Layer:
    facing, section = card.facings[index], card.sections[index]
    motion = card.motions[index]
    return Layer(
        facing.piece,
        facing.copy,
        section.name,
        moved(motion, section.outline),
        card.is_inside_up(index),
        facing.foam_mm,
        facing.lift_mm,
        holes=tuple(moved(motion, hole) for hole in card.windows_in(index)),
    )


def _layer(placed: Placed, motion: Motion, *, is_face_up: bool) -> Layer:
    return Layer(
        placed.piece,
        placed.copy,
        None,
        moved(motion, placed.frame),
        is_face_up,
        placed.foam_mm,
        placed.lift_mm,
        placed.section is None,
        moved_openings(motion.after(placed.way), frame_outline(placed.piece), placed.piece.windows),
    )
