"""What happens to the steps: new, gone, in another order, in other words; shifted numbers in one line."""

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from cardrecipe.compare.both import Both
from cardrecipe.compare.changes import Cause, Change
from cardrecipe.plan.sheet import Sheet, Step
from cardrecipe.plan.words import listed
from cardrecipe.syntax import tree

Key = tuple[str, ...]
_SENTENCE = re.compile(r"(?<=[.!?…])\s+")
OWN = "extra-"
_SHEETS = re.compile(r"\b[Ss]heets? (?:[0-9]+(?:, | and )?)+ of the cutting plan shows? how")


def step_changes(both: Both) -> Iterator[Change]:
    """Steps are told by what is done to which piece, so one that comes in does not change those after it."""
    old, new = _keyed(both, both.old.sheet, 0), _keyed(both, both.new.sheet, 1)
    old, new = _with_own_pairs(old, new)
    order = [key for key in old if key in new]
    steady = in_steady_order(order, [key for key in new if key in old])
    for key, step in new.items():
        if key not in old:
            yield _step("new", step.title, "", _numbered(step), step)
            continue
        before = old[key]
        if key not in steady:
            yield _moved(before, step)
        yield from _reworded(both, before, step)
    for key, step in old.items():
        if key not in new:
            yield _step("gone", step.title, _numbered(step), "", step)
    yield from _renumbered([(old[key].number, new[key].number) for key in order if key in steady])


def _step(kind: str, what: str, old: str, new: str, step: Step) -> Change:
    piece = step.pieces[0] if step.pieces else ""
    return Change(
        "steps", kind, what, old, new, "", (), piece if kind != "new" else "", piece if kind != "gone" else ""
    )


def _moved(old: Step, new: Step) -> Change:
    if old.title == new.title:
        change = _step("moved", new.title, _numbered(old), _numbered(new), new)
    else:
        said = f"{_numbered(old)}, {old.title}", f"{_numbered(new)}, {new.title}"
        change = _step("moved", "a step", *said, new)
    return change._replace(old_piece=_piece_of(old))


def _numbered(step: Step) -> str:
    return f"step {step.number}"


def _keyed(both: Both, sheet: Sheet, side: int) -> dict[Key, Step]:
    """Each step under what it does, as its picture tells; cutting by its paper, own steps by title."""
    names = (both.pairs.old, both.pairs.new)[side].names
    papers = {piece.name: piece.paper or "" for piece in sheet.folded.card.pieces}
    found: dict[Key, Step] = {}
    for step in sheet.steps:
        key = _key(step, papers, names)
        key = (*key, both.masked(step.title, side)) if key[0] == OWN else key
        while key in found:
            key = (*key, "again")
        found[key] = step
    return found


def _with_own_pairs(
    old: Mapping[Key, Step], new: Mapping[Key, Step]
) -> tuple[dict[Key, Step], dict[Key, Step]]:
    """The maker's own steps of one piece whose words are others are one step where there is one such on each
    side."""

    def left(one: Mapping[Key, Step], other: Mapping[Key, Step]) -> dict[Key, list[Key]]:
        found: dict[Key, list[Key]] = {}
        for key in one:
            if key[0] == OWN and key not in other:
                found.setdefault(key[:-1], []).append(key)
        return found

    gone, come = left(old, new), left(new, old)
    alone = {piece for piece, keys in gone.items() if len(keys) == len(come.get(piece, ())) == 1}
    again = {keys[0]: piece for side in (gone, come) for piece, keys in side.items() if piece in alone}
    rekeyed = ({again.get(key, key): step for key, step in side.items()} for side in (old, new))
    return next(rekeyed), next(rekeyed)


def _key(step: Step, papers: Mapping[str, str], names: Mapping[str, str]) -> Key:
    pieces = tuple(names.get(name, name) for name in step.pieces)
    what = step.picture.partition("-")[0]
    if _is_own(step):
        return OWN, *pieces
    if what in ("cut", "piece"):
        paper = papers[step.pieces[0]]
        return "cut", names.get(f"paper {paper}", f"paper {paper}").removeprefix("paper ")
    if what == "fold":
        return what, pieces[0] if pieces else "", step.picture.rpartition("-")[2]
    return what, step.picture.split("-")[1] if what == "step" else "", *pieces[:1]


def _reworded(both: Both, old: Step, new: Step) -> Iterator[Change]:
    """The sentences that only one of them has. In two units sizes are no difference: they all are others."""
    before, after = _said(old), _said(new)
    left = both.left_over([_plan_apart(each) for each in before], [_plan_apart(each) for each in after])
    said = " ".join(before[at] for at in left.old), " ".join(after[at] for at in left.new)
    if not any(said) and left.is_reordered:
        said = " ".join(before), " ".join(after)
    if not both.alike(old.title, new.title):
        said = f"{old.title}. {said[0]}".strip(), f"{new.title}. {said[1]}".strip()
    if any(said):
        what = new.title if old.title == new.title else "a step"
        because = _own_lines(both, old, new) if old.tips != new.tips or _is_own(new) else ()
        before_after = f"{_numbered(old)}: {said[0] or _NOTHING}", f"{_numbered(new)}: {said[1] or _NOTHING}"
        yield _step("reworded", what, *before_after, new)._replace(because=because, old_piece=_piece_of(old))


_NOTHING = "no word of it"


def _said(step: Step) -> list[str]:
    """All that a step says, sentence by sentence; cautions are left out, since they stand at the first step
    that needs them, whichever that is."""
    parts = [*_SENTENCE.split(step.text), f"Pick up {listed(step.picks_up)}." if step.picks_up else ""]
    parts += [f"Check: {each}" for each in _SENTENCE.split(step.check)] if step.check else []
    parts += [f"Tip: {tip}" for tip in step.tips]
    return [part for part in parts if part]


def _plan_apart(text: str) -> str:
    """Without the numbers of sheets, which shift when a paper comes in."""
    return _SHEETS.sub("The cutting plan shows how", text)


def _is_own(step: Step) -> bool:
    return step.picture.startswith(OWN)


def _own_lines(both: Both, old: Step, new: Step) -> tuple[Cause, ...]:
    """The tips and the maker's own steps among the changed lines of the pieces of a step."""
    return both.causes.of_owners(old.pieces, new.pieces, tree.Tip, tree.StepLine)


def _piece_of(step: Step) -> str:
    return step.pieces[0] if step.pieces else ""


# ---- order ---------------------------------------------------------------------------------------


def in_steady_order(old: Sequence[Key], new: Sequence[Key]) -> frozenset[Key]:
    """The most steps that keep their order among each other; the others moved. `old` and `new` hold the same.

    Of several choices that are as large the one whose keys sort first, so that it does not matter which
    of the two is the old one.
    """
    if old == new:
        return frozenset(old)
    place = {key: at for at, key in enumerate(new)}
    best: dict[Key, tuple[int, tuple[Key, ...]]] = {}
    for at, key in enumerate(old):
        before = [best[other] for other in old[:at] if place[other] < place[key]]
        length, chain = min(before, key=lambda one: (-one[0], one[1]), default=(0, ()))
        best[key] = length + 1, tuple(sorted((*chain, key)))
    return frozenset(min(best.values(), key=lambda one: (-one[0], one[1]))[1])


def _renumbered(numbers: Sequence[tuple[int, int]]) -> Iterator[Change]:
    """Steps that are the same under another number: `12 to 17`, now `13 to 18`."""
    shifted = [(old, new) for old, new in numbers if old != new]
    if not shifted:
        return
    runs = []
    for _, run in groupby(enumerate(shifted), key=lambda each: (each[1][0] - each[0], each[1][1] - each[0])):
        pairs = [pair for _, pair in run]
        runs.append((pairs[0], pairs[-1]))
    old, new = (listed([_span(first[side], last[side]) for first, last in runs]) for side in (0, 1))
    yield Change("steps", "renumbered", "steps that come under another number", old, new)


def _span(first: int, last: int) -> str:
    return str(first) if first == last else f"{first} to {last}"
