"""The numbered steps of the sheet: every task in its order, put into words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.cautions import with_cautions
from cardrecipe.plan.cut_steps import cut_step
from cardrecipe.plan.cutting.card_plans import PaperPlan
from cardrecipe.plan.extra_steps import Told, extra_step, main_step, notes_among
from cardrecipe.plan.facing import facing
from cardrecipe.plan.fold_steps import fold_steps, score_step
from cardrecipe.plan.glue_zones import zones_of
from cardrecipe.plan.join_steps import join_step
from cardrecipe.plan.order import Task, root_piece, tasks_of
from cardrecipe.plan.place_steps import band_step, place_step
from cardrecipe.plan.sheet import Step
from cardrecipe.plan.step_pictures import bands_off, told_of
from cardrecipe.plan.work_steps import finish_step, work_step
from cardrecipe.solve.sized import SizedCard, SizedPiece


def steps(
    folded: FoldedCard,
    copies: int,
    plans: Sequence[PaperPlan] = (),
    by_knife: frozenset[str] = frozenset(),
) -> tuple[Step, ...]:
    """Every step of making the card, numbered, each with its tips and first cautions.

    `plans` are the cutting plans that the cutting steps speak of, `by_knife` the papers with cuts that are
    longer than the trimmer.
    """
    card = folded.card
    tasks = tasks_of(card)
    away = bands_off(card, tasks, notes_among(told_of(card, tasks), card.extra_steps))
    told: list[tuple[Task, Step]] = []
    for index, task in enumerate(tasks):
        if task.what == "cut":
            told.append((task, cut_step(card, task.name, copies, plans, by_knife)))
        else:
            told += [(task, step) for step in _steps_of(folded, task, away.get(index))]
    placed = _with_extra_steps(card, _with_tips(card, told))
    numbered = (step._replace(number=index + 1) for index, step in enumerate(placed))
    return with_cautions(numbered)


def _steps_of(folded: FoldedCard, task: Task, off: tuple[str, str] | None) -> Iterator[Step]:
    card = folded.card
    piece = card.piece(task.name)
    if task.what == "fold":
        yield from fold_steps(folded, piece, _takes_pieces(card, piece))
        return
    if task.what == "join":
        yield join_step(folded, piece, _takes_pieces(card, piece))
        return
    if task.what == "place":
        yield place_step(card, piece, facing(folded, piece), zones_of(folded, piece), off)
        return
    makers = {
        "work": work_step,
        "score": score_step,
        "band": band_step,
        "finish": finish_step,
    }
    yield makers[task.what](card, piece)


def _takes_pieces(card: SizedCard, base: SizedPiece) -> bool:
    return any(piece.placements and root_piece(card, piece) == base for piece in card.pieces)


def _with_extra_steps(card: SizedCard, told: Sequence[tuple[Task, Step]]) -> list[Step]:
    """The maker's own steps right before or after the piece's main step."""
    notes = notes_among(_told(told), card.extra_steps)

    def own(numbers: Sequence[int]) -> list[Step]:
        return [extra_step(card.extra_steps[number], number) for number in numbers]

    return [
        each
        for index, (_, step) in enumerate(told)
        for each in (*own(notes.before.get(index, ())), step, *own(notes.after.get(index, ())))
    ]


def _told(told: Sequence[tuple[Task, Step]]) -> list[Told]:
    return [Told(task.what, step.pieces) for task, step in told]


def _with_tips(card: SizedCard, told: Sequence[tuple[Task, Step]]) -> list[tuple[Task, Step]]:
    """Tips where they are wanted: what a piece says of itself at the first step that is its own (a
    tip on stamping is too late at gluing), what is said on it at the step that puts it in place."""
    done = list(told)
    for piece in card.pieces:
        for tips, index in (
            (piece.tips, _first_own_step(done, piece.name)),
            (piece.tips_on, main_step(_told(done), piece.name, "after")),
        ):
            task, step = done[index]
            done[index] = task, step._replace(tips=step.tips + tips)
    return done


def _first_own_step(told: Sequence[tuple[Task, Step]], name: str) -> int:
    """Its cutting step is shared with others, so it counts only for a piece that has no other."""
    mine = [index for index, (_, step) in enumerate(told) if name in step.pieces]
    return next((index for index in mine if told[index][0].what != "cut"), mine[0])
