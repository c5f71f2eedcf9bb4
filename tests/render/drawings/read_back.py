"""Reads a drawing's SVG back, by its own sums, so that tests see what a reader sees."""

import json
import re
from pathlib import Path
from typing import NamedTuple
from xml.etree import ElementTree

import cardrecipe.render

SVG = "{http://www.w3.org/2000/svg}"
ADVANCES = json.loads(
    (Path(cardrecipe.render.__file__).parent / "fonts" / "advances.json").read_text("utf-8")
)
POINT_MM = 25.4 / 72


class Rectangle(NamedTuple):
    left: float
    top: float
    right: float
    bottom: float

    def overlap(self, other: "Rectangle") -> float:
        """How deep the two overlap, in mm; 0 where they do not."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return max(0.0, min(across, down))


class Words(NamedTuple):
    text: str
    room: Rectangle
    size: float  # mm
    fill: str


class Stroke(NamedTuple):
    points: list[tuple[float, float]]
    dash: str | None
    width: float


def root(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def picture(svg: str) -> Rectangle:
    left, top, width, height = (float(n) for n in root(svg).attrib["viewBox"].split())
    return Rectangle(left, top, left + width, top + height)


def words(svg: str) -> list[Words]:
    return [_words(element) for element in root(svg).iter(f"{SVG}text")]


def texts(svg: str) -> list[str]:
    return [each.text for each in words(svg)]


def strokes(svg: str) -> list[Stroke]:
    """The open lines: paths without a fill."""
    found = []
    for element in root(svg).iter(f"{SVG}path"):
        if element.attrib.get("fill") == "none" and "Z" not in element.attrib["d"]:
            found_numbers = numbers(element)
            points = list(zip(found_numbers[::2], found_numbers[1::2], strict=True))
            dash = element.attrib.get("stroke-dasharray")
            found.append(Stroke(points, dash, float(element.attrib["stroke-width"])))
    return found


def numbers(path: ElementTree.Element | None) -> list[float]:
    """The coordinates of a path, x and y by turns."""
    assert path is not None
    return [float(n) for n in re.findall(r"-?[\d.]+", path.attrib["d"])]


def _words(element: ElementTree.Element) -> Words:
    text = "".join(element.itertext())
    size, x, y = (float(element.attrib[name]) for name in ("font-size", "x", "y"))
    style = "Bold" if element.attrib.get("font-weight") == "700" else "Regular"
    wide = _width(text, ADVANCES[style]) * size
    start = {"start": 0.0, "middle": -wide / 2, "end": -wide}[element.attrib["text-anchor"]]
    rise, fall = 0.705 * size, 0.2 * size
    if "transform" not in element.attrib:
        box = Rectangle(x + start, y - rise, x + start + wide, y + fall)
    else:
        assert element.attrib["transform"].startswith("rotate(-90 ")
        box = Rectangle(x - rise, y - start - wide, x + fall, y - start)
    return Words(text, box, size, element.attrib["fill"])


def _width(text: str, table: dict[str, int]) -> float:
    """In text sizes: the digits of a fraction are the font's small ones, 0.38 wide."""
    small = sum(len(a) + len(b) for a, b in re.findall("([0-9]+)\u2044([0-9]+)", text))
    full = sum(table[character] for character in text)
    return (full - small * (table["0"] - 380)) / 1000
