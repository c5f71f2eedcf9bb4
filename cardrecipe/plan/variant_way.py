"""The way through a variant's steps along those of the plain card: which stay, which are done otherwise,
which are left out and which come in, so that both lists are read as one.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from string import ascii_lowercase
from typing import NamedTuple

from cardrecipe.plan.alike import unnumbered
from cardrecipe.plan.cut_steps import as_planned
from cardrecipe.plan.sheet import CuttingSheet, Sheet, Step
from cardrecipe.plan.step_pictures import step_pictures
from cardrecipe.plan.words import capital, listed, sentence

_DONE = re.compile(r"Steps? (\d+)(?: (?:to|and) (\d+))? as for the main card")


class Detour(NamedTuple):
    """A step that is not as for the plain card. `before` is what to do, or to leave out, up to it; `place`
    where it stands: "Instead of step 4", "After step 3a"; `number` is one that keeps the order among the
    plain card's: "4", "3b"."""

    before: tuple[str, ...]
    number: str
    place: str
    step: Step


class Way(NamedTuple):
    """All the steps of a variant in their order: each detour, and what comes `after` the last."""

    detours: tuple[Detour, ...]
    after: tuple[str, ...]


class _Turn(NamedTuple):
    """What becomes of a step: "keep", "instead", "out" of the plain card's step `number`, "but" where `but`
    says all that is otherwise in it, or "new"."""

    what: str
    number: int
    step: Step | None = None
    but: str = ""


def way(plain: Sheet, sheet: Sheet) -> Way:
    """How the steps of `sheet` are done by those of `plain`."""
    detours: list[Detour] = []
    pending: list[_Turn] = []
    at, last, come = 0, "", 0  # the plain card's last step, the step done last, and those come in since `at`
    for turn in _turns(plain, sheet):
        at, come = (turn.number, 0) if turn.number else (at, come + 1)
        if turn.step is None:
            pending.append(turn)
            last = last if turn.what == "out" else str(turn.number)
            continue
        number = str(at) if turn.number else f"{at}{_letters(come)}"
        before = f"After step {last}" if last else "Before all other steps"
        place = f"Instead of step {number}" if turn.number else before
        detours.append(Detour(tuple(_told(pending)), number, place, _of_own_plan(turn.step, sheet)))
        pending, last = [], number
    return Way(tuple(detours), tuple(_told(pending)))


def in_groups(way: Way) -> Iterator[tuple[tuple[str, ...], tuple[Detour, ...]]]:
    """The detours that follow each other, with what is to do or to leave out up to the first of them."""
    groups: list[list[Detour]] = []
    for detour in way.detours:
        if detour.before or not groups:
            groups.append([])
        groups[-1].append(detour)
    yield from ((group[0].before, tuple(group)) for group in groups)


def _letters(count: int) -> str:
    """`a` for 1, `z` for 26, then `aa`, `bb`."""
    turns, place = divmod(count - 1, len(ascii_lowercase))
    return ascii_lowercase[place] * (turns + 1)


def _of_own_plan(step: Step, sheet: Sheet) -> Step:
    """The same step; where it speaks of the cutting plan, it says which of the two that are on the sheet."""
    for plan in sheet.paper_plans:
        for said in map(sentence, as_planned(plan.of.paper.name, sheet.paper_plans)):
            own = said.replace("the cutting plan", "this variant's cutting plan")
            step = step._replace(text=step.text.replace(said, own))
    return step


def _told(turns: Sequence[_Turn]) -> Iterator[str]:
    """Runs of steps that stay or go, each in a sentence."""
    runs: list[tuple[str, list[int]]] = []
    for turn in turns:
        what = turn.but or turn.what
        if not runs or runs[-1][0] != what or turn.but:
            runs.append((what, []))
        runs[-1][1].append(turn.number)
    for what, numbers in runs:
        steps = steps_named(numbers)
        if what == "out":
            yield f"Leave out {steps}."
        else:
            yield f"{capital(steps)} as for the main card{'.' if what == 'keep' else what}"


def named_steps(said: str) -> tuple[int, int] | None:
    """The first and the last of the main card's steps that such a sentence wants done; None for none."""
    found = _DONE.match(said)
    return (int(found[1]), int(found[2] or found[1])) if found else None


def steps_named(numbers: Sequence[int]) -> str:
    """`step 4`, `steps 5 and 6`, `steps 7 to 11`: numbers that follow each other."""
    if len(numbers) == 1:
        return f"step {numbers[0]}"
    if len(numbers) == 2:
        return f"steps {listed(map(str, numbers))}"
    return f"steps {numbers[0]} to {numbers[-1]}"


def _turns(plain: Sheet, sheet: Sheet) -> Iterator[_Turn]:
    """What becomes of each step, in the order in which the variant is made."""
    keys, mine = _keys(plain), _keys(sheet)
    told: set[str] = set()  # the cautions that the reader has met by then
    words, own = _words(plain), _words(sheet)
    at, here = 0, 0
    for index, number in _in_common(keys, mine):
        yield from _between(keys, mine, plain, sheet, range(at, index), range(here, number))
        known, step = plain.steps[index], sheet.steps[number]
        is_warned = told.issuperset(set(step.cautions) - set(known.cautions))
        but = _but(plain, sheet, keys[index], words[index], own[number]) if is_warned else ""
        if is_warned and words[index] == own[number]:
            yield _Turn("keep", known.number)
        elif but:
            yield _Turn("but", known.number, but=but)
        else:
            yield _Turn("instead", known.number, step)
        told.update(known.cautions if is_warned and (but or words[index] == own[number]) else step.cautions)
        at, here = index + 1, number + 1
    yield from _between(keys, mine, plain, sheet, range(at, len(keys)), range(here, len(mine)))


def _but(plain: Sheet, sheet: Sheet, key: tuple[object, ...], known: _Words, own: _Words) -> str:
    """All that is otherwise in a step, where a sentence can say it: its check, or the paper that is cut."""
    if known._replace(check=own.check) == own:
        return f", with another check: {own.check}" if own.check else ", without its check."
    papers = [_paper_title(each, str(key[1])) for each in (plain, sheet)] if _is_cut(key) else ["", ""]
    if all(papers) and _from_paper(known, *papers) == own:
        return f", from {papers[1]} instead of {papers[0]}."
    return ""


def _paper_title(sheet: Sheet, paper: str) -> str:
    return next((line.paper_title for line in sheet.cuts if line.paper == paper), "")


def _from_paper(words: _Words, before: str, after: str) -> _Words:
    """What a cutting step says where its paper is another."""
    return _Words(
        words.title.replace(before, after),
        words.text.replace(before, after),
        tuple(each.replace(before, after) for each in words.picks_up),
        words.check.replace(before, after),
        words.tips,
        tuple(each._replace(paper_title=each.paper_title.replace(before, after)) for each in words.cut),
    )


def _between(
    keys: Sequence[object], mine: Sequence[object], plain: Sheet, sheet: Sheet, gone: range, come: range
) -> Iterator[_Turn]:
    """Steps without a counterpart between two that have one: a cutting step takes the place of another."""
    left = list(gone)
    for number in come:
        step = sheet.steps[number]
        same = [index for index in left if _is_cut(keys[index]) and _is_cut(mine[number])]
        if not same:
            yield _Turn("new", 0, step)
            continue
        for index in left[: left.index(same[0])]:
            yield _Turn("out", plain.steps[index].number)
        yield _Turn("instead", plain.steps[same[0]].number, step)
        left = left[left.index(same[0]) + 1 :]
    for index in left:
        yield _Turn("out", plain.steps[index].number)


def _is_cut(key: object) -> bool:
    return isinstance(key, tuple) and key[0] == "cut"


def _keys(sheet: Sheet) -> list[tuple[object, ...]]:
    """What each step does to which piece: by this it is found in another card's list. No key comes twice."""
    found: list[tuple[object, ...]] = []
    for step, shown in zip(sheet.steps, step_pictures(sheet.folded), strict=True):
        # A maker's own step is known by its words; the number of any other by what is done.
        own = (step.title, step.text) if shown.what == "extra" else (shown.number,)
        key: tuple[object, ...] = (shown.what, shown.piece, *own)
        found.append((*key, sum(each[: len(key)] == key for each in found)))
    return found


class _Words(NamedTuple):
    """What a step says, without the numbers of the sheets that it is cut from: these are told apart by how
    they are `cut`."""

    title: str
    text: str
    picks_up: tuple[str, ...]
    check: str
    tips: tuple[str, ...]
    cut: tuple[CuttingSheet, ...]


def _words(sheet: Sheet) -> list[_Words]:
    found: list[_Words] = []
    for step, shown in zip(sheet.steps, step_pictures(sheet.folded), strict=True):
        text, cut = step.text, list[CuttingSheet]()
        if shown.what == "cut":
            for said in as_planned(shown.piece, sheet.paper_plans):
                text = text.replace(sentence(said), "")
            cut = [unnumbered(each) for each in sheet.cutting if each.paper == shown.piece]
        found.append(_Words(step.title, text, step.picks_up, step.check, step.tips, tuple(cut)))
    return found


def _in_common(keys: Sequence[object], mine: Sequence[object]) -> list[tuple[int, int]]:
    """The most steps of both lists that stand in one order in both, as pairs of their places."""
    places = {key: index for index, key in enumerate(keys)}
    found = [(places[key], number) for number, key in enumerate(mine) if key in places]
    # The longest rising run of places in the plain list: patience sorting, with the way back.
    tops: list[int] = []
    ends: list[int] = []
    behind: list[int] = []
    for at, (index, _) in enumerate(found):
        pile = bisect_left(tops, index)
        behind.append(ends[pile - 1] if pile else -1)
        tops[pile : pile + 1] = [index]
        ends[pile : pile + 1] = [at]
    run: list[tuple[int, int]] = []
    at = ends[-1] if ends else -1
    while at >= 0:
        run.append(found[at])
        at = behind[at]
    return run[::-1]
