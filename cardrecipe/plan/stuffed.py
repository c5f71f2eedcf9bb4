"""What is handed in at the post: the closed card in its envelope, or the bare card."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.folded import FoldedCard, Thickness
from cardrecipe.fold.paper_weight import BULK, weight_in_grams
from cardrecipe.model.lengths import to_mm
from cardrecipe.plan.envelopes import closed_size, envelope_fits

# Grammage of an envelope's paper, likely, least and most; its sheet is about 2.4 times its face with
# flap and seams. From memory: common practice, no published source.
ENVELOPE_GSM = (Fraction(100), Fraction(80), Fraction(150))
ENVELOPE_SHEET = Fraction(12, 5)
# The card lies between front and back; seams and flap are not counted.
LAYERS = 2
# An envelope made for the card: about 3 mm outside it on all sides, from one craft page.
MADE_LARGER = {"inch": Fraction(1, 4), "mm": Fraction(6)}


class Grams(NamedTuple):
    """A mass with the range that an envelope of light or heavy paper gives it."""

    likely: Fraction
    most: Fraction


class Mail(NamedTuple):
    """One piece of post; sizes in the card's `unit`. `grams` is None where a paper has no weight."""

    envelope: str  # its title, "" for a bare card
    short: Fraction
    long: Fraction
    unit: str
    thickness: Thickness
    grams: Grams | None

    @property
    def ratio(self) -> Fraction:
        """The long side by the short side, 1 for a square."""
        return self.long / self.short


def stuffed(folded: FoldedCard) -> Mail | None:
    """The closed card in the envelope that is wanted, else in the best one, else in one made for it.

    None for a card that does not close.
    """
    size = closed_size(folded)
    if size is None or folded.thickness is None:
        return None
    unit = folded.card.unit
    fits = envelope_fits(folded)
    title, sides = "an envelope made to measure", tuple(side + MADE_LARGER[unit] for side in size)
    if fits:
        title, sides = fits[0].title, (fits[0].width, fits[0].height)
    short, long = sorted(sides)
    return Mail(title, short, long, unit, in_envelope(folded.thickness), _grams(folded, short, long))


def bare(folded: FoldedCard) -> Mail | None:
    """The closed card without an envelope; None for one that does not close."""
    size = closed_size(folded)
    if size is None or folded.thickness is None:
        return None
    grams = weight_in_grams(folded.card)
    weight = None if grams is None else Grams(grams, grams)
    return Mail("", min(size), max(size), folded.card.unit, folded.thickness, weight)


def in_envelope(card: Thickness) -> Thickness:
    """The closed card's thickness and two layers of an envelope's paper, with the whole range."""
    likely, least, most = (LAYERS * gsm * bulk / 1000 for gsm, bulk in zip(ENVELOPE_GSM, BULK, strict=True))
    return Thickness(card.likely_mm + likely, card.least_mm + least, card.most_mm + most, True)


def _grams(folded: FoldedCard, short: Fraction, long: Fraction) -> Grams | None:
    card = weight_in_grams(folded.card)
    if card is None:
        return None
    unit = folded.card.unit
    sheet = to_mm(short, unit) * to_mm(long, unit) / 1_000_000 * ENVELOPE_SHEET
    likely, _, most = ENVELOPE_GSM
    return Grams(card + sheet * likely, card + sheet * most)
