"""A comparison in a maker's words: headings with lines that can be read aloud, for every page that tells it.

What a maker wants to know first stands first: what the card is now, its pieces, what to do with what is cut.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from cardrecipe.compare.changes import GROUP_TITLES, GROUPS, Cause, Change, Comparison, Side
from cardrecipe.plan.words import counted, listed, number, sentence, spoken

LONG = 72  # characters of what was and what is: more than this are told on lines of their own


class Told(NamedTuple):
    """One change: a line, and below it what was and is where that is long, then the lines of the recipe that
    made it so."""

    line: str
    below: tuple[str, ...] = ()
    because: tuple[str, ...] = ()


class Part(NamedTuple):
    """A group of changes with its heading."""

    title: str
    lines: tuple[Told, ...]


def told(comparison: Comparison) -> tuple[Part, ...]:
    """Every change, in groups; () for the same card."""
    parts = ((group, comparison.in_group(group)) for group in GROUPS)
    return tuple(
        Part(_title(comparison, group), tuple(_kits(comparison, changes) if group == "kits" else
                                        (_told(comparison, change) for change in changes)))
        for group, changes in parts if changes
    )  # fmt: skip


def heading(comparison: Comparison) -> str:
    """What is compared with what."""
    old, new = comparison.old, comparison.new
    if old.variant == new.variant and _called(old) == _called(new):
        return f"{_called(new)}{_with_variant(new)}"
    if _called(old) == _called(new):
        return f"{_called(new)}: from {_variant(old)} to {_variant(new)}"
    return f"from {_called(old)}{_with_variant(old)} to {_called(new)}{_with_variant(new)}"


def in_short(comparison: Comparison) -> str:
    """The sum of it in a few sentences; what to say where nothing changed."""
    if not comparison.changes:
        return "Nothing changes for the maker."
    said = [
        _counts(comparison, group, one)
        for group, one in (("pieces", "piece"), ("papers", "paper"), ("steps", "step"))
    ]
    kept = [each for each in said if each]
    if not kept:
        return "Only what stands below changes; pieces, papers and steps are as they were."
    return sentence("; ".join(kept))


# ---- counting ------------------------------------------------------------------------------------

_TALLY = (("new", "new"), ("gone", "gone"), ("renamed", "called otherwise"))


def _counts(comparison: Comparison, group: str, one: str) -> str:
    """`one piece is new, two are changed`."""
    by_thing: dict[tuple[str, str, str], list[str]] = {}
    for change in comparison.in_group(group):
        if change.kind != "renumbered":
            key = (
                (change.what, change.old_piece, change.new_piece)
                if group != "steps"
                else (change.what, change.old, change.new)
            )
            by_thing.setdefault(key, []).append(change.kind)
    words = []
    for kind, word in _TALLY:
        many = sum(kinds[0] == kind for kinds in by_thing.values())
        if many:
            words.append((many, word))
    rest = sum(kinds[0] not in dict(_TALLY) for kinds in by_thing.values())
    if rest:
        words.append((rest, "changed"))
    parts = [f"{counted(many, one) if at == 0 else number(many)} {'is' if many == 1 else 'are'} {word}"
             for at, (many, word) in enumerate(words)]  # fmt: skip
    return listed(parts)


# ---- lines ---------------------------------------------------------------------------------------

# What of a thing is another now, where its name alone would not say.
_OF = {
    "other paper": "its paper", "border": "what shows round it", "moved": "its place",
    "turned": "how it is turned", "worked": "what is done to it", "fixed": "how it is fixed",
    "counted": "how many", "reworded": "its words",
}  # fmt: skip


_WORDS = {("shopping", "new"): "to get as well", ("shopping", "gone"): "not needed any more"}


def _told(comparison: Comparison, change: Change) -> Told:
    because = tuple(_because(comparison, change.because))
    if change.group == "steps":
        return _step(change, because)
    if change.group == "pages":
        return Told(f"no longer right: {change.old}; print {change.new}")
    what, note = _what(change), f" ({change.note})" if change.note else ""
    if change.kind in ("new", "gone"):
        said, word = change.new or change.old, _WORDS.get((change.group, change.kind), change.kind)
        return Told(f"{word}: {', '.join(part for part in (what, said) if part)}{note}", (), because)
    if change.kind == "renamed":
        return Told(f"{what}: now called {change.new}, was called {change.old}{note}", (), because)
    if len(change.old) + len(change.new) > LONG or "\n" in change.old + change.new or ", " in change.new:
        return Told(f"{what}{note}", _was_and_is(change), because)
    return Told(f"{what}: now {change.new}, was {change.old}{note}", (), because)


def _step(change: Change, because: tuple[str, ...]) -> Told:
    if change.kind in ("new", "gone"):
        return Told(f"{change.kind}: {change.new or change.old}, {change.what}", (), because)
    if change.kind == "renumbered":
        return Told(f"{change.what}: now {change.new}, was {change.old}", (), because)
    if change.kind == "moved":
        return Told(f"in another place: {change.what}, now {change.new}, was {change.old}", (), because)
    if change.what == "a step":
        return Told("in other words, with another title", _was_and_is(change), because)
    return Told(f"in other words: {change.what}", _was_and_is(change), because)


def _was_and_is(change: Change) -> tuple[str, ...]:
    return f"now: {change.new or 'nothing'}", f"was: {change.old or 'nothing'}"


def _what(change: Change) -> str:
    """The thing, and what of it."""
    if change.group in ("notes", "variants") and change.kind in ("new", "gone"):
        return change.what if change.group == "variants" else ""
    name = spoken(change.what) if change.new_piece or change.old_piece else change.what
    if change.group in ("pieces", "cuts") and change.kind in _OF:
        return f"{name}, {_OF[change.kind]}"
    return name


def _because(comparison: Comparison, causes: Sequence[Cause]) -> Iterator[str]:
    for side, word in (("new", "because of"), ("old", "before it was")):
        for cause in causes:
            if cause.side == side:
                yield f"{word} {_line(comparison, cause)}: {cause.text}"


def _line(comparison: Comparison, cause: Cause) -> str:
    own = comparison.old if cause.side == "old" else comparison.new
    return f"line {cause.line}" if cause.file == own.file else f"{cause.file} line {cause.line}"


# ---- what is cut already --------------------------------------------------------------------------

_VERDICTS = (
    ("cut again", ("larger", "resized")),
    ("cut again from another paper", ("other paper",)),
    ("cut again if it is scored already", ("folded",)),
    ("trim", ("smaller",)),
    ("cut and put in", ("new",)),
    ("take out", ("gone",)),
    ("count again", ("counted",)),
)


def _title(comparison: Comparison, group: str) -> str:
    copies, of_each = comparison.old.copies, any(map(_is_of_a_piece, comparison.in_group(group)))
    in_each = f", in each of the {copies} kits" if group == "kits" and copies > 1 and of_each else ""
    return f"{GROUP_TITLES[group]}{in_each}"


def _kits(comparison: Comparison, changes: Sequence[Change]) -> Iterator[Told]:
    """What to do with each kit, in the order of the work, and how many kits to cut besides."""
    for verb, kinds in _VERDICTS:
        for change in changes:
            if change.kind in kinds and _is_of_a_piece(change):
                yield Told(f"{verb}: {_what(change)}, {_sizes(change)}")
    for change in changes:
        if not _is_of_a_piece(change):
            more = comparison.new.copies - comparison.old.copies
            kits = f"kit{'' if abs(more) == 1 else 's'}"
            said = f"cut {number(more)} more {kits}" if more > 0 else f"{number(-more)} {kits} too many"
            yield Told(f"{said}: now {change.new} in all, was {change.old}")


def _is_of_a_piece(change: Change) -> bool:
    return bool(change.old_piece or change.new_piece)


def _sizes(change: Change) -> str:
    return f"{change.new}, was {change.old}" if change.old and change.new else change.new or change.old


def _called(side: Side) -> str:
    return side.title or side.file


def _variant(side: Side) -> str:
    return f"the variant {side.variant}" if side.variant else "the plain card"


def _with_variant(side: Side) -> str:
    return f" ({_variant(side)})" if side.variant else ""
