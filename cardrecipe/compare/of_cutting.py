"""What happens to the cutting: sheets and settings of each paper, notes of the cut list, kits cut already."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from cardrecipe.compare.aspects import aspects
from cardrecipe.compare.both import Both
from cardrecipe.compare.changes import Change
from cardrecipe.compare.of_card import copies_told
from cardrecipe.compare.piece_words import paper_of
from cardrecipe.model.lengths import ABBREVIATION, size_written
from cardrecipe.plan.cutting.paper_jobs import SHAPED, blank_size, has_margin
from cardrecipe.plan.sheet import CutLine, CuttingSheet, PaperTotal, Sheet
from cardrecipe.plan.words import listed
from cardrecipe.solve.sized import SizedCard, SizedPiece


def cut_changes(both: Both) -> Iterator[Change]:
    """The trimmer's settings of each paper, and what the cut list says beside a size."""
    back = {new: old for old, new in both.pairs.papers.items()}
    titles = {total.paper: total.title for total in both.old.sheet.paper_totals}
    for total in both.new.sheet.paper_totals:
        before = _sheets(both.old.sheet, back.get(total.paper))
        title = _one_title(total, titles.get(back.get(total.paper, ""), total.title))
        yield from _paper(both, title, before, _sheets(both.new.sheet, total.paper))
    for total in both.old.sheet.paper_totals:
        if total.paper not in both.pairs.papers or not _sheets(
            both.new.sheet, both.pairs.papers[total.paper]
        ):
            yield from _paper(both, total.title, _sheets(both.old.sheet, total.paper), [])
    yield from _notes(both)


def _one_title(total: PaperTotal, before: str) -> str:
    """A paper's title, or its name in the recipe where that stands for another paper now."""
    return total.title if total.title == before else total.paper


def _sheets(sheet: Sheet, paper: str | None) -> list[CuttingSheet]:
    return [each for each in sheet.cutting if each.paper == paper]


def _paper(
    both: Both, title: str, before: Sequence[CuttingSheet], after: Sequence[CuttingSheet]
) -> Iterator[Change]:
    old = [_cut_so(both, each, 0) for each in before]
    new = [_cut_so(both, each, 1) for each in after]
    same = len(old) == len(new) and all(
        one[0] == two[0] and all(map(both.alike, one[1], two[1])) for one, two in zip(old, new, strict=True)
    )
    if not same:
        said = _settings(before, both.old_card.unit), _settings(after, both.new_card.unit)
        kind = "new" if not before else "gone" if not after else "changed"
        # Where the settings are the same, what is cut at them is not.
        note = "the same settings for other cuts" if said[0] == said[1] else ""
        yield Change("cuts", kind, title, *said, note)


def _cut_so(both: Both, sheet: CuttingSheet, side: int) -> tuple[object, tuple[str, ...]]:
    """A sheet as values, and as the words of its settings; its number is no part of it."""
    by = (both.pairs.old, both.pairs.new)[side]
    holds = tuple((by.name(name), count) for name, count in sheet.holds)
    turns = tuple(setting.is_turned for setting in sheet.settings)
    size = sheet.size if both.is_of_one_unit else ""
    words = tuple(f"{setting.size}: {setting.text}" for setting in sheet.settings)
    return (size, sheet.count, holds, turns), (*words, *sheet.offcuts)


def _settings(sheets: Sequence[CuttingSheet], unit: str) -> str:
    """`1 sheet of 12 × 12 in, set 5 1⁄4, 1 7⁄8 and 1 in`."""
    return "; ".join(
        f"{each.count} sheet{'' if each.count == 1 else 's'} of {each.size}, set {_sizes(each, unit)}"
        for each in sheets
    )


def _sizes(sheet: CuttingSheet, unit: str) -> str:
    """The sizes of the settings, with the unit once where all are in the card's own."""
    ending = f"\u00a0{ABBREVIATION[unit]}"
    sizes = [setting.size for setting in sheet.settings]
    if not all(size.endswith(ending) for size in sizes):
        return listed(sizes)
    return f"{listed(size.removesuffix(ending) for size in sizes)}{ending}"


def _notes(both: Both) -> Iterator[Change]:
    """Grain, dies, margins: told where the cut itself is the same, for else the cut is told anew."""
    old = {line.piece: line for line in both.old.sheet.cuts}
    for line in both.new.sheet.cuts:
        name = {new: one for one, new in both.pairs.pieces.items()}.get(line.piece)
        before = old.get(name or "")
        if (
            before is not None
            and both.is_of_one_unit
            and before.notes != line.notes
            and _size(before) == _size(line)
        ):
            yield Change("cuts", "reworded", line.piece, "; ".join(before.notes), "; ".join(line.notes), "",
                         (), before.piece, line.piece)  # fmt: skip


def _size(line: CutLine) -> tuple[Fraction, Fraction]:
    return line.width, line.height


# ---- kits ----------------------------------------------------------------------------------------


def kit_changes(both: Both) -> Iterator[Change]:
    """What to do with each kit that was cut for the old card: cut again, trim, put in, take out; and how many
    there are to be."""
    for old, new in both.pieces:
        if old is not None and new is not None:
            kind = _verdict(both, old, new)
            if kind:
                of_paper = kind == "other paper"
                said = _in_kit(both.old_card, old, of_paper), _in_kit(both.new_card, new, of_paper)
                yield Change("kits", kind, new.name, *said, "", (), old.name, new.name)
        elif new is not None:
            yield Change("kits", "new", new.name, "", _in_kit(both.new_card, new, True), "", (), "", new.name)
        else:
            assert old is not None
            yield Change("kits", "gone", old.name, _in_kit(both.old_card, old, True), "", "", (), old.name)
    old_sheet, new_sheet = both.old.sheet, both.new.sheet
    if old_sheet.copies != new_sheet.copies:
        yield Change("kits", "counted", "copies", copies_told(old_sheet), copies_told(new_sheet))


def _in_kit(card: SizedCard, piece: SizedPiece, with_paper: bool) -> str:
    size = f"{piece.count} of {size_written(*blank_size(card, piece), card.unit)}"
    size = f"{size} with the margin" if has_margin(piece) else size
    return f"{size} from {paper_of(card, piece)}" if with_paper else size


def _verdict(both: Both, old: SizedPiece, new: SizedPiece) -> str:
    """How the blank of a piece differs: "smaller" where what is there can be trimmed, "" where it will do."""
    before = aspects(both.old_card, old, both.pairs.old)
    after = aspects(both.new_card, new, both.pairs.new)
    if before["paper"] != after["paper"] or _another_paper(both, old, new):
        return "other paper"
    is_shaped = old.kind in SHAPED or new.kind in SHAPED
    if any(before[name] != after[name] for name in (("kind", "outline") if is_shaped else ("outline",))):
        return "resized"
    is_folded_so = all(before[name] == after[name] for name in ("scores", "windows", "corners"))
    one, two = _blank(both, old, 0), _blank(both, new, 1)
    if one == two:
        return ("counted" if old.count != new.count else "") if is_folded_so else "folded"
    if is_folded_so and _holds(one, two) and old.count >= new.count:
        return "smaller"
    return "larger" if is_folded_so and _holds(two, one) and old.count <= new.count else "resized"


def _blank(both: Both, piece: SizedPiece, side: int) -> tuple[Fraction, ...]:
    """What is cut for a piece; in two units without the margin of a shape, which is another in each."""
    card, by = ((both.old_card, both.pairs.old), (both.new_card, both.pairs.new))[side]
    return blank_size(card, piece) if both.is_of_one_unit else by.lengths((piece.width, piece.height))


def _holds(one: tuple[Fraction, ...], other: tuple[Fraction, ...]) -> bool:
    """True where the other can be cut from the one as it lies."""
    return all(length >= wanted for length, wanted in zip(one, other, strict=True))


def _another_paper(both: Both, old: SizedPiece, new: SizedPiece) -> bool:
    """True where the recipe calls two papers by one name: another title, kind or colour."""
    one, other = both.old_card.papers.get(old.paper or ""), both.new_card.papers.get(new.paper or "")
    if one is None or other is None:
        return one is not other
    return (one.title, one.kind, one.color, one.weight) != (
        other.title,
        other.kind,
        other.color,
        other.weight,
    )
