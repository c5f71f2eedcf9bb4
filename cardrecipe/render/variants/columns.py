"""The comparison of many cards in tables that can be read: few columns each, the main card in all of them."""

from collections.abc import Iterator
from typing import NamedTuple

from cardrecipe.plan.variant_rows import NONE, SUPPLIES, Row
from cardrecipe.plan.variant_sheet import VariantSheet

MOST_VARIANTS = 3  # in one table, beside the main card: more columns are narrower than a size in them

NO_VARIANTS = "This recipe has no variants: what follows is its one card."


class Table(NamedTuple):
    """Some of the cards: `places` are their places among the titles of the sheet, the main card's 0 first."""

    places: tuple[int, ...]
    titles: tuple[str, ...]
    rows: tuple[Row, ...]


def tables(sheet: VariantSheet, most: int = MOST_VARIANTS) -> tuple[Table, ...]:
    """As few tables as hold all variants, with about as many of them in each; none without a variant.

    Rows in which no variant of a table differs stand in the first table alone, as `note` says.
    """
    count = len(sheet.variants)
    if not count:
        return ()
    parts = -(-count // most)
    return tuple(_table(sheet, places) for places in _shared_out(count, parts))


def note(sheet: VariantSheet, most: int = MOST_VARIANTS) -> str:
    """What has to be known to read the tables."""
    more = (
        " Rows in which none of them differs stand in the first table alone."
        if len(sheet.variants) > most
        else ""
    )
    return f"Bold, with a bar at its left: not as on the main card.{more}"


def _shared_out(count: int, parts: int) -> Iterator[range]:
    for part in range(parts):
        yield range(part * count // parts + 1, (part + 1) * count // parts + 1)


def _table(sheet: VariantSheet, variants: range) -> Table:
    places = (0, *variants)
    rows = (Row(row.label, tuple(row.cells[place] for place in places)) for row in sheet.rows)
    return Table(
        places,
        tuple(sheet.titles[place] for place in places),
        tuple(row for row in rows if (_says(row) if variants.start == 1 else _differs(row))),
    )


def _says(row: Row) -> bool:
    """A row of nothing but dashes belongs to a variant of another table, or says that nothing is wanted."""
    return any(cell.lines != (NONE,) for cell in row.cells) or row.label in SUPPLIES


def _differs(row: Row) -> bool:
    return any(cell.differs for cell in row.cells)
