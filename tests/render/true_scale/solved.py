"""What the lines of a piece have to be, worked out anew from its solved sizes: areas, ends, kinds. All in mm.

Nothing here is shared with the code that draws: rings by shapely, round parts by their formulas.
"""

from fractions import Fraction
from math import cos, pi, sin
from typing import NamedTuple

from shapely import LineString, Polygon, box, set_precision
from shapely.ops import unary_union

from cardrecipe.solve.sized import SizedPiece

MM = {"inch": Fraction(127, 5), "mm": Fraction(1)}
GROUP = {"valley": "score-valley", "mountain": "score-mountain", "slit": "slit"}
XY = tuple[float, float]

# The shape of a tag and of a banner, as grammar/language.md has them drawn: common practice, no published
# source. A tag's two corners at the end that the cord goes through are cut off; a banner has a notch.
GRID = 1e-7  # mm: to which floats are rounded before shapely compares them
CLIP, CLIP_OF_LENGTH, NOTCH = 0.28, 0.3, 0.35


class Line(NamedTuple):
    group: str
    ends: tuple[XY, XY]  # in order


def size(piece: SizedPiece, unit: str) -> XY:
    return float(piece.width * MM[unit]), float(piece.height * MM[unit])


def lines(piece: SizedPiece, unit: str) -> list[Line]:
    """The scores and slits, each from end to end where it has paper on both sides."""

    def mm(point: tuple[Fraction, Fraction]) -> XY:
        return float(point[0] * MM[unit]), float(point[1] * MM[unit])

    found = [Line(GROUP[each.direction], (mm(each.start), mm(each.end))) for each in piece.scores]
    if piece.windows:
        found = [Line(each.group, ends) for each in found for ends in _on_paper(piece, unit, each.ends)]
    return sorted(Line(each.group, tuple(sorted(each.ends))) for each in found)  # type: ignore[arg-type]


def _on_paper(piece: SizedPiece, unit: str, ends: tuple[XY, XY]) -> list[tuple[XY, XY]]:
    """What a hair inside the paper's edge leaves of a line, brought back by that hair."""
    hair = 1e-7
    left = LineString(ends).intersection(paper(piece, unit).buffer(-hair))
    parts = [each for each in getattr(left, "geoms", [left]) if each.length > 1e-3]
    return [(each.coords[0], each.coords[-1]) for each in parts]


def cut_area(piece: SizedPiece, unit: str) -> float:
    """The area of the paper that stays."""
    scale = float(MM[unit])
    wide, high = size(piece, unit)
    windows = [Polygon([(float(x) * scale, float(y) * scale) for x, y in ring]) for ring in piece.windows]
    frame = box(0, 0, wide, high)
    return _whole_area(piece, scale, wide, high) - unary_union(windows).intersection(frame).area


def _whole_area(piece: SizedPiece, scale: float, wide: float, high: float) -> float:
    if piece.outline is not None:
        return float(Polygon([(float(x) * scale, float(y) * scale) for x, y in piece.outline]).area)
    if piece.kind in ("circle", "oval"):
        return pi / 4 * wide * high
    short, long = sorted((wide, high))
    if piece.kind == "tag":
        return wide * high - min(CLIP * short, CLIP_OF_LENGTH * long) ** 2
    if piece.kind == "banner":
        notch = NOTCH * short * short / 2
        return wide * high - (2 if wide >= high else 1) * notch
    radius = min(float(piece.corner_radius or 0) * scale, short / 2)
    return wide * high - (4 - pi) * radius * radius


def paper(piece: SizedPiece, unit: str) -> Polygon:
    """The paper that stays, round parts as chains of short lines: within a thousandth of a point."""
    scale = float(MM[unit])
    wide, high = size(piece, unit)
    windows = [Polygon([(float(x) * scale, float(y) * scale) for x, y in ring]) for ring in piece.windows]
    whole = Polygon(_corners(piece, scale, wide, high))
    return set_precision(whole, GRID).difference(set_precision(unary_union(windows), GRID), grid_size=GRID)


def _corners(piece: SizedPiece, scale: float, wide: float, high: float) -> list[XY]:
    if piece.outline is not None:
        return [(float(x) * scale, float(y) * scale) for x, y in piece.outline]
    if piece.kind in ("circle", "oval"):
        return _round((wide / 2, high / 2), wide / 2, high / 2, 0, 360)
    short, long = sorted((wide, high))
    if piece.kind == "tag":
        clip = min(CLIP * short, CLIP_OF_LENGTH * long)
        upright = [(clip, 0.0), (short - clip, 0.0), (short, clip), (short, long), (0.0, long), (0.0, clip)]
        return upright if wide <= high else [(y, x) for x, y in upright]
    if piece.kind == "banner":
        notch = NOTCH * short
        if wide < high:
            return [(0, 0), (wide, 0), (wide, high), (wide / 2, high - notch), (0, high)]
        to_the_right = [(0, 0), (wide, 0), (wide - notch, high / 2), (wide, high)]
        return [*to_the_right, (0, high), (notch, high / 2)]
    radius = min(float(piece.corner_radius or 0) * scale, short / 2)
    right, low = wide - radius, high - radius
    middles = ((right, radius), (right, low), (radius, low), (radius, radius))
    return [point for quarter, middle in enumerate(middles)
            for point in _round(middle, radius, radius, 90 * (quarter - 1), 90 * quarter)]  # fmt: skip


def _round(middle: XY, across: float, down: float, first: int, last: int) -> list[XY]:
    steps = 10  # to a degree
    angles = [pi * step / steps / 180 for step in range(first * steps, last * steps + 1)]
    return [(middle[0] + across * cos(angle), middle[1] + down * sin(angle)) for angle in angles]


def same_lines(found: list[Line], wanted: list[Line], within: float) -> bool:
    """True where both hold the same lines, each end as near as that."""
    if len(found) != len(wanted):
        return False
    left = list(found)
    for line in wanted:
        twin = next((each for each in left if each.group == line.group and _near(each, line, within)), None)
        if twin is None:
            return False
        left.remove(twin)
    return True


def _near(one: Line, two: Line, within: float) -> bool:
    def is_near(ends: tuple[XY, XY]) -> bool:
        numbers = zip([*ends[0], *ends[1]], [*two.ends[0], *two.ends[1]], strict=True)
        return all(abs(a - b) <= within for a, b in numbers)

    return is_near(one.ends) or is_near(one.ends[::-1])
