"""The whole card, small, beside the picture of a step: which way it lies and where the piece goes."""

from collections.abc import Collection
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.folded import Outline, SeenPart, View
from cardrecipe.plan.order import root_piece
from cardrecipe.plan.step_pictures import StepPicture
from cardrecipe.render.drawings.lines import HIDDEN, stroke
from cardrecipe.render.drawings.marks import Box, Mark, box_of
from cardrecipe.render.drawings.sizes import scale_to_fit, scaled
from cardrecipe.render.drawings.so_far import arrows_to, small_arrow, so_far_marks
from cardrecipe.solve.sized import SizedCard

MOST_INSET = (19.0, 19.0)  # mm on the page
MOST_WITH_BAND = (19.0, 24.0)  # with a band beneath or beside it
ROOM_FOR_ARROWS = 4.5  # mm beneath it
SLID = Fraction(1, 5)  # how far a band lies from the card, as a part of the card's side


class Off(NamedTuple):
    """What lies on a band that is off the card (the band too), and whether it comes off now, goes on again
    at the end, or both; `downward` for a band that is wrapped from top to bottom."""

    names: frozenset[str]
    when: str
    downward: bool


def band_off(card: SizedCard, step: StepPicture) -> Off | None:
    """What is off the card at a step; None without."""
    if not step.off:
        return None
    around = card.piece(step.off).around
    on_it = {piece.name for piece in card.pieces if root_piece(card, piece).name == step.off}
    return Off(frozenset(on_it), step.when, around is not None and around.downward)


def inset_marks(
    card: SizedCard,
    view: View,
    strong: Collection[str],
    pattern: str,
    edge: tuple[float, float],
    off: Off | None = None,
) -> list[Mark]:
    """`view` with its right edge and its middle height where they are wanted; arrows lead to the `strong`
    pieces. A band that is `off` lies beside the card."""
    right, middle = edge
    shown = _with_band_aside(view, off) if off is not None else view
    scale = scale_to_fit(card, shown.width, shown.height, *(MOST_WITH_BAND if off else MOST_INSET))
    wide, high = float(shown.width) * scale, float(shown.height) * scale
    at = right - wide, middle - (high + ROOM_FOR_ARROWS) / 2
    marks = so_far_marks(card, shown, scale, pattern, strong, at)
    if off is not None:
        marks += _slides(view, shown, off, scale, at)
    return [*marks, *arrows_to(shown, scale, strong, at)]


def _with_band_aside(view: View, off: Off) -> View:
    """The band and all that is on it moved off the card: to the right of it, or below it."""
    axis = 0 if off.downward else 1
    on_band = [part for part in view.parts if _is_off(part, off)]
    rest = [part for part in view.parts if not _is_off(part, off)]
    end = max(point[axis] for part in rest for point in part.outline)
    start = min(point[axis] for part in on_band for point in part.outline)
    move = end + (view.width, view.height)[axis] * SLID - start
    aside = [
        part._replace(
            outline=_slid(part.outline, axis, move),
            holes=tuple(_slid(hole, axis, move) for hole in part.holes),
        )
        for part in on_band
    ]
    whole = max(point[axis] for part in (*rest, *aside) for point in part.outline)
    sizes = [view.width, view.height]
    sizes[axis] = max(sizes[axis], whole)
    return view._replace(parts=(*rest, *aside), width=sizes[0], height=sizes[1])


def _is_off(part: SeenPart, off: Off) -> bool:
    return part.section is None and part.piece in off.names


def _slid(outline: Outline, axis: int, move: Fraction) -> Outline:
    return tuple((x + move, y) if axis == 0 else (x, y + move) for x, y in outline)


def _slides(view: View, shown: View, off: Off, scale: float, at: tuple[float, float]) -> list[Mark]:
    """Where the band was, dotted, and the arrows that tell how it slides."""
    band = next(part for part in view.parts if _is_off(part, off))
    now = next(part for part in shown.parts if _is_off(part, off))
    before, after = box_of(scaled(band.outline, scale, *at)), box_of(scaled(now.outline, scale, *at))
    marks = [stroke(line, HIDDEN) for line in _edges(before, off.downward)]
    ways = {"first": (0.85,), "last": (-0.85,), "both": (0.12, -0.88)}.get(off.when, ())
    for way in ways:
        share = abs(way)
        if off.downward:
            y = before.top + before.height * share
            ends = ((before.middle[0], y), (after.left - 0.4, y))
        else:
            x = before.left + before.width * share
            ends = ((x, before.middle[1]), (x, after.top - 0.4))
        marks += small_arrow(ends if way > 0 else ends[::-1])
    return marks


def _edges(box: Box, downward: bool) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    if downward:
        return [((x, box.top), (x, box.bottom)) for x in (box.left, box.right)]
    return [((box.left, y), (box.right, y)) for y in (box.top, box.bottom)]
