"""Which pieces get a template on paper: those that two numbers and a trimmer do not make.

A plain rectangle has none. A piece that is larger than a page has one in parts only where it cannot be
measured from its edges: scores from edge to edge are found faster with a ruler than by joining pages.
"""

from __future__ import annotations

from cardrecipe.fold.outlines import ROUND
from cardrecipe.render.true_scale.drawn import has_own_outline
from cardrecipe.solve.sized import SizedPiece, SizedScore

_CLIPPED = ("tag", "banner")


def wants_template(piece: SizedPiece) -> bool:
    """True for what is round, clipped, outlined, rounded, windowed, scored or slit."""
    if has_own_outline(piece):
        return False
    is_shaped = piece.kind in (*ROUND, *_CLIPPED) or piece.outline is not None
    return bool(is_shaped or piece.windows or piece.corner_radius or piece.scores)


def is_by_the_way(piece: SizedPiece) -> bool:
    """True for a plain circle: one number and a pair of compasses make it, so it is not worth a page."""
    return piece.kind == "circle" and not piece.windows and not piece.scores


def is_measured_from_edges(piece: SizedPiece) -> bool:
    """True where each line runs from edge to edge of a rectangle, so that one number finds it."""
    if piece.kind in (*ROUND, *_CLIPPED) or piece.outline is not None or piece.windows:
        return False
    return all(_runs_across(piece, score) for score in piece.scores)


def _runs_across(piece: SizedPiece, score: SizedScore) -> bool:
    (x, y), (to_x, to_y) = sorted((score.start, score.end))
    upright = x == to_x and {y, to_y} == {0, piece.height}
    level = y == to_y and {x, to_x} == {0, piece.width}
    return upright or level
