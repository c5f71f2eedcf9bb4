"""The part of a piece that takes glue, hatched, for the picture of placing it."""

from collections.abc import Iterator, Sequence
from math import ceil, floor, sqrt

from cardrecipe.fold.folded import GlueZone, Outline
from cardrecipe.render.drawings.marks import Mark, box_of
from cardrecipe.render.drawings.scenes import OF_A_BAND, Scene
from cardrecipe.render.drawings.shapes import Frame
from cardrecipe.render.drawings.svg import XY, element, number
from cardrecipe.solve.sized import SizedPiece

APART = 1.1  # mm between two lines of the hatching
LINE = 0.18


def partial_zone(
    piece: SizedPiece, scene: Scene, number: int, zones: Sequence[GlueZone]
) -> GlueZone | None:
    """The zone of a scene's copy of that number, where it is glued in part only; None where it is glued
    all over, or where hosts that share the picture have different zones."""
    by_host: dict[tuple[str, str, int, str], list[int]] = {}
    for copy, place in enumerate(piece.placements):
        if any(name in (place.host, f"{place.host}{OF_A_BAND}") for name in scene.names):
            key = (place.host, place.host_piece, place.host_copy, place.side)
            by_host.setdefault(key, []).append(copy)
    alike = {copies[number] for copies in by_host.values() if number < len(copies)}
    own = [zone for zone in zones if zone.piece == piece.name and zone.copy in alike]
    if not own or own[0].is_whole or len({zone.rings for zone in own}) > 1:
        return None
    return own[0]


def glued_rings(
    piece: SizedPiece, scene: Scene, number: int, zones: Sequence[GlueZone]
) -> tuple[Outline, ...] | None:
    """Where a scene's copy of that number takes glue: on the sections that are glued by name, or in its
    zone; None where that is all of it."""
    if piece.joins:
        glued = {join.section for join in piece.joins}
        return tuple(section.outline for section in piece.sections if section.name in glued)
    zone = partial_zone(piece, scene, number, zones)
    return None if zone is None else zone.rings


def hatching(
    piece: SizedPiece, outlines: Sequence[Outline], frame: Frame, color: str
) -> list[Mark]:
    """Slanted lines in some outlines; `frame` is the piece's, turned as it lies."""
    rings = [[_in_frame(piece, (float(x), float(y)), frame) for x, y in each] for each in outlines]
    return hatched(rings, color)


def hatched(rings: Sequence[Sequence[XY]], color: str) -> list[Mark]:
    """Slanted lines inside some rings of the picture."""
    lines = "".join(
        f"M{number(ax)} {number(ay)}L{number(bx)} {number(by)}"
        for (ax, ay), (bx, by) in _slanted(rings)
    )
    box = box_of([point for each in rings for point in each])
    return [Mark(element("path", d=lines, fill="none", stroke=color, stroke_width=LINE), box)]


def _in_frame(piece: SizedPiece, point: XY, frame: Frame) -> XY:
    (x, y), (right, right_y), _, (low_x, low) = frame
    across, down = point[0] / float(piece.width), point[1] / float(piece.height)
    return (
        x + (right - x) * across + (low_x - x) * down,
        y + (right_y - y) * across + (low - y) * down,
    )


def _slanted(rings: Sequence[Sequence[XY]]) -> Iterator[tuple[XY, XY]]:
    """Lines at 45 degrees inside some rings, by the even-odd rule along each line x + y = c."""
    step = APART * sqrt(2)
    sums = [x + y for each in rings for x, y in each]
    for count in range(ceil(min(sums) / step), floor(max(sums) / step) + 1):
        at = count * step
        crossings = sorted(x for each in rings for x in _crossings(each, at))
        for start, end in zip(crossings[::2], crossings[1::2], strict=False):
            yield (start, at - start), (end, at - end)


def _crossings(corners: Sequence[XY], at: float) -> Iterator[float]:
    """The x at which the line x + y = at crosses the edges of a ring."""
    for index, (x, y) in enumerate(corners):
        before_x, before_y = corners[index - 1]
        before, after = before_x + before_y - at, x + y - at
        if (before < 0) != (after < 0):
            yield before_x + (x - before_x) * before / (before - after)
