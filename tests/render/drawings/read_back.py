"""Reads a drawing's SVG back, by its own sums, so that tests see what a reader sees: words with their room,
lines, painted areas in the order in which they are painted. It asks nothing of the code that drew them."""

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from math import cos, radians, sin
from typing import NamedTuple
from xml.etree import ElementTree

from tests.render.drawings.font import extent

SVG = "{http://www.w3.org/2000/svg}"
POINT_MM = 25.4 / 72
CURVE_STEPS = 10  # straight lines that a curve is read as
XY = tuple[float, float]


class Rectangle(NamedTuple):
    left: float
    top: float
    right: float
    bottom: float

    @property
    def middle(self) -> XY:
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def overlap(self, other: "Rectangle") -> float:
        """How deep the two overlap, in mm; 0 where they do not."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return max(0.0, min(across, down))

    def shrunk(self, by: float) -> "Rectangle":
        return Rectangle(self.left + by, self.top + by, self.right - by, self.bottom - by)


class Words(NamedTuple):
    text: str
    room: Rectangle
    size: float  # mm
    fill: str
    at: int = 0  # which of the picture's marks it is, counted from the first painted
    is_upright: bool = True


class Stroke(NamedTuple):
    points: list[XY]
    dash: str | None
    width: float
    color: str = ""
    at: int = 0


class Area(NamedTuple):
    """What is filled: its rings (even-odd) and the colour, of a pattern that of its motif."""

    rings: list[list[XY]]
    fill: str
    opacity: float
    room: Rectangle
    at: int
    is_pattern: bool = False
    edge: str | None = None  # the colour of the line round it
    edge_width: float = 0.0

    def holds(self, point: XY) -> bool:
        left, top, right, bottom = self.room
        x, y = point
        return left <= x <= right and top <= y <= bottom and _is_inside(self.rings, point)


class Reading(NamedTuple):
    words: list[Words]
    strokes: list[Stroke]
    areas: list[Area]


def root(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def picture(svg: str) -> Rectangle:
    left, top, width, height = (float(n) for n in root(svg).attrib["viewBox"].split())
    return Rectangle(left, top, left + width, top + height)


def words(svg: str) -> list[Words]:
    return read(svg).words


def texts(svg: str) -> list[str]:
    return [each.text for each in words(svg)]


def strokes(svg: str) -> list[Stroke]:
    """The open lines: paths without a fill."""
    return read(svg).strokes


@lru_cache(maxsize=64)
def read(svg: str) -> Reading:
    """All marks of a drawing, each with its number in the order of painting."""
    found, motifs = Reading([], [], []), _motifs(root(svg))
    for at, (element, shift) in enumerate(_painted(root(svg), (0.0, 0.0))):
        if element.tag == f"{SVG}text":
            found.words.append(_words(element)._replace(at=at))
            continue
        rings = [[(x + shift[0], y + shift[1]) for x, y in ring] for ring in _rings(element)]
        fill = element.attrib.get("fill", "#000000")
        if fill == "none" and "Z" not in element.attrib.get("d", "Z"):
            for ring in rings:
                width, dash = element.attrib["stroke-width"], element.attrib.get("stroke-dasharray")
                found.strokes.append(Stroke(ring, dash, float(width), element.attrib["stroke"], at))
            continue
        found.areas.append(_area(element, rings, fill, motifs)._replace(at=at))
    return found


def numbers(path: ElementTree.Element | None) -> list[float]:
    """The coordinates of a path, x and y by turns."""
    assert path is not None
    return [float(n) for n in re.findall(r"-?[\d.]+", path.attrib["d"])]


def _painted(element: ElementTree.Element, shift: XY) -> Iterator[tuple[ElementTree.Element, XY]]:
    """The marks in the order of painting, each with how far it is moved; patterns are no marks."""
    for each in element:
        tag = each.tag.removeprefix(SVG)
        moved = re.fullmatch(r"translate\((-?[\d.]+)[ ,](-?[\d.]+)\)", each.attrib.get("transform", ""))
        here = (shift[0] + float(moved[1]), shift[1] + float(moved[2])) if moved else shift
        assert moved or tag == "text" or "transform" not in each.attrib, each.attrib
        if tag == "g":
            yield from _painted(each, here)
        elif tag in ("path", "circle", "rect", "text"):
            yield each, here
        else:
            assert tag in ("title", "desc", "defs"), tag


def _motifs(whole: ElementTree.Element) -> dict[str, str]:
    """The colour of each pattern's motif by the pattern's name."""
    found = {}
    for pattern in whole.iter(f"{SVG}pattern"):
        motif = pattern[0].attrib
        colors = [motif.get("stroke", ""), motif.get("fill", "")]
        found[pattern.attrib["id"]] = next(color for color in colors if color.startswith("#"))
    return found


def _area(
    element: ElementTree.Element, rings: list[list[XY]], fill: str, motifs: dict[str, str]
) -> Area:
    look = element.attrib
    points = [point for ring in rings for point in ring]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    room = Rectangle(min(xs), min(ys), max(xs), max(ys))
    opacity = 0.0 if fill == "none" else float(look.get("fill-opacity", "1"))
    is_pattern = fill.startswith("url(#")
    color = motifs[fill[5:-1]] if is_pattern else fill
    width = float(look.get("stroke-width", "0"))
    return Area(rings, color, opacity, room, 0, is_pattern, look.get("stroke"), width)


def _rings(element: ElementTree.Element) -> list[list[XY]]:
    """The outline of a path, a circle or a rectangle as points."""
    look = element.attrib
    if element.tag == f"{SVG}circle":
        x, y, r = (float(look[name]) for name in ("cx", "cy", "r"))
        turns = [radians(step * 15) for step in range(24)]
        return [[(x + r * cos(turn), y + r * sin(turn)) for turn in turns]]
    if element.tag == f"{SVG}rect":
        x, y, wide, high = (float(look[name]) for name in ("x", "y", "width", "height"))
        return [[(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]]
    return _of_path(look["d"])


def _of_path(data: str) -> list[list[XY]]:
    rings: list[list[XY]] = []
    for letter, rest in re.findall("([A-Za-z])([^A-Za-z]*)", data):
        values = [float(n) for n in re.findall(r"-?[\d.]+", rest)]
        points = list(zip(values[::2], values[1::2], strict=True))
        if letter == "M":
            rings.append(points)
        elif letter == "L":
            rings[-1] += points
        elif letter == "C":
            rings[-1] += _curve(rings[-1][-1], points)
        else:
            assert letter == "Z", f"a path command that no reader here knows: {letter}"
    return rings


def _curve(start: XY, handles: Sequence[XY]) -> list[XY]:
    (ax, ay), ((bx, by), (cx, cy), (dx, dy)) = start, handles
    found = []
    for step in range(1, CURVE_STEPS + 1):
        t = step / CURVE_STEPS
        a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
        found.append((a * ax + b * bx + c * cx + d * dx, a * ay + b * by + c * cy + d * dy))
    return found


def _is_inside(rings: list[list[XY]], point: XY) -> bool:
    x, y = point
    inside = False
    for ring in rings:
        for (ax, ay), (bx, by) in pairwise((*ring, ring[0])):
            if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
                inside = not inside
    return inside


def _words(element: ElementTree.Element) -> Words:
    text = "".join(element.itertext())
    size, x, y = (float(element.attrib[name]) for name in ("font-size", "x", "y"))
    style = "Bold" if element.attrib.get("font-weight") == "700" else "Regular"
    wide, rise, fall = (size * part for part in extent(text, style))
    start = {"start": 0.0, "middle": -wide / 2, "end": -wide}[element.attrib["text-anchor"]]
    if "transform" not in element.attrib:
        room = Rectangle(x + start, y - rise, x + start + wide, y + fall)
    else:
        assert element.attrib["transform"].startswith("rotate(-90 ")
        room = Rectangle(x - rise, y - start - wide, x + fall, y - start)
    return Words(text, room, size, element.attrib["fill"], 0, "transform" not in element.attrib)
