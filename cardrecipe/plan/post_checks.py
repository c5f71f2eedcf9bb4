"""Two warnings about the post, for the services of the recipe's own unit system.

What an envelope adds and the table of services are loaded only for a card that is thick or square.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.library.envelopes import find_envelope
from cardrecipe.model.lengths import size_written
from cardrecipe.plan.envelopes import closed_size
from cardrecipe.syntax.diagnostics import Diagnostic, warning
from cardrecipe.syntax.spans import Span

# A card of this thickness is thin enough in any envelope for every ordinary letter of the table; a test
# holds it against the table.
THIN_ENOUGH_MM = Fraction(4)


def check_thick_letter(folded: FoldedCard) -> Iterator[Diagnostic]:
    """The card in its envelope should be no thicker than an ordinary letter may be."""
    # The likely thickness counts: where only the top of its range is over, the sheet's post says so.
    if folded.thickness is None or folded.thickness.likely_mm <= THIN_ENOUGH_MM:
        return
    from cardrecipe.library.post import ordinary_letters
    from cardrecipe.plan.post_limits import about_thick, thickness_limit
    from cardrecipe.plan.stuffed import in_envelope

    thickness = in_envelope(folded.thickness)
    # The first of those with the least limit: a letter that it takes is taken by all.
    service = min(ordinary_letters(folded.card.unit), key=lambda one: one.most_mm)
    if thickness.likely_mm <= service.most_mm:
        return
    limit = thickness_limit(service, service.thick.most or service.most_mm)
    message = (
        f"the card in its envelope is too thick for an ordinary letter: "
        f"{about_thick(thickness, service.most_mm)}, and {limit} is the most for a {service.title} "
        f"({service.figures}; check with your carrier)"
    )
    hint = "raise fewer pieces or take thinner foam, or post it as a larger letter"
    yield warning("post-too-thick", _span(folded), message, hint)


def check_square_letter(folded: FoldedCard) -> Iterator[Diagnostic]:
    """A square envelope is no ordinary letter with some carriers."""
    side = _square_envelope(folded)
    if side is None:
        return
    from cardrecipe.library.post import no_letter_for_squares

    unit = folded.card.unit
    service = no_letter_for_squares(unit)
    if service is None:
        return
    message = (
        f"an envelope of {size_written(side, side, unit)} is square, and a square letter is no "
        f"{service.title} ({service.figures}; check with your carrier)"
    )
    hint = "make the card oblong, or ask your carrier what a square letter costs"
    yield warning("post-square", _span(folded), message, hint)


def _square_envelope(folded: FoldedCard) -> Fraction | None:
    """The side of the envelope in the card's unit, if it is square.

    Only a square card is given a square envelope unasked, so no other needs the search for one.
    """
    card, size = folded.card, closed_size(folded)
    if size is None:
        return None
    wanted = find_envelope(card.envelope) if card.envelope else None
    if wanted is not None:
        short, long = wanted.size_in(card.unit)
        return short if short == long else None
    if size[0] != size[1]:
        return None
    from cardrecipe.plan.stuffed import stuffed

    mail = stuffed(folded)
    return mail.short if mail is not None and mail.short == mail.long else None


def _span(folded: FoldedCard) -> Span:
    card = folded.card
    return card.envelope_span or card.bases[0].span
