"""Which picture belongs to which step, and what is in place by then: steps and drawings agree on it here."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.extra_steps import Notes, Told, extra_picture, notes_among
from cardrecipe.plan.order import Task, root_piece, tasks_of
from cardrecipe.plan.sheet import MOST_FOLD_STEPS
from cardrecipe.solve.sized import SizedCard


class StepPicture(NamedTuple):
    """The picture of one step: `what` is done to `piece` (of a cutting step its paper, "" for none).

    `done` are the pieces that have been put in place before it, bands too; `number` is that of the fold,
    or of the maker's own step. `off` is the band that is off the card for the time being; `when` tells
    whether it comes off now, goes on again at the end, both, or neither.
    """

    name: str
    what: str  # "cut" | "work" | "score" | "fold" | "fan" | "join" | "place" | "band" | "finish" | "extra"
    piece: str
    done: frozenset[str]
    number: int = 0
    off: str = ""
    when: str = ""  # "first" | "between" | "last" | "both"


def step_pictures(folded: FoldedCard) -> tuple[StepPicture, ...]:
    """One for each step, in the order of the steps."""
    card = folded.card
    tasks = tasks_of(card)
    notes = notes_among(told_of(card, tasks), card.extra_steps)
    away = bands_off(card, tasks, notes)
    found: list[StepPicture] = []
    done: set[str] = set()
    for index, task in enumerate(tasks):
        found += _of_notes(card, notes.before.get(index, ()), done)
        so_far = frozenset(done)
        off, when = away.get(index, ("", ""))
        found += (each._replace(off=off, when=when) for each in _of(folded, task, so_far))
        if task.what in ("place", "band"):
            done.add(task.name)
        found += _of_notes(card, notes.after.get(index, ()), done)
    return tuple(found)


def told_of(card: SizedCard, tasks: Sequence[Task]) -> list[Told]:
    """Each task with the pieces that it is about."""
    return [
        Told(task.what, tuple(one.name for one in card.pieces if (one.paper or "") == task.name))
        if task.what == "cut"
        else Told(task.what, (task.name,))
        for task in tasks
    ]


def bands_off(card: SizedCard, tasks: Sequence[Task], notes: Notes) -> dict[int, tuple[str, str]]:
    """For each task that puts a piece on a band, that band and when it comes off and goes on again.

    "both" for a single piece; of several in a row "first" takes it off and "last" puts it on, and at
    those "between" it stays off. A maker's own step between two finds the band on.
    """
    bands = [_band_under(card, task) for task in tasks]
    found: dict[int, tuple[str, str]] = {}
    for index, band in enumerate(bands):
        if band:
            goes_on = index > 0 and bands[index - 1] == band and not _parted(notes, index)
            stays = bands[index + 1 : index + 2] == [band] and not _parted(notes, index + 1)
            word = ("between" if stays else "last") if goes_on else ("first" if stays else "both")
            found[index] = band, word
    return found


def cut_picture(card: SizedCard, paper: str) -> str:
    """The picture of cutting all the pieces of a paper ("" for those without one)."""
    names = [piece.name for piece in card.pieces if (piece.paper or "") == paper]
    return f"piece-{names[0]}" if len(names) == 1 else f"cut-{paper}" if paper else ANY_PAPER


ANY_PAPER = "cut--any"  # no paper has a name that begins so


def _of(folded: FoldedCard, task: Task, done: frozenset[str]) -> Iterator[StepPicture]:
    what, name = task.what, task.name
    if what == "cut":
        yield StepPicture(cut_picture(folded.card, name), what, name, done)
    elif what == "score":
        yield StepPicture(f"step-score-{name}", what, name, done)
    elif what == "fold":
        moves = next((each.moves for each in folded.closed if each.base == name), ())
        if len(moves) > MOST_FOLD_STEPS:
            yield StepPicture(f"fold-{name}-fan", "fan", name, done)
            return
        for number in range(1, len(moves) + 1):
            yield StepPicture(f"fold-{name}-{number}", what, name, done, number)
    else:
        yield StepPicture(f"{what}-{name}", what, name, done)


def _of_notes(card: SizedCard, numbers: Sequence[int], done: set[str]) -> Iterator[StepPicture]:
    for number in numbers:
        piece = card.extra_steps[number].piece
        yield StepPicture(extra_picture(number), "extra", piece, frozenset(done), number)


def _band_under(card: SizedCard, task: Task) -> str:
    """The band that a task puts a piece on, directly or not; ""."""
    if task.what != "place":
        return ""
    root = root_piece(card, card.piece(task.name))
    return root.name if root.around is not None else ""


def _parted(notes: Notes, index: int) -> bool:
    """True where a maker's own step stands between a task and the one before."""
    return index in notes.before or index - 1 in notes.after
