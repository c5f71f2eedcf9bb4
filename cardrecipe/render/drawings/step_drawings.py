"""The picture of each step that has one of its own: which kind it is, and what is in place by then."""

from collections.abc import Iterator

from cardrecipe.plan.join_steps import pose_to_join_in
from cardrecipe.plan.step_pictures import StepPicture, step_pictures
from cardrecipe.render.drawings.inset import band_off, inset_marks
from cardrecipe.render.drawings.joining import joining
from cardrecipe.render.drawings.marks import Mark
from cardrecipe.render.drawings.placing import Inset, placing
from cardrecipe.render.drawings.score_step import score_step_drawing
from cardrecipe.render.drawings.slipping import slipping, slips_in
from cardrecipe.render.drawings.so_far import SoFar, seen_pieces
from cardrecipe.render.drawings.stands import extra_drawing, finish_drawing
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.render.drawings.works import work_drawing
from cardrecipe.solve.sized import SizedPiece


def step_drawings(so_far: SoFar, id_prefix: str = "") -> Iterator[Drawing]:
    """One for each step but those of cutting, folding and bands, which show a piece or a base alone."""
    for step in step_pictures(so_far.folded):
        if step.what in MADE:
            yield MADE[step.what](so_far, step, id_prefix)


def _placed(so_far: SoFar, step: StepPicture, id_prefix: str) -> Drawing:
    folded = so_far.folded
    piece = folded.card.piece(step.piece)
    if slips_in(folded.card, piece):
        return slipping(folded.card, piece, id_prefix, step.done)
    inset = _inset(so_far, step, piece, id_prefix)
    return placing(folded.card, piece, id_prefix, folded.zones, step.done, inset)


def _inset(so_far: SoFar, step: StepPicture, piece: SizedPiece, id_prefix: str) -> Inset | None:
    """The card with this piece; None where it shows no more than the piece on its host."""
    card = so_far.folded.card
    view = so_far.view(piece, step.done | {piece.name})
    if view is None or piece.name not in seen_pieces(view):
        return None
    off = band_off(card, step)

    def draw(right: float, middle: float) -> list[Mark]:
        return inset_marks(card, view, (piece.name,), f"{id_prefix}{step.name}-card", (right, middle), off)

    return draw


def _scored(so_far: SoFar, step: StepPicture, id_prefix: str) -> Drawing:
    card = so_far.folded.card
    return score_step_drawing(card, card.piece(step.piece), id_prefix)


def _worked(so_far: SoFar, step: StepPicture, id_prefix: str) -> Drawing:
    card = so_far.folded.card
    return work_drawing(card, card.piece(step.piece), id_prefix)


def _joined(so_far: SoFar, step: StepPicture, id_prefix: str) -> Drawing:
    base = so_far.folded.card.piece(step.piece)
    return joining(so_far.folded, base, id_prefix, pose_to_join_in(so_far.folded, base), step.done)


MADE = {
    "score": _scored,
    "work": _worked,
    "place": _placed,
    "join": _joined,
    "finish": finish_drawing,
    "extra": extra_drawing,
}
