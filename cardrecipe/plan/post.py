"""Which letter services take the card in its envelope, and why the others do not.

Sizes, thickness and weight are held against the shipped limits, whichever way the envelope lies; a
carrier's other rules are not modelled, so every answer says to check with the carrier.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.library.post import Service, all_services, find_service
from cardrecipe.model.lengths import convert, size_written, with_unit
from cardrecipe.plan.entries import PostFit
from cardrecipe.plan.post_limits import Reason, limits_broken, ratio_broken, too_thin_to_sort
from cardrecipe.plan.stuffed import Mail, bare, stuffed
from cardrecipe.plan.uneven import stiff_things, uneven_things
from cardrecipe.plan.words import counted, listed
from cardrecipe.solve.sized import SizedCard


def post(folded: FoldedCard) -> tuple[PostFit, ...]:
    """Every service against the card, those of the recipe's own unit system first.

    The envelope is the one that is wanted, else the best fit, else one made to measure. A card that
    does not close gives nothing.
    """
    letter, flat = stuffed(folded), bare(folded)
    if letter is None or flat is None:
        return ()
    return judged(folded.card, letter, flat)


def judged(card: SizedCard, letter: Mail, flat: Mail) -> tuple[PostFit, ...]:
    """Every service against `letter`, or against the `flat` card where it goes without an envelope."""
    services = sorted(all_services(), key=lambda service: service.system != card.unit)
    uneven, stiff = uneven_things(card), stiff_things(card)
    sealed, open_card = (Sending(card, mail, uneven, stiff) for mail in (letter, flat))
    return tuple(_fit(service, open_card if service.is_bare else sealed) for service in services)


class Sending(NamedTuple):
    """A piece of post and the card that it is or holds, with what makes it `uneven` or `stiff`."""

    card: SizedCard
    mail: Mail
    uneven: tuple[str, ...]
    stiff: tuple[str, ...]


def _fit(service: Service, item: Sending) -> PostFit:
    fits, reasons = _verdict(service, item)
    # What is ruled out for certain needs no doubts besides.
    said = [reason for reason in reasons if fits or reason.is_certain]
    because = tuple(dict.fromkeys(reason.text for reason in said))
    return PostFit(
        service.name,
        service.title,
        service.country,
        service.system,
        item.mail.envelope,
        fits,
        because,
        service.figures,
    )


def _verdict(service: Service, item: Sending) -> tuple[bool, list[Reason]]:
    """Whether the service takes it, with the reasons for the answer and what is in doubt."""
    if service.surcharge_on:
        return _with_surcharge(service, find_service(service.surcharge_on), item)
    reasons = list(limits_broken(service, item.mail))
    reasons += ratio_broken(service, item.mail)
    reasons += _abroad(service, item.mail)
    reasons += _bare_rules(service, item) if service.is_bare else _evenness(service, item)
    for dearer in all_services():
        if dearer.surcharge_on == service.name:
            reasons += _properties(dearer, item)
    if service.over:
        reasons += _not_over(find_service(service.over), item)
    return not any(reason.is_certain for reason in reasons), reasons


def _with_surcharge(service: Service, plain: Service, item: Sending) -> tuple[bool, list[Reason]]:
    """It must keep the limits of the plain service and have one of the properties of this one."""
    broken = list(limits_broken(plain, item.mail))
    if any(reason.is_certain for reason in broken):
        return False, broken
    properties = _properties(service, item)
    if any(reason.is_certain for reason in properties):
        return True, properties + broken
    return False, [Reason(f"nothing is known that makes it more than a {plain.title}"), *properties]


def _properties(service: Service, item: Sending) -> list[Reason]:
    """What makes a letter need the surcharge of `service`."""
    return [
        *ratio_broken(service, item.mail),
        *too_thin_to_sort(service, item.mail),
        *_evenness(service, item),
    ]


def _evenness(service: Service, item: Sending) -> Iterator[Reason]:
    """Ribbon, gems, foam and the like make a letter uneven; board and metal keep it from bending."""
    if service.uneven and item.uneven:
        if service.uneven == "yes":
            make = "make" if len(item.uneven) > 1 else "makes"
            yield Reason(f"the {listed(item.uneven)} {make} it uneven")
        else:
            yield Reason("it must be evenly thick, so it may be refused", is_certain=False)
    if service.rigid and item.stiff:
        yield Reason(f"it may not bend enough: {listed(item.stiff)}", False)


def _bare_rules(service: Service, item: Sending) -> Iterator[Reason]:
    """A card without an envelope is one flat piece, with corners that are hardly rounded."""
    base = item.card.bases[0]
    scores = sum(score.direction != "slit" for score in base.scores)
    if scores:
        yield Reason(f"it is one flat card, and this one has {counted(scores, 'fold')}")
    most = service.corner_most
    if most is not None and base.corner_radius:
        radius = convert(base.corner_radius, item.mail.unit, service.unit)
        if radius > most:
            yield Reason(
                f"its corners are rounded by {with_unit(radius, service.unit)} and may be by "
                f"{with_unit(most, service.unit)} at most"
            )


def _abroad(service: Service, mail: Mail) -> Iterator[Reason]:
    """A letter that is good at home may be too large for a card sent abroad."""
    if service.abroad is None:
        return
    short, long = service.abroad
    sides = [convert(side, mail.unit, service.unit) for side in (mail.short, mail.long)]
    if sides[0] > short or sides[1] > long:
        most = size_written(long, short, service.unit)
        yield Reason(f"to the USA and abroad a card may be {most} at most", is_certain=False)


def _not_over(smaller: Service, item: Sending) -> Iterator[Reason]:
    """What is over no maximum of the smaller service does not go as the larger one."""
    broken = limits_broken(smaller, item.mail)
    if not any(reason.is_over and reason.is_certain for reason in broken):
        yield Reason(f"it is over no maximum of a {smaller.title}")
