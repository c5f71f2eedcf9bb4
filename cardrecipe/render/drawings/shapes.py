"""The outline of every kind of piece, fitted to the frame in which it lies."""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from math import atan2, cos, degrees, hypot, radians, sin

from cardrecipe.render.drawings.svg import XY, number, ring
from cardrecipe.solve.sized import Point, SizedPiece

ARC = 0.5523  # cubic handles for a quarter of a circle: 4/3 (sqrt 2 - 1)
Frame = Sequence[XY]  # left top, right top, right bottom, left bottom corner of the piece's face
Segment = tuple[str, tuple[XY, ...]]
KEPT = 1 << 12  # paths that are remembered: the pictures of the steps draw what lies there again and again


def shape_path(kind: str, frame: Frame, corner: float = 0.0) -> str:
    """Path data of a piece of `kind` that fills `frame`; `corner` is a radius in mm."""
    return _shape_path(kind, tuple(frame), corner)


@lru_cache(maxsize=KEPT)
def _shape_path(kind: str, frame: tuple[XY, ...], corner: float) -> str:
    width, height = frame_size(frame)
    if kind in ("circle", "oval"):
        segments = _ellipse(width / 2, height / 2, width / 2, height / 2)
    elif kind == "tag":
        segments = _tag(width, height)
    elif kind == "banner":
        segments = _banner(width, height)
    elif kind == "cutout":
        segments = _rounded(width, height, min(width, height) * 0.42)
    elif corner > 0:
        segments = _rounded(width, height, min(corner, width / 2, height / 2))
    else:
        segments = _polygon(((0, 0), (width, 0), (width, height), (0, height)))
    return _fitted(segments, frame, width, height)


def piece_path(piece: SizedPiece, frame: Frame, scale: float) -> str:
    """Path data of a piece in its frame; `scale` is picture mm for one unit."""
    if piece.outline is not None:
        return ring(in_frame(point, piece, frame) for point in piece.outline)
    return shape_path(piece.kind, frame, float(piece.corner_radius or 0) * scale)


def in_frame(point: Point, piece: SizedPiece, frame: Frame) -> XY:
    """A point of the flat piece where it comes to lie in the picture."""
    (ax, ay), (bx, by), _, (dx, dy) = frame
    across, down = float(point[0] / piece.width), float(point[1] / piece.height)
    return ax + (bx - ax) * across + (dx - ax) * down, ay + (by - ay) * across + (dy - ay) * down


def frame_size(frame: Frame) -> XY:
    """Width and height of a frame in mm."""
    (ax, ay), (bx, by), _, (dx, dy) = frame
    return hypot(bx - ax, by - ay), hypot(dx - ax, dy - ay)


def frame_turn(frame: Frame) -> float:
    """By how many degrees, clockwise, the frame's top edge is turned."""
    (ax, ay), (bx, by) = frame[0], frame[1]
    return degrees(atan2(by - ay, bx - ax))


def rectangle(left: float, top: float, width: float, height: float) -> Frame:
    """An upright frame."""
    right, bottom = left + width, top + height
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def turned_frame(frame: Frame, angle: float) -> Frame:
    """`frame` turned by `angle` degrees, clockwise, about its middle."""
    x = sum(point[0] for point in frame) / 4
    y = sum(point[1] for point in frame) / 4
    c, s = cos(radians(angle)), sin(radians(angle))
    return tuple((x + (px - x) * c - (py - y) * s, y + (px - x) * s + (py - y) * c) for px, py in frame)


def _ellipse(x: float, y: float, across: float, down: float) -> list[Segment]:
    i, j = across * ARC, down * ARC
    return [
        ("M", ((x + across, y),)),
        ("C", ((x + across, y + j), (x + i, y + down), (x, y + down))),
        ("C", ((x - i, y + down), (x - across, y + j), (x - across, y))),
        ("C", ((x - across, y - j), (x - i, y - down), (x, y - down))),
        ("C", ((x + i, y - down), (x + across, y - j), (x + across, y))),
        ("Z", ()),
    ]


def _tag(width: float, height: float) -> list[Segment]:
    """Two clipped corners at the top, or at the left of a tag that lies down; a hole is the maker's."""
    short, long = min(width, height), max(width, height)
    clip = min(short * 0.28, long * 0.3)
    corners = [
        (clip, 0.0),
        (short - clip, 0.0),
        (short, clip),
        (short, long),
        (0.0, long),
        (0, clip),
    ]
    if width <= height:
        return _polygon(corners)
    return _polygon([(y, short - x) for x, y in corners])


def _banner(width: float, height: float) -> list[Segment]:
    """Swallow-tailed at both ends when it lies, at the lower end when it hangs."""
    notch = min(width, height) * 0.35
    if width >= height:
        middle = height / 2
        return _polygon(
            (
                (0, 0),
                (width, 0),
                (width - notch, middle),
                (width, height),
                (0, height),
                (notch, middle),
            )
        )
    return _polygon(((0, 0), (width, 0), (width, height), (width / 2, height - notch), (0, height)))


def _rounded(width: float, height: float, radius: float) -> list[Segment]:
    r, k, w, h = radius, radius * (1 - ARC), width, height
    return [
        ("M", ((r, 0),)),
        ("L", ((w - r, 0),)),
        ("C", ((w - k, 0), (w, k), (w, r))),
        ("L", ((w, h - r),)),
        ("C", ((w, h - k), (w - k, h), (w - r, h))),
        ("L", ((r, h),)),
        ("C", ((k, h), (0, h - k), (0, h - r))),
        ("L", ((0, r),)),
        ("C", ((0, k), (k, 0), (r, 0))),
        ("Z", ()),
    ]


def _polygon(points: Iterable[XY]) -> list[Segment]:
    first, *rest = points
    return [("M", (first,)), *(("L", (point,)) for point in rest), ("Z", ())]


def _fitted(segments: Iterable[Segment], frame: Frame, width: float, height: float) -> str:
    (ax, ay), (bx, by), _, (dx, dy) = frame
    across = ((bx - ax) / (width or 1), (by - ay) / (width or 1))
    down = ((dx - ax) / (height or 1), (dy - ay) / (height or 1))

    def moved(point: XY) -> str:
        x, y = point
        return f"{number(ax + x * across[0] + y * down[0])} {number(ay + x * across[1] + y * down[1])}"

    return "".join(kind + " ".join(moved(point) for point in points) for kind, points in segments)
