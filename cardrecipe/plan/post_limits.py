"""The measures of a letter against the limits of a service: sides, their ratio, thickness, weight.

Every limit itself is still allowed. A limit that only the top of an estimate's range passes is a doubt.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.folded import Thickness
from cardrecipe.library.post import Limits, Service
from cardrecipe.model.lengths import (
    FINEST,
    convert,
    round_down,
    round_near,
    round_up,
    to_mm,
    with_unit,
    written,
)
from cardrecipe.plan.stuffed import Mail
from cardrecipe.plan.words import lengths

TENTH = Fraction(1, 10)
HUNDREDTH = Fraction(1, 100)


class Reason(NamedTuple):
    """Why a service does not take a letter, or may not; `is_over` where a maximum is the matter."""

    text: str
    is_certain: bool = True
    is_over: bool = False


def limits_broken(service: Service, mail: Mail) -> Iterator[Reason]:
    """The limits of size, thickness and weight that `mail` does not keep, or may not."""
    yield from _side(service, "short", service.short, mail.short, mail.unit)
    yield from _side(service, "long", service.long, mail.long, mail.unit)
    yield from _thickness(service, mail)
    yield from _weight(service, mail)


def ratio_broken(service: Service, mail: Mail) -> Iterator[Reason]:
    """The ratio of the sides, if it is outside the limits; a square is called one."""
    least, most = service.ratio
    if least is not None and mail.ratio < least:
        allowed = f"{_figure(least)} to {_figure(most)}" if most else f"at least {_figure(least)}"
        if mail.ratio == 1:
            yield Reason(f"it is square: the long side must be {allowed} times the short side")
            return
        ratio = _figure(round_down(mail.ratio, HUNDREDTH))
        yield Reason(f"its long side is {ratio} times its short side and must be {allowed} times")
    elif most is not None and mail.ratio > most:
        ratio = _figure(round_up(mail.ratio, HUNDREDTH))
        yield Reason(
            f"its long side is {ratio} times its short side and may be {_figure(most)} times at most"
        )


def too_thin_to_sort(service: Service, mail: Mail) -> Iterator[Reason]:
    """A long or high letter must be a little thicker than others for the machine to take it."""
    rule = service.thin
    if rule is None:
        return
    short, long = (convert(side, mail.unit, service.unit) for side in (mail.short, mail.long))
    least, thickness = to_mm(rule.least, service.unit), mail.thickness
    if (short > rule.short or long > rule.long) and thickness.least_mm < least:
        text = f"too thin for its size, which needs {with_unit(round_near(least, HUNDREDTH), 'mm')}"
        is_certain = thickness.likely_mm < least
        yield Reason(f"it is {text}" if is_certain else f"it may be {text}", is_certain)


def about_thick(thickness: Thickness, limit: Fraction) -> str:
    """An estimate with its range, `about 5.5 mm (between 4.2 and 6.3 mm)`.

    It is rounded so that what exceeds the limit, in mm, never seems to be equal to it.
    """
    likely, least, most = (
        round_near(value, TENTH) for value in (thickness.likely_mm, thickness.least_mm, thickness.most_mm)
    )
    if thickness.likely_mm > limit:
        likely = max(likely, limit + HUNDREDTH)
    return f"about {with_unit(likely, 'mm')} (between {lengths((least, most), 'mm')})"


def thickness_limit(service: Service, value: Fraction) -> str:
    """A limit in mm, with the inches beside it that a ruler shows: `6.35 mm (1⁄4 in)`."""
    millimetres = with_unit(round_near(to_mm(value, service.unit), HUNDREDTH), "mm")
    if service.unit == "inch" and value.denominator <= FINEST["inch"]:
        return f"{millimetres} ({with_unit(value, service.unit)})"
    return millimetres


def _side(service: Service, name: str, limits: Limits, side: Fraction, unit: str) -> Iterator[Reason]:
    length = convert(side, unit, service.unit)
    if limits.least is not None and length < limits.least:
        said = _side_said(name, length, service)
        least = with_unit(limits.least, service.unit)
        yield Reason(f"{said} and must be {least} at least{_memory(service, f'{name}_least')}")
    if limits.most is not None and length > limits.most:
        said = _side_said(name, length, service)
        most = with_unit(limits.most, service.unit)
        memory = _memory(service, f"{name}_most")
        yield Reason(f"{said} and may be {most} at most{memory}", is_over=True)


def _side_said(name: str, length: Fraction, service: Service) -> str:
    return f"its {name} side is {with_unit(length, service.unit)}"


def _thickness(service: Service, mail: Mail) -> Iterator[Reason]:
    thickness, (least, most) = mail.thickness, service.thick
    if most is not None:
        limit, memory = to_mm(most, service.unit), _memory(service, "thick_most")
        if thickness.likely_mm > limit:
            about, at_most = about_thick(thickness, limit), thickness_limit(service, most)
            yield Reason(f"it is {about} thick and may be {at_most} at most{memory}", is_over=True)
        elif thickness.most_mm > limit:
            about, at_most = about_thick(thickness, limit), thickness_limit(service, most)
            yield Reason(f"it may be too thick: {about}, and {at_most} is the most{memory}", False, True)
    if least is not None and thickness.least_mm < to_mm(least, service.unit):
        is_certain = thickness.likely_mm < to_mm(least, service.unit)
        it_is = "it is" if is_certain else "it may be"
        yield Reason(f"{it_is} too thin: {thickness_limit(service, least)} is the least", is_certain)


def _weight(service: Service, mail: Mail) -> Iterator[Reason]:
    if service.most_grams is None or service.weight is None:
        return
    limit = f"{_figure(service.weight[0])}\u00a0{service.weight[1]}"
    if service.weight[1] != "g":
        limit += f" ({round(service.most_grams)}\u00a0g)"
    if mail.grams is None:
        yield Reason(f"its weight is not known, since not every paper's is; {limit} is the most", False)
        return
    about = f"about {_grams(mail.grams.likely)} with its envelope, glue and additions not counted"
    if mail.grams.likely > service.most_grams:
        yield Reason(f"it weighs {about}, and may weigh {limit} at most", is_over=True)
    elif mail.grams.most > service.most_grams:
        yield Reason(f"it may be too heavy: {about}, and {limit} is the most", False, True)


def _memory(service: Service, limit: str) -> str:
    return " (a limit from memory)" if limit in service.from_memory else ""


def _grams(value: Fraction) -> str:
    return f"{round_up(value, Fraction(1))}\u00a0g"


def _figure(value: Fraction) -> str:
    """A plain number, by the rule for millimetres: `1.3`."""
    return written(value, "mm")
