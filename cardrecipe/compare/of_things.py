"""What happens to the shopping list, the envelope, the post and the notes of the sheet."""

import re
from collections.abc import Iterator, Mapping, Sequence

from cardrecipe.compare.both import Both
from cardrecipe.compare.changes import Cause, Change
from cardrecipe.plan.cutting_sheets import whole_cost
from cardrecipe.plan.entries import EnvelopeFit
from cardrecipe.plan.post_lines import post_lines
from cardrecipe.plan.sheet import Sheet
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import bought_size, quoted

Told = Mapping[str, str]
_NUMBER = re.compile(r"[0-9][0-9./\u2044\u202f]*")
_DIFFERS = re.compile("The inch and the millimetre version differ by")


def shopping_changes(both: Both) -> Iterator[Change]:
    """What the shopping list gains, loses or needs more or less of."""
    yield from _gained(both, "shopping", supplies_told(both.old.sheet), supplies_told(both.new.sheet))
    old, new = _cost(both.old.sheet), _cost(both.new.sheet)
    if old != new:
        yield Change("shopping", "changed", "cost of all the papers", old or _NO_COST, new or _NO_COST)


def envelope_changes(both: Both) -> Iterator[Change]:
    """Which envelopes the card goes into, and with how much to spare."""
    old, new = _shown(both.old.sheet.envelopes), _shown(both.new.sheet.envelopes)
    because = both.causes.of_head("envelope")
    if _wanted(old) != _wanted(new):
        yield Change("envelope", "changed", "the recipe's choice", _wanted(old), _wanted(new), "", because)
    yield from _gained(both, "envelope", envelopes_told(both.old.sheet), envelopes_told(both.new.sheet))


def post_changes(both: Both) -> Iterator[Change]:
    """Which service takes it, and what is to be said of it."""
    yield from _gained(both, "post", _posted(both.old.sheet), _posted(both.new.sheet))


def _posted(sheet: Sheet) -> dict[str, str]:
    return {line.title: line.note for line in post_lines(sheet.post, sheet.folded.card.unit)}


def note_changes(both: Both) -> Iterator[Change]:
    """Warnings and notes that come, go, or name other numbers."""
    before, after = _notes(both.old.sheet), _notes(both.new.sheet)
    left = both.left_over(before, after)
    old = {_NUMBER.sub("#", both.masked(before[at], 0)): before[at] for at in left.old}
    new = {_NUMBER.sub("#", both.masked(after[at], 1)): after[at] for at in left.new}
    for key in dict.fromkeys((*new, *old)):
        one, two = old.get(key, ""), new.get(key, "")
        kind = "new" if not one else "gone" if not two else "reworded"
        yield Change("notes", kind, "note", one, two, "", _because_of_named(both, one, two))


def _because_of_named(both: Both, *notes: str) -> tuple[Cause, ...]:
    """The changed lines of the supplies that notes name."""

    def is_named(title: str) -> bool:
        return any(quoted(title) in note for note in notes)

    return both.causes.of_supplies(is_named)


def _gained(both: Both, group: str, old: Told, new: Told) -> Iterator[Change]:
    for what in dict.fromkeys((*new, *old)):
        one, two = old.get(what), new.get(what)
        if one is None or two is None:
            because = _because_of_supply(both, what) if group == "shopping" else ()
            yield Change(group, "new" if one is None else "gone", what, one or "", two or "", "", because)
        elif not both.alike(one, two):
            yield Change(group, "changed", what, one or "not told", two or "not told")


def _because_of_supply(both: Both, what: str) -> tuple[Cause, ...]:
    """The changed line of the supply that the shopping list calls `what`, its kind before its title."""

    def is_meant(title: str) -> bool:
        return what == title or what.endswith(f" {title}")

    return both.causes.of_supplies(is_meant)


def supplies_told(sheet: Sheet) -> dict[str, str]:
    """What to get, with how much; kinds tell apart an ink and a marker of one name."""
    return {line.name if line.kind == "paper" else f"{_KINDS.get(line.kind, '')}{line.name}": line.amount
            for line in sheet.supplies}  # fmt: skip


_KINDS = {"stamp": "stamp ", "ink": "ink ", "marker": "marker ", "die": "die ", "folder": "embossing folder ",
          "punch": "punch ", "foil": "foil ", "ribbon": "ribbon ", "cord": "cord ",
          "gem": "gem "}  # fmt: skip


_NO_COST = "not told, for some paper has no price"


def _cost(sheet: Sheet) -> str:
    return whole_cost(sheet.paper_totals)


def envelopes_told(sheet: Sheet) -> dict[str, str]:
    """The envelopes of the sheet, each with what it leaves to spare."""
    return {_envelope(fit, sheet.folded.card.unit): fit.note for fit in _shown(sheet.envelopes)}


def _wanted(fits: Sequence[EnvelopeFit]) -> str:
    return next((fit.title for fit in fits if fit.wanted), "any that fits")


def _shown(fits: Sequence[EnvelopeFit]) -> list[EnvelopeFit]:
    return [fit for fit in fits if fit.fits or fit.wanted]


def _envelope(fit: EnvelopeFit, unit: str) -> str:
    size = bought_size(fit.width, fit.height, unit)
    return f"{fit.title}, {size}" if fit.fits else f"{fit.title}, {size} (too small)"


def _notes(sheet: Sheet) -> tuple[str, ...]:
    """Without how far the two unit systems differ, which is for the second version alone, and without the
    cost, which is shopping."""
    return tuple(note for note in sheet.notes if not _DIFFERS.match(note) and note != _cost_note(sheet))


def _cost_note(sheet: Sheet) -> str:
    return say("total/all-papers", cost=_cost(sheet))
