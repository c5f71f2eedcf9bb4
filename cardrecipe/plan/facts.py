"""The facts at the top of the sheet: sizes, weight, envelope, what it needs, how exacting, how long."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
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
from cardrecipe.plan.sheet import EnvelopeFit, Fact, PostFit, SupplyLine
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
# Marks of a ruler from coarse to fine, each with our own word for a card whose cuts need no finer one. That
# the smallest fraction to be cut measures how hard a card is: one trade page grades its classes by it.
LEVELS = {
    "inch": (
        (Fraction(1), "easy"),
        (Fraction(1, 2), "easy"),
        (Fraction(1, 4), "easy"),
        (Fraction(1, 8), "steady"),
        (Fraction(1, 16), "exact"),
        (Fraction(1, 32), "very exact"),
        (Fraction(1, 64), "very exact"),
    ),
    "mm": (
        (Fraction(10), "easy"),
        (Fraction(5), "easy"),
        (Fraction(1), "steady"),
        (Fraction(1, 2), "very exact"),
    ),
}
VERSIONS = {"inch": "inch", "mm": "millimetre"}
BETWEEN_MARKS = "very exact"
# What a maker must own and may not: papers, glue and everyday tools are left to the supply list.
SPECIAL_KINDS = ("stamp", "die", "folder", "punch")
SPECIAL_NAMES = {"stamp": "stamp", "die": "die", "folder": "embossing folder", "punch": "punch"}
SPECIAL_TOOLS = ("Die-cutting machine", "Corner rounder", "Scoring board")


def facts(
    folded: FoldedCard,
    copies: int,
    envelopes: Sequence[EnvelopeFit],
    other: FoldedCard | None,
    post: Sequence[PostFit] = (),
    supplies: Sequence[SupplyLine] = (),
) -> tuple[Fact, ...]:
    """What a maker wants to know before starting, for one card."""
    return tuple(_facts(folded, copies, envelopes, other, post, supplies))


def _facts(
    folded: FoldedCard,
    copies: int,
    envelopes: Sequence[EnvelopeFit],
    other: FoldedCard | None,
    post: Sequence[PostFit],
    supplies: Sequence[SupplyLine],
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
    if needs := what_it_needs(supplies):
        yield Fact("Needs", needs)
    if card.pieces:
        yield Fact("Level", level(card))
    yield Fact("Time", f"about {minutes(card)} minutes a {one_copy(card)}")
    yield Fact("Makes", f"{copies} {one_copy(card)}{'' if copies == 1 else 's'}")


def both_units(
    size: tuple[Fraction, Fraction], unit: str, other: tuple[Fraction, Fraction] | None
) -> str:
    """A size with the other version's own; without one the bare conversion, said as such."""
    own = size_written(*size, unit)
    second = "mm" if unit == "inch" else "inch"
    if other:
        return f"{own} (in the {VERSIONS[second]} version {size_written(*other, second)})"
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


def level(card: SizedCard) -> str:
    """How exacting the card is, by the finest mark of the ruler that a cut needs; a finer score is told."""
    mark, word = _finest(_cuts(card), card.unit)
    score, _ = _finest((score.at for piece in card.pieces for score in piece.scores), card.unit)
    if mark is None:
        return f"{word}: some cuts fall between two marks of the ruler"
    told = f"{word}: cuts to the nearest {with_unit(mark, card.unit)}"
    if score is None:
        return f"{told}, some scores between two marks"
    return f"{told}, scores to {with_unit(score, card.unit)}" if score < mark else told


def what_it_needs(supplies: Sequence[SupplyLine]) -> str:
    """What not every desk has: how many papers, stamps, dies, …, and the special tools."""
    papers = sum(line.kind == "paper" for line in supplies)
    counts = [_counted(papers, "paper")] if papers else []
    for kind in SPECIAL_KINDS:
        count = sum(line.kind == kind for line in supplies)
        counts += [_counted(count, SPECIAL_NAMES[kind])] if count else []
    owned = {line.name for line in supplies if line.kind == "tool"}
    return ", ".join((*counts, *(tool.lower() for tool in SPECIAL_TOOLS if tool in owned)))


def _cuts(card: SizedCard) -> Iterator[Fraction]:
    for piece in card.pieces:
        yield from (piece.width, piece.height)


def _finest(sizes: Iterable[Fraction], unit: str) -> tuple[Fraction | None, str]:
    """The coarsest mark that all `sizes` stand on, with its word; None where one stands between all marks."""
    sizes = tuple(sizes)
    for mark, word in LEVELS[unit]:
        if all(is_on(size, mark) for size in sizes):
            return mark, word
    return None, BETWEEN_MARKS


def _counted(count: int, one: str) -> str:
    return f"{count} {one}{'' if count == 1 else 's'}"


def minutes(card: SizedCard) -> int:
    """About how long one card takes, to five minutes, by the rule in `TIME_RULE`."""
    return max(5, int(round_near(minutes_counted(card), Fraction(5))))


def minutes_counted(card: SizedCard) -> Fraction:
    """The sum of the rule, before it is rounded."""
    total = Fraction(0)
    for piece in card.pieces:
        scores = len(piece.scores)
        total += piece.count * (MINUTES["cut"] + MINUTES["work"] * len(piece.works))
        total += scores * (MINUTES["score"] + MINUTES["fold"])
        total += MINUTES["glue"] * len(piece.placements)
        total += MINUTES["band"] if piece.around else Fraction(0)
    return total
