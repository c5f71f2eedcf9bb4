"""The name of an envelope → its inside size in both systems, how the card lies in it, where that is from."""

from cardrecipe.compile import Compiled
from cardrecipe.editor.solved import folded_anyway
from cardrecipe.editor.telling.markdown import code, listed, paragraphs, plain
from cardrecipe.library.envelopes import Envelope, all_envelopes, find_envelope, meanings
from cardrecipe.library.tables import date_of
from cardrecipe.model.lengths import GRID, convert, round_near, size_written
from cardrecipe.plan.envelopes import closed_size, fits, thickness_mm
from cardrecipe.solve.other_unit import OTHER


def envelope(name: str, compiled: Compiled | None) -> str:
    """What is known of an envelope; of a name that is none, what it may mean."""
    known = find_envelope(name)
    if known is None:
        near = meanings(name)
        may = "It may be:\n\n" + listed(near) if near else ""
        return paragraphs((f"No envelope is called {code(name)}.", may))
    told = f"From {plain(known.source)}; {date_of('envelopes')}."
    return paragraphs((f"**envelope** {code(name)}: {plain(known.title)}", f"Inside it is {inside(known)}.",
                       _fit(name, compiled), plain(known.note), told))  # fmt: skip


def inside(known: Envelope) -> str:
    """The size as it is sold, and to the nearest mark in the other system."""
    other = OTHER[known.unit]
    near = [round_near(convert(side, known.unit, other), GRID[other]) for side in (known.width, known.height)]
    sold = size_written(known.width, known.height, known.unit)
    return f"{sold}, about {size_written(near[0], near[1], other)}"


def best_first(compiled: Compiled | None) -> tuple[Envelope, ...]:
    """Every envelope, those that the closed card fits first, the smallest of them before the others."""
    folded = folded_anyway(compiled)
    size = closed_size(folded) if folded is not None else None
    every = all_envelopes()
    if folded is None or size is None:
        return every
    thick = thickness_mm(folded)
    best = [fit.name for fit in fits(*size, thick, folded.card.unit)]
    roomy = {each.name: fits(*size, thick, folded.card.unit, each.name)[0].fits for each in every}
    rank = {each.name: (best.index(each.name) if each.name in best else len(best), not roomy[each.name])
            for each in every}  # fmt: skip
    return tuple(sorted(every, key=lambda each: rank[each.name]))


def _fit(name: str, compiled: Compiled | None) -> str:
    folded = folded_anyway(compiled)
    size = closed_size(folded) if folded is not None else None
    if folded is None or size is None:
        return ""
    fit = fits(*size, thickness_mm(folded), folded.card.unit, name)[0]
    card = f"The closed card is {size_written(*size, folded.card.unit)}"
    return f"{card}: {plain(fit.note)}" if fit.note else f"{card}."
