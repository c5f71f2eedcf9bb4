"""All drawings of a card by name: the names are what the steps of a sheet refer to."""

from collections.abc import Iterator, Sequence

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.cutting.card_plans import PaperPlan
from cardrecipe.plan.poses import posed_bases
from cardrecipe.plan.sheet import MOST_FOLD_STEPS
from cardrecipe.render.drawings.band import band_drawing
from cardrecipe.render.drawings.cut_sheets import sheet_drawing
from cardrecipe.render.drawings.folding import fan_drawing, fold_drawing
from cardrecipe.render.drawings.legend import legend
from cardrecipe.render.drawings.pieces import cut_row, piece_drawing
from cardrecipe.render.drawings.placing import placing
from cardrecipe.render.drawings.posed import pose_drawing
from cardrecipe.render.drawings.score_guide import score_guide
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.render.drawings.views import finished, view_drawing


def drawings(
    folded: FoldedCard, id_prefix: str = "", plans: Sequence[PaperPlan] = ()
) -> dict[str, Drawing]:
    """Every picture of the card and of its cutting plans; `id_prefix` tells apart the ids of several cards
    in one page.

    Names: finished, closed-front, closed-back, open-inside, open-outside (of the first base; those
    of another base end in `-BASE`), score-PIECE, fold-BASE-K, fold-BASE-fan, pose-NAME,
    piece-NAME, place-NAME, band-NAME, cut-PAPER, sheet-N of the cutting plan, legend.
    """
    sheets = (
        sheet_drawing(folded.card, paper, layout, id_prefix) for paper in plans for layout in paper.layouts
    )
    made = (
        *_of_bases(folded, id_prefix),
        *_of_pieces(folded, id_prefix),
        *sheets,
        legend(folded, id_prefix),
    )
    return {drawing.name: drawing for drawing in made}


def _of_bases(folded: FoldedCard, id_prefix: str) -> Iterator[Drawing]:
    first = folded.views[0].base if folded.views else ""
    for view in folded.views:
        name = view.name if view.base == first else f"{view.name}-{view.base}"
        if view.name == "closed-front":
            masthead = "finished" if view.base == first else f"finished-{view.base}"
            yield finished(folded, view, masthead, id_prefix)
        yield view_drawing(folded, view, name, id_prefix)
    for posed in posed_bases(folded):
        yield pose_drawing(folded, posed, id_prefix)
    for closed in folded.closed:
        for number in range(1, len(closed.moves) + 1):
            yield fold_drawing(folded, closed, number, id_prefix)
        if len(closed.moves) > MOST_FOLD_STEPS:
            yield fan_drawing(folded, closed, id_prefix)


def _of_pieces(folded: FoldedCard, id_prefix: str) -> Iterator[Drawing]:
    card = folded.card
    bases = {closed.base for closed in folded.closed}
    for piece in card.pieces:
        yield piece_drawing(card, piece, id_prefix)
        if piece.scores:
            yield score_guide(card, piece, id_prefix)
        if piece.placements:
            yield placing(card, piece, id_prefix, folded.zones)
        if piece.around is not None and piece.around.base in bases:
            yield band_drawing(folded, piece, id_prefix)
    for paper in card.papers:
        if any(piece.paper == paper for piece in card.pieces):
            yield cut_row(card, paper, id_prefix)
