"""Which letter services take the card in its envelope, and why the others do not.

Sizes, thickness and weight are held against the shipped limits, whichever way the envelope lies; a
carrier's other rules are not modelled, so every answer says to check with the carrier.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.library.post import Service, all_services, find_service
from cardrecipe.model.lengths import convert, with_unit
from cardrecipe.plan.entries import PostFit
from cardrecipe.plan.post_limits import Reason, limits_broken, ratio_broken, too_thin_to_sort
from cardrecipe.plan.stuffed import Mail, bare, stuffed
from cardrecipe.plan.uneven import stiff_things, uneven_things
from cardrecipe.plan.words import counted, listed


def post(folded: FoldedCard) -> tuple[PostFit, ...]:
    """Every service against the card, those of the recipe's own unit system first.

    The envelope is the one that is wanted, else the best fit, else one made to measure. A card that
    does not close gives nothing.
    """
    letter, flat = stuffed(folded), bare(folded)
    if letter is None or flat is None:
        return ()
    own = folded.card.unit
    services = sorted(all_services(), key=lambda service: service.system != own)
    return tuple(
        _fit(service, Post(folded, flat if service.is_bare else letter)) for service in services
    )


class Post(NamedTuple):
    """A piece of post with the card that is in it."""

    folded: FoldedCard
    mail: Mail


def _fit(service: Service, item: Post) -> PostFit:
    fits, reasons = _verdict(service, item)
    because = tuple(dict.fromkeys(reason.text for reason in reasons))
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


def _verdict(service: Service, item: Post) -> tuple[bool, list[Reason]]:
    """Whether the service takes it, with the reasons for the answer and what is in doubt."""
    if service.surcharge_on:
        return _with_surcharge(service, find_service(service.surcharge_on), item)
    reasons = list(limits_broken(service, item.mail))
    reasons += ratio_broken(service, item.mail)
    reasons += _bare_rules(service, item) if service.is_bare else _evenness(service, item)
    for dearer in all_services():
        if dearer.surcharge_on == service.name:
            reasons += _properties(dearer, item)
    if service.over:
        reasons += _not_over(find_service(service.over), item)
    return not any(reason.is_certain for reason in reasons), reasons


def _with_surcharge(service: Service, plain: Service, item: Post) -> tuple[bool, list[Reason]]:
    """It must keep the limits of the plain service and have one of the properties of this one."""
    broken = list(limits_broken(plain, item.mail))
    if any(reason.is_certain for reason in broken):
        return False, broken
    properties = _properties(service, item)
    if any(reason.is_certain for reason in properties):
        return True, properties + broken
    return False, [Reason(f"nothing is known that keeps it from being a {plain.title}"), *properties]


def _properties(service: Service, item: Post) -> list[Reason]:
    """What makes a letter need the surcharge of `service`."""
    return [
        *ratio_broken(service, item.mail),
        *too_thin_to_sort(service, item.mail),
        *_evenness(service, item),
    ]


def _evenness(service: Service, item: Post) -> Iterator[Reason]:
    """Ribbon, gems, foam and the like make a letter uneven; board and metal keep it from bending."""
    card = item.folded.card
    uneven, stiff = uneven_things(card), stiff_things(card)
    if service.uneven and uneven:
        is_certain = service.uneven == "yes"
        make = "make" if len(uneven) > 1 else "makes"
        text = f"the {listed(uneven)} {make} it uneven"
        yield Reason(text if is_certain else f"it may be refused: {text}", is_certain)
    if service.rigid and stiff:
        yield Reason(f"it may not bend enough: {listed(stiff)}", False)


def _bare_rules(service: Service, item: Post) -> Iterator[Reason]:
    """A card without an envelope is one flat piece, with corners that are hardly rounded."""
    base = item.folded.card.bases[0]
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


def _not_over(smaller: Service, item: Post) -> Iterator[Reason]:
    """What is over no maximum of the smaller service does not go as the larger one."""
    over = [reason for reason in limits_broken(smaller, item.mail) if reason.is_over]
    if not any(reason.is_certain for reason in over):
        yield Reason(f"it is over no maximum of a {smaller.title}")
        yield from over
