"""The pages of a PDF read back by pdfplumber, a general reader: what is stroked on them, in points."""

from io import BytesIO
from typing import Any, NamedTuple

import pdfplumber
from pdfplumber.page import Page
from shapely import LineString

XY = tuple[float, float]
POINT = 72 / 25.4  # points to a mm
CURVE_STEPS = 128  # of an eighth of an ellipse: chords within 0.002 pt of it at a radius of 400 pt


class Stroked(NamedTuple):
    """One path: its corners in points from the left top of the page, curves as chains of short lines."""

    points: tuple[XY, ...]
    width: float
    color: tuple[float, ...]

    @property
    def line(self) -> LineString:
        return LineString(self.points)


class Read(NamedTuple):
    width: float
    height: float
    strokes: tuple[Stroked, ...]
    letters: tuple[tuple[float, float, float, float], ...]  # left, top, right, bottom of each


def read_pages(pdf: bytes) -> list[Read]:
    with pdfplumber.open(BytesIO(pdf)) as document:
        return [_read(page) for page in document.pages]


def _read(page: Page) -> Read:
    paths = [each for each in (*page.lines, *page.rects, *page.curves) if each["stroke"]]
    letters = [_letter(each, float(page.height)) for each in page.chars]
    strokes = [Stroked(points, each["linewidth"], _color(each["stroking_color"]))
               for each in paths for points in _parts(each["path"])]  # fmt: skip
    return Read(float(page.width), float(page.height), tuple(strokes), tuple(letters))


def _letter(char: dict[str, Any], height: float) -> tuple[float, float, float, float]:
    """The room of a letter from its line: Nunito's reach 0.75 of their size above it and 0.22 below it."""
    line = height - char["matrix"][5]
    return char["x0"], line - 0.75 * char["size"], char["x1"], line + 0.22 * char["size"]


def _color(value: object) -> tuple[float, ...]:
    return tuple(value) if isinstance(value, (tuple, list)) else (float(value),)  # type: ignore[arg-type]


def _parts(path: list[tuple[object, ...]]) -> list[tuple[XY, ...]]:
    """The parts of a path, each from where it starts; a closed one ends there again."""
    parts: list[list[XY]] = []
    for word, *points in path:
        if word == "m":
            parts.append([points[0]])  # type: ignore[list-item]
        elif word == "l":
            parts[-1].append(points[0])  # type: ignore[arg-type]
        elif word == "c":
            parts[-1] += _curve(parts[-1][-1], *points)  # type: ignore[arg-type]
        else:
            assert word == "h"
            parts[-1].append(parts[-1][0])
    return [tuple(part) for part in parts if len(part) > 1]


def _curve(start: XY, one: XY, two: XY, end: XY) -> list[XY]:
    """Points on a cubic curve (de Casteljau's form, from memory)."""
    found = []
    for step in range(1, CURVE_STEPS + 1):
        t = step / CURVE_STEPS
        shares = (1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3
        weighed = list(zip(shares, (start, one, two, end), strict=True))
        found.append((sum(each * x for each, (x, _) in weighed), sum(each * y for each, (_, y) in weighed)))
    return found
