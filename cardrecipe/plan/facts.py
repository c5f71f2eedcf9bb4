"""The facts at the top of the sheet: sizes, thickness, weight, envelope, how fine and how long."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from cardrecipe.fold.folded import FoldedCard, Thickness
from cardrecipe.fold.paper_weight import weight_in_grams
from cardrecipe.model.lengths import (
    INCH_IN_MM,
    convert,
    is_on,
    round_near,
    size_written,
    with_unit,
)
from cardrecipe.plan.cuts import one_copy
from cardrecipe.plan.envelopes import closed_size
from cardrecipe.plan.post_lines import post_fact
from cardrecipe.plan.sheet import EnvelopeFit, Fact, PostFit
from cardrecipe.plan.words import bought_size, lengths
from cardrecipe.solve.sized import SizedCard

# Minutes for one card, by a rough rule of our own: common practice, no published source.
MINUTES = {
    "cut": Fraction(1),
    "score": Fraction(1, 2),
    "fold": Fraction(1),
    "work": Fraction(3),
    "glue": Fraction(2),
    "band": Fraction(4),
}
TIME_RULE = (
    "The time is a rough rule from the number of cuts, folds and pieces; drying comes on top."
)
MARKS = {
    "inch": tuple(Fraction(1, 2**power) for power in range(7)),
    "mm": (Fraction(1), Fraction(1, 2)),
}


def facts(
    folded: FoldedCard,
    copies: int,
    envelopes: Sequence[EnvelopeFit],
    other: FoldedCard | None,
    post: Sequence[PostFit] = (),
) -> tuple[Fact, ...]:
    """What a maker wants to know before starting, for one card."""
    return tuple(_facts(folded, copies, envelopes, other, post))


def _facts(
    folded: FoldedCard,
    copies: int,
    envelopes: Sequence[EnvelopeFit],
    other: FoldedCard | None,
    post: Sequence[PostFit],
) -> Iterator[Fact]:
    card = folded.card
    size = closed_size(folded)
    if size:
        yield Fact(
            "Closed size", both_units(size, card.unit, closed_size(other) if other else None)
        )
    if folded.thickness:
        yield Fact("Thickness", thickness_written(folded.thickness, card.unit))
    grams = weight_in_grams(card)
    if grams:
        yield Fact("Weight", f"about {max(1, round(grams))}\u00a0g a {one_copy(card)}, papers only")
    fitting = [fit for fit in envelopes if fit.fits]
    if fitting:
        inside = bought_size(fitting[0].width, fitting[0].height, card.unit)
        yield Fact("Envelope", f"{fitting[0].title}, {inside}")
    if posted := post_fact(post, card.unit):
        yield Fact("Post", posted)
    yield Fact("Cuts", finest_cut(card))
    yield Fact("Time", f"about {minutes(card)} minutes a {one_copy(card)}")
    yield Fact("Makes", f"{copies} {one_copy(card)}{'' if copies == 1 else 's'}")


def both_units(
    size: tuple[Fraction, Fraction], unit: str, other: tuple[Fraction, Fraction] | None
) -> str:
    """A size with the other version's own; without one the bare conversion, said as such."""
    own = size_written(*size, unit)
    second = "mm" if unit == "inch" else "inch"
    if other:
        return f"{own} (in the other version {size_written(*other, second)})"
    grid = Fraction(1) if second == "mm" else Fraction(1, 16)
    width, height = (round_near(convert(side, unit, second), grid) for side in size)
    return f"{own} (about {size_written(width, height, second)})"


def thickness_written(thickness: Thickness, unit: str) -> str:
    """Millimetres to a tenth, with the range of an estimate; for inches the nearest 1⁄32 too."""
    likely, least, most = (
        round_near(value, Fraction(1, 10))
        for value in (thickness.likely_mm, thickness.least_mm, thickness.most_mm)
    )
    inches = round_near(thickness.likely_mm / INCH_IN_MM, Fraction(1, 32))
    aside = f" ({with_unit(inches, 'inch')})" if unit == "inch" and inches else ""
    text = f"{with_unit(likely, 'mm')}{aside}"
    if not thickness.estimated:
        return text
    return f"about {text}, between {lengths((least, most), 'mm')}"


def finest_cut(card: SizedCard) -> str:
    """The finest mark of the ruler that some cut or score needs: how exacting the card is."""
    cut = [size for piece in card.pieces for size in (piece.width, piece.height)]
    cut += [score.at for piece in card.pieces for score in piece.scores]
    for mark in MARKS[card.unit]:
        if all(is_on(size, mark) for size in cut):
            return f"to the nearest {with_unit(mark, card.unit)}"
    return "some between two marks of the ruler"


def minutes(card: SizedCard) -> int:
    """About how long one card takes, to five minutes, by the rule in `TIME_RULE`."""
    total = Fraction(0)
    for piece in card.pieces:
        scores = len(piece.scores)
        total += piece.count * (MINUTES["cut"] + MINUTES["work"] * len(piece.works))
        total += scores * (MINUTES["score"] + MINUTES["fold"])
        total += MINUTES["glue"] * len(piece.placements)
        total += MINUTES["band"] if piece.around else Fraction(0)
    return max(5, int(round_near(total, Fraction(5))))
