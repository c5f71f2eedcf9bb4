"""The scoring and folding steps, from the score guide and from the order that folding found."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from cardrecipe.fold.folded import ClosedBase, FoldAction, FoldedCard
from cardrecipe.model.lengths import is_on, size_written, with_unit
from cardrecipe.plan.cut_steps import between_marks
from cardrecipe.plan.score_runs import ENDS, length_along, part_way, slits_told
from cardrecipe.plan.scores import (
    long_way,
    numbers_written,
    scores_along,
    short_way,
)
from cardrecipe.plan.sheet import MOST_FOLD_STEPS, Step
from cardrecipe.plan.trims import place_on
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import counted, lengths, listed, sentences, the
from cardrecipe.solve.sized import SizedCard, SizedPiece, SizedScore

FOLDER = "bone folder"


def score_step(card: SizedCard, piece: SizedPiece) -> Step:
    """Score one piece, lying inside up."""
    axes = [axis for axis in ENDS if scores_along(piece, axis)]
    parts = [part for axis in axes for part in _score_sentences(card, piece, axis)]
    return Step(
        0,
        say("score/title", name=the(piece.name)),
        sentences(*parts, *slanted_and_slit(card, piece, not parts), *_directions(piece)),
        (piece.name,),
        (the(piece.name), "scoring board", FOLDER, *_slit_with(piece)),
        f"step-score-{piece.name}",
        _score_check(card, piece, axes),
    )


def _slit_with(piece: SizedPiece) -> tuple[str, ...]:
    return ("craft knife",) if any(score.direction == "slit" for score in piece.scores) else ()


def slanted_and_slit(card: SizedCard, piece: SizedPiece, is_all: bool) -> Iterator[str]:
    """Slanted lines, from point to point, and the slits, which are cut with the sheet still flat."""
    found = [score for score in piece.scores if score.axis == "slanted"]
    if found and is_all:
        yield say("score/lay-plain", name=the(piece.name))
    for score in found:
        start, end = (place_on(card, piece, point) for point in (score.start, score.end))
        key = "score/slit-slanted" if score.direction == "slit" else "score/slanted"
        yield say(key, number=str(score.number), start=start, end=end.rstrip(","))
    for axis in ENDS:
        yield from slits_told(card, piece, axis)


def fold_steps(folded: FoldedCard, piece: SizedPiece, opens_again: bool) -> Iterator[Step]:
    """Fold one base up, a step for each movement."""
    closed = next((one for one in folded.closed if one.base == piece.name), None)
    actions = closed.moves if closed else ()
    if closed is None or not actions:
        return
    again = say("fold/open", name=the(piece.name)) if opens_again else ""
    size = size_written(closed.width, closed.height, folded.card.unit)
    check = say("fold/check-size", name=the(piece.name), size=size)
    if len(actions) > MOST_FOLD_STEPS:
        yield _fan_step(piece, actions, again, check)
        return
    for index, action in enumerate(actions):
        last = index == len(actions) - 1
        yield Step(
            0,
            _fold_title(piece, closed, actions, index),
            sentences(
                say("fold/lay", name=the(piece.name)) if index == 0 else "",
                _movement(piece, closed, actions, index),
                say("fold/press", creases=_creases(action)),
                again if last else "",
            ),
            (piece.name,),
            (the(piece.name), FOLDER),
            f"fold-{piece.name}-{index + 1}",
            check if last else _lines_check(piece, action),
        )


def _score_sentences(card: SizedCard, piece: SizedPiece, axis: str) -> Iterator[str]:
    near, far = ENDS[axis]
    length = with_unit(length_along(piece, axis), card.unit)
    yield say("score/lay", name=the(piece.name), length=length, near=near, far=far)
    yield short_way(card, piece, axis) or long_way(card, piece, axis)
    yield from part_way(card, piece, axis)
    length_of = length_along(piece, axis)
    marks = (min(one.at, length_of - one.at) for one in scores_along(piece, axis))
    for mark in dict.fromkeys(marks):
        if not is_on(mark, card.nearest):
            yield say("cut/off-ruler", **between_marks(card, mark))


def _directions(piece: SizedPiece) -> Iterator[str]:
    """Which scores fold back, and how a scored piece that is no base is folded."""
    scores = [score for score in piece.scores if score.direction != "slit"]
    mountains = [score for score in scores if score.direction == "mountain"]
    if mountains:
        yield say("score/mountains", scores=numbers_written(mountains))
    if piece.kind != "base":
        yield say("score/panel-folds", scores=numbers_written(scores),
                  creases="the crease" if len(scores) == 1 else "the creases")  # fmt: skip


def _score_check(card: SizedCard, piece: SizedPiece, axes: Sequence[str]) -> str:
    scores = [score for score in piece.scores if score.direction != "slit"]
    if len(axes) == 1:
        axis = axes[0]
        near, far = ENDS[axis]
        scored = list(dict.fromkeys(score.at for score in scores_along(piece, axis)))
        marks = [Fraction(0), *scored, length_along(piece, axis)]
        parts = lengths([after - before for before, after in pairwise(marks)], card.unit)
        return say("score/check", near=near, far=far, parts=parts)
    return say("score/check-plain", count=counted(len(scores), "score"))


def _fold_title(
    piece: SizedPiece, closed: ClosedBase, actions: Sequence[FoldAction], index: int
) -> str:
    names = _hinged(piece, actions[index])
    away = _is_away(piece, closed, actions, index)
    if len(names) > 2 or actions[index].is_linked:
        return f"Fold {numbers_written(_scores(piece, actions[index]))}"
    key = "fold/title-away" if away else "fold/title-towards"
    if not away and len(names) == 1:
        key = "fold/title-over"
    return say(key, moves=listed(map(the, names)))


def _movement(
    piece: SizedPiece, closed: ClosedBase, actions: Sequence[FoldAction], index: int
) -> str:
    action = actions[index]
    if action.is_linked:
        return _linked_movement(piece, action)
    away = _is_away(piece, closed, actions, index)
    key = f"fold/{action.direction}" if away is None else "fold/away" if away else "fold/towards"
    return say(
        key,
        scores=numbers_written(_scores(piece, action)),
        moves=listed(map(the, _hinged(piece, action))),
        onto=listed(map(the, dict.fromkeys(action.onto))),
    )


def _linked_movement(piece: SizedPiece, action: FoldAction) -> str:
    """All the scores of a ring at once, each told which way it goes."""
    ways: dict[str, list[SizedScore]] = {}
    for score in _scores(piece, action):
        ways.setdefault(score.direction, []).append(score)
    return say(
        "fold/linked",
        moves=listed(map(the, action.moves)),
        ways=listed(say(f"fold/linked-{way}", scores=numbers_written(found)) for way, found in ways.items()),
        onto=listed(map(the, action.onto)),
    )


def _is_away(
    piece: SizedPiece, closed: ClosedBase, actions: Sequence[FoldAction], index: int
) -> bool | None:
    """True where the movement goes away from the maker; None where its scores disagree.

    The root lies inside up. Where an odd number of folded scores lies between it and the hinge, the
    part that carries the hinge has its outside up, and a valley folds away.
    """
    folded = {number for action in actions[:index] for number in action.scores}
    flipped = {
        len(_between(piece, closed.root, score) & folded) % 2 == 1
        for score in _scores(piece, actions[index])
    }
    if len(flipped) != 1 or not actions[index].onto:
        return None
    return (actions[index].direction == "mountain") != flipped.pop()


def _between(piece: SizedPiece, root: str, score: SizedScore) -> set[int]:
    """The numbers of the scores that lie between the root section and `score`, along one axis."""
    home = next(section for section in piece.sections if section.name == root)
    near, far = (
        (home.x, home.x + home.width) if score.axis == "x" else (home.y, home.y + home.height)
    )
    return {
        other.number
        for other in scores_along(piece, score.axis)
        if far <= other.at < score.at or score.at < other.at <= near
    }


def _scores(piece: SizedPiece, action: FoldAction) -> list[SizedScore]:
    return [score for score in piece.scores if score.number in action.scores]


def _hinged(piece: SizedPiece, action: FoldAction) -> tuple[str, ...]:
    """The moving sections that hang on the folded scores themselves, in the order they are written."""
    at = {(score.axis, score.at) for score in _scores(piece, action)}
    found = tuple(
        section.name
        for section in piece.sections
        if section.name in action.moves
        and at
        & {
            ("x", section.x),
            ("x", section.x + section.width),
            ("y", section.y),
            ("y", section.y + section.height),
        }
    )
    return found or action.moves


def _creases(action: FoldAction) -> str:
    return "the crease" if len(action.scores) == 1 else "the creases"


def _lines_check(piece: SizedPiece, action: FoldAction) -> str:
    axes = {score.axis for score in _scores(piece, action)}
    edges = "top and bottom" if axes == {"x"} else "left and right"
    return say("fold/check-lines", edges=edges)


def _fan_step(piece: SizedPiece, actions: Sequence[FoldAction], again: str, check: str) -> Step:
    return Step(
        0,
        say("fold/title-many", name=the(piece.name)),
        sentences(
            say("fold/lay", name=the(piece.name)),
            _fan_sentence(piece, actions),
            say("fold/press", creases="every crease"),
            again,
        ),
        (piece.name,),
        (the(piece.name), FOLDER),
        f"fold-{piece.name}-fan",
        check,
    )


def _fan_sentence(piece: SizedPiece, actions: Sequence[FoldAction]) -> str:
    """Regular back and forth folds are a fan; others are told one after the other."""
    words = {"valley": "in", "mountain": "back"}
    folded = (score for score in piece.scores if score.direction in words)  # a slit beside them is no fold
    scores = sorted(folded, key=lambda score: score.number)
    if all(one.direction != two.direction for one, two in pairwise(scores)):
        first, second = (words[score.direction] for score in scores[:2])
        return say("fold/fan", first=first, second=second)
    told = [f"{numbers_written(_scores(piece, one))} {words[one.direction]}" for one in actions]
    return say("fold/in-turn", actions=listed(told))
