"""The supply list: everything the pieces, the work on them and the glue ask for, to be ticked off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from cardrecipe.model.papers import Paper
from cardrecipe.model.work import Work
from cardrecipe.plan.entries import SupplyLine
from cardrecipe.plan.glue import fixing
from cardrecipe.plan.papers import least_sheets, pieces_of, sheets_that_hold
from cardrecipe.plan.tools import tools
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import bought_length, bought_size, capital, counted, listed
from cardrecipe.solve.sized import SizedCard, SizedPiece

if TYPE_CHECKING:
    from cardrecipe.plan.sheet import PaperTotal

# The order of the groups on the sheet; kinds that are not here come last.
KINDS = (
    "paper",
    "stamp",
    "ink",
    "marker",
    "die",
    "folder",
    "punch",
    "foil",
    "ribbon",
    "cord",
    "gem",
    "other",
    "adhesive",
    "tool",
)
DESIGN_KINDS = {
    "stamp": "stamp",
    "emboss": "folder",
    "die": "die",
    "punch": "punch",
    "foil": "foil",
}
USING_KINDS = {"stamp": "ink", "ink-edges": "ink", "color": "marker", "write": "marker"}


class Need(NamedTuple):
    """One thing that one piece asks for; `length` for what is bought by length, for one card."""

    kind: str
    title: str
    piece: str
    length: Fraction | None = None


def supply_lines(
    card: SizedCard,
    copies: int,
    totals: Sequence[PaperTotal] = (),
    by_knife: frozenset[str] = frozenset(),
) -> tuple[SupplyLine, ...]:
    """All supplies for `copies` cards, in groups, each thing once with the pieces it is used for.

    `totals` are those of the cutting plan; a paper without one needs at least so many sheets. Papers in
    `by_knife` have cuts that are longer than the trimmer.
    """
    lines = [
        *_papers(card, copies, totals),
        *_merged(card, list(needs(card)), copies),
        *tools(card, by_knife),
    ]
    rank = {kind: index for index, kind in enumerate(KINDS)}
    return tuple(sorted(lines, key=lambda line: rank.get(line.kind, len(rank))))


def needs(card: SizedCard) -> Iterator[Need]:
    """What the work on the pieces and their glue ask for, in written order, with repeats.

    A declared supply keeps its own kind; others get the kind that their operation implies.
    """
    for piece in card.pieces:
        for work in piece.works:
            yield from needs_of(card, piece, work)
        adhesive = fixing(card, piece).adhesive
        if adhesive:
            yield Need("adhesive", adhesive, piece.name)
    for supply in card.supplies.values():
        # No operation names a tool, and `other` may serve a free-text step: declaring is using.
        if supply.kind in ("tool", "other"):
            yield Need(supply.kind, supply.title, "")


def _papers(card: SizedCard, copies: int, totals: Sequence[PaperTotal]) -> Iterator[SupplyLine]:
    planned = {total.paper: total for total in totals}
    for name, paper in card.papers.items():
        pieces = pieces_of(card, name)
        if pieces:
            used_for = tuple(piece.name for piece in pieces)
            total = planned.get(name)
            amount = _bought(total, copies) if total is not None else _sheets(card, paper, pieces, copies)
            yield SupplyLine("paper", paper_title(paper), amount, used_for, paper.color)


def _bought(total: PaperTotal, copies: int) -> str:
    """The sheets that the cutting plan takes; for several cards packs and cost too: `3 sheets of …; one pack
    of 20, 17 sheets left over; cost 8.00`. For one card the cutting plan says that."""
    if copies == 1:
        return total.words
    packs = ", ".join(part for part in (total.packs, total.left) if part)
    cost = say("total/cost", cost=total.cost) if total.cost else ""
    return "; ".join(part for part in (total.words, packs, cost) if part)


def paper_title(paper: Paper) -> str:
    """A paper as a shop lists it: `Ink blue, 270 gsm`."""
    if paper.weight is None:
        return paper.title
    amount = paper.weight.amount
    figure = str(amount) if amount.denominator == 1 else f"{float(amount):g}"
    kind = f" {paper.weight.basis}" if paper.weight.basis else ""
    return f"{paper.title}, {figure} {paper.weight.unit}{kind}"


def _sheets(card: SizedCard, paper: Paper, pieces: tuple[SizedPiece, ...], copies: int) -> str:
    choices = [
        f"{counted_sheets(least_sheets(pieces, copies, sheet))} of "
        f"{bought_size(sheet.width, sheet.height, card.unit)}"
        for sheet in sheets_that_hold(paper, pieces)
    ]
    return f"at least {listed(choices, last='or')}" if choices else ""


def counted_sheets(count: int) -> str:
    """`1 sheet`, `3 sheets`: figures, since the eye looks for them in a list."""
    return f"{count}\u00a0{'sheet' if count == 1 else 'sheets'}"


def needs_of(card: SizedCard, piece: SizedPiece, work: Work) -> Iterator[Need]:
    """What one work asks for."""
    if work.verb in DESIGN_KINDS:
        yield _need(card, DESIGN_KINDS[work.verb], work.text, piece)
    if work.verb == "add":
        length = work.long * piece.count if work.long else None
        yield _need(card, work.item or "other", work.text, piece, length)
    for title in work.using:
        # `emboss` and the like may repeat their design as the thing they are done with.
        if title.casefold() != work.text.casefold():
            yield _need(card, USING_KINDS.get(work.verb, "other"), title, piece)
    if work.verb == "write" and not work.using:
        yield _need(card, "tool", "Pen", piece)


def _need(
    card: SizedCard, kind: str, title: str, piece: SizedPiece, length: Fraction | None = None
) -> Need:
    wanted = title.casefold()
    for supply in card.supplies.values():
        if wanted in (supply.title.casefold(), supply.name.casefold()):
            return Need(supply.kind, supply.title, piece.name, length)
    return Need(kind, title, piece.name, length)


def _merged(card: SizedCard, found: list[Need], copies: int) -> Iterator[SupplyLine]:
    """Each thing once, whatever the capitals it was written with."""
    groups: dict[tuple[str, str], list[Need]] = {}
    for need in found:
        groups.setdefault((need.kind, need.title.casefold()), []).append(need)
    for same in groups.values():
        lengths = [need.length for need in same if need.length is not None]
        amount = ""
        if lengths:
            amount = f"about {bought_length(sum(lengths, Fraction(0)) * copies, card.unit)}"
        elif same[0].kind == "gem":
            amount = _gems(card, same, copies)
        used_for = tuple(dict.fromkeys(need.piece for need in same if need.piece))
        yield SupplyLine(same[0].kind, capital(same[0].title), amount, used_for)


def _gems(card: SizedCard, same: list[Need], copies: int) -> str:
    return counted(sum(card.piece(need.piece).count for need in same) * copies, "piece")
