"""What goes into each bag of a kit, ready to be worked on, and what lies on the table for all."""

from __future__ import annotations

from collections.abc import Iterator

from cardrecipe.model.lengths import size_written
from cardrecipe.plan.classes.blanks import KitCard
from cardrecipe.plan.classes.piece_prep import is_cut_out_before, ready_works
from cardrecipe.plan.classes.sheet import Bag, BagLine
from cardrecipe.plan.cutting.paper_jobs import has_margin
from cardrecipe.plan.papers import cut_order
from cardrecipe.plan.supplies import Need, needs, needs_of
from cardrecipe.plan.tools import KNIFE, OUTLINED, tools_for
from cardrecipe.plan.words import bought_length, listed, paper_words, quoted
from cardrecipe.solve.sized import SizedCard, SizedPiece

DONE = {"die": "die-cut", "emboss": "embossed", "punch": "punched", "stamp": "stamped", "color": "coloured",
        "ink-edges": "edges inked", "foil": "foiled", "write": "written on", "trim": "trimmed"}  # fmt: skip
# What only the preparation takes in hand.
BEFORE = ("Paper trimmer", "Scoring board", "Corner rounder", "Die-cutting machine")
DESIGNS = {"stamp": "stamp", "die": "die", "folder": "embossing folder", "punch": "punch", "foil": "foil"}


def bag_of(kit: KitCard, title: str) -> Bag:
    """The list of one bag, and how many bags there are of it."""
    card = kit.card
    pieces = tuple(_piece(card, piece) for piece in cut_order(card))
    added = tuple(line for piece in card.pieces for line in _added(card, piece))
    shared = tuple(dict.fromkeys((*_shared(card), *table_tools(card))))
    return Bag(kit.letter, title, kit.of.kits, pieces + added, shared, card.unit)


def _piece(card: SizedCard, piece: SizedPiece) -> BagLine:
    paper = card.papers.get(piece.paper or "")
    return BagLine(
        piece.name,
        piece.count,
        size_written(piece.width, piece.height, card.unit),
        paper_words(paper) if paper else "",
        listed(_notes(card, piece), last="and"),
        piece.width,
        piece.height,
    )


def _notes(card: SizedCard, piece: SizedPiece) -> Iterator[str]:
    """What is done to a piece already, and what still is to be cut away."""
    if piece.kind in OUTLINED:
        yield piece.kind
    yield from dict.fromkeys(DONE.get(work.verb, "worked on") for work in ready_works(piece))
    if (
        has_margin(piece)
        and not is_cut_out_before(piece)
        and "die" not in {work.verb for work in ready_works(piece)}
    ):
        yield "with a margin, to be trimmed"
    if piece.windows:
        yield "window cut"
    if piece.corner_radius:
        yield "corners rounded"
    directions = {score.direction for score in piece.scores}
    if directions - {"slit"}:
        yield "scored"
    if "slit" in directions:
        yield "slit"
    paper = card.papers.get(piece.paper or "")
    if paper and paper.one_way and piece.width != piece.height:
        yield "pattern upright"


def _added(card: SizedCard, piece: SizedPiece) -> Iterator[BagLine]:
    """Ribbon, cord, gems: what is added to a piece, so often as there are pieces."""
    for work in piece.works:
        if work.verb == "add":
            size = bought_length(work.long, card.unit) if work.long else ""
            yield BagLine(f"{work.item or 'piece'} {quoted(work.text)}", piece.count, size, "",
                          width=work.long)  # fmt: skip


def _shared(card: SizedCard) -> Iterator[str]:
    """Stamps, inks and adhesives of the works that are left for the class."""
    ready = {piece.name: ready_works(piece) for piece in card.pieces}
    for piece in card.pieces:
        for work in piece.works[len(ready[piece.name]) :]:
            if work.verb != "add":
                yield from map(_named, needs_of(card, piece, work))
    yield from (_named(need) for need in needs(card) if need.kind in ("adhesive", "other") or not need.piece)


def _named(need: Need) -> str:
    if need.kind in DESIGNS:
        return f"{DESIGNS[need.kind]} {quoted(need.title)}"
    if need.kind in ("ink", "marker") and need.kind not in need.title.casefold().split():
        return f"{need.title} {need.kind}"
    return need.title


def table_tools(card: SizedCard) -> Iterator[str]:
    """The tools at the table: not those of the preparation."""
    for piece in card.pieces:
        trims = piece.kind == "cutout" or any(work.verb == "trim" for work in piece.works)
        for tool in tools_for(piece):
            is_before = tool in BEFORE or (tool in KNIFE and not trims)
            if not is_before and not (tool in ("Pencil", "Small scissors") and is_cut_out_before(piece)):
                yield tool
