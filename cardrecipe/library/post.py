"""What the post takes as a letter: limits of services as data, each with its source and its date.

Limits change every year, and there are no prices here: whoever shows one says to check with the carrier.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import NamedTuple

from cardrecipe.library.tables import Row, rows
from cardrecipe.model.lengths import to_mm

# Exact, by the international pound of 1959.
GRAMS_PER = {"g": Fraction(1), "oz": Fraction(45359237, 1600000)}


class Limits(NamedTuple):
    """The least and the most of one measure, both still allowed; None where nothing is said."""

    least: Fraction | None
    most: Fraction | None


class Thin(NamedTuple):
    """A letter longer or higher than these sizes must be at least `least` thick to be machined."""

    least: Fraction
    short: Fraction
    long: Fraction


class Service(NamedTuple):
    """One service. Lengths are exact in `unit`; the sides are the short and the long one.

    A service with `surcharge_on` is that other service for whatever has one of its properties; one
    with `over` is only for what is over a maximum of that other service.
    """

    name: str  # "us-letter"
    title: str
    country: str
    system: str  # "inch" | "mm": the recipes that it is shown with first
    unit: str
    short: Limits
    long: Limits
    thick: Limits
    most_grams: Fraction | None
    weight: tuple[Fraction, str] | None  # as published: 7/2 "oz"
    ratio: Limits  # long side by short side
    thin: Thin | None
    corner_most: Fraction | None  # radius of a rounded corner
    uneven: str  # "yes": what is uneven makes it so; "perhaps": it may be refused; ""
    rigid: bool  # what does not bend makes it so, or may be refused
    is_ordinary: bool  # the cheapest letter of its country
    is_bare: bool  # goes without an envelope
    surcharge_on: str
    over: str
    abroad: tuple[Fraction, Fraction] | None  # most short and long side of a card sent abroad
    hint: str  # what no size tells, for whoever posts it
    from_memory: tuple[str, ...]  # limits that no page was seen for: "thick_most"
    date: str  # of the text seen, or "undated"
    source: str
    note: str

    @property
    def figures(self) -> str:
        """How old the figures are: `figures of 2010-01-04`."""
        return "undated figures" if self.date == "undated" else f"figures of {self.date}"

    @property
    def most_mm(self) -> Fraction:
        """The most thickness in mm: every service of the table has one."""
        assert self.thick.most is not None
        return to_mm(self.thick.most, self.unit)


@cache
def all_services() -> tuple[Service, ...]:
    """Every service of the shipped table: each country's in the order in which one tries them."""
    return tuple(_service(row) for row in rows("post", "services"))


def find_service(name: str) -> Service:
    """The service called `name`; KeyError when there is none."""
    for service in all_services():
        if service.name == name:
            return service
    raise KeyError(name)


def services_of(system: str) -> tuple[Service, ...]:
    """The services for recipes in inches (those of the US) or in millimetres (the others)."""
    return tuple(service for service in all_services() if service.system == system)


def ordinary_letters(system: str) -> tuple[Service, ...]:
    """The ordinary letter of each country of a system."""
    return tuple(service for service in services_of(system) if service.is_ordinary)


def no_letter_for_squares(system: str) -> Service | None:
    """The first ordinary letter of a system that a square is not, or would be at a surcharge."""
    dearer = {each.surcharge_on: each for each in all_services() if each.surcharge_on}
    return next((service for service in ordinary_letters(system)
                 if (dearer.get(service.name, service).ratio.least or 0) > 1), None)  # fmt: skip


_UNITS = {"in": "inch", "mm": "mm"}


def _service(row: Row) -> Service:
    weight = (Fraction(row["weight_most"]), row["weight_unit"]) if "weight_most" in row else None
    abroad = tuple(Fraction(row[key]) for key in ("abroad_short", "abroad_long") if key in row)
    thin = tuple(Fraction(row[key]) for key in ("thin", "thin_short", "thin_long") if key in row)
    return Service(
        name=row["name"],
        title=row["title"],
        country=row["country"],
        system=_UNITS[row["system"]],
        unit=_UNITS[row["unit"]],
        short=_limits(row, "short"),
        long=_limits(row, "long"),
        thick=_limits(row, "thick"),
        most_grams=weight[0] * GRAMS_PER[weight[1]] if weight else None,
        weight=weight,
        ratio=_limits(row, "ratio"),
        thin=Thin(*thin) if thin else None,
        corner_most=_number(row, "corner_most"),
        uneven=row.get("uneven", ""),
        rigid=row.get("rigid") == "yes",
        is_ordinary=row.get("ordinary") == "yes",
        is_bare=row.get("bare") == "yes",
        surcharge_on=row.get("surcharge_on", ""),
        over=row.get("over", ""),
        abroad=(abroad[0], abroad[1]) if abroad else None,
        hint=row.get("hint", ""),
        from_memory=tuple(row.get("from_memory", "").split()),
        date=row["date"],
        source=row["source"],
        note=row["note"],
    )


def _limits(row: Row, measure: str) -> Limits:
    return Limits(_number(row, f"{measure}_least"), _number(row, f"{measure}_most"))


def _number(row: Row, key: str) -> Fraction | None:
    return Fraction(row[key]) if key in row else None
