"""The numbered steps of the sheet: every task in its order, put into words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.cautions import with_cautions
from cardrecipe.plan.cut_steps import cut_step
from cardrecipe.plan.cutting.card_plans import PaperPlan
from cardrecipe.plan.facing import facing
from cardrecipe.plan.fold_steps import fold_steps, score_step
from cardrecipe.plan.glue_zones import zones_of
from cardrecipe.plan.join_steps import join_step
from cardrecipe.plan.order import Task, root_piece, tasks_of
from cardrecipe.plan.place_steps import band_step, place_step
from cardrecipe.plan.sheet import Step
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import capital, sentence, the
from cardrecipe.plan.work_steps import finish_step, work_step
from cardrecipe.solve.sized import ExtraStep, SizedCard, SizedPiece

# A maker's own step of so few words is its own title.
TITLE_WORDS = 6


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
    told: list[tuple[Task, Step]] = []
    for task in tasks_of(card):
        if task.what == "cut":
            told.append((task, cut_step(card, task.name, copies, plans, by_knife)))
        else:
            told += [(task, step) for step in _steps_of(folded, task)]
    placed = _with_extra_steps(card, _with_tips(card, told))
    numbered = (step._replace(number=index + 1) for index, step in enumerate(placed))
    return with_cautions(numbered)


def _steps_of(folded: FoldedCard, task: Task) -> Iterator[Step]:
    card = folded.card
    piece = card.piece(task.name)
    if task.what == "fold":
        yield from fold_steps(folded, piece, _takes_pieces(card, piece))
        return
    if task.what == "join":
        yield join_step(folded, piece, _takes_pieces(card, piece))
        return
    if task.what == "place":
        yield place_step(card, piece, facing(folded, piece), zones_of(folded, piece))
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
    before: dict[int, list[Step]] = {}
    after: dict[int, list[Step]] = {}
    for extra in card.extra_steps:
        index = _main_step(told, extra.piece, extra.place)
        (before if extra.place == "before" else after).setdefault(index, []).append(_extra(extra))
    return [
        step
        for index, (_, own) in enumerate(told)
        for step in (*before.get(index, ()), own, *after.get(index, ()))
    ]


def _main_step(told: Sequence[tuple[Task, Step]], name: str, place: str) -> int:
    """The step that a note on this piece belongs to: where it is put on, else the base's own.

    Before a base means before it is scored, after it means after its last fold. A piece that is only
    cut has its cut step.
    """
    for kinds in (("place", "band"), ("score", "fold"), ("work",), ("cut",)):
        found = [
            index
            for index, (task, step) in enumerate(told)
            if task.what in kinds and name in step.pieces
        ]
        if found:
            return found[0] if place == "before" else found[-1]
    raise KeyError(name)


def _extra(extra: ExtraStep) -> Step:
    first, dot, rest = extra.text.strip().partition(".")
    if dot and len(first.split()) <= TITLE_WORDS and "\n" not in first:
        title, text = first, rest.strip()
    elif len(extra.text.split()) <= TITLE_WORDS and "\n" not in extra.text:
        title, text = extra.text, ""
    else:
        title, text = say(f"extra/{extra.place}", name=the(extra.piece)), sentence(extra.text)
    return Step(0, capital(title), text, (extra.piece,), (), "")


def _with_tips(card: SizedCard, told: Sequence[tuple[Task, Step]]) -> list[tuple[Task, Step]]:
    """Tips where they are wanted: what a piece says of itself at the first step that is its own (a
    tip on stamping is too late at gluing), what is said on it at the step that puts it in place."""
    done = list(told)
    for piece in card.pieces:
        for tips, index in (
            (piece.tips, _first_own_step(done, piece.name)),
            (piece.tips_on, _main_step(done, piece.name, "after")),
        ):
            task, step = done[index]
            done[index] = task, step._replace(tips=step.tips + tips)
    return done


def _first_own_step(told: Sequence[tuple[Task, Step]], name: str) -> int:
    """Its cutting step is shared with others, so it counts only for a piece that has no other."""
    mine = [index for index, (_, step) in enumerate(told) if name in step.pieces]
    return next((index for index in mine if told[index][0].what != "cut"), mine[0])
