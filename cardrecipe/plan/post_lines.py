"""The post in a few lines for the sheet: for each country the service to take, and why no cheaper one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from cardrecipe.library.post import find_service
from cardrecipe.plan.entries import PostFit
from cardrecipe.plan.words import sentences

ASK = "check with your carrier"
SEVERAL = "the dates of the figures stand under Post"


class PostLine(NamedTuple):
    """A service, or that there is none, and what is to be said of it."""

    title: str
    note: str


def post_lines(fits: Sequence[PostFit], system: str) -> tuple[PostLine, ...]:
    """A line for each country of the `system` ("inch" or "mm"), one for a card sent bare, and hints."""
    countries = _by_country(fits, system)
    lines = [_line(country) for country in countries]
    lines += [
        PostLine(f"{fit.title}, without an envelope", sentences("; ".join(fit.because), fit.check))
        for fit in fits
        if fit.system == system and fit.fits and not fit.envelope
    ]
    return (*lines, *(line for country in countries for line in _hint(country)))


def post_fact(fits: Sequence[PostFit], system: str) -> str:
    """The services in a line for the top of the sheet; "" where there is nothing to say."""
    countries = _by_country(fits, system)
    if not countries:
        return ""
    taken = [(_taken(country), country[0]) for country in countries]
    titles = [fit.title if fit else f"no {first.title}" for fit, first in taken]
    dates = dict.fromkeys((fit or first).figures for fit, first in taken)
    return f"{', '.join(titles)}; {ASK} ({next(iter(dates)) if len(dates) == 1 else SEVERAL})"


def _line(country: Sequence[PostFit]) -> PostLine:
    first, fit = country[0], _taken(country)
    if fit is None:
        return PostLine(
            f"No {first.title}, nor a larger one", sentences("; ".join(first.because), first.check)
        )
    reasons = fit.because if fit is first else tuple(dict.fromkeys((*first.because, *fit.because)))
    return PostLine(fit.title, sentences("; ".join(reasons), fit.check))


def _hint(country: Sequence[PostFit]) -> Iterator[PostLine]:
    """What no size tells of a letter that goes as the ordinary one, with the date of its figures."""
    first = country[0]
    hint = find_service(first.service).hint
    if first.fits and hint:
        yield PostLine(f"Hints for a {first.title}", sentences(hint, first.check))


def _taken(country: Sequence[PostFit]) -> PostFit | None:
    """The first service that fits: they stand in the order in which one tries them."""
    return next((fit for fit in country if fit.fits), None)


def _by_country(fits: Sequence[PostFit], system: str) -> list[list[PostFit]]:
    """What goes in an envelope, by country, both in the order of the table."""
    shown = [fit for fit in fits if fit.system == system and fit.envelope]
    countries = dict.fromkeys(fit.country for fit in shown)
    return [[fit for fit in shown if fit.country == country] for country in countries]
