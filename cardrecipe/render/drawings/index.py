"""All drawings of a card by name: the names are what the steps of a sheet refer to."""

from collections.abc import Iterator, Sequence

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.cutting.card_plans import PaperPlan
from cardrecipe.plan.layers import stacked_layers
from cardrecipe.plan.poses import posed_bases
from cardrecipe.plan.sheet import MOST_FOLD_STEPS
from cardrecipe.plan.step_pictures import ANY_PAPER, step_pictures
from cardrecipe.render.drawings.band import band_drawing
from cardrecipe.render.drawings.cut_sheets import sheet_drawing
from cardrecipe.render.drawings.exploded import exploded
from cardrecipe.render.drawings.folding import fan_drawing, fold_drawing
from cardrecipe.render.drawings.legend import legend
from cardrecipe.render.drawings.pieces import cut_row, piece_drawing
from cardrecipe.render.drawings.posed import pose_drawing
from cardrecipe.render.drawings.score_guide import score_guide
from cardrecipe.render.drawings.so_far import SoFar
from cardrecipe.render.drawings.step_drawings import step_drawings
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.render.drawings.views import finished, view_drawing
from cardrecipe.render.words import shown_views

Names = frozenset[str] | None  # the names that are asked for; None for all


def drawings(
    folded: FoldedCard, id_prefix: str = "", plans: Sequence[PaperPlan] = ()
) -> dict[str, Drawing]:
    """Every picture of the card and of its cutting plans; `id_prefix` tells apart the ids of several cards
    in one page.

    Names: finished, closed-front, closed-back, open-inside, open-outside (of the first base; those
    of another base end in `-BASE`), score-PIECE, fold-BASE-K (or, of a base with many folds, fold-BASE-fan
    alone), pose-NAME, piece-NAME, step-score-PIECE, work-NAME, place-NAME, join-BASE, band-NAME,
    finish-NAME, extra-K of the maker's own steps, cut-PAPER, sheet-N of the cutting plan, layers,
    layers-inside, legend.
    """
    return _drawn(folded, id_prefix, plans, None)


def shown_drawings(
    folded: FoldedCard, id_prefix: str = "", plans: Sequence[PaperPlan] = ()
) -> dict[str, Drawing]:
    """Those of them that a sheet shows."""
    return _drawn(folded, id_prefix, plans, frozenset(("finished", *_shown(folded, plans))))


def _drawn(
    folded: FoldedCard, id_prefix: str, plans: Sequence[PaperPlan], names: Names
) -> dict[str, Drawing]:
    sheets = (
        sheet_drawing(folded.card, paper, layout, id_prefix) for paper in plans for layout in paper.layouts
    )
    made = (
        *_of_bases(folded, id_prefix, names),
        *_of_pieces(folded, id_prefix, names),
        *step_drawings(SoFar(folded), id_prefix),
        *(exploded(folded.card, layers, id_prefix) for layers in stacked_layers(folded)),
        *sheets,
    )
    found = {drawing.name: drawing for drawing in made}
    shown = (found[name] for name in _shown(folded, plans) if name in found)
    return {**found, "legend": legend(folded, id_prefix, shown)}


def _shown(folded: FoldedCard, plans: Sequence[PaperPlan]) -> Iterator[str]:
    """The names of what a sheet shows: all else is there for whoever asks for it."""
    yield from (f"sheet-{layout.number}" for paper in plans for layout in paper.layouts)
    yield from (f"score-{piece.name}" for piece in folded.card.pieces if piece.scores)
    yield from (step.name for step in step_pictures(folded))
    yield from (name for name, _ in shown_views(folded))


def _asked(name: str, names: Names) -> bool:
    return names is None or name in names


def _of_bases(folded: FoldedCard, id_prefix: str, names: Names) -> Iterator[Drawing]:
    first = folded.views[0].base if folded.views else ""
    for view in folded.views:
        name = view.name if view.base == first else f"{view.name}-{view.base}"
        if view.name == "closed-front":
            masthead = "finished" if view.base == first else f"finished-{view.base}"
            if _asked(masthead, names):
                yield finished(folded, view, masthead, id_prefix)
        if _asked(name, names):
            yield view_drawing(folded, view, name, id_prefix)
    for posed in posed_bases(folded):
        yield pose_drawing(folded, posed, id_prefix)
    for closed in folded.closed:
        if len(closed.moves) > MOST_FOLD_STEPS:
            yield fan_drawing(folded, closed, id_prefix)
            continue
        for number in range(1, len(closed.moves) + 1):
            yield fold_drawing(folded, closed, number, id_prefix)


def _of_pieces(folded: FoldedCard, id_prefix: str, names: Names) -> Iterator[Drawing]:
    card = folded.card
    bases = {closed.base for closed in folded.closed}
    for piece in card.pieces:
        if _asked(f"piece-{piece.name}", names):
            yield piece_drawing(card, piece, id_prefix)
        if piece.scores:
            yield score_guide(card, piece, id_prefix)
        if piece.around is not None and piece.around.base in bases:
            yield band_drawing(folded, piece, id_prefix)
    for paper in (*card.papers, ""):
        is_used = any((piece.paper or "") == paper for piece in card.pieces)
        if is_used and _asked(f"cut-{paper}" if paper else ANY_PAPER, names):
            yield cut_row(card, paper, id_prefix)
