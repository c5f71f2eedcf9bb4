"""Which pictures of a finished variant show something that those of the main card do not."""

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.layers import stacked_layers
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.words import shown_views

AT_THE_HEAD = "closed-front"  # the picture beside a variant's name


def own_views(plain: Sheet, sheet: Sheet) -> tuple[tuple[str, str], ...]:
    """Each with its caption: faces on which other pieces are seen, layers that are others."""
    known, own = _seen(plain.folded), _seen(sheet.folded)
    return tuple(
        (name, caption)
        for name, caption in shown_views(sheet.folded)
        if name != AT_THE_HEAD and name in own and known.get(name) != own[name]
    )


def _seen(folded: FoldedCard) -> dict[str, object]:
    """The pieces in each picture, by its name as in `shown_views`; poses are left to the main card."""
    first = folded.views[0].base if folded.views else ""
    found: dict[str, object] = {}
    for view in folded.views:
        name = view.name if view.base == first else f"{view.name}-{view.base}"
        found[name] = frozenset(part.piece for part in view.parts)
    for layers in stacked_layers(folded):
        found[layers.picture] = tuple(
            frozenset((layer.piece.name, layer.section) for layer in level) for level in layers.levels
        )
    return found
