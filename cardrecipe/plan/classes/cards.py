"""What a class makes, as the plan takes it: folded cards with their counts, and what is there already."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.classes.papers import Packet
from cardrecipe.syntax.diagnostics import Diagnostic


class ClassCard(NamedTuple):
    """One recipe, or one of its variants, with the cards that are made of it and the kits beyond."""

    path: str
    variant: str | None
    folded: FoldedCard
    warnings: tuple[Diagnostic, ...]
    seats: int
    spare: int

    @property
    def kits(self) -> int:
        return self.seats + self.spare


class PaperAtHand(NamedTuple):
    """Sheets of a paper that are there. A size that is not told (None) is the first that it is sold in; an
    odd one lies as the whole sheet does: grain and pattern run as they do there."""

    packet: Packet
    count: int  # type: ignore[assignment]  # a tuple has a method of that name
    size: tuple[Fraction, Fraction] | None = None  # in the class's unit


class ClassCards(NamedTuple):
    """A class whose recipes have no errors. `supplies` are kind and title of what need not be bought."""

    title: str
    about: str  # Markdown
    unit: str
    nearest: Fraction
    cards: tuple[ClassCard, ...]
    papers: tuple[PaperAtHand, ...] = ()
    supplies: frozenset[tuple[str, str]] = frozenset()
