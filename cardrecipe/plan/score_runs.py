"""Scores and slits as a hand makes them: pieces of one line that meet are one stroke, with its two ends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.lengths import with_unit, written
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import lengths
from cardrecipe.solve.sized import SizedCard, SizedPiece, SizedScore

ENDS = {"x": ("left", "right"), "y": ("top", "bottom")}
ACROSS = {"x": "y", "y": "x"}  # the direction that a line runs in


class Run(NamedTuple):
    """One stroke at a distance from the left (axis "x") or the top; `start` and `stop` along it."""

    at: Fraction
    start: Fraction
    stop: Fraction


def score_runs(piece: SizedPiece, axis: str) -> tuple[Run, ...]:
    """The strokes that score a piece across this axis, by their distance.

    Which way a score folds does not part a stroke: all of them are made on the inside.
    """
    scores = (one for one in piece.scores if one.direction != "slit" and one.axis == axis)
    return tuple(_merged(scores))


def slit_runs(piece: SizedPiece, axis: str) -> tuple[Run, ...]:
    """The straight slits across this axis."""
    slits = (one for one in piece.scores if one.direction == "slit" and one.axis == axis)
    return tuple(_merged(slits))


def is_whole(piece: SizedPiece, axis: str, run: Run) -> bool:
    """True for a stroke from edge to edge."""
    return run.start == 0 and run.stop == length_along(piece, ACROSS[axis])


def length_along(piece: SizedPiece, axis: str) -> Fraction:
    """The piece's width (axis "x") or height."""
    return piece.width if axis == "x" else piece.height


def part_way(card: SizedCard, piece: SizedPiece, axis: str) -> Iterator[str]:
    """`At 2 in from the left score only between 1 and 3 in from the top`, for strokes that stop inside."""
    parts = [run for run in score_runs(piece, axis) if not is_whole(piece, axis, run)]
    for marks, span in _by_span(card, piece, axis, parts):
        yield say("score/part", marks=marks, near=ENDS[axis][0], span=span)


def slits_told(card: SizedCard, piece: SizedPiece, axis: str) -> Iterator[str]:
    """`Cut slits at 2 and 3 in from the top, between 1 and 4 in from the left`."""
    runs = slit_runs(piece, axis)
    for marks, span in _by_span(card, piece, axis, runs):
        several = " and " in marks
        yield say("score/slits" if several else "score/slit", marks=marks, near=ENDS[axis][0], span=span)


def reach(card: SizedCard, piece: SizedPiece, score: SizedScore) -> str:
    """Where a line begins and stops, for a table: `1 to 3 1⁄2 from the top`; "" from edge to edge."""
    if score.axis == "slanted":
        (_, down), (right, bottom) = score.start, score.end
        told = [written(at, card.unit) for at in (down, right, bottom)]
        return say("score/row-slanted", down=told[0], right=told[1], bottom=told[2])
    run = _run(score)
    if is_whole(piece, score.axis, run):
        return ""
    start, stop = (written(at, card.unit) for at in (run.start, run.stop))
    return say("score/row-part", start=start, stop=stop, near=ENDS[ACROSS[score.axis]][0])


def _run(score: SizedScore) -> Run:
    along = 1 if score.axis == "x" else 0
    start, stop = sorted((score.start[along], score.end[along]))
    return Run(score.at, start, stop)


def _merged(scores: Iterator[SizedScore]) -> Iterator[Run]:
    last: Run | None = None
    for run in sorted(map(_run, scores)):
        if last is not None and last.at == run.at and run.start <= last.stop:
            last = last._replace(stop=max(last.stop, run.stop))
            continue
        if last is not None:
            yield last
        last = run
    if last is not None:
        yield last


def _by_span(card: SizedCard, piece: SizedPiece, axis: str, runs: Sequence[Run]) -> Iterator[tuple[str, str]]:
    """Strokes that begin and stop alike are told in one breath."""
    spans: dict[tuple[Fraction, Fraction], list[Fraction]] = {}
    for run in runs:
        spans.setdefault((run.start, run.stop), []).append(run.at)
    for (start, stop), marks in spans.items():
        yield lengths(marks, card.unit), _span(card, piece, ACROSS[axis], start, stop)


def _span(card: SizedCard, piece: SizedPiece, along: str, start: Fraction, stop: Fraction) -> str:
    """`from the top edge to 2 in`, `between 1 and 2 in from the top`.

    A score that runs right across is no part, and such a slit would part the piece.
    """
    near, far = ENDS[along]
    if start == 0:
        return say("score/span-near", near=near, stop=with_unit(stop, card.unit))
    if stop == length_along(piece, along):
        return say("score/span-far", near=near, far=far, start=with_unit(start, card.unit))
    return say("score/span", near=near, both=lengths((start, stop), card.unit))
