"""The comparison of a card with its variants: one row for each thing to choose by, one cell for each card."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.plan.entries import SUPPLY_GROUPS, SupplyLine
from cardrecipe.plan.facts import minutes_counted
from cardrecipe.plan.sheet import PaperTotal, Sheet
from cardrecipe.plan.supplies import counted_sheets
from cardrecipe.plan.words import capital, listed, spoken

NONE = "–"
SUPPLIES = ("Supplies more", "Supplies less")
# Of the facts at the top of a sheet those that the cards are chosen by, in this order.
_ON_RULER = re.compile(r"\([^()]*\bin\)")  # what a ruler in inches shows of a thickness
FACTS = ("Closed size", "Thickness", "Weight", "Envelope", "Post", "Level", "Time")


class Cell(NamedTuple):
    """What is said of one card. `differs`: not as of the plain card. `papers`: the names, in the recipe, of
    the papers that the lines are of, for their colours; () where they are of none."""

    lines: tuple[str, ...]
    differs: bool = False
    papers: tuple[str, ...] = ()
    known: frozenset[str] = frozenset()  # the lines that the plain card has too


class Row(NamedTuple):
    label: str
    cells: tuple[Cell, ...]


def rows(plain: Sheet, others: Sequence[Sheet]) -> tuple[Row, ...]:
    """The rows of the comparison, the cells in the order of the cards, that of the plain one first."""
    sheets = (plain, *others)
    found = (
        Row("Papers", _marked([_papers(sheet) for sheet in sheets])),
        *_piece_rows(sheets),
        *_makes_row(sheets),
        Row("Pieces added", _marked([_names(_added(plain, sheet)) for sheet in sheets])),
        Row("Pieces left out", _marked([_names(_added(sheet, plain)) for sheet in sheets])),
        Row("Sheets", _marked([Cell(tuple(_sheets(sheet))) for sheet in sheets])),
        *_cost_row(sheets),
        *_supply_rows(plain, sheets),
        *(_fact_row(label, sheets) for label in FACTS),
    )
    return tuple(row for row in found if _says(row) or row.label in SUPPLIES)


def _says(row: Row) -> bool:
    return any(cell.lines != (NONE,) for cell in row.cells)


def _supply_rows(plain: Sheet, sheets: Sequence[Sheet]) -> tuple[Row, ...]:
    """What has to be there besides, and what need not: the one is told where the other is."""
    more = Row(SUPPLIES[0], _marked([_supplies(more_of(plain, sheet)) for sheet in sheets]))
    less = Row(SUPPLIES[1], _marked([_supplies(less_of(plain, sheet)) for sheet in sheets]))
    return (more, less) if _says(more) or _says(less) else ()


def more_of(plain: Sheet, sheet: Sheet) -> tuple[SupplyLine, ...]:
    """What the supply list of `sheet` has and that of `plain` has not, or has in another amount."""
    known = {_of(line): line.amount for line in plain.supplies}
    return tuple(line for line in sheet.supplies if _of(line) not in known or known[_of(line)] != line.amount)


def less_of(plain: Sheet, sheet: Sheet) -> tuple[SupplyLine, ...]:
    """What the supply list of `plain` has and that of `sheet` has not at all."""
    known = set(map(_of, sheet.supplies))
    return tuple(line for line in plain.supplies if _of(line) not in known)


def by_kind(lines: Sequence[SupplyLine]) -> tuple[tuple[str, str], ...]:
    """Supplies in a line for each kind: `Inks`, `Rust; Coal black`."""
    kinds = dict.fromkeys(line.kind for line in lines)
    return tuple(
        (SUPPLY_GROUPS.get(kind, kind), "; ".join(_supply(line) for line in lines if line.kind == kind))
        for kind in kinds
    )


def _of(line: SupplyLine) -> tuple[str, str]:
    return line.kind, line.name.casefold()


def _marked(cells: Sequence[Cell]) -> tuple[Cell, ...]:
    first = cells[0].lines
    return tuple(cell._replace(differs=cell.lines != first, known=frozenset(first)) for cell in cells)


def _said(lines: Iterable[str]) -> Cell:
    return Cell(tuple(lines) or (NONE,))


def _papers(sheet: Sheet) -> Cell:
    papers = dict.fromkeys((line.paper, line.paper_title or line.paper or "Any paper") for line in sheet.cuts)
    return Cell(tuple(title for _, title in papers) or (NONE,), False, tuple(name for name, _ in papers))


def _piece_rows(sheets: Sequence[Sheet]) -> Iterator[Row]:
    """A row for each piece that is not the same wherever it is, or that comes in; pieces of which the same is
    said share one."""
    rows: dict[tuple[Cell, ...], list[str]] = {}
    for name in dict.fromkeys(line.piece for sheet in sheets for line in sheet.cuts):
        sizes = [tuple(_sizes(sheet, name)) for sheet in sheets]
        papers = [tuple(_paper_titles(sheet, name)) for sheet in sheets]
        is_otherwise = not sizes[0] or _differ(sizes)
        if is_otherwise or _differ(papers):
            cells = [_said((*(size if is_otherwise else ()), *(paper if _differ(papers) else ())))
                     for size, paper in zip(sizes, papers, strict=True)]  # fmt: skip
            rows.setdefault(_marked(cells), []).append(spoken(name))
    yield from (Row(capital(listed(names)), cells) for cells, names in rows.items())


def _differ(said: Sequence[tuple[str, ...]]) -> bool:
    """True where something else is said of some cards; nothing is said of a piece that is not there."""
    return len({each for each in said if each}) > 1


def _paper_titles(sheet: Sheet, name: str) -> Iterator[str]:
    yield from (line.paper_title or "Any paper" for line in sheet.cuts if line.piece == name)


def _sizes(sheet: Sheet, name: str) -> Iterator[str]:
    """The size in both unit systems, and how many one card needs."""
    for line in sheet.cuts:
        if line.piece == name:
            yield from filter(None, (line.size, line.other_size))
            if line.count > 1:
                yield f"{line.count} of them"


def _added(plain: Sheet, sheet: Sheet) -> list[str]:
    known = {line.piece for line in plain.cuts}
    return list(dict.fromkeys(line.piece for line in sheet.cuts if line.piece not in known))


def _names(names: Sequence[str]) -> Cell:
    return _said([capital(listed(map(spoken, names)))] if names else [])


def _sheets(sheet: Sheet) -> Iterator[str]:
    totals = sheet.paper_totals
    if len(totals) > 1:
        yield f"{counted_sheets(sum(total.sheets for total in totals))} in all"
    yield from (f"{total.title}: {total.words}" for total in totals)
    if not totals:
        yield NONE


def _cost_row(sheets: Sequence[Sheet]) -> Iterator[Row]:
    """What the papers cost; where no card has a price there is no such row."""
    if any(total.cost for sheet in sheets for total in sheet.paper_totals):
        yield Row("Cost of the papers", _marked([Cell(tuple(_cost(sheet.paper_totals))) for sheet in sheets]))


def _cost(totals: Sequence[PaperTotal]) -> Iterator[str]:
    """The sum of the known costs, what each paper costs, and whose price the recipe does not say."""
    known = [total for total in totals if total.cost]
    unknown = [total.title for total in totals if not total.cost]
    if not known:
        yield "no price is known"
        return
    amount = float(sum((Fraction(total.cost) for total in known), Fraction(0)))
    yield f"{amount:.2f}" + (f", and the price of {listed(unknown)}" if unknown else "")
    for total in known:
        packs = f", {total.packs}" if total.packs else ""
        yield f"{total.title}: {total.cost}{packs}"


def _supplies(lines: Sequence[SupplyLine]) -> Cell:
    """Papers have rows of their own."""
    return _said(": ".join(each) for each in by_kind([line for line in lines if line.kind != "paper"]))


def _supply(line: SupplyLine) -> str:
    return f"{line.name}, {line.amount}" if line.amount else line.name


def _makes_row(sheets: Sequence[Sheet]) -> tuple[Row, ...]:
    """How many are made, where that is not the same: sheets and cost are for all of them."""
    return (_fact_row("Makes", sheets),) if len({sheet.copies for sheet in sheets}) > 1 else ()


def _fact_row(label: str, sheets: Sequence[Sheet]) -> Row:
    cells = _marked([_fact(label, sheet) for sheet in sheets])
    if label == "Thickness":
        return Row(label, tuple(_as_thick(cells[0], cell) for cell in cells))
    if label == "Time":
        return Row(label, tuple(_with_more_time(sheets[0], sheet, cell)
                                for sheet, cell in zip(sheets, cells, strict=True)))  # fmt: skip
    return Row(label, cells)


def _as_thick(first: Cell, cell: Cell) -> Cell:
    """Not marked where it is the same to a mark of the ruler: a thickness is an estimate."""
    marks = [_ON_RULER.search(each.lines[0]) for each in (first, cell)]
    if all(marks) and len({mark[0] for mark in marks if mark}) == 1:
        return cell._replace(differs=False, known=frozenset(cell.lines))
    return cell


def _with_more_time(plain: Sheet, sheet: Sheet, cell: Cell) -> Cell:
    """A difference that goes when the minutes are rounded is told in words."""
    more = minutes_counted(sheet.folded.card) - minutes_counted(plain.folded.card)
    if cell.differs or not more:
        return cell
    said = "a little more than the main card" if more > 0 else "a little less than the main card"
    return cell._replace(lines=(*cell.lines, said), differs=True)


def _fact(label: str, sheet: Sheet) -> Cell:
    found = [fact.value for fact in sheet.facts if fact.label == label]
    if label == "Envelope" and not found and sheet.folded.closed:
        return Cell(("none of those we know",))
    return _said(found)
