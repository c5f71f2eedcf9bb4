"""The papers of many recipes → each paper of the class once: the same packet from a shop is the same paper.

Two papers are one where title, kind, sizes, weight, grain and one-way agree, whatever their names; the same
name for papers that differ is two.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from cardrecipe.model.lengths import convert, to_mm
from cardrecipe.model.papers import Paper, StockSheet
from cardrecipe.plan.papers import cut_order
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import quoted
from cardrecipe.solve.sized import SizedCard

Packet = tuple[object, ...]  # what tells papers apart in a shop


class ClassPaper(NamedTuple):
    """A paper of the class under a name of its own there, with the letters of the kits that are cut from it.

    It is measured in `unit`: that of their recipes, inches where both are cut from it, since a mark in
    millimetres can be told beside inches and not the other way round.
    """

    paper: Paper
    packet: Packet
    kits: tuple[str, ...]
    unit: str


def packet_of(paper: Paper, unit: str) -> Packet:
    """What a paper is, in whatever unit its sizes are written."""
    sizes = tuple(sorted((to_mm(each.width, unit), to_mm(each.height, unit)) for each in paper.sheets))
    return paper.title, paper.kind, sizes, paper.weight, paper.grain, paper.one_way


def class_papers(cards: Sequence[tuple[str, SizedCard]]) -> tuple[ClassPaper, ...]:
    """Each paper that something is cut from, once, in the order of the cards and of their cut lists."""
    found: dict[Packet, list[tuple[str, Paper, str]]] = {}
    for letter, card in cards:
        for name in dict.fromkeys(piece.paper for piece in cut_order(card) if piece.paper in card.papers):
            own = card.papers[name or ""]
            found.setdefault(packet_of(own, card.unit), []).append((letter, own, card.unit))
    taken: set[str] = set()
    papers = []
    for packet, same in found.items():
        unit = "inch" if any(unit == "inch" for _, _, unit in same) else "mm"
        paper, *others = (measured_in(own, own_unit, unit) for _, own, own_unit in same)
        for other in others:
            paper = _completed(paper, other)
        paper = paper._replace(name=_free(paper.name, taken))
        taken.add(paper.name)
        papers.append(ClassPaper(paper, packet, tuple(dict.fromkeys(each for each, _, _ in same)), unit))
    return tuple(papers)


def measured_in(paper: Paper, unit: str, into: str) -> Paper:
    """The same packet measured in another unit, exactly: no size is taken for another system's usual one."""
    sheets = tuple(
        StockSheet(convert(each.width, unit, into), convert(each.height, unit, into), each.price)
        for each in paper.sheets
    )
    thick = convert(paper.thick, unit, into) if paper.thick is not None else None
    return paper._replace(sheets=sheets, thick=thick)


def unlike_prices(cards: Sequence[tuple[str, SizedCard]], papers: Sequence[ClassPaper]) -> Iterator[str]:
    """A sentence for each paper whose recipes do not agree on its price or its pack."""
    for each in papers:
        same = [
            measured_in(paper, card.unit, "mm")
            for _, card in cards
            for paper in card.papers.values()
            if packet_of(paper, card.unit) == each.packet
        ]
        prices = {sheet for paper in same for sheet in paper.sheets if sheet.price is not None}
        packs = {paper.pack for paper in same if paper.pack is not None}
        if len(prices) > len({sheet[:2] for sheet in prices}) or len(packs) > 1:
            yield say("class/unlike-prices", paper=quoted(each.paper.title))


def _completed(paper: Paper, other: Paper) -> Paper:
    """A paper with what only another recipe says of it: price, pack, colour, thickness."""
    prices = {(each.width, each.height): each.price for each in other.sheets}
    sheets = tuple(
        each if each.price is not None else each._replace(price=prices.get((each.width, each.height)))
        for each in paper.sheets
    )
    return paper._replace(
        sheets=sheets,
        pack=paper.pack if paper.pack is not None else other.pack,
        color=paper.color or other.color,
        thick=paper.thick if paper.thick is not None else other.thick,
    )


def _free(name: str, taken: set[str]) -> str:
    """A name that no other paper of the class has: `ink`, `ink-2`."""
    number, found = 1, name
    while found in taken:
        number += 1
        found = f"{name}-{number}"
    return found
