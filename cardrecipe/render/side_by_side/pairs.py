"""What is drawn twice on the page of a diff: views, pieces and sheets, as they were and as they are."""

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from cardrecipe.compare.changes import Change
from cardrecipe.fold.folded import View
from cardrecipe.plan.alike import new_layouts
from cardrecipe.plan.cutting.card_plans import NumberedLayout, PaperPlan
from cardrecipe.plan.sheet import CuttingSheet, Sheet
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.compared import (
    MOST_PIECE,
    MOST_VIEW,
    Seen,
    common_scale,
    compared_piece,
    compared_view,
    size_in_mm,
)
from cardrecipe.render.drawings.cut_sheets import sheet_drawing
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.render.drawings.views import sheet_box
from cardrecipe.render.words import ALWAYS_SHOWN, VIEW_CAPTIONS, sheet_heading
from cardrecipe.solve.sized import SizedPiece

OLD, NEW = "old-", "new-"  # of the ids of their drawings
# Of these groups a change is one of a piece, which is drawn. A cut piece of another paper, say, is told of
# among what is cut alone.
DRAWN_GROUPS = ("pieces", "scores", "kits")


class Pair(NamedTuple):
    """A drawing before and after, None where there is none; `title` is the heading over both."""

    title: str
    old: Drawing | None
    new: Drawing | None


class Changed(NamedTuple):
    """A piece that is not as before, under the number that marks it on the drawings; a name is "" where that
    card has no such piece."""

    number: int
    old: str
    new: str
    kinds: tuple[str, ...]

    @property
    def title(self) -> str:
        return spoken(self.new or self.old)


def changed_pieces(changes: Sequence[Change]) -> tuple[Changed, ...]:
    """The pieces that changes are about, each once, in the order in which they are told."""
    kinds: dict[tuple[str, str], dict[str, list[str]]] = {}
    for change in changes:
        if change.group in DRAWN_GROUPS and (change.old_piece or change.new_piece):
            of_piece = kinds.setdefault((change.old_piece, change.new_piece), {})
            of_piece.setdefault(change.group, []).append(change.kind)
    return tuple(
        Changed(number, old, new, tuple(dict.fromkeys(_best(found))))
        for number, ((old, new), found) in enumerate(kinds.items(), start=1)
    )


def _best(found: Mapping[str, Sequence[str]]) -> Sequence[str]:
    """What happened to a piece; what is to be done with the cut one only where nothing else is told."""
    told = [kind for group in DRAWN_GROUPS if group != "kits" for kind in found.get(group, ())]
    return told or found["kits"]


def view_pairs(old: Sheet, new: Sheet, pieces: Sequence[Changed]) -> Iterator[Pair]:
    """The finished card: the front and the inside always, other sides where something changed is seen."""
    ours = _views(new)
    theirs = _views(old)
    for key in dict.fromkeys((*theirs, *ours)):
        before, after = theirs.get(key), ours.get(key)
        numbers = _numbers(pieces, "old"), _numbers(pieces, "new")
        if key[0] not in ALWAYS_SHOWN and not (_shows(before, numbers[0]) or _shows(after, numbers[1])):
            continue
        scale = common_scale(
            [size for sheet, view in ((old, before), (new, after)) for size in _size_of(sheet, view)],
            MOST_VIEW,
        )
        name = VIEW_CAPTIONS[key[0]]
        yield Pair(
            name if key[1] == _first_base(new) else f"{name}: {spoken(key[1])}",
            _view(old, before, scale, numbers[0], OLD),
            _view(new, after, scale, numbers[1], NEW),
        )


def piece_pairs(old: Sheet, new: Sheet, pieces: Sequence[Changed]) -> Iterator[tuple[Changed, Pair]]:
    """Each changed piece at one scale; a size that it had before is dotted on the new one."""
    for each in pieces:
        before, after = _piece(old, each.old), _piece(new, each.new)
        found = [(sheet, piece) for sheet, piece in ((old, before), (new, after)) if piece is not None]
        cards = [(sheet.folded.card, piece) for sheet, piece in found]
        sizes = [size_in_mm(card, piece.width, piece.height) for card, piece in cards]
        scale = common_scale(sizes, MOST_PIECE)
        one_unit = old.folded.card.unit == new.folded.card.unit
        ghost = before if one_unit and len(set(sizes)) == 2 else None
        yield (
            each,
            Pair(
                each.title,
                compared_piece(old.folded.card, before, None, scale, OLD) if before else None,
                compared_piece(new.folded.card, after, ghost, scale, NEW) if after else None,
            ),
        )


def layout_pairs(old: Sheet, new: Sheet, pieces: Sequence[Changed]) -> Iterator[Pair]:
    """The sheets of the two cutting plans that are not cut alike, paper by paper."""
    gone = [each for each, same in new_layouts(new.cutting, old.cutting) if same is None]
    come = [each for each, same in new_layouts(old.cutting, new.cutting) if same is None]
    for paper in dict.fromkeys(each.paper for each in (*gone, *come)):
        before = [each for each in gone if each.paper == paper]
        after = [each for each in come if each.paper == paper]
        for at in range(max(len(before), len(after))):
            first, second = before[at : at + 1], after[at : at + 1]
            yield Pair(
                " / ".join(dict.fromkeys(sheet_heading(each) for each in (*first, *second))),
                _layout(old, first, _numbers(pieces, "old"), OLD),
                _layout(new, second, _numbers(pieces, "new"), NEW),
            )


def _views(sheet: Sheet) -> dict[tuple[str, str], View]:
    return {(view.name, view.base): view for view in sheet.folded.views}


def _first_base(sheet: Sheet) -> str:
    return sheet.folded.views[0].base if sheet.folded.views else ""


def _numbers(pieces: Sequence[Changed], side: str) -> dict[str, int]:
    names = ((each.old if side == "old" else each.new, each.number) for each in pieces)
    return {name: number for name, number in names if name}


def _shows(view: View | None, numbers: Mapping[str, int]) -> bool:
    return view is not None and any(part.piece in numbers for part in view.parts if part.section is None)


def _size_of(sheet: Sheet, view: View | None) -> Iterator[tuple[float, float]]:
    if view is not None:
        _, _, width, height = sheet_box(view)
        yield size_in_mm(sheet.folded.card, width, height)


def _view(
    sheet: Sheet, view: View | None, scale: float, numbers: Mapping[str, int], prefix: str
) -> Drawing | None:
    return compared_view(Seen(sheet.folded, view, scale), numbers, prefix) if view is not None else None


def _piece(sheet: Sheet, name: str) -> SizedPiece | None:
    return next((piece for piece in sheet.folded.card.pieces if piece.name == name), None)


def _layout(
    sheet: Sheet, found: Sequence[CuttingSheet], numbers: Mapping[str, int], prefix: str
) -> Drawing | None:
    if not found:
        return None
    paper, layout = next(each for each in _layouts(sheet) if each[1].number == found[0].number)
    return sheet_drawing(sheet.folded.card, paper, layout, prefix, frozenset(numbers))


def _layouts(sheet: Sheet) -> Iterator[tuple[PaperPlan, NumberedLayout]]:
    return ((paper, layout) for paper in sheet.paper_plans for layout in paper.layouts)
