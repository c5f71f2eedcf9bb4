"""The envelopes that a card can be told to fit, and what a name that is not one of them may mean."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import NamedTuple

from cardrecipe.library.tables import rows
from cardrecipe.model.lengths import convert, size_written
from cardrecipe.syntax.nearest import nearest


class Envelope(NamedTuple):
    """An envelope as sold: sizes are exact in `unit` ("inch" or "mm"), which tells its system."""

    name: str  # "us-a2"
    title: str
    width: Fraction
    height: Fraction
    unit: str
    source: str
    note: str

    def size_in(self, unit: str) -> tuple[Fraction, Fraction]:
        """Width and height in `unit`, exactly."""
        return convert(self.width, self.unit, unit), convert(self.height, self.unit, unit)


@cache
def all_envelopes() -> tuple[Envelope, ...]:
    """Every envelope of the shipped table, in its order."""
    return tuple(
        Envelope(
            row["name"],
            row["title"],
            Fraction(row["width"]),
            Fraction(row["height"]),
            _UNITS[row["unit"]],
            row["source"],
            row["note"],
        )
        for row in rows("envelopes", "envelopes")
    )


def find_envelope(name: str) -> Envelope | None:
    """The envelope called exactly `name`."""
    return next((one for one in all_envelopes() if one.name == name), None)


def near_envelopes(name: str) -> tuple[Envelope, ...]:
    """Envelopes that `name` may mean: those with that name in some system, else a near spelling."""
    wanted = _bare(name)
    same = tuple(one for one in all_envelopes() if wanted in (one.name, _bare(one.name)))
    return same or _near_spellings(name)


def meanings(name: str) -> tuple[str, ...]:
    """What a name that is no envelope's may mean, a phrase each, for the hint of the error.

    `a2` gives both the US envelope and the ISO sheet, which is another size and no envelope.
    """
    envelopes = tuple(f"`{one.name}`, an envelope {_size(one)}" for one in near_envelopes(name))
    return envelopes + tuple(
        f"ISO {sheet['name'].upper()}, a sheet of paper "
        f"{size_written(Fraction(sheet['width']), Fraction(sheet['height']), 'mm')}, no envelope"
        for sheet in rows("envelopes", "papers")
        if sheet["name"] == name.lower()
    )


_UNITS = {"in": "inch", "mm": "mm"}
_SYSTEMS = ("us-", "iso-", "square-")


def _bare(name: str) -> str:
    """`us-a2` and `A2` without their system and capitals: `a2`."""
    lowered = name.lower().replace("/", "-").replace("#", "")
    return next((lowered[len(one) :] for one in _SYSTEMS if lowered.startswith(one)), lowered)


def _size(envelope: Envelope) -> str:
    return size_written(envelope.width, envelope.height, envelope.unit)


def _near_spellings(name: str) -> tuple[Envelope, ...]:
    near = nearest(name.lower(), [one.name for one in all_envelopes()])
    found = find_envelope(near) if near else None
    return (found,) if found else ()
