"""What happened to the card as a whole: title, copies, ruler, closed size; thickness, weight, level, time."""

from collections.abc import Iterator

from cardrecipe.compare.both import Both, only_in
from cardrecipe.compare.changes import Cause, Change
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.fold.paper_weight import weight_in_grams
from cardrecipe.model.lengths import size_written, with_unit
from cardrecipe.plan.cuts import one_copy
from cardrecipe.plan.envelopes import closed_size
from cardrecipe.plan.facts import level, minutes, thickness_written, what_it_needs
from cardrecipe.plan.sheet import Sheet
from cardrecipe.solve.sized import SizedCard


def card_changes(both: Both) -> Iterator[Change]:
    """What a maker asks first."""
    old, new = both.old_card, both.new_card
    if old.title != new.title:
        yield _card("renamed", "title", old.title, new.title, both.causes.of_head("recipe"))
    if both.old.sheet.copies != both.new.sheet.copies:
        yield _card(
            "counted",
            "copies",
            copies_told(both.old.sheet),
            copies_told(both.new.sheet),
            both.causes.of_head("makes"),
        )
    if old.unit != new.unit:
        yield _card("changed", "unit", _UNITS[old.unit], _UNITS[new.unit], both.causes.of_head("units"))
    elif old.nearest != new.nearest:
        marks = with_unit(old.nearest, old.unit), with_unit(new.nearest, new.unit)
        yield _card("changed", "the ruler's mark", *marks,
                    both.causes.of_head("units"))  # fmt: skip
    yield from _closed(both)
    if old.about != new.about:
        before, after = old.about.strip().split("\n"), new.about.strip().split("\n")
        yield _card("reworded", "about", "\n".join(only_in(before, after)), "\n".join(only_in(after, before)),
                    both.causes.of_head("about"))  # fmt: skip


def fact_changes(both: Both) -> Iterator[Change]:
    """The facts at the top of the sheet that follow from all the rest."""
    old, new = both.old.sheet, both.new.sheet
    for what, before, after in (
        ("thickness", _thickness(both.old.sheet.folded), _thickness(both.new.sheet.folded)),
        ("weight, papers only", _weight(both.old_card), _weight(both.new_card)),
        ("needs", what_it_needs(old.supplies), what_it_needs(new.supplies)),
        ("level", level(both.old_card), level(both.new_card)),
        ("time", f"about {minutes(both.old_card)} minutes", f"about {minutes(both.new_card)} minutes"),
    ):
        if not both.alike(before, after):
            yield Change("facts", "changed", what, before, after)


def copies_told(sheet: Sheet) -> str:
    """How many are made: `20 cards`."""
    one = one_copy(sheet.folded.card)
    return f"{sheet.copies} {one}{'' if sheet.copies == 1 else 's'}"


_UNITS = {"inch": "inches", "mm": "millimetres"}


def _card(kind: str, what: str, old: str, new: str, because: tuple[Cause, ...]) -> Change:
    return Change("card", kind, what, old, new, "", because)


def _closed(both: Both) -> Iterator[Change]:
    before, after = closed_size(both.old.sheet.folded), closed_size(both.new.sheet.folded)
    scaled = [by.lengths(size) if size is not None else None
              for size, by in ((before, both.pairs.old), (after, both.pairs.new))]  # fmt: skip
    if scaled[0] == scaled[1]:
        return
    old = size_written(*before, both.old_card.unit) if before is not None else ""
    new = size_written(*after, both.new_card.unit) if after is not None else ""
    kind = "new" if not old else "gone" if not new else "resized"
    because = both.causes.of_closed() if old and new else ()
    yield _card(kind, "closed size", old, new, because)


def _thickness(folded: FoldedCard) -> str:
    return thickness_written(folded.thickness, folded.card.unit) if folded.thickness is not None else ""


def _weight(card: SizedCard) -> str:
    grams = weight_in_grams(card)
    return f"about {max(1, round(grams))} g a {one_copy(card)}" if grams else ""
