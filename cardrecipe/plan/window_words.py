"""Windows: the openings that are cut out of a flat piece, by their size and their place, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from cardrecipe.model.lengths import size_written, with_unit, written
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import the
from cardrecipe.solve.sized import Point, SizedCard, SizedPiece

Box = tuple[Fraction, Fraction, Fraction, Fraction]  # left, top, width, height


def window_words(card: SizedCard, piece: SizedPiece) -> Iterator[str]:
    """A sentence for each opening, the piece lying face up."""
    for window in piece.windows:
        size, across, down = _told(window, card.unit)
        yield say("cut/window", name=the(piece.name), size=size, across=across, down=down)


def window_lines(piece: SizedPiece, unit: str) -> tuple[str, ...]:
    """The same as a line under a drawing: `window 2 × 1 in: left 1⁄2, top 0`, its distances from there."""
    return tuple(
        say(
            "cut/window-row",
            size=size_written(width, height, unit),
            across=written(left, unit),
            down=written(top, unit),
        )
        for left, top, width, height in map(box_round, piece.windows)
    )


def _told(window: Sequence[Point], unit: str) -> tuple[str, str, str]:
    left, top, width, height = box_round(window)
    return size_written(width, height, unit), _from(left, "left", unit), _from(top, "top", unit)


def box_round(window: Sequence[Point]) -> Box:
    """Left, top, width and height of the rectangle round an opening."""
    across, down = [x for x, _ in window], [y for _, y in window]
    return min(across), min(down), max(across) - min(across), max(down) - min(down)


def _from(distance: Fraction, edge: str, unit: str) -> str:
    if distance == 0:
        return say("cut/window-flush", edge=edge)
    return say("cut/window-from", distance=with_unit(distance, unit), edge=edge)
