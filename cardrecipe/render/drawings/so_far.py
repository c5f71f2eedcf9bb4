"""The card as it stands at a step: what is in place quiet, the piece of the step in full colour."""

from collections.abc import Collection, Sequence
from math import atan2, cos, sin

from cardrecipe.fold.folded import FoldedCard, View
from cardrecipe.fold.stages import Stages, stages_of
from cardrecipe.plan.facing import facing_view
from cardrecipe.plan.order import root_piece
from cardrecipe.render.drawings.colors import ARROW
from cardrecipe.render.drawings.lines import HEAD_LENGTH, MOTION, arrow_head, stroke
from cardrecipe.render.drawings.marks import Box, Mark, box_of
from cardrecipe.render.drawings.sizes import scaled
from cardrecipe.render.drawings.svg import XY
from cardrecipe.render.drawings.views import view_marks
from cardrecipe.solve.sized import SizedCard, SizedPiece

MOST_ARROWS = 2  # copies that get an arrow each; more would hide what they point at
HEAD = 1.3  # times the head of a dimension
AWAY = 4.5  # mm from the card to where an arrow begins
CURVE = tuple(step / 8 for step in range(9))


class SoFar:
    """A card on its way: what of it is seen while only some of its pieces are in place."""

    def __init__(self, folded: FoldedCard) -> None:
        self.folded = folded

    def stages(self, base: str) -> Stages | None:
        """The stages of a base; None where it has no closed form."""
        return next((each for each in stages_of(self.folded) if each.base == base), None)

    def view(self, piece: SizedPiece, done: Collection[str]) -> View | None:
        """The view in which `piece` is seen, with the pieces `done`; None for what is on no base."""
        base, name = self.faces(piece)
        stages = self.stages(base)
        return stages.seen(name, done) if stages is not None else None

    def faces(self, piece: SizedPiece) -> tuple[str, str]:
        """The base that carries a piece, and the view of it that shows the piece; ("", "") without."""
        card = self.folded.card
        root = root_piece(card, piece)
        if root.around is not None:
            return root.around.base, "closed-front"
        if root.kind != "base":
            return "", ""
        if piece.kind == "base":
            return piece.name, "open-inside"
        while piece.placements[0].host_piece != root.name:
            piece = card.piece(piece.placements[0].host_piece)
        return facing_view(self.folded, piece)


def so_far_marks(
    card: SizedCard, view: View, scale: float, pattern: str, strong: Collection[str], at: XY = (0.0, 0.0)
) -> list[Mark]:
    """A view with everything quiet but the `strong` pieces."""
    return view_marks(card, view, scale, pattern, quiet=True, strong=strong, at=at)


def arrows_to(view: View, scale: float, strong: Collection[str], at: XY = (0.0, 0.0)) -> list[Mark]:
    """From beside the card to the first copies of the pieces of the step: they go there."""
    frames = [
        box_of(scaled(part.outline, scale, *at))
        for part in view.parts
        if part.section is None and part.piece in strong
    ]
    left, top = at
    card = Box(left, top, left + float(view.width) * scale, top + float(view.height) * scale)
    targets = [frame.middle for frame in frames[:MOST_ARROWS]]
    return [mark for target in targets for mark in _swung(_start(card, target), target)]


def seen_pieces(view: View) -> frozenset[str]:
    """The names of the pieces that a view shows."""
    return frozenset(part.piece for part in view.parts if part.section is None)


def small_arrow(points: Sequence[XY]) -> list[Mark]:
    """A motion arrow for a small picture."""
    (x, y), (before_x, before_y) = points[-1], points[-2]
    angle = atan2(y - before_y, x - before_x)
    inset = HEAD_LENGTH * HEAD * 0.8
    end = x - inset * cos(angle), y - inset * sin(angle)
    shaft = stroke([*points[:-1], end], MOTION._replace(width=0.5))
    return [shaft, arrow_head((x, y), angle, ARROW, HEAD)]


def _start(card: Box, target: XY) -> XY:
    """Beneath the card, off to the side that is nearer."""
    x, _ = target
    aside = -AWAY if x <= card.middle[0] else AWAY
    return x + aside, card.bottom + AWAY


def _swung(start: XY, end: XY) -> list[Mark]:
    """A curved arrow: it leaves the table upward and comes down on its place."""
    (ax, ay), (bx, by) = start, end
    cx, cy = ax, by + (ay - by) * 0.25
    shares = [((1 - t) ** 2, 2 * t * (1 - t), t * t) for t in CURVE]
    return small_arrow([(a * ax + c * cx + b * bx, a * ay + c * cy + b * by) for a, c, b in shares])
