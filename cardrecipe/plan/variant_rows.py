"""The comparison of a card with its variants: one row for each thing to choose by, one cell for each card."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.plan.entries import SUPPLY_GROUPS, SupplyLine
from cardrecipe.plan.sheet import CutLine, PaperTotal, Sheet
from cardrecipe.plan.supplies import counted_sheets
from cardrecipe.plan.words import capital, listed, spoken

NONE = "–"
# Of the facts at the top of a sheet those that the cards are chosen by, in this order.
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
        Row("Pieces added", _marked([_names(_added(plain, sheet)) for sheet in sheets])),
        Row("Pieces left out", _marked([_names(_added(sheet, plain)) for sheet in sheets])),
        Row("Sheets", _marked([Cell(tuple(_sheets(sheet))) for sheet in sheets])),
        *_cost_row(sheets),
        Row("Supplies more", _marked([_supplies(more_of(plain, sheet)) for sheet in sheets])),
        Row("Supplies less", _marked([_supplies(less_of(plain, sheet)) for sheet in sheets])),
        *(_fact_row(label, sheets) for label in FACTS),
    )
    return tuple(row for row in found if any(cell.lines != (NONE,) for cell in row.cells))


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
    """A row for each piece that is not the same wherever it is, or that comes in."""
    names = dict.fromkeys(line.piece for sheet in sheets for line in sheet.cuts)
    for name in names:
        cells = [_piece(sheet, name) for sheet in sheets]
        if len({cell.lines for cell in cells if cell.lines != (NONE,)}) > 1 or cells[0].lines == (NONE,):
            yield Row(capital(spoken(name)), _marked(cells))


def _piece(sheet: Sheet, name: str) -> Cell:
    lines = [line for line in sheet.cuts if line.piece == name]
    return _said(said for line in lines for said in _sizes(line))


def _sizes(line: CutLine) -> Iterator[str]:
    """The size in both unit systems, and how many one card needs."""
    yield line.size
    if line.other_size:
        yield line.other_size
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


def _fact_row(label: str, sheets: Sequence[Sheet]) -> Row:
    return Row(label, _marked([_fact(label, sheet) for sheet in sheets]))


def _fact(label: str, sheet: Sheet) -> Cell:
    found = [fact.value for fact in sheet.facts if fact.label == label]
    if label == "Envelope" and not found and sheet.folded.closed:
        return Cell(("none of those we know",))
    return _said(found)
