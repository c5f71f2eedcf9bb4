"""Which envelopes the closed card goes into, and with how much to spare."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.library.envelopes import Envelope, all_envelopes, find_envelope
from cardrecipe.model.lengths import convert, round_near, size_written, with_unit
from cardrecipe.plan.entries import EnvelopeFit
from cardrecipe.syntax.diagnostics import Diagnostic, error, warning
from cardrecipe.syntax.spans import Span

# The usual advice is 1/4 in, yet the commonest card leaves 1/8 in one way: common practice, no
# published source. So the warning begins below 1/8 in (3 mm), after the stack's thickness.
ENOUGH = {"inch": Fraction(1, 8), "mm": Fraction(3)}
# Nobody should be sent to buy one that leaves less than this: a hand's cut is no truer.
LEAST_LISTED = {"inch": Fraction(1, 32), "mm": Fraction(1)}
MOST_LISTED = 3


class Room(NamedTuple):
    """What is left in an envelope beside the card, in the card's unit, before the thickness."""

    narrow: Fraction
    long: Fraction
    thickness: Fraction

    @property
    def flat(self) -> Fraction:
        """What is left at the tightest, were the card a single sheet."""
        return min(self.narrow, self.long)

    @property
    def least(self) -> Fraction:
        """What is left at the tightest, once the stack's thickness has taken its share.

        That an open envelope loses about the thickness both ways is from memory, unverified: good
        for a warning, not for an error.
        """
        return self.flat - self.thickness


def envelope_fits(folded: FoldedCard) -> tuple[EnvelopeFit, ...]:
    """The wanted envelope of a card, or the best ones; none for a card that does not close."""
    size = closed_size(folded)
    if size is None:
        return ()
    card = folded.card
    return fits(*size, thickness_mm(folded), card.unit, card.envelope)


def fits(
    width: Fraction, height: Fraction, thickness: Fraction, unit: str, wanted: str | None = None
) -> tuple[EnvelopeFit, ...]:
    """The `wanted` envelope, or the best (at most 3) for a card of this size in `unit`.

    The best are the smallest that it goes into, of the unit's own system if there are any, square
    ones only for a square card. The card may lie either way. `thickness` is in mm. An unknown
    `wanted` gives nothing: its name is an error that has been reported.
    """
    card = width, height, convert(thickness, "mm", unit)
    if wanted is not None:
        envelope = find_envelope(wanted)
        return (_fit(envelope, *card, unit, True),) if envelope else ()
    by_area = sorted(all_envelopes(), key=lambda one: one.size_in("mm")[0] * one.size_in("mm")[1])
    good = [
        one
        for one in by_area
        if room(one, *card, unit).least >= LEAST_LISTED[unit]
        and (width == height or one.width != one.height)
    ]
    own = [one for one in good if one.unit == unit]
    return tuple(_fit(one, *card, unit, False) for one in (own or good)[:MOST_LISTED])


def room(
    envelope: Envelope, width: Fraction, height: Fraction, thickness: Fraction, unit: str
) -> Room:
    """What the envelope leaves beside a card of this size, all in `unit`, whichever way it lies."""
    narrow, long = sorted(envelope.size_in(unit))
    card_narrow, card_long = sorted((width, height))
    return Room(narrow - card_narrow, long - card_long, thickness)


def check_envelope(folded: FoldedCard) -> Iterator[Diagnostic]:
    """The wanted envelope must hold the closed card, with 1/8 in (3 mm) to spare beyond its thickness."""
    card, size = folded.card, closed_size(folded)
    envelope = find_envelope(card.envelope) if card.envelope else None
    if envelope is None or size is None:
        return
    left = room(envelope, *size, convert(thickness_mm(folded), "mm", card.unit), card.unit)
    inside = size_written(*envelope.size_in(card.unit), card.unit)
    said = f"the closed card is {size_written(*size, card.unit)} and {envelope.name} is {inside}"
    hint = _larger(folded, size)
    if left.flat <= 0:
        message = f"the card does not go into its envelope: {said}"
        yield error("envelope-too-small", _span(folded), message, hint)
    elif left.least < ENOUGH[card.unit]:
        message = f"the envelope is tight: {said}{_with_thickness(left, card.unit)}"
        yield warning("envelope-tight", _span(folded), message, hint)


def closed_size(folded: FoldedCard) -> tuple[Fraction, Fraction] | None:
    """The first base folded flat, with whatever reaches beyond its edges; None without a base."""
    if not folded.closed:
        return None
    closed = folded.closed[0]
    width, height = closed.width, closed.height
    for view in folded.views:
        if view.base == closed.base and view.name in ("closed-front", "closed-back"):
            width, height = max(width, view.width), max(height, view.height)
    return width, height


def thickness_mm(folded: FoldedCard) -> Fraction:
    """The likely closed thickness, 0 where nothing tells it."""
    return folded.thickness.likely_mm if folded.thickness else Fraction(0)


def _fit(
    envelope: Envelope,
    width: Fraction,
    height: Fraction,
    thickness: Fraction,
    unit: str,
    wanted: bool,
) -> EnvelopeFit:
    left = room(envelope, width, height, thickness, unit)
    return EnvelopeFit(
        envelope.name,
        envelope.title,
        *envelope.size_in(unit),
        left.flat > 0,
        " ".join(part for part in (_to_spare(left, unit), envelope.note) if part),
        wanted,
    )


def _to_spare(left: Room, unit: str) -> str:
    if left.flat <= 0:
        return "Too small."
    sides = f"{_near(left.narrow, unit)} to spare across and {_near(left.long, unit)} along"
    if left.least <= 0:
        return f"Tight, for so thick a card: {sides}."
    return f"Tight: {sides}." if left.least < ENOUGH[unit] else f"{sides}."


def _near(length: Fraction, unit: str) -> str:
    return with_unit(round_near(length, Fraction(1, 16) if unit == "inch" else Fraction(1)), unit)


def _with_thickness(left: Room, unit: str) -> str:
    millimetres = round_near(convert(left.thickness, unit, "mm"), Fraction(1, 10))
    return f"; the stack is about {with_unit(millimetres, 'mm')} thick" if millimetres else ""


def _larger(folded: FoldedCard, size: tuple[Fraction, Fraction]) -> str:
    roomy = [
        fit.name
        for fit in fits(*size, thickness_mm(folded), folded.card.unit)
        if fit.name != folded.card.envelope
    ]
    return f"try `envelope {roomy[0]}`" if roomy else ""


def _span(folded: FoldedCard) -> Span:
    card = folded.card
    return card.envelope_span or card.bases[0].span
