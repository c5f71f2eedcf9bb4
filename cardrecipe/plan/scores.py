"""The score guide: where to score, from one end, from the other, and the short way of doing it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from cardrecipe.model.lengths import to_mm, with_unit, written
from cardrecipe.plan.score_runs import ENDS, is_whole, length_along, reach, score_runs
from cardrecipe.plan.sheet import ScoreGuide, ScoreLine
from cardrecipe.plan.words import lengths, listed, number, the
from cardrecipe.solve.sized import SizedCard, SizedPiece, SizedScore

# The rule of a common scoring board ends here (12 in): common practice, no published source.
BOARD_MM = Fraction(3048, 10)


def score_guides(card: SizedCard) -> tuple[ScoreGuide, ...]:
    """A guide for every scored piece, one for each direction it is scored in."""
    return tuple(guide for piece in card.pieces for guide in guides_of(card, piece))


def guides_of(card: SizedCard, piece: SizedPiece) -> Iterator[ScoreGuide]:
    """The guides of one piece: measured from the left, then measured from the top."""
    for axis, (near, _) in ENDS.items():
        lines = tuple(_line(card, piece, axis, score) for score in _listed(piece, axis))
        if lines:
            yield ScoreGuide(piece.name, near, lines, short_way(card, piece, axis))


def _listed(piece: SizedPiece, axis: str) -> list[SizedScore]:
    """Scores, then slits, of a piece that has scores; slanted lines stand with those from the left."""
    if all(score.direction == "slit" for score in piece.scores):
        return []
    found = [one for one in piece.scores if one.axis == axis or (one.axis == "slanted" and axis == "x")]
    return sorted(found, key=lambda one: (one.direction == "slit", one.axis == "slanted", one.at, one.number))


def _line(card: SizedCard, piece: SizedPiece, axis: str, score: SizedScore) -> ScoreLine:
    at, length = score.start[0] if score.axis == "slanted" else score.at, length_along(piece, axis)
    return ScoreLine(
        score.number,
        score.direction,
        written(at, card.unit),
        written(length - at, card.unit),
        reach(card, piece, score),
    )


def scores_along(piece: SizedPiece, axis: str) -> list[SizedScore]:
    """The piece's scores that lie across this axis, by their distance; slits are not scores."""
    found = [one for one in piece.scores if one.axis == axis and one.direction != "slit"]
    return sorted(found, key=lambda one: one.at)


def whole_marks(piece: SizedPiece, axis: str) -> list[Fraction]:
    """The distances of the strokes that run from edge to edge."""
    return [run.at for run in score_runs(piece, axis) if is_whole(piece, axis, run)]


def short_way(card: SizedCard, piece: SizedPiece, axis: str) -> str:
    """How to score from both ends, where that is shorter or the board is too short; else ""."""
    length = length_along(piece, axis)
    marks = whole_marks(piece, axis)
    near = [at for at in marks if 2 * at < length]
    far = [length - at for at in reversed(marks) if 2 * at > length]
    middle = [at for at in marks if 2 * at == length]
    if near and near == far:
        return _from_both_ends(card, piece, axis, near, middle)
    if far and to_mm(length, card.unit) > BOARD_MM:
        return _from_each_end(card, piece, axis, near + middle, far)
    if marks and marks == middle:
        middle_mark = with_unit(middle[0], card.unit)
        return f"Score at {middle_mark}: it is the middle, whichever end you measure from."
    return ""


def turned_round(card: SizedCard, piece: SizedPiece, axis: str) -> tuple[Fraction, ...]:
    """At what a piece is scored once it has been turned round, by the short way; () without turning it."""
    length, marks = length_along(piece, axis), whole_marks(piece, axis)
    near = [at for at in marks if 2 * at < length]
    far = [length - at for at in reversed(marks) if 2 * at > length]
    if (near and near == far) or (far and to_mm(length, card.unit) > BOARD_MM):
        return tuple(far)
    return ()


def long_way(card: SizedCard, piece: SizedPiece, axis: str) -> str:
    """Every whole score measured from one end: `Score at 4 and 8 in from the left.`; "" without."""
    marks = whole_marks(piece, axis)
    return f"Score at {lengths(marks, card.unit)} from the {ENDS[axis][0]}." if marks else ""


def numbers_written(scores: Sequence[SizedScore]) -> str:
    """`score 2`, `scores 1 and 4`."""
    word = "score" if len(scores) == 1 else "scores"
    return f"{word} {listed(str(score.number) for score in scores)}"


def _from_both_ends(
    card: SizedCard,
    piece: SizedPiece,
    axis: str,
    near: Sequence[Fraction],
    middle: Sequence[Fraction],
) -> str:
    same = "at the same number" if len(near) == 1 else f"at the same {number(len(near))} numbers"
    also = f" Score the middle at {with_unit(middle[0], card.unit)}." if middle else ""
    return (
        f"Score at {lengths(near, card.unit)} from the {ENDS[axis][0]}, "
        f"then turn {the(piece.name)} round, the same face up, and score {same}.{also}"
    )


def _from_each_end(
    card: SizedCard,
    piece: SizedPiece,
    axis: str,
    near: Sequence[Fraction],
    far: Sequence[Fraction],
) -> str:
    first = (
        f"Score at {lengths(near, card.unit)} from the {ENDS[axis][0]}, then turn"
        if near
        else "Turn"
    )
    return (
        f"{first} {the(piece.name)} round, the same face up, "
        f"and score at {lengths(far, card.unit)} from the end that is now at the {ENDS[axis][0]}."
    )
