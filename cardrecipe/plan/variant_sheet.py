"""One sheet of a recipe with all its variants, as data: the plain card whole, and of each variant what is
otherwise, told so that somebody with this one sheet can make any of them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from cardrecipe.plan.alike import new_cuts, new_guides, new_layouts, unnumbered
from cardrecipe.plan.card import notes_of_sums
from cardrecipe.plan.sheet import CutLine, CuttingSheet, PaperTotal, ScoreGuide, Sheet
from cardrecipe.plan.variant_rows import Row, by_kind, less_of, more_of, rows
from cardrecipe.plan.variant_way import Way, way
from cardrecipe.plan.words import listed, spoken

SHEET_NAMED = re.compile(r"sheet (\d+) of the main card\.$")  # at the end of one of `same_layouts`
MAIN = "Main card"  # the card without a variant: one of its variants may well be called "Plain"


class MarkedCut(NamedTuple):
    """A line of a variant's cut list. `mark` says how it is not as for the plain card: "new", "new size", …;
    "" where it is the same. `was` is what must not be cut: "4 × 5 1⁄4 in (102 × 134 mm)"."""

    line: CutLine
    mark: str
    was: str = ""


class Variant(NamedTuple):
    """What is otherwise in one variant. `sheet` is its own, whole."""

    title: str
    about_markdown: str  # "" where it says nothing of its own
    sheet: Sheet
    more: tuple[tuple[str, str], ...]  # what has to be there besides, or in another amount, by kind
    less: tuple[tuple[str, str], ...]
    cuts: tuple[MarkedCut, ...]
    left_out: tuple[str, ...]  # pieces of the plain card
    layouts: tuple[CuttingSheet, ...]  # those that the plain card's plan does not have
    same_layouts: tuple[str, ...]  # sentences on the others
    totals: tuple[PaperTotal, ...]
    scores: tuple[ScoreGuide, ...]  # the guides that are otherwise
    way: Way
    notes: tuple[str, ...]  # warnings and the like that the plain card does not have


class VariantSheet(NamedTuple):
    """The plain card's sheet, the comparison and the variants. `other` is the same in the other unit system,
    None where one of the cards cannot be made in it."""

    plain: Sheet
    titles: tuple[str, ...]  # over the columns of `rows`: MAIN first
    rows: tuple[Row, ...]
    variants: tuple[Variant, ...]
    other: VariantSheet | None = None


def variant_sheet(plain: Sheet, others: Sequence[Sheet]) -> VariantSheet:
    """The one sheet of the `plain` card and its variants, in both unit systems if all can be made in both."""
    own = _in_one_unit(plain, others)
    twins = [each.other for each in others if each.other is not None]
    if plain.other is None or len(twins) < len(others):
        return own._replace(plain=plain._replace(other=None))
    return own._replace(other=_in_one_unit(plain.other, twins))


def _in_one_unit(plain: Sheet, others: Sequence[Sheet]) -> VariantSheet:
    variants = tuple(_variant(plain, each) for each in others)
    titles = (MAIN, *(each.title for each in variants))
    return VariantSheet(plain, titles, rows(plain, others), variants)


def _variant(plain: Sheet, sheet: Sheet) -> Variant:
    alike = [(each, same or _same_but_paper(plain.cutting, each))
             for each, same in new_layouts(plain.cutting, sheet.cutting)]  # fmt: skip
    kept = {line.piece for line in sheet.cuts}
    known = {*plain.notes, *notes_of_sums(sheet)}  # the table, and the other version, tell the sums
    return Variant(
        title=sheet.folded.card.variant or "",
        about_markdown=sheet.about_markdown if sheet.about_markdown != plain.about_markdown else "",
        sheet=sheet,
        more=by_kind(more_of(plain, sheet)),
        less=by_kind(less_of(plain, sheet)),
        cuts=tuple(_marked(plain.cuts, sheet.cuts)),
        left_out=tuple(dict.fromkeys(line.piece for line in plain.cuts if line.piece not in kept)),
        layouts=tuple(layout for layout, same in alike if same is None),
        same_layouts=tuple(_same(layout, same) for layout, same in alike if same is not None),
        totals=sheet.paper_totals,
        scores=new_guides(plain.scores, sheet.scores),
        way=way(plain, sheet),
        notes=tuple(note for note in sheet.notes if note not in known),
    )


def _same_but_paper(plain: Sequence[CuttingSheet], layout: CuttingSheet) -> CuttingSheet | None:
    """A sheet of another paper that is cut in the same way, if there is one."""
    own = unnumbered(layout)._replace(paper="", paper_title="")
    return next((each for each in plain if unnumbered(each)._replace(paper="", paper_title="") == own), None)


def _same(layout: CuttingSheet, plain: CuttingSheet) -> str:
    """Where a sheet that is cut alike is shown; the steps call it by its own number."""
    shown = f"is cut as sheet {plain.number} of the main card"
    return f"Sheet {layout.number}, {layout.paper_title}, {layout.size}, {shown}."


def _marked(plain: Iterable[CutLine], lines: Sequence[CutLine]) -> Iterator[MarkedCut]:
    before: dict[str, list[CutLine]] = {}
    for line in plain:
        before.setdefault(line.piece, []).append(line)
    known = [line for found in before.values() for line in found]
    changed = set(map(id, new_cuts(known, lines)))
    for line in lines:
        yield _mark(before.get(line.piece, []), line) if id(line) in changed else MarkedCut(line, "")


def _mark(before: Sequence[CutLine], line: CutLine) -> MarkedCut:
    """What is otherwise than in the plain card's list, and what stood there."""
    if not before:
        return MarkedCut(line, "new")
    old, found = before[0], dict[str, str]()
    if (old.width, old.height) != (line.width, line.height):
        found["new size"] = f"{old.size} ({old.other_size})" if old.other_size else old.size
    elif old.other_size != line.other_size:
        found["new size"] = old.other_size
    if (old.paper, old.paper_title) != (line.paper, line.paper_title):
        found["another paper"] = old.paper_title or old.paper or "any paper"
    if old.total != line.total:
        found["another number"] = f"{old.total} of them"
    return MarkedCut(line, listed(found) or "its note is otherwise", listed(found.values()))


def pieces_told(names: Iterable[str]) -> str:
    """`sash, plate and lantern card`."""
    return listed(map(spoken, names))
